"""The folding sheets of a card laid on the open base, one over the other, and what glue holds together.

This common plane is the layout: the flat base, inside up, with every scored panel flat where it is glued.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.bodies import held_part, is_on_whole_base, live_scores
from cardrecipe.fold.closed import FlatFold, closed_pose, speaks_of
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.joints import Joint, joints
from cardrecipe.fold.motions import moved
from cardrecipe.fold.placing import Placed
from cardrecipe.solve.sized import Join, SizedCard, SizedPiece, SizedSection

Copy = tuple[str, int]


class Facing(NamedTuple):
    """A section of one of the sheets: whose it is, and how it lies in the layout.

    `rank` tells what was put on later: 0 for the base, more for what lies on its inside, less for what
    lies on its outside. `is_turned`: its own inside looks down in the layout.
    """

    piece: SizedPiece
    copy: int
    rank: int
    is_turned: bool
    foam_mm: Fraction = Fraction(0)
    lift_mm: Fraction = Fraction(0)
    windows: tuple[Outline, ...] = ()  # of the whole piece, in the layout


class Weld(NamedTuple):
    """Two facets that keep together; `join` is the line that says so.

    `is_glued`: nothing slides between. `by_folding`: a tab of the base on another part of it, which meets
    it only when the base is folded.
    """

    facet: int
    host: int
    join: Join | None = None
    is_glued: bool = True
    by_folding: bool = False


class Layout(NamedTuple):
    """Every facet in the layout, the base's first, and what joins them; no motion yet."""

    facings: tuple[Facing, ...]
    sections: tuple[SizedSection, ...]  # outlines in the layout
    joints: tuple[Joint, ...]  # their facets numbered through, their points in the layout
    folded: frozenset[int]  # the joints that are folded in the closed card
    welds: tuple[Weld, ...]
    carriers: Mapping[Copy, int]  # the facet that each placed copy keeps to; of a sheet the one it is held by
    sheets: tuple[Placed, ...]  # the copies that are facets themselves


def is_sheet(piece: SizedPiece) -> bool:
    """Tell whether a piece that is glued on has parts of its own to fold."""
    return piece.kind != "base" and len(piece.sections) > 1 and any(
        score.direction != "slit" for score in piece.scores
    )


def layout(card: SizedCard, flat: FlatFold, placed: Sequence[Placed]) -> Layout:
    """Lay the sheets of a card flat on its open base; a panel's parts are welded where glue holds them."""
    laying = _Laying(card, flat)
    for each in placed:
        if each.section is None:
            continue
        if is_sheet(each.piece):
            laying.lay(each)
        else:
            laying.carry(each)
    return laying.done()


