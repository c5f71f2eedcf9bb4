"""What glue reaches as it is written, and which scores a piece lies across."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.fold.area import passes_through, region
from cardrecipe.fold.bodies import Ride, live_scores, rides
from cardrecipe.fold.clip import within
from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.contact import Pile, in_pile
from cardrecipe.fold.cover import as_rectangle
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Ring
from cardrecipe.fold.glue import Gluing, Part, meets
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.motions import moved
from cardrecipe.solve.sized import SizedScore

# How much of a piece glue along an edge takes: the narrowest tape, common practice, no published
# source.
ALONG = {"inch": Fraction(1, 8), "mm": Fraction(3)}


def reached(gluing: Gluing, edge: str | None) -> tuple[str, ...]:
    """Give what glue on the whole piece, or along an edge of it, holds for certain besides what it
    rides with: where it is glued and, for glue all over, on the open sheet too."""
    piles = (gluing.pile,) if edge or gluing.opened is gluing.pile else (gluing.pile, gluing.opened)
    found: dict[str, None] = {}
    for pile in piles:
        for part in gluing.parts:
            area = glued_area(gluing, pile, part, edge)
            if part.swings and area:
                found[f"its own {part.ride.carrier}"] = None
            elif area:
                others = meets(gluing, pile, part, area, is_cautious=False).others
                found |= dict.fromkeys(pile.named(others))
    return tuple(found)


def holds(gluing: Gluing, edge: str) -> bool:
    """Tell whether glue along an edge may meet what the piece rides with."""
    areas = [(part, glued_area(gluing, gluing.pile, part, edge)) for part in gluing.parts if not part.swings]
    return any(meets(gluing, gluing.pile, part, area, is_cautious=False).own for part, area in areas if area)


def beneath(gluing: Gluing) -> set[str]:
    """Give every name of what lies beneath a piece and moves apart from it, where it is glued."""
    meetings = [meets(gluing, gluing.pile, part, is_cautious=False).others for part in gluing.parts]
    surfaces = [each.surface for others in meetings for each in others]
    return {name for each in surfaces for name in (*each.names, each.ride.carrier)}


def bodies_beneath(gluing: Gluing) -> tuple[str, ...]:
    """Give what lies beneath a piece on the open sheet and moves apart from it."""
    meetings = [meets(gluing, gluing.opened, part, is_cautious=True) for part in gluing.parts]
    return gluing.opened.named([each for meeting in meetings for each in meeting.others])


def scores_across(flat: FlatFold, gluing: Gluing) -> tuple[SizedScore, ...]:
    """Give the live scores that a piece lies across on the open sheet."""
    return _across(flat, gluing, list(_live(flat, gluing)), is_beside=False)


def scores_in_the_way(flat: FlatFold, gluing: Gluing) -> tuple[SizedScore, ...]:
    """Give the live scores beside what a piece rides with that it reaches over and that fold towards
    it: the part beyond such a score would have to swing through the paper there."""
    towards = "valley" if gluing.placed.side == "inside" else "mountain"
    joints = [joint for joint in _live(flat, gluing) if joint.score.direction == towards]
    return _across(flat, gluing, joints, is_beside=True)


def _live(flat: FlatFold, gluing: Gluing) -> Iterator[Joint]:
    if gluing.placed.section is None or _stays_on_section(flat, gluing):
        return
    live = live_scores(gluing.card, flat.piece)
    yield from (joint for joint in flat.joints if joint.score.number in live)


def _across(
    flat: FlatFold, gluing: Gluing, joints: list[Joint], *, is_beside: bool
) -> tuple[SizedScore, ...]:
    if not joints:
        return ()
    of_sections = rides(gluing.card, flat, ())[flat.piece.name, 0]
    found: dict[int, SizedScore] = {}
    for part in gluing.parts:
        if part.swings and is_beside:
            continue
        shape = region(moved(gluing.placed.way, part.sure))
        for joint in joints:
            ends = (of_sections[joint.first], of_sections[joint.second])
            is_asked = not is_beside or _borders(part, ends)
            if is_asked and passes_through(joint.start, joint.end, shape):
                found[joint.score.number] = joint.score
    return tuple(score for _, score in sorted(found.items()))


def _borders(part: Part, ends: tuple[Ride, Ride]) -> bool:
    return (ends[0].body == part.ride.body) != (ends[1].body == part.ride.body)


def _stays_on_section(flat: FlatFold, gluing: Gluing) -> bool:
    """Tell quickly, for upright rectangles, that a piece lies within its section."""
    placed = gluing.placed
    assert placed.section is not None
    section = flat.sections[placed.section]
    left, top = section.x, section.y
    return as_rectangle(section.outline) is not None and all(
        left <= x <= left + section.width and top <= y <= top + section.height for x, y in placed.frame
    )


def glued_area(gluing: Gluing, pile: Pile, part: Part, edge: str | None) -> list[Ring]:
    """Give a part of a piece, or its strip along an edge of the piece, where it lies in a pile."""
    whole = region(in_pile(pile, gluing.copy, part.sure)).pieces
    return within(whole, in_pile(pile, gluing.copy, _strip(gluing, edge)))


def _strip(gluing: Gluing, edge: str | None) -> Outline:
    """Give the strip along an edge of a piece, in its own coordinates; None for all of it."""
    nil, deep = Fraction(0), ALONG[gluing.card.unit]
    left, top, right, bottom = nil, nil, gluing.piece.width, gluing.piece.height
    if edge == "left":
        right = min(deep, right)
    elif edge == "right":
        left = max(right - deep, nil)
    elif edge == "top":
        bottom = min(deep, bottom)
    elif edge == "bottom":
        top = max(bottom - deep, nil)
    return ((left, top), (right, top), (right, bottom), (left, bottom))
