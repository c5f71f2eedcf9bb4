"""Lays a strip of paper, scored across, into facets and creases: the simplest folded thing.

Folding a strip only turns it back and forth, so each score lands at the last place plus or minus a
segment, and where it lands does not depend on mountain or valley.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from cardrecipe.fold.facets import FLAT, MOUNTAIN, VALLEY, Crease, Facet
from cardrecipe.fold.geometry import Number, Outline

FOLDS = {"V": VALLEY, "M": MOUNTAIN, "-": FLAT}


def fold_strip(
    lengths: Sequence[Number], folds: str, height: Number = 1, names: Sequence[str] = ()
) -> tuple[list[Facet], list[Crease]]:
    """Give the facets and creases of a strip whose first segment stays put, inside up.

    `folds` has one letter for each score from left to right: V, M, or - for one not folded. Lengths
    and height share one unit. ValueError if the letters do not go with the lengths.
    """
    if len(folds) != len(lengths) - 1 or set(folds) - set(FOLDS):
        raise ValueError("a strip has one letter, V, M or -, between every two segments")
    places, heads_right = zigzag(lengths, folds)
    facets = [
        Facet(
            names[index] if index < len(names) else f"section-{index + 1}",
            _upright(min(span), max(span), Fraction(height)),
            heads_right[index],
        )
        for index, span in enumerate(pairwise(places))
    ]
    creases = [
        Crease(
            index,
            index + 1,
            (places[index + 1], Fraction(0)),
            (places[index + 1], Fraction(height)),
            FOLDS[letter],
            f"score {index + 1}",
        )
        for index, letter in enumerate(folds)
    ]
    return facets, creases


def zigzag(lengths: Sequence[Number], folds: str) -> tuple[list[Fraction], list[bool]]:
    """Give where a folded strip's ends and scores land, and which segments still head right."""
    places, heads_right = [Fraction(0)], [True]
    for length, letter in zip(lengths, folds + "-", strict=True):
        places.append(places[-1] + (length if heads_right[-1] else -length))
        heads_right.append(heads_right[-1] == (letter == "-"))
    return places, heads_right[:-1]


def _upright(left: Fraction, right: Fraction, height: Fraction) -> Outline:
    top = Fraction(0)
    return ((left, top), (right, top), (right, height), (left, height))