class _Laying:
    """The layout as far as it has been made; hosts come before what is on them."""

    def __init__(self, card: SizedCard, flat: FlatFold) -> None:
        self.card = card
        self.flat = flat
        own = Facing(flat.piece, 0, 0, False, windows=flat.piece.windows)
        self.facings = [own for _ in flat.sections]
        self.sections = list(flat.sections)
        self.joints = list(flat.joints)
        self.folded = {at for at, joint in enumerate(flat.joints) if joint.score.number in flat.folded}
        self.firsts: dict[Copy, int] = {(flat.piece.name, 0): 0}
        self.carriers: dict[Copy, int] = {}
        self.sheets: list[Placed] = []
        self.welds: list[Weld] = []

    def lay(self, each: Placed) -> None:
        """Add the parts of a scored panel."""
        piece, first = each.piece, len(self.sections)
        way = each.way
        rank = (len(self.sheets) + 1) * (1 if each.side == "inside" else -1)
        self.firsts[piece.name, each.copy] = first
        self.carriers[piece.name, each.copy] = first + held_part(piece)
        windows = tuple(moved(way, window) for window in piece.windows)
        own = Facing(piece, each.copy, rank, way.is_flipped(), each.foam_mm, each.lift_mm, windows)
        self.facings += [own for _ in piece.sections]
        self.sections += [
            section._replace(outline=moved(way, section.outline)) for section in piece.sections
        ]
        folded = _folded_in_closed(self.card, piece)
        for joint in joints(piece.sections, piece.scores):
            if joint.score.number in folded:
                self.folded.add(len(self.joints))
            ends = way.apply(joint.start), way.apply(joint.end)
            self.joints.append(Joint(joint.score, joint.first + first, joint.second + first, *ends))
        self.sheets.append(each)
        self.welds += self._welds(each)

    def carry(self, each: Placed) -> None:
        """Note which facet a plain piece keeps to."""
        host = self._host_facet(each)
        if host is None:
            assert each.section is not None
            host = each.section
        own, sign = region(each.frame), 1 if each.side == "inside" else -1
        for weld in self.welds:
            # What was glued on later lies over the sheets that were glued there before.
            is_over = weld.host == host and self.facings[weld.facet].rank * sign > 0
            if is_over and overlap(own, region(self.sections[weld.facet].outline)):
                host = weld.facet
        self.carriers[each.piece.name, each.copy] = host

    def done(self) -> Layout:
        return Layout(
            tuple(self.facings),
            tuple(self.sections),
            tuple(self.joints),
            frozenset(self.folded),
            (*self.welds, *self._own_welds()),
            self.carriers,
            tuple(self.sheets),
        )

    def _welds(self, each: Placed) -> Iterator[Weld]:
        """Give what one sheet is glued to."""
        piece, first = each.piece, self.firsts[each.piece.name, each.copy]
        names = [section.name for section in piece.sections]
        if piece.joins:
            for join in piece.joins:
                host = self._joined_host(each, join)
                if host is not None:
                    yield Weld(first + names.index(join.section), host, join)
            return
        host = self._host_facet(each)
        if host is not None:
            if not (piece.loose and self._is_held_by_others(piece.name)):
                yield Weld(first + held_part(piece), host, None, not piece.loose)
            return
        beneath = [self._beneath(first + at) for at in range(len(names))]
        if all(len(found) == 1 for found in beneath):
            yield from (Weld(first + at, found[0]) for at, found in enumerate(beneath))
        elif beneath[held_part(piece)]:
            is_glued = not piece.loose and len(beneath[held_part(piece)]) == 1
            yield Weld(first + held_part(piece), beneath[held_part(piece)][0], None, is_glued)

    def _own_welds(self) -> Iterator[Weld]:
        """Give the tabs of the base that are glued to other parts of it once it is folded."""
        names = [section.name for section in self.flat.sections]
        for join in self.flat.piece.joins:
            if join.host_piece == self.flat.piece.name and {join.section, join.host} <= set(names):
                yield Weld(names.index(join.section), names.index(join.host), join, by_folding=True)

    def _joined_host(self, each: Placed, join: Join) -> int | None:
        """Give the facet that a section is glued to; on a copy's own host the copy that carries it."""
        placement = each.piece.placements[each.copy]
        copy = placement.host_copy if join.host_piece == placement.host_piece else each.copy
        for number in (copy, 0):
            first = self.firsts.get((join.host_piece, number))
            if first is not None:
                piece = self.facings[first].piece
                names = [section.name for section in self.sections[first : first + len(piece.sections) or 1]]
                return first + (names.index(join.host) if join.host in names else held_part(piece))
            if (join.host_piece, number) in self.carriers:
                return self.carriers[join.host_piece, number]
        return None

    def _host_facet(self, each: Placed) -> int | None:
        """Give the facet that a copy is put on; None on a base as a whole, across its scores."""
        placement = each.piece.placements[each.copy]
        if is_on_whole_base(self.flat, placement):
            return None
        key = (placement.host_piece, placement.host_copy)
        if key not in self.firsts:
            return self.carriers.get(key, each.section)
        first, piece = self.firsts[key], self.facings[self.firsts[key]].piece
        names = [section.name for section in piece.sections]
        if placement.host in names:
            return first + names.index(placement.host)
        return first + held_part(piece) if names else first

    def _beneath(self, facet: int) -> list[int]:
        own = region(self.sections[facet].outline)
        return [
            at
            for at, section in enumerate(self.flat.sections)
            if overlap(own, region(section.outline))
        ]

    def _is_held_by_others(self, name: str) -> bool:
        return any(join.host_piece == name for piece in self.card.pieces for join in piece.joins)


def _folded_in_closed(card: SizedCard, piece: SizedPiece) -> frozenset[int]:
    """Give the scores of a glued sheet that are folded when the card is closed: all that are live,
    or those that the recipe's own pose `closed` names, where it speaks of the sheet."""
    pose = closed_pose(card)
    if pose is None or not speaks_of(pose, piece):
        return live_scores(card, piece)
    return frozenset(number for name, number, angle in pose.folds if name == piece.name and angle == 180)
