"""A base whose tab is glued to another of its sections → the sleeve that it makes, and whether what lies in
it can slide: it must be narrower than the sleeve, loose, and have an open end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.geometry import bounding_box
from cardrecipe.fold.joints import Branch
from cardrecipe.fold.motions import moved
from cardrecipe.fold.placing import Placed
from cardrecipe.model.lengths import round_down, with_unit
from cardrecipe.solve.sized import Join, SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error, warning

# How much narrower than a sleeve what slides in it should be: common practice, no published source.
EASE = {"inch": Fraction(1, 16), "mm": Fraction(1)}


class Sleeve(NamedTuple):
    """Sections that a glued tab makes into a ring, which lies flat in the closed card."""

    join: Join
    sections: tuple[int, ...]  # from the tab to what it is glued to
    branches: tuple[Branch, ...]  # the scores between them
    axis: str  # "x": its folds run top to bottom, so it is open there
    low: Fraction  # where it lies across that, in the closed card
    high: Fraction


def sleeve_mistakes(card: SizedCard, flat: FlatFold, placed: Sequence[Placed]) -> Iterator[Diagnostic]:
    """Say what keeps the loose pieces in a sleeve from sliding, and what is glued in one."""
    names = [section.name for section in flat.sections]
    for join in flat.piece.joins:
        if join.section not in names or join.host not in names:
            continue
        sleeve = _sleeve(flat, join, names.index(join.section), names.index(join.host))
        if sleeve is None:
            continue
        inside = [each for each in placed if _is_in(sleeve, each)]
        loose = [each for each in inside if _is_loose(card, each)]
        if len(sleeve.sections) == 2:
            yield from _pressed_flat(flat, sleeve, loose)
            continue
        yield from _too_wide(card, flat, sleeve, loose)
        yield from _closed_at_both_ends(flat, sleeve, loose)
        if inside and not loose:
            yield from _glued_in(sleeve, inside)


def _sleeve(flat: FlatFold, join: Join, tab: int, host: int) -> Sleeve | None:
    """Give the sleeve that a join makes; None where the tab meets its host only as the card stands, where
    its scores are not all folded the same way, or not parallel."""
    facets = flat.order.facets
    if not overlap(region(facets[tab].outline), region(facets[host].outline)):
        return None
    sections, branches = _between(flat, tab, host)
    scores = [branch.joint.score for branch in branches]
    if not {score.number for score in scores} <= flat.folded:
        return None
    if len({score.axis for score in scores}) != 1 or len({score.direction for score in scores}) != 1:
        return None
    across = [point[scores[0].axis == "y"] for at in sections for point in facets[at].outline]
    return Sleeve(join, sections, branches, scores[0].axis, min(across), max(across))


def _between(flat: FlatFold, one: int, two: int) -> tuple[tuple[int, ...], tuple[Branch, ...]]:
    """Give the sections and the scores from one section to another."""
    by_child = {branch.child: branch for branch in flat.branches}

    def up(section: int) -> list[int]:
        way = [section]
        while way[-1] in by_child:
            way.append(by_child[way[-1]].parent)
        return way

    first, second = up(one), up(two)
    meeting = next(section for section in first if section in second)
    there, back = first[: first.index(meeting)], second[: second.index(meeting)]
    return (*there, meeting, *back[::-1]), tuple(by_child[each] for each in (*there, *back))


def _is_in(sleeve: Sleeve, placed: Placed) -> bool:
    side = "inside" if sleeve.branches[0].joint.score.direction == "valley" else "outside"
    return placed.section in sleeve.sections and placed.side == side


def _is_loose(card: SizedCard, placed: Placed) -> bool:
    """Tell whether a copy is loose or lies on what is."""
    piece, copy = placed.piece, placed.copy
    while not piece.loose and piece.placements:
        placement = piece.placements[copy]
        piece, copy = card.piece(placement.host_piece), placement.host_copy
    return piece.loose


def _too_wide(
    card: SizedCard, flat: FlatFold, sleeve: Sleeve, loose: Sequence[Placed]
) -> Iterator[Diagnostic]:
    """What slides in a sleeve is narrower than it, by a little ease."""
    room = sleeve.high - sleeve.low
    most = round_down(room - EASE[card.unit], card.nearest)
    measure = "wide" if sleeve.axis == "x" else "high"
    for each in loose:
        assert each.section is not None
        box = bounding_box(moved(flat.motions[each.section], each.frame))
        own = Fraction(box.right - box.left if sleeve.axis == "x" else box.bottom - box.top)
        if own >= room:
            yield error(
                "slider-too-wide",
                each.piece.span,
                f"`{each.piece.name}` is {with_unit(own, card.unit)} {measure}, and the sleeve that it slides"
                f" in {with_unit(room, card.unit)} between its folds: it would jam",
                f"make it at most {with_unit(most, card.unit)} {measure}"
                " (common practice, no published source)",
                (Related(sleeve.join.span, f"this makes {flat.piece.name} a sleeve"),),
            )


def _pressed_flat(flat: FlatFold, sleeve: Sleeve, loose: Sequence[Placed]) -> Iterator[Diagnostic]:
    """Between a flap and the section that it is glued to there is no room."""
    tab, host = sleeve.join.section, sleeve.join.host
    flap = region(flat.order.facets[sleeve.sections[0]].outline)
    for each in loose:
        assert each.section is not None
        if overlap(flap, region(moved(flat.motions[each.section], each.frame))):
            yield error(
                "slider-shut-in",
                sleeve.join.span,
                f"{tab} is glued on {host} all over: `{each.piece.name}` could not slide out between them",
                f"leave out `glue {tab} on {host}`, and say in a tip that only its edges are glued",
                (Related(each.piece.span, f"{each.piece.name} is loose"),),
            )


def _closed_at_both_ends(flat: FlatFold, sleeve: Sleeve, loose: Sequence[Placed]) -> Iterator[Diagnostic]:
    """One end of a sleeve stays open: flaps at both ends are not both glued to it."""
    names = [section.name for section in flat.sections]
    own = {names[at] for at in sleeve.sections}
    ends: dict[bool, Join] = {}
    for join in flat.piece.joins:
        branch = next((each for each in flat.branches if names[each.child] == join.section), None)
        if branch is None or join.section in own or join.host not in own:
            continue
        score, section = branch.joint.score, flat.sections[branch.parent]
        if score.axis != sleeve.axis and names[branch.parent] in own:
            start, size = (section.y, section.height) if score.axis == "y" else (section.x, section.width)
            ends[score.at > start + size / 2] = join
    if loose and len(ends) == 2:
        piece = loose[0].piece
        yield error(
            "slider-shut-in",
            ends[True].span,
            f"{ends[False].section} and {ends[True].section} close the sleeve at both ends: `{piece.name}`"
            " could not slide out",
            f"leave out `glue {ends[True].section} on {ends[True].host}`",
            (Related(ends[False].span, "the other end is glued here"),
             Related(piece.span, f"{piece.name} is loose")),
        )  # fmt: skip


def _glued_in(sleeve: Sleeve, inside: Sequence[Placed]) -> Iterator[Diagnostic]:
    """A sleeve holds something loose."""
    piece = inside[0].piece
    yield warning(
        "slider-glued",
        piece.glue_span,
        f"`{piece.name}` lies in the sleeve that {sleeve.join.section} on {sleeve.join.host} makes, but is"
        " glued: nothing in it slides",
        f"write `loose` under `{piece.name}`",
        (Related(sleeve.join.span, "this makes it a sleeve"),),
    )
