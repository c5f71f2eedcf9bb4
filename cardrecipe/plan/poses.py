"""The poses of a card that are worth a picture, each with the base that it holds and its caption."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.words import listed, spoken, the
from cardrecipe.solve.sized import Pose, SizedCard


class PosedBase(NamedTuple):
    """A base in a pose; `picture` names its drawing, `told` are the angles in words."""

    pose: Pose
    base: str
    picture: str
    caption: str
    told: str


def posed_bases(folded: FoldedCard) -> tuple[PosedBase, ...]:
    """Give every pose of the recipe but `closed`, which the views show, for each base that it speaks of."""
    poses = [pose for pose in folded.card.poses if pose.name != "closed"]
    return tuple(each for pose in poses for each in _bases_of(folded, pose))


def _bases_of(folded: FoldedCard, pose: Pose) -> Iterator[PosedBase]:
    bases = [closed.base for closed in folded.closed]
    held = {name: _carriers(folded.card, name) for name, _, _ in pose.folds}
    title = spoken(pose.name).capitalize()
    for base in bases:
        folds = [each for each in pose.folds if base in held[each[0]]]
        is_first = base == bases[0]
        picture = f"pose-{pose.name}" if is_first else f"pose-{pose.name}-{base}"
        caption = title if is_first else f"{title}: {spoken(base)}"
        if folds:
            yield PosedBase(pose, base, picture, caption, _told(folds, base))


def _told(folds: Sequence[tuple[str, int, Fraction]], base: str) -> str:
    """Write `scores 1 and 3 at 60 degrees, score 2 of the strip at 90`."""
    numbers: dict[tuple[str, Fraction], list[int]] = {}
    for name, number, angle in folds:
        numbers.setdefault((name, angle), []).append(number)
    groups = []
    for (name, angle), each in numbers.items():
        of = "" if name == base else f" of {the(name)}"
        scores = f"score{'s' if len(each) > 1 else ''} {listed([str(number) for number in each])}"
        groups.append(f"{scores}{of} at {round(float(angle), 1):g}")
    return ", ".join([f"{groups[0]} degrees", *groups[1:]])


def _carriers(card: SizedCard, name: str) -> frozenset[str]:
    """Give the bases that a piece is on in the end; for a base itself."""
    piece = card.piece(name)
    if piece.kind == "base":
        return frozenset({name})
    hosts = {placement.host_piece for placement in piece.placements}
    return frozenset(base for host in hosts for base in _carriers(card, host))
