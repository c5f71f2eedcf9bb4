"""The few words and groupings that all page formats share, so that they say a thing alike."""

from collections.abc import Sequence

from cardrecipe.fold.folded import FoldedCard, View
from cardrecipe.model.lengths import TIMES
from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.entries import SUPPLY_GROUPS as SUPPLY_GROUPS
from cardrecipe.plan.layers import stacked_layers
from cardrecipe.plan.poses import posed_bases
from cardrecipe.plan.post_lines import PostLine, post_lines
from cardrecipe.plan.sheet import (
    CutLine,
    CuttingSheet,
    EnvelopeFit,
    PaperTotal,
    ScoreGuide,
    ScoreLine,
    Sheet,
    SupplyLine,
)

MOST_USES = 3


def grouped_supplies(supplies: Sequence[SupplyLine]) -> tuple[tuple[str, tuple[SupplyLine, ...]], ...]:
    """The supplies by kind: known kinds in the order above, then others as they come."""
    kinds = dict.fromkeys((*SUPPLY_GROUPS, *(line.kind for line in supplies)))
    groups = ((kind, tuple(line for line in supplies if line.kind == kind)) for kind in kinds)
    return tuple((kind, lines) for kind, lines in groups if lines)


def grouped_cuts(cuts: Sequence[CutLine]) -> tuple[tuple[str, tuple[CutLine, ...]], ...]:
    """The cuts by paper (what is written for it), in the order in which the papers come."""
    papers = dict.fromkeys(paper_written(line) for line in cuts)
    return tuple((paper, tuple(line for line in cuts if paper_written(line) == paper)) for paper in papers)


def paper_written(line: CutLine) -> str:
    return line.paper_title or line.paper or "Any paper"


def piece_written(name: str) -> str:
    """A piece's name as a maker reads it: `door-paper` is a door paper."""
    return name.replace("-", " ")


def count_written(line: CutLine, one: str) -> str:
    """How many to cut; with several copies, how many in all and for each `one`: card or set."""
    if line.total == line.count:
        return str(line.count)
    return f"{line.total} ({line.count} a {one})"


def times_written(line: CutLine) -> str:
    """`2 ×`, to stand before a name; nothing for a single piece."""
    return f"{line.total}\u00a0{TIMES}" if line.total > 1 else ""


def direction_written(direction: str) -> str:
    """A score's direction as an instruction."""
    return {"valley": "valley", "mountain": "mountain", "slit": "cut through"}.get(direction, direction)


def fold_written(line: ScoreLine) -> str:
    """How a line of the score guide folds and, where it stops inside the sheet, how far it reaches."""
    told = direction_written(line.direction)
    return f"{told}, {line.reach}" if line.reach else told


def number_written(line: ScoreLine) -> str:
    """A score's number; slits have none."""
    return str(line.number) if line.number else "–"


def ends_of(guide: ScoreGuide) -> tuple[str, str]:
    """The two ends that a guide measures from."""
    return ("left", "right") if guide.along == "left" else ("top", "bottom")


def shown_envelopes(fits: Sequence[EnvelopeFit]) -> tuple[EnvelopeFit, ...]:
    """The envelopes worth printing: those that fit, and the one that the recipe asks for."""
    return tuple(fit for fit in fits if fit.fits or fit.wanted)


def envelope_written(fit: EnvelopeFit) -> str:
    """An envelope's title, with a word when it is the recipe's own choice or too small."""
    if not fit.fits:
        return f"{fit.title} (too small)"
    return f"{fit.title} (this recipe's choice)" if fit.wanted else fit.title


def shown_post(sheet: Sheet) -> tuple[PostLine, ...]:
    """The post for the sheet's own unit system: a line for each country."""
    return post_lines(sheet.post, sheet.folded.card.unit)


def shown_views(folded: FoldedCard) -> tuple[tuple[str, str], ...]:
    """The views of the finished card that are worth a picture, each with its caption.

    The front and the inside always are, the back and the outside where something is glued on them, and
    the poses that the recipe names; last the layers drawn apart, where there are three or more.
    """
    first = folded.views[0].base if folded.views else ""
    views = (
        (view.name, VIEW_CAPTIONS[view.name])
        if view.base == first
        else (f"{view.name}-{view.base}", f"{VIEW_CAPTIONS[view.name]}: {piece_written(view.base)}")
        for view in folded.views
        if view.name in ALWAYS_SHOWN or _carries_something(folded, view)
    )
    poses = ((posed.picture, posed.caption) for posed in posed_bases(folded))
    layers = (
        (each.picture, "; ".join(filter(None, (each.caption, each.elsewhere))))
        for each in stacked_layers(folded)
    )
    return (*views, *poses, *layers)


def shown_legend(folded: FoldedCard) -> str:
    """The name of the legend; "" for loose pieces, whose pictures need no signs."""
    return "legend" if folded.closed else ""


VIEW_CAPTIONS = {
    "closed-front": "Closed, from the front",
    "closed-back": "Closed, from the back",
    "open-inside": "Open, the inside",
    "open-outside": "Open, the outside",
}
ALWAYS_SHOWN = ("closed-front", "open-inside")


def _carries_something(folded: FoldedCard, view: View) -> bool:
    """True where a piece shows that is no band: a band across the back tells a maker nothing."""
    shown = {part.piece for part in view.parts if part.section is None}
    return any(folded.card.piece(name).around is None for name in shown)


def steps_note(sheet: Sheet) -> str:
    """Under the heading of the steps, when several cards are made: what is done for how many."""
    if sheet.copies == 1 or not sheet.cuts:
        return ""
    one = one_copy(sheet.folded.card)
    return f"Cut for all {sheet.copies} {one}s at once; the other steps make one {one}."


def for_copies(sheet: Sheet) -> str:
    """`, for 4 cards`, to stand after a heading; nothing for a single one."""
    return f", for {sheet.copies} {one_copy(sheet.folded.card)}s" if sheet.copies > 1 else ""


def use_written(line: SupplyLine) -> str:
    """`for the door paper, message`; nothing where it serves more than a glance takes in."""
    if not 0 < len(line.used_for) <= MOST_USES:
        return ""
    return f"for the {', '.join(map(piece_written, line.used_for))}"


def unbroken(text: str) -> str:
    """`text` in which a size, `11 × 5 1⁄2 in`, keeps to one line."""
    return text.replace(f" {TIMES} ", f"\u00a0{TIMES}\u00a0")


def sheet_heading(sheet: CuttingSheet) -> str:
    """`Sheet 1: Ink blue cardstock, 8 1⁄2 × 11 in`."""
    return f"Sheet {sheet.number}: {sheet.paper_title}, {sheet.size}"


def cut_so(sheet: CuttingSheet) -> str:
    """How many sheets are cut in this way; nothing for a single one."""
    if sheet.count == 1:
        return ""
    return f"Cut {sheet.count} sheets like this, all at one setting before the next."


def total_written(total: PaperTotal) -> str:
    """What a paper comes to: sheets, proof, packs, cost, what is left, what is to spare, the work."""
    cuts = "1 cut" if total.strokes == 1 else f"{total.strokes} cuts"
    settings = "1 setting" if total.settings == 1 else f"{total.settings} settings"
    parts = [total.words, total.packs, f"cost {total.cost}" if total.cost else "", total.left, total.spare]
    return "; ".join(part for part in (*parts, f"{settings} of the trimmer, {cuts}") if part)
