"""A comparison is complete: where nothing is told the cards are the same; any value that differs is told."""

import json
import random
from collections.abc import Iterator
from fractions import Fraction

import pytest

from cardrecipe.compare.compare import compare
from cardrecipe.compare.version import Version
from cardrecipe.render.card_json import render_json
from cardrecipe.syntax.spans import Span
from tests.compare.versions import edited, generated, shipped, version

# What may differ while nothing is told, each with its reason.
NOT_TOLD = {
    "exact_width": "the size before rounding: what is cut is told, and a note tells of the rounding",
    "exact_height": "the same",
    "written_from": "the edge that the recipe measures a score from; the score itself is where it was",
    "metric_differs": "how far the two unit systems differ: for the second version alone",
    "number": "steps, sheets and settings that only shift are told in one line or not at all",
    "picture": "the name of a drawing",
    "cautions": "stand at the first step that needs them, whichever that is",
    "variant": "is a side's own title",
    "border": "the recipe's default border; the borders that come of it are told piece by piece",
    "wrap": "is as long as the stack is thick; the band's length and overlap are told",
    "is_section": "follows from the host",
    "host": "the section or piece is told by its owner, whose name this field repeats",
    "envelope": "is told by the envelopes of the sheet",
    "title": "of a piece of text that is part of others",
}


def leaves(value: object, name: str = "") -> Iterator[tuple[str, object]]:
    """Each value with every single leaf of it changed in turn, with the name of the field."""
    if isinstance(value, Span) or value is None:
        return
    if isinstance(value, tuple):
        names = getattr(value, "_fields", (name,) * len(value))
        for at, (field, part) in enumerate(zip(names, value, strict=True)):
            for leaf, other in leaves(part, field):
                parts = [*value[:at], other, *value[at + 1 :]]
                yield leaf, type(value)(*parts) if hasattr(value, "_fields") else tuple(parts)
        return
    if isinstance(value, bool):
        yield name, not value
    elif isinstance(value, (Fraction, int)):
        yield name, value + 1
    elif isinstance(value, str) and " " in value:
        yield name, f"{value} and more"


def with_card(one: Version, **fields: object) -> Version:
    folded = one.sheet.folded
    return one._replace(sheet=one.sheet._replace(folded=folded._replace(card=folded.card._replace(**fields))))


def changed_cards(one: Version) -> Iterator[tuple[str, Version]]:
    """The card with one value of a piece, a paper, a pose or a step changed."""
    card = one.sheet.folded.card
    for at, piece in enumerate(card.pieces):
        for name, other in leaves(piece):
            yield (
                f"{piece.name}: {name}",
                with_card(one, pieces=(*card.pieces[:at], other, *card.pieces[at + 1 :])),
            )
    used = {piece.paper for piece in card.pieces}
    for key, paper in card.papers.items():
        for name, other in leaves(paper) if key in used else ():
            yield f"paper {key}: {name}", with_card(one, papers={**card.papers, key: other})
    for name, other in leaves(card.poses):
        yield f"pose: {name}", with_card(one, poses=other)
    for name in ("steps", "supplies", "envelopes"):
        for field, other in leaves(getattr(one.sheet, name)):
            yield f"{name}: {field}", one._replace(sheet=one.sheet._replace(**{name: other}))


@pytest.mark.parametrize("name", shipped())
def test_any_value_that_differs_is_told(name: str) -> None:
    card = shipped()[name]
    missed = [what for what, other in changed_cards(card)
              if what.rpartition(": ")[2] not in NOT_TOLD and not compare(card, other).changes]  # fmt: skip
    assert missed == []


def as_card_json(one: Version) -> dict[str, object]:
    value = json.loads(render_json(one.sheet))
    # The variant is a side's title; diagnostics tell the places of lines.
    return {name: part for name, part in value.items() if name not in ("variant", "diagnostics")}


@pytest.mark.parametrize("seeds", [range(1000, 1120), range(1120, 1240)], ids=str)
def test_where_nothing_is_told_the_card_for_programs_is_the_same(seeds: range) -> None:
    chance, same = random.Random(seeds.start), 0
    for text, card in generated(seeds):
        for _ in range(2):
            other = version(edited(text, chance))
            if other is not None and not compare(card, other).changes:
                same += 1
                assert as_card_json(card) == as_card_json(other), text
    assert same > 3
