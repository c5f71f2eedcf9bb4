"""Errors about sections that are glued by name: they must lie on what they are glued to, as the sheets
lie flat on the open card, or come together when the base is folded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.bodies import live_scores
from cardrecipe.fold.sheets import Layout, Weld
from cardrecipe.solve.sized import Join, Pose, SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic, error


def laid_beside(layout: Layout | Assembly) -> Iterator[Diagnostic]:
    """Say which sections of a scored panel do not lie on what they are glued to."""
    for weld in layout.welds:
        join = weld.join
        if join is None or weld.by_folding:
            continue
        one, two = (region(layout.sections[at].outline) for at in (weld.facet, weld.host))
        if not overlap(one, two):
            piece = layout.facings[weld.facet].piece
            yield error(
                "glue-nowhere",
                join.span,
                f"{join.section} of `{piece.name}` does not lie on {join.host} as the card lies open:"
                " it could not be glued there",
                f"move `{piece.name}`, or its scores, so that {join.section} lies on {join.host}",
            )


def glued_elsewhere(card: SizedCard) -> Iterator[Diagnostic]:
    """Say which sections are glued to what is not folded with their piece: a tab of a base to anything but a
    part of that base, the section of a panel to a part of another base."""
    there = {piece.name for piece in card.pieces}  # what could not be sized has its own mistake
    for piece in card.pieces:
        for join in piece.joins:
            if join.host_piece not in there:
                continue
            is_own = join.host_piece == piece.name
            if is_own or (piece.kind != "base" and _base(card, piece.name) == _base(card, join.host_piece)):
                continue
            whole = card.piece(join.host_piece)
            on_it = join.host if join.host == whole.name else f"{join.host} of `{whole.name}`"
            base = _base(card, piece.name)
            if piece.kind != "base":
                hint = f"glue {join.section} to a part of `{base}`, which `{piece.name}` lies on"
            elif whole.kind == "base":
                hint = f"make it a panel: panel {piece.name} from {piece.paper} on {whole.name}"
            else:
                hint = f"say it of `{whole.name}`, which is glued to {join.section} then"
            yield error(
                "glue-nowhere",
                join.span,
                f"{join.section} of `{piece.name}` could not be glued to {on_it}:"
                " the two are not folded as one card",
                hint,
            )


def _base(card: SizedCard, name: str) -> str:
    """Give the base that a piece lies on, and the piece itself where it lies on none."""
    pieces = {piece.name: piece for piece in card.pieces}
    while name in pieces and pieces[name].placements:
        name = pieces[name].placements[0].host_piece
    return name


def never_met(card: SizedCard, shut: Assembly) -> Iterator[Diagnostic]:
    """Say which tabs of the base do not meet the part that they are glued to."""
    for weld in shut.welds:
        if weld.by_folding and weld.join is not None:
            yield from _never_meets(card, shut, weld, weld.join)


def _never_meets(card: SizedCard, shut: Assembly, weld: Weld, join: Join) -> Iterator[Diagnostic]:
    """A tab meets the part that it is glued to in the closed card, or in a pose of the recipe."""
    closed = [region(shut.order.facets[at].outline) for at in (weld.facet, weld.host)]
    if overlap(*closed) or any(_meets_in(pose, shut, weld) for pose in card.poses):
        return
    yield error(
        "glue-nowhere",
        join.span,
        f"{join.section} and {join.host} of `{shut.piece.name}` never come together: not in the closed card,"
        " and not in any pose",
        "say how the card stands when they meet: `pose standing`, and `fold 1 at 90` for each score",
    )


def _meets_in(pose: Pose, shut: Assembly, weld: Weld) -> bool:
    from cardrecipe.fold.meeting import meet_in_space  # only boxes and the like need it

    angles = {number: angle for base, number, angle in pose.folds if base == shut.piece.name}
    return meet_in_space(shut, angles, weld)


def pose_to_glue_in(card: SizedCard, shut: Assembly) -> Pose | None:
    """Give the first pose in which every tab of the base lies against what it is glued to: a box is glued
    as it stands. None where there is none, and for a base that is glued as it lies closed."""
    welds = [weld for weld in shut.welds if weld.by_folding]
    poses = (pose for pose in card.poses if pose.name != "closed")
    meeting = (pose for pose in poses if all(_meets_in(pose, shut, weld) for weld in welds))
    return next(meeting, None) if welds else None


def held_scores(card: SizedCard, shut: Assembly) -> Iterator[Diagnostic]:
    """Say which live scores glue holds flat: both their sides keep to one part, by way of other sheets.

    A score that is folded in the closed card may be glued shut, as a hem is.
    """
    welds = [weld for weld in shut.welds if weld.is_glued and not weld.by_folding]
    for at, joint in enumerate(shut.joints):
        piece = shut.facings[joint.first].piece
        if at in shut.folded or joint.score.number not in live_scores(card, piece):
            continue
        way = _way_round(welds, joint.first, joint.second)
        join = next((weld.join for weld in way if weld.join is not None), None)
        if join is None:
            continue
        glued = " and ".join(
            f"{shut.sections[weld.facet].name} to {shut.sections[weld.host].name}" for weld in way
        )
        yield error(
            "glue-locks",
            join.span,
            f"score {joint.score.number} of `{piece.name}` could not fold: both its sides are held by glue,"
            f" {glued}",
            f"leave one of them out, so that {shut.sections[joint.first].name} or"
            f" {shut.sections[joint.second].name} is free to swing",
        )


def _way_round(welds: Sequence[Weld], start: int, end: int) -> tuple[Weld, ...]:
    """Give the shortest way from one facet to another by glue alone; () where there is none."""
    ways: dict[int, tuple[Weld, ...]] = {start: ()}
    waiting = [start]
    for here in waiting:
        for weld in welds:
            if here in (weld.facet, weld.host):
                other = weld.host if here == weld.facet else weld.facet
                if other not in ways:
                    ways[other] = (*ways[here], weld)
                    waiting.append(other)
    return ways.get(end, ())
