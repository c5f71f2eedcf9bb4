"""Warnings about a card that folds, but not well: each rule is one function, and `checks` lists
them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import combinations, permutations

from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.paper_weight import Caliper, caliper
from cardrecipe.library.basis_weights import grams_per_square_metre
from cardrecipe.model.lengths import convert, round_down, round_near, with_unit
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.diagnostics import Diagnostic, Related

# Doors whose widths sum to within a quarter of the back were meant to meet; a letter fold's were
# not.
MEANT_TO_MEET = Fraction(1, 4)

# A section that covers nearly all of the back is a front: what folds over or under it is a flap.
COVERS = Fraction(7, 8)

# Trade pages: score from about 150 gsm up; cracking across the grain is a matter of heavy card.
HEAVY_GSM = 200

# Geometry, square corners: a section round n layers of thickness t is 2 x n x t longer than they.
PER_LAYER = 2
MM_PER_INCH = Fraction(254, 10)

Check = Callable[[SizedCard, FlatFold], Iterator[Diagnostic]]


def is_strip(flat: FlatFold) -> bool:
    """Tell whether all scores run right across in one direction, so that widths tell everything."""
    scores = flat.piece.scores
    axes = {score.axis for score in scores}
    return len(axes) == 1 and len(flat.sections) == len(scores) + 1


def doors_that_do_not_meet(card: SizedCard, flat: FlatFold) -> Iterator[Diagnostic]:
    """Two doors that close over the back from both sides meet edge to edge."""
    if not is_strip(flat):
        return
    for one, two in combinations(_valleys_at_root(flat), 2):
        left, right = _door(flat, one), _door(flat, two)
        whole = _length(flat, flat.root)
        sum_of_doors = _length(flat, left) + _length(flat, right)
        too_much = sum_of_doors - whole
        is_front = max(_length(flat, left), _length(flat, right)) >= whole * COVERS
        if is_front or too_much == 0 or abs(too_much) > whole * MEANT_TO_MEET:
            continue
        first, second = flat.sections[left].name, flat.sections[right].name
        amount = with_unit(abs(too_much), card.unit)
        code, verb = ("doors-overlap", "overlap by") if too_much > 0 else ("doors-gape", "gape by")
        each = with_unit(whole / 2, card.unit)
        yield Diagnostic(
            code,
            "warning",
            one.score.span,
            f"{first} and {second} {verb} {amount} when the card is closed",
            f"doors of {each} each meet over {flat.sections[flat.root].name}",
            (Related(two.score.span, f"{second} is hinged here"),),
        )


def rolled_too_wide(card: SizedCard, flat: FlatFold) -> Iterator[Diagnostic]:
    """A section that is rolled in is narrower than the one it is rolled into by what the fold takes."""
    if not is_strip(flat):
        return
    for one, two in permutations(flat.joints, 2):
        middle = {one.first, one.second} & {two.first, two.second}
        if len(middle) != 1 or not _roll_in(flat, one, two):
            continue
        (into,) = middle
        inner, outer = _across(one, into), _across(two, into)
        if flat.order.above(outer, inner) is None:
            continue
        if flat.order.above(outer, inner) != flat.order.above(inner, into):
            continue
        layers = _layers_between(flat, outer, into)
        spare = _length(flat, into) - _length(flat, inner)
        if spare < convert(_taken(card, flat, layers).likely_mm, "mm", card.unit):
            yield _too_wide(card, flat, one, two, layers)


def score_across_grain(card: SizedCard, flat: FlatFold) -> Iterator[Diagnostic]:
    """Heavy card cracks where it is folded across the grain.

    Only where the paper states its grain and weight, and only where the piece fits none of the
    sheets with its scores along the grain.
    """
    base = flat.piece
    paper = card.papers.get(base.paper or "")
    if paper is None or paper.grain is None or paper.weight is None or not base.scores:
        return
    gsm = grams_per_square_metre(paper.weight)
    if gsm < HEAVY_GSM:
        return
    along, across = base.height, base.width
    if base.scores[0].axis == "y":
        along, across = across, along
    fits = [
        (along <= grain and across <= other, across <= grain and along <= other)
        for grain, other in (_grain_first(sheet.width, sheet.height, paper.grain) for sheet in paper.sheets)
    ]
    if any(crossing for _, crossing in fits) and not any(well for well, _ in fits):
        yield Diagnostic(
            "score-across-grain",
            "warning",
            base.span,
            f"{base.name} can only be cut from {paper.title} so that its scores cross the grain,"
            f" and card of {round(gsm)} gsm may crack there",
            "use a sheet with the grain the other way, or score it well before folding",
            (Related(paper.span, f"the grain runs along its {paper.grain} side"),),
        )


checks: tuple[Check, ...] = (doors_that_do_not_meet, rolled_too_wide, score_across_grain)


def _valleys_at_root(flat: FlatFold) -> list[Joint]:
    """Give the joints by which a section folds over the front of the root."""
    return [
        branch.joint
        for branch in flat.branches
        if branch.parent == flat.root
        and branch.joint.score.number in flat.folded
        and branch.joint.score.direction == "valley"
    ]


def _door(flat: FlatFold, joint: Joint) -> int:
    return _across(joint, flat.root)


def _across(joint: Joint, section: int) -> int:
    return joint.second if joint.first == section else joint.first


def _roll_in(flat: FlatFold, one: Joint, two: Joint) -> bool:
    """Tell whether two scores are folded the same way."""
    are_folded = {one.score.number, two.score.number} <= flat.folded
    return are_folded and one.score.direction == two.score.direction


def _layers_between(flat: FlatFold, outer: int, into: int) -> int:
    """Count the sections that lie between the two, which the fold that joins them goes round."""
    above = flat.order.above
    turned = above(outer, into)
    others = range(len(flat.sections))
    return sum(above(outer, each) == turned and above(each, into) == turned for each in others)


def _taken(card: SizedCard, flat: FlatFold, layers: int) -> Caliper:
    """Give what a fold round so many layers of the card's paper takes, in mm with its range."""
    thick = caliper(card.papers.get(flat.piece.paper or ""), card.unit)
    likely, least, most = (
        PER_LAYER * layers * each for each in (thick.likely_mm, thick.least_mm, thick.most_mm)
    )
    return Caliper(likely, least, most, thick.estimated)


