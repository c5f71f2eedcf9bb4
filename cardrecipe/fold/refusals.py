"""Why a base cannot be folded, in a maker's words: which sections are in the way, where, and
why."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from cardrecipe.fold.assembly import CannotAssemble
from cardrecipe.fold.closed import CannotFold, Unfoldable, closed_pose
from cardrecipe.fold.joints import Joint, tree
from cardrecipe.fold.layers import MAX_SECTIONS, Circle, Collision
from cardrecipe.fold.sheets import Weld
from cardrecipe.model.lengths import with_unit
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedSection
from cardrecipe.syntax.diagnostics import Diagnostic, Related

if TYPE_CHECKING:
    from cardrecipe.fold.in_turn import Jam


def idle_or_loose(base: SizedPiece, odd: Unfoldable) -> Diagnostic:
    """Refuse a score that ends inside a section, and a section that the slits cut off."""
    if odd.idle:
        score = odd.idle[0]
        return Diagnostic(
            "score-dangles",
            "error",
            score.span,
            f"score {score.number} of {base.name} does not part anything: it ends inside a section",
            "run it from edge to edge, or from slit to slit: `between L and L`",
            tuple(Related(other.span, "and this one") for other in odd.idle[1:]),
        )
    section = odd.loose[0]
    slits = [score for score in base.scores if score.direction == "slit"]
    span = slits[0].span if slits else base.span
    return Diagnostic(
        "section-loose",
        "error",
        span,
        f"{section.name} would fall off: no score joins it to the rest of {base.name}",
        "end the slit earlier, or add the score that it should fold at",
        tuple(Related(slit.span, "and this slit") for slit in slits[1:]),
    )


def cannot_fold(card: SizedCard, base: SizedPiece, why: CannotFold) -> Diagnostic:
    """Say why a base has no closed form; the scores that take part are the related places."""
    if why.torn:
        return _torn(base, why.torn)
    if why.jam:
        return _jammed(card, base, why, why.jam)
    if isinstance(why.because, Circle):
        return _in_a_circle(base, [why.facets[at].name for at in why.because.facets])
    if len(base.sections) > MAX_SECTIONS:
        return _too_many_sections(base, "")
    if not isinstance(why.because, Collision):
        return Diagnostic(
            "cannot-tell",
            "error",
            base.span,
            f"there is no telling whether {base.name} can be folded flat: too many ways to try",
            "use fewer scores, or fold it in two pieces",
        )
    collision = why.because
    joint = why.joints[collision.crease]
    moving, reason = _reason(card, base, why, collision)
    return Diagnostic(
        "cannot-fold",
        "error",
        joint.score.span,
        f"{moving} would have to pass through the fold at score {joint.score.number}{reason}",
        _hint(reason),
        _related(why, collision),
    )


def _jammed(card: SizedCard, base: SizedPiece, why: CannotFold, jam: Jam) -> Diagnostic:
    """Refuse an order of folding in which paper would pass through paper."""
    pose = closed_pose(card)
    assert pose is not None  # without it no order is written
    lines = dict(zip(((name, number) for name, number, _ in pose.folds), pose.spans, strict=False))
    moving, obstacle = (why.facets[at].name for at in (jam.moving, jam.obstacle))
    scores = [joint.score for joint in why.joints if joint.score.number in (jam.number, *jam.made)]
    plural = "s" if len(jam.made) > 1 else ""
    made = f" after score{plural} {' and '.join(map(str, jam.made))}" if jam.made else ""
    return Diagnostic(
        "fold-order",
        "error",
        lines.get((base.name, jam.number), pose.span),
        f"score {jam.number} of {base.name} cannot be folded{made}: {moving} would have to pass"
        f" through {obstacle}",
        f"what is folded last closes last: write `fold {jam.number} at 180` further up",
        tuple(Related(score.span, f"score {score.number} ({score.direction})")
              for score in dict.fromkeys(scores)),
    )  # fmt: skip


def _torn(base: SizedPiece, joint: Joint) -> Diagnostic:
    return Diagnostic(
        "cannot-fold",
        "error",
        joint.score.span,
        f"{base.name} would be torn at score {joint.score.number}: the sections round it"
        " cannot all be folded at once",
    )


def _reason(card: SizedCard, base: SizedPiece, why: CannotFold, collision: Collision) -> tuple[str, str]:
    """Give the section that is in the way and, where a section between is too short, that one."""
    names = [facet.name for facet in why.facets]
    joint = why.joints[collision.crease]
    ends = (joint.first, joint.second)
    moving = collision.moving if collision.moving not in ends else collision.obstacle
    wide = [_length(base, section) for section in base.sections]
    between = _between(why, moving, ends)
    short = min(between, key=lambda index: (wide[index], index), default=moving)
    if wide[short] >= wide[moving]:
        return names[moving], ""
    width = with_unit(wide[short], card.unit)
    return names[moving], f": {names[short]} is only {width} {_measure(base)}"


def _between(why: CannotFold, moving: int, ends: tuple[int, int]) -> list[int]:
    """Give the sections that one passes on the flat piece from a section to a score."""
    branches = tree(len(why.facets), why.joints, moving)
    parents = {branch.child: branch.parent for branch in branches}
    depths = {moving: 0} | {branch.child: branch.depth for branch in branches}
    here = min(ends, key=lambda end: depths[end])
    passed: list[int] = []
    while here != moving:
        passed.append(here)
        here = parents[here]
    return passed


def _length(base: SizedPiece, section: SizedSection) -> Fraction:
    return section.width if base.scores[0].axis == "x" else section.height


def _measure(base: SizedPiece) -> str:
    return "wide" if base.scores[0].axis == "x" else "high"


def _hint(reason: str) -> str:
    if "only" in reason:
        return "make that section longer, the one that folds over it shorter, or turn a score over"
    return "turn one of these scores over (valley to mountain), or change where it stands"


def _related(why: CannotFold, collision: Collision) -> tuple[Related, ...]:
    names = [facet.name for facet in why.facets]
    return tuple(
        Related(
            joint.score.span,
            f"score {joint.score.number} ({joint.score.direction})"
            f" joins {names[joint.first]} and {names[joint.second]}",
        )
        for joint in (why.joints[index] for index in collision.creases)
    )


def _too_many_sections(base: SizedPiece, glued: str) -> Diagnostic:
    return Diagnostic(
        "too-many-sections",
        "error",
        base.span,
        f"{base.name} has more than {MAX_SECTIONS} sections{glued}",
        "leave some of its scores out, or fold it in two pieces",
    )


def _in_a_circle(base: SizedPiece, names: Sequence[str]) -> Diagnostic:
    """Refuse layers that only all at once could be laid over each other."""
    return Diagnostic(
        "cannot-fold",
        "error",
        base.span,
        f"{', '.join(names[:-1])} and {names[-1]} would lie in a circle, each over the next:"
        f" {base.name} cannot be folded one part after the other",
        _hint(""),
    )


def cannot_assemble(why: CannotAssemble) -> Diagnostic:
    """Say why the sheets of a card cannot be folded shut together."""
    base = why.flat.piece
    if isinstance(why.torn, Weld):
        return _torn_off(why, why.torn)
    if why.torn is not None:
        piece = why.layout.facings[why.torn.first].piece
        return _torn(piece, why.torn)
    if isinstance(why.because, Circle):
        return _in_a_circle(base, [_whose(why, at) for at in why.because.facets])
    if len(why.layout.sections) > MAX_SECTIONS:
        return _too_many_sections(base, " with what is glued to it")
    if not isinstance(why.because, Collision):
        return Diagnostic(
            "cannot-tell",
            "error",
            base.span,
            f"there is no telling whether {base.name} can be folded flat with what is glued to it:"
            " too many ways to try",
            "use fewer scores",
        )
    collision = why.because
    names = [_whose(why, at) for at in range(len(why.layout.sections))]
    creases = [why.layout.joints[at].score for at in collision.creases]
    glued = why.layout.facings[collision.moving].piece
    span = why.layout.joints[collision.crease].score.span if collision.crease >= 0 else glued.span
    place = f" at score {why.layout.joints[collision.crease].score.number}" if collision.crease >= 0 else ""
    return Diagnostic(
        "cannot-fold",
        "error",
        span,
        f"{names[collision.moving]} would have to pass through {names[collision.obstacle]}{place}"
        " when the card is closed",
        "turn one of these scores over (valley to mountain), or change where it stands",
        tuple(Related(score.span, f"score {score.number} ({score.direction})") for score in creases),
    )


def _torn_off(why: CannotAssemble, weld: Weld) -> Diagnostic:
    """Refuse a sheet that is glued to two parts which its own scores do not bring together."""
    piece = why.layout.facings[weld.facet].piece
    own, host = (why.layout.sections[at].name for at in (weld.facet, weld.host))
    return Diagnostic(
        "cannot-fold",
        "error",
        weld.join.span if weld.join else piece.span,
        f"{own} of {piece.name} would be torn off {host} when {why.flat.piece.name} is folded shut:"
        " the two do not stay together",
        "move its scores: between the places where it is glued, the parts that fold must be as long"
        " as the card's own",
    )


def _whose(why: CannotAssemble, at: int) -> str:
    piece, name = why.layout.facings[at].piece, why.layout.sections[at].name
    return name if piece.kind == "base" else f"{name} of {piece.name}"
