"""The poses that a recipe names → the angles of the scores of each base, and what is wrong with them:
angles that no score has, and angles that cannot all be held at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.fold.assembly import Assembly
from cardrecipe.solve.sized import Pose, SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.spans import Span

FOLDED = 180
MOST_NAMES = 6  # of sections that a message lists
Held = tuple[str, int, Fraction]  # a base or scored panel, the number of its score, degrees


def angles_in(pose: Pose, shut: Assembly) -> tuple[dict[int, Fraction], dict[tuple[str, int], Fraction]]:
    """Give the angles that a pose has for a base and the sheets on it: those of the base by the number of
    the score, those of the sheets by piece and number."""
    return _angles(_of_card(pose, shut), shut)


def is_of(pose: Pose, shut: Assembly) -> bool:
    """Tell whether a pose speaks of a base or of what is on it."""
    return bool(_of_card(pose, shut))


def pose_mistakes(card: SizedCard, assemblies: Sequence[Assembly]) -> Iterator[Diagnostic]:
    """Say which poses cannot be: for scores that are not there or turned too far, else for torn paper."""
    for pose in card.poses:
        mistakes = list(_odd_lines(card, pose))
        yield from mistakes
        if not mistakes and pose.name != "closed":
            for shut in assemblies:
                if is_of(pose, shut) and _has_rings(shut):
                    yield from _torn(pose, shut)


# ---- line by line --------------------------------------------------------------------------------


def _odd_lines(card: SizedCard, pose: Pose) -> Iterator[Diagnostic]:
    spans = pose.spans or (pose.span,) * len(pose.folds)
    for each, span in zip(pose.folds, spans, strict=True):
        numbers = _numbers(next((piece for piece in card.pieces if piece.name == each[0]), None))
        if each[1] not in numbers:
            yield _no_such_score(each, span, numbers)
        else:
            yield from _odd_angle(each, span, is_closed=pose.name == "closed")


def _no_such_score(held: Held, span: Span, numbers: Sequence[int]) -> Diagnostic:
    name, number, _ = held
    hint = "name a piece that has scores: `fold 1 of PIECE at 90`"
    if numbers:
        hint = "its only score is 1" if len(numbers) == 1 else f"its scores are 1 to {numbers[-1]}"
    owner = f"`{name}` has" if name else "there is"
    return error("no-such-score", span, f"{owner} no score {number}", hint)


def _odd_angle(held: Held, span: Span, *, is_closed: bool) -> Iterator[Diagnostic]:
    _, number, angle = held
    if not 0 <= angle <= FOLDED:
        yield error(
            "pose-angle",
            span,
            f"score {number} cannot be held at {_degrees(angle)} degrees",
            "write 0 for flat, 180 for fully folded, or a number between them",
        )
    elif is_closed and angle not in (0, FOLDED):
        yield error(
            "pose-angle",
            span,
            f"the closed card lies flat: score {number} cannot be at {_degrees(angle)} degrees in it",
            "write 180 or 0, or give the pose another name",
        )


def _numbers(piece: SizedPiece | None) -> list[int]:
    if piece is None:
        return []
    return sorted({score.number for score in piece.scores if score.direction != "slit"})


# ---- angles that tear the paper ------------------------------------------------------------------


def _torn(pose: Pose, shut: Assembly) -> Iterator[Diagnostic]:
    from cardrecipe.fold.linkage import Jammed  # only poses of rings need it
    from cardrecipe.fold.linked_card import linked_card

    held = _of_card(pose, shut)
    jam = linked_card(shut, *_angles(held, shut))
    if isinstance(jam, Jammed):
        ring = {_key(shut, at) for at in jam.ring}
        told = _listed([f"score {_told(shut, each)}" for each in held if each[:2] in ring])
        joints = [shut.joints[at] for at in jam.ring]
        parts = sorted({part for joint in joints for part in (joint.first, joint.second)})
        names = [shut.sections[part].name for part in parts]
        yield error(
            "pose-torn",
            pose.span,
            f"the pose `{pose.name}` cannot be held: with {told} the paper would tear, for"
            f" {_listed(names) if len(names) <= MOST_NAMES else 'its sections'} hang together in a ring",
            _repair(shut, held),
        )


def _repair(shut: Assembly, held: Sequence[Held]) -> str:
    """Say which lines to leave out so that those scores follow: the earlier ones stay, and those that bend
    a score before those that hold one flat."""
    from cardrecipe.fold.linkage import Linkage
    from cardrecipe.fold.linked_card import linked_card

    kept: list[Held] = []
    found: Linkage | None = None
    for each in sorted(held, key=lambda each: each[2] == 0):
        linkage = linked_card(shut, *_angles([*kept, each], shut))
        if isinstance(linkage, Linkage) and all(-1 < angle < FOLDED + 1 for angle in linkage.angles):
            kept, found = [*kept, each], linkage
    gone = [each for each in held if each not in kept]
    if found is None or not any(each[2] for each in kept):
        return "hold the scores less far, or name only one score of the ring: the others follow"
    places = {_key(shut, at): at for at in range(len(shut.joints))}
    follow = [_degrees(found.angles[places[each[:2]]]) for each in gone]
    lines = _listed([f"`fold {_told(shut, each)}`" for each in gone])
    verb = "it follows" if len(gone) == 1 else "they follow"
    return f"leave out {lines}: {verb} the other scores, to {_listed(follow)} degrees"


def _has_rings(shut: Assembly) -> bool:
    """Tell whether some sections hang together in a ring, by scores or glue."""
    leaders = list(range(len(shut.sections)))
    links = [joint[1:3] for joint in shut.joints]
    for one, two in [*links, *((weld.facet, weld.host) for weld in shut.welds if not weld.by_folding)]:
        if leaders[one] == leaders[two]:
            return True
        gone, keep = leaders[one], leaders[two]
        leaders = [keep if leader == gone else leader for leader in leaders]
    return False


def _of_card(pose: Pose, shut: Assembly) -> list[Held]:
    names = {facing.piece.name for facing in shut.facings}
    return [each for each in pose.folds if each[0] in names]


def _angles(
    held: Sequence[Held], shut: Assembly
) -> tuple[dict[int, Fraction], dict[tuple[str, int], Fraction]]:
    own = shut.piece.name
    of_base = {number: angle for name, number, angle in held if name == own}
    return of_base, {(name, number): angle for name, number, angle in held if name != own}


def _key(shut: Assembly, at: int) -> tuple[str, int]:
    joint = shut.joints[at]
    return shut.facings[joint.first].piece.name, joint.score.number


def _told(shut: Assembly, held: Held) -> str:
    name, number, angle = held
    of = "" if name == shut.piece.name else f" of {name}"
    return f"{number}{of} at {_degrees(angle)}"


def _degrees(angle: Fraction | float) -> str:
    """Write degrees to a tenth; the shortest way that says as much."""
    return f"{round(float(angle), 1) + 0.0:g}"


def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)