def _too_wide(card: SizedCard, flat: FlatFold, one: Joint, two: Joint, layers: int) -> Diagnostic:
    """Say by how much the section that is hinged at `one` must be narrower, and what to write."""
    (into,) = {one.first, one.second} & {two.first, two.second}
    inner, outer = _across(one, into), _across(two, into)
    names = [section.name for section in flat.sections]
    spare = _length(flat, into) - _length(flat, inner)
    taken = _taken(card, flat, layers)
    room = _length(flat, into) - convert(taken.most_mm, "mm", card.unit)
    width = round_down(room, card.nearest)
    narrower = f"only {with_unit(spare, card.unit)}" if spare > 0 else "no"
    fitting = f"make {names[inner]} {with_unit(width, card.unit)} or less"
    size = fitting if width > 0 else f"make {names[into]} longer"
    return Diagnostic(
        "rolled-too-wide",
        "warning",
        one.score.span,
        f"{names[inner]} is rolled in under {names[outer]} but is {narrower} narrower than"
        f" {names[into]}: it will jam in the fold, which takes {_in_both_units(taken)}",
        f"{size}; the fold takes twice the paper's thickness for each layer in it, here {layers}",
        (Related(two.score.span, f"{names[outer]} folds over it here"),),
    )


def _in_both_units(taken: Caliper) -> str:
    """Write what a fold takes: `about 0.75 mm (≈0.03 in; between 0.48 and 0.9 mm)`."""
    millimetres = [_hundredths(each) for each in taken[:3]]
    inches = f"{float(taken.likely_mm / MM_PER_INCH):.3f}\u00a0in"  # thousandths, as calipers read
    if not taken.estimated:
        return f"{with_unit(millimetres[0], 'mm')} ({inches})"
    least, most = (with_unit(each, "mm") for each in millimetres[1:])
    return f"about {with_unit(millimetres[0], 'mm')} ({inches}), between {least} and {most}"


def _hundredths(value: Fraction) -> Fraction:
    return round_near(value, Fraction(1, 100))


def _length(flat: FlatFold, section: int) -> Fraction:
    """Give a section's size across the scores."""
    size = flat.sections[section]
    return size.width if flat.piece.scores[0].axis == "x" else size.height


def _grain_first(width: Fraction, height: Fraction, grain: str) -> tuple[Fraction, Fraction]:
    """Give a sheet's size along the grain, then across it."""
    short, long = sorted((width, height))
    return (long, short) if grain == "long" else (short, long)
