"""The order of the work: what must be done before what, and the written order wherever it is free."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from cardrecipe.model.remembered import once_for_each
from cardrecipe.plan.glue import is_raised
from cardrecipe.plan.join_steps import has_own_joins, lies_inside
from cardrecipe.solve.sized import SizedCard, SizedPiece

(
    CUT,
    PREPARE,
    SCORE,
    FOLD,
    WORK,
    INSIDE,
    JOIN,
    OUTSIDE,
    INSIDE_RAISED,
    OUTSIDE_RAISED,
    BAND,
    ON_BAND,
    ON_BAND_RAISED,
    FINISH,
) = range(14)


class Task(NamedTuple):
    """One step to come: `what` is done to `name` (a paper for "cut", else a piece).

    Tasks that may be done in any order come by `phase`, then by `rank`, the written order. `after`
    holds the keys (what, name) of tasks that must be done before.
    """

    what: str  # "cut" | "work" | "score" | "fold" | "place" | "join" | "band" | "finish"
    name: str
    phase: int
    rank: int
    after: tuple[tuple[str, str], ...] = ()

    @property
    def key(self) -> tuple[str, str]:
        return self.what, self.name


@once_for_each
def tasks_of(card: SizedCard) -> tuple[Task, ...]:
    """All the steps of making `card` in an order that can be done."""
    return ordered(tuple(_tasks(card)))


def ordered(tasks: Sequence[Task]) -> tuple[Task, ...]:
    """`tasks` so that each follows what it depends on; among free ones by phase, then by rank.

    Dependencies on tasks that are not there are ignored. ValueError if some depend on each other in
    a ring.
    """
    keys = {task.key for task in tasks}
    waiting = {task.key: keys.intersection(task.after) - {task.key} for task in tasks}
    following: dict[tuple[str, str], list[Task]] = {key: [] for key in keys}
    for task in tasks:
        for key in waiting[task.key]:
            following[key].append(task)
    ready = [(task.phase, task.rank, task.key, task) for task in tasks if not waiting[task.key]]
    heapq.heapify(ready)
    done: list[Task] = []
    while ready:
        task = heapq.heappop(ready)[-1]
        done.append(task)
        for other in following[task.key]:
            waiting[other.key].remove(task.key)
            if not waiting[other.key]:
                heapq.heappush(ready, (other.phase, other.rank, other.key, other))
    if len(done) < len(tasks):
        stuck = ", ".join(f"{what} {name}" for (what, name), left in waiting.items() if left)
        raise ValueError(f"these wait for each other: {stuck}")
    return tuple(done)


def finishing_works(piece: SizedPiece) -> int:
    """How many of the piece's last works wait until all else is done.

    Gems and the like stand proud of a piece that is glued on. A cord or a ribbon has its ends behind
    such a piece; round a base or a loose tag it is tied last.
    """
    count = 0
    for work in reversed(piece.works):
        is_tied = work.item in ("ribbon", "cord")
        if work.verb != "add" or piece.around or is_tied == bool(piece.placements):
            return count
        count += 1
    return count


def root_piece(card: SizedCard, piece: SizedPiece) -> SizedPiece:
    """The base or band, or the loose piece, that `piece` lies on in the end."""
    while piece.placements:
        piece = card.piece(piece.placements[0].host_piece)
    return piece


def _tasks(card: SizedCard) -> Iterator[Task]:
    yield from _cut_tasks(card)
    for rank, piece in enumerate(card.pieces):
        cut = ("cut", piece.paper or "")
        made = (cut, ("work", piece.name), ("score", piece.name), ("fold", piece.name))
        if len(piece.works) > finishing_works(piece):
            phase = PREPARE if piece.kind == "base" else WORK
            yield Task("work", piece.name, phase, rank, (cut,))
        if any(score.direction != "slit" for score in piece.scores):
            # A piece is stamped and embossed while it is flat.
            yield Task("score", piece.name, SCORE, rank, made[:2])
        if piece.kind == "base" and piece.scores:
            yield Task("fold", piece.name, FOLD, rank, made[:3])
        if has_own_joins(piece):
            inside = [other.name for other in lies_inside(card, piece)]
            within = [(what, name) for name in inside for what in ("place", "finish")]
            yield Task("join", piece.name, JOIN, rank, (*made, *within))
        if piece.placements:
            after = (*made, *_beneath(card, piece), *_before_it_is_slipped_in(card, piece))
            yield Task("place", piece.name, _phase(card, piece), rank, after)
        if piece.around:
            after = (*made, ("fold", piece.around.base), ("join", piece.around.base), *_covered(card, piece))
            yield Task("band", piece.name, BAND, rank, after)
        if finishing_works(piece):
            after = (("place", piece.name), ("fold", piece.name), ("join", piece.name),
                     *_lying_on(card, piece))  # fmt: skip
            yield Task("finish", piece.name, FINISH, rank, after)


def _cut_tasks(card: SizedCard) -> Iterator[Task]:
    bases_first = sorted(card.pieces, key=lambda piece: piece.kind != "base")
    papers = dict.fromkeys(piece.paper or "" for piece in bases_first)
    for rank, paper in enumerate(papers):
        yield Task("cut", paper, CUT, rank)


def _beneath(card: SizedCard, piece: SizedPiece) -> Iterator[tuple[str, str]]:
    """What lies under a piece and so goes on first: its hosts, their folds, and its mats."""
    for placement in piece.placements:
        host = card.piece(placement.host_piece)
        if host.name == piece.under:
            continue
        yield "work", host.name
        yield "fold", host.name
        if not (host.loose and piece.name in _carried(card, host)):
            yield ("band" if host.around else "place"), host.name
    for mat in card.pieces:
        if mat.under == piece.name and not (mat.loose and piece.name in _carried(card, mat)):
            yield "place", mat.name


def _before_it_is_slipped_in(card: SizedCard, piece: SizedPiece) -> Iterator[tuple[str, str]]:
    """What lies on a loose piece goes on while it lies on the table, unless it is glued elsewhere too."""
    if piece.loose:
        for name in sorted(_carried(card, piece) - {piece.name}):
            yield "place", name
            yield "finish", name


def _carried(card: SizedCard, piece: SizedPiece) -> set[str]:
    """A loose piece with all that lies on it and on nothing else."""
    names: set[str] = set()
    more = {piece.name}
    while more != names:
        names = more
        more = names | {
            other.name
            for other in card.pieces
            if other.placements and {placement.host_piece for placement in other.placements} <= names
        }
    return names


def _covered(card: SizedCard, band: SizedPiece) -> Iterator[tuple[str, str]]:
    """Everything that lies on the base a band goes round, inside and out."""
    assert band.around is not None
    for piece in card.pieces:
        root = root_piece(card, piece)
        if piece.placements and root.name == band.around.base:
            yield "place", piece.name
            yield "finish", piece.name


def _lying_on(card: SizedCard, host: SizedPiece) -> Iterator[tuple[str, str]]:
    for piece in card.pieces:
        if any(placement.host_piece == host.name for placement in piece.placements):
            yield "place", piece.name


def _phase(card: SizedCard, piece: SizedPiece) -> int:
    """Inside before outside, flat before raised, and what sits on a band after the band."""
    lowest, raised = piece, is_raised(piece)
    while (host := card.piece(lowest.placements[0].host_piece)).placements:
        lowest, raised = host, raised or is_raised(host)
    if host.around:
        return ON_BAND_RAISED if raised else ON_BAND
    if any(placement.side == "inside" for placement in lowest.placements):
        return INSIDE_RAISED if raised else INSIDE
    return OUTSIDE_RAISED if raised else OUTSIDE
