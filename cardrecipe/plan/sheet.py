"""The sheet as data: everything that is printed, in the order it is printed, before any page is laid out.

Texts are plain text with real characters (lengths are already written: `5 1⁄2` with U+202F and
U+2044); a field named `markdown` holds the maker's own Markdown. Renderers escape, never interpret.
"""

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.entries import EnvelopeFit as EnvelopeFit
from cardrecipe.plan.entries import PostFit as PostFit
from cardrecipe.plan.entries import SupplyLine as SupplyLine
from cardrecipe.plan.sums import PieceSums

# More folds than these are one movement to a maker (a fan), not a step with a picture each.
MOST_FOLD_STEPS = 4


class CutLine(NamedTuple):
    """One size to cut. `count` is for one card, `total` for all the copies."""

    piece: str
    kind: str
    paper: str  # name, "" where none is given
    paper_title: str
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    total: int
    width: Fraction
    height: Fraction
    size: str  # "2 1⁄4 × 6 3⁄4 in"
    other_size: str  # the other unit system's own size: "57 × 172 mm"
    notes: tuple[str, ...] = ()  # "die-cut", "trim along the outline", "grain runs top to bottom"


class ScoreLine(NamedTuple):
    """One score or slit (number 0), measured from one end and from the other.

    `reach` says where a line begins and stops that does not run from edge to edge.
    """

    number: int
    direction: str
    at: str  # from the left (or top) end, written
    from_other_end: str
    reach: str = ""  # "1 to 3 1⁄2 from the top"


class ScoreGuide(NamedTuple):
    """How to score one piece. `short_way` is the sentence for doing it from both ends, or ""."""

    piece: str
    along: str  # "left" or "top": the end that `at` is measured from
    lines: tuple[ScoreLine, ...]
    short_way: str


class Step(NamedTuple):
    """One thing to do. `picture` names the drawing that belongs to it ("" when there is none)."""

    number: int
    title: str  # imperative: "Cut the base"
    text: str
    pieces: tuple[str, ...]
    picks_up: tuple[str, ...]  # materials and tools for this step
    picture: str
    check: str = ""  # "The same 1⁄8 in shows on all four sides."
    tips: tuple[str, ...] = ()  # markdown
    cautions: tuple[str, ...] = ()  # shown once, at the first step that needs them


class CutSetting(NamedTuple):
    """One setting of the trimmer, `size`; `text` says what is laid on it, how often to cut, what that
    gives."""

    number: int
    size: str
    text: str
    is_turned: bool  # the setting before cut the other way


class CuttingSheet(NamedTuple):
    """One way to cut a sheet, for `count` equal sheets; numbered through all papers."""

    number: int
    paper: str
    paper_title: str
    size: str  # "8 1⁄2 × 11 in"
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    settings: tuple[CutSetting, ...]
    holds: tuple[tuple[str, int], ...]  # pieces and how many of each one sheet gives
    offcuts: tuple[str, ...]
    picture: str


class PaperTotal(NamedTuple):
    """What is needed of one paper. What is not known or does not arise is ""."""

    paper: str
    title: str
    sheets: int
    words: str  # "3 sheets of 8 1⁄2 × 11 in, the fewest possible"
    settings: int
    strokes: int
    packs: str
    cost: str
    left: str
    spare: str


class Fact(NamedTuple):
    label: str
    value: str


class Sheet(NamedTuple):
    """All that the pages need. `other` is the same sheet re-solved in the other unit system."""

    folded: FoldedCard
    title: str
    about_markdown: str
    facts: tuple[Fact, ...]
    supplies: tuple[SupplyLine, ...]
    cuts: tuple[CutLine, ...]
    scores: tuple[ScoreGuide, ...]
    steps: tuple[Step, ...]
    envelopes: tuple[EnvelopeFit, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]  # warnings in a maker's words, rounding, how far the two versions differ
    other: "Sheet | None" = None
    copies: int = 1  # cards that the cut list and the supplies are for
    cutting: tuple[CuttingSheet, ...] = ()
    paper_totals: tuple[PaperTotal, ...] = ()
    paper_plans: tuple[PaperPlan, ...] = ()  # the same as trees, for pictures and other programs
    post: tuple[PostFit, ...] = ()  # every letter service against the card in its envelope
    sums: tuple[PieceSums, ...] = ()  # how each piece's size is worked out; () where nobody solved it
