"""Two sized cards → which piece, section and paper of the one is which of the other.

By name; and what is gone on one side and new on the other while all else about it is equal was renamed.
Nothing here prefers one side: the pairs of the cards changed over are the pairs changed over.
"""

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.compare.aspects import Measure, Value, aspects, paper_facts
from cardrecipe.model.lengths import MM_PER
from cardrecipe.model.papers import Paper
from cardrecipe.solve.sized import SizedCard, SizedPiece


class Pairs(NamedTuple):
    """Names of the old card and what they are called in the new one, in the old one's order; and how the
    lengths and names of both are brought to the same terms, those of the new card."""

    pieces: Mapping[str, str]
    papers: Mapping[str, str]
    old: Measure
    new: Measure

    @property
    def renamed(self) -> tuple[tuple[str, str], ...]:
        """Pieces that have another name."""
        return tuple((old, new) for old, new in self.pieces.items() if old != new)


def pairs_of(old: SizedCard, new: SizedCard) -> Pairs:
    """What belongs together in two cards."""
    scales = (Fraction(1), Fraction(1)) if old.unit == new.unit else (MM_PER[old.unit], MM_PER[new.unit])
    papers = _papers(old, new, *scales)
    named = {f"paper {one}": f"paper {other}" for one, other in papers.items()}
    sections = _sections(old, new)
    pieces = {piece.name: piece.name for piece in old.pieces if _has(new, piece.name)}
    while True:
        names = {**named, **sections, **{one: other for one, other in pieces.items() if one != other}}
        by = Measure(scales[0], names), Measure(scales[1], {})
        more = _renamed(old, new, pieces, by)
        if not more:
            return Pairs(pieces, papers, *by)
        order = [piece.name for piece in old.pieces]
        pieces = dict(sorted({**pieces, **more}.items(), key=lambda pair: order.index(pair[0])))
        for one, other in more.items():
            sections |= _same_sections(old.piece(one), new.piece(other))


def used_papers(card: SizedCard) -> dict[str, Paper]:
    """The papers that something is cut from, in their order."""
    used = {piece.paper for piece in card.pieces}
    return {name: paper for name, paper in card.papers.items() if name in used}


def _has(card: SizedCard, name: str) -> bool:
    return any(piece.name == name for piece in card.pieces)


def _papers(old: SizedCard, new: SizedCard, old_scale: Fraction, new_scale: Fraction) -> dict[str, str]:
    before, after = used_papers(old), used_papers(new)
    gone = [name for name in before if name not in after]
    come = [name for name in after if name not in before]
    same = _alike(gone, come, lambda name: paper_facts(before[name], old_scale),
                  lambda name: paper_facts(after[name], new_scale))  # fmt: skip
    return {name: name if name in after else same[name] for name in before if name in after or name in same}


def _renamed(
    old: SizedCard, new: SizedCard, pieces: Mapping[str, str], by: tuple[Measure, Measure]
) -> dict[str, str]:
    """Pieces without a partner that are in all like a single one without a partner on the other side."""
    taken = set(pieces.values())
    gone = [piece.name for piece in old.pieces if piece.name not in pieces]
    come = [piece.name for piece in new.pieces if piece.name not in taken]

    def told(card: SizedCard, measure: Measure) -> Callable[[str], Value]:
        def of(name: str) -> Value:
            known = aspects(card, card.piece(name), measure)
            # What stands on a base that is renamed as well names it; sections are told apart by their place.
            return tuple((aspect, value) for aspect, value in known.items() if aspect not in ("sections",))

        return of

    return _alike(gone, come, told(old, by[0]), told(new, by[1]))


def _alike(
    gone: Iterable[str], come: Iterable[str], old: Callable[[str], Value], new: Callable[[str], Value]
) -> dict[str, str]:
    """Pairs that are equal and have no other equal on either side."""
    before: dict[Value, list[str]] = {}
    after: dict[Value, list[str]] = {}
    for name in gone:
        before.setdefault(old(name), []).append(name)
    for name in come:
        after.setdefault(new(name), []).append(name)
    return {names[0]: after[value][0] for value, names in before.items()
            if len(names) == 1 and len(after.get(value, ())) == 1}  # fmt: skip


def _sections(old: SizedCard, new: SizedCard) -> dict[str, str]:
    """Sections with another name in pieces of the same name: as many parts, some called otherwise."""
    found: dict[str, str] = {}
    for piece in old.pieces:
        if _has(new, piece.name):
            found |= _same_sections(piece, new.piece(piece.name))
    return found


def _same_sections(old: SizedPiece, new: SizedPiece) -> dict[str, str]:
    """By their place, where there are as many and no name moves to another place."""
    before = [section.name for section in old.sections]
    after = [section.name for section in new.sections]
    both = zip(before, after, strict=False)
    if len(before) != len(after) or any(
        one != other and (one in after or other in before) for one, other in both
    ):
        return {}
    return {f"{old.name}/{one}": f"{new.name}/{other}" for one, other in zip(before, after, strict=True)}
