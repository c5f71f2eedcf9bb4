"""The cutting plan and the kits of a class → the preparation, task after task, with its time.

All that is done at one setting of one tool stands together, over all sheets and papers, as far as the order
of the cuts allows; then comes what is done to pieces, and at the end the bags.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.lengths import convert
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.class_blanks import ClassCut
from cardrecipe.plan.class_cut_order import CUT_STAGE, Cut, cuts_to_do
from cardrecipe.plan.class_order import Doing, Group, Setting, in_groups
from cardrecipe.plan.class_piece_prep import (
    ANY_PAPER,
    BAGS,
    CORNERS,
    KNIFE,
    MACHINE,
    SCISSORS,
    SCORES,
    TABLE,
    PieceDoing,
    pieces_to_do,
)
from cardrecipe.plan.class_sheet import PrepTask
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.job import blanks_in
from cardrecipe.plan.cutting_sheets import TRIMMER, SheetWords, longest_cut
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_length, capital, listed, paper_words, plural, sentences, spoken

# Minutes to set a tool and lay things ready, and for one cut: a rough rule of our own, common practice, no
# published source.
SETTING_MINUTES = Fraction(1)
CUT_MINUTES = Fraction(1, 4)
_TEXTS = {
    CUT_STAGE: "class/set", ANY_PAPER: "class/any", KNIFE: "class/by-knife", SCISSORS: "class/scissors",
    CORNERS: "class/set", TABLE: "class/table", MACHINE: "class/with", SCORES: "class/score",
    BAGS: "class/fill",
}  # fmt: skip


def prep_groups(cut: ClassCut, plans: Sequence[PaperPlan]) -> tuple[Group, ...]:
    """Everything that is done before a class, by setting, in the order in which it is done."""
    cuts = cuts_to_do(plans, {name: card.unit for name, card in cut.cards.items()})
    giving: dict[str, list[object]] = {}
    for doing in cuts:
        assert isinstance(doing.what, Cut)
        for blank in doing.what.blanks:
            giving.setdefault(blank, []).append(doing.key)
    return in_groups((*cuts, *pieces_to_do(cut, lambda blank: tuple(giving.get(blank, ())))))


def prep_tasks(cut: ClassCut, plans: Sequence[PaperPlan], options: CuttingOptions) -> tuple[PrepTask, ...]:
    """The preparation in words."""
    return tuple(_timed(_task(cut, *group, options) for group in prep_groups(cut, plans)))


def _timed(tasks: Iterator[PrepTask]) -> Iterator[PrepTask]:
    starts = 0
    for number, task in enumerate(tasks, 1):
        yield task._replace(number=number, starts=starts)
        starts += task.minutes


def _task(cut: ClassCut, setting: Setting, doings: Sequence[Doing], options: CuttingOptions) -> PrepTask:
    cuts = [each.what for each in doings if isinstance(each.what, Cut)]
    pieces = [each.what for each in doings if isinstance(each.what, PieceDoing)]
    label = _size_label(cut, setting, cuts) if cuts else setting.label
    strokes, count = sum(each.strokes for each in cuts), sum(each.count for each in pieces)
    minutes = SETTING_MINUTES + strokes * CUT_MINUTES + sum(each.minutes for each in pieces)
    noun = "bag" if setting.stage == BAGS else "piece"
    text = say(
        _TEXTS[setting.stage], tool=setting.tool, setting=label, kit=pieces[0].letter if pieces else ""
    )
    return PrepTask(
        number=0,
        tool=setting.tool,
        setting="" if setting.stage in (ANY_PAPER, TABLE, BAGS) else label,
        text=sentences(text),
        amount=_figure(strokes, "cut") if cuts else _figure(count, noun),
        minutes=ceil(minutes),
        starts=0,
        kits=_letters(cut, cuts, pieces),
        lines=(*(_sheet_line(cut, each, options) for each in cuts), *_piece_lines(cut, pieces)),
    )


def _size_label(cut: ClassCut, setting: Setting, cuts: Sequence[Cut]) -> str:
    """What the trimmer is set to: exactly where some piece has that size, else as its sheet tells it."""
    for each in cuts:
        words = _words(cut, each)
        told = words.with_unit(each.setting.size)
        if told == bought_length(convert(setting.size, "mm", words.card.unit), words.card.unit):
            return told
    return _words(cut, cuts[0]).with_unit(cuts[0].setting.size)


def _words(cut: ClassCut, each: Cut) -> SheetWords:
    return SheetWords(cut.cards[each.plan.of.paper.name], each.plan, each.layout)


def _letters(cut: ClassCut, cuts: Sequence[Cut], pieces: Sequence[PieceDoing]) -> tuple[str, ...]:
    """The kits that a task serves; a sheet serves those that something on it is for."""
    held = {name for each in cuts for name in blanks_in(each.layout.layout.root)}
    found = {letter for blank in cut.blanks if blank.rect.name in held for letter, _ in blank.counts}
    found |= {each.letter for each in pieces}
    return tuple(kit.letter for kit in cut.kits if kit.letter in found)


def _sheet_line(cut: ClassCut, each: Cut, options: CuttingOptions) -> str:
    words, sheets = _words(cut, each), each.layout.layout.count
    longest = options.trimmer_in(words.card.unit) or TRIMMER[words.card.unit]
    return say(
        "class/sheet-line",
        number=str(each.layout.number),
        paper=paper_words(each.plan.of.paper),
        count=say("class/sheets-count", sheets=counted_sheets(sheets)) if sheets > 1 else "",
        text=sentences(
            words.afresh(each.setting, each.held, each.gone),
            words.too_long(longest_cut(each.setting), longest),
        ),
    )


def _piece_lines(cut: ClassCut, pieces: Sequence[PieceDoing]) -> Iterator[str]:
    """A line for all kits whose pieces of one name are treated alike."""
    alike: dict[tuple[str, str], list[PieceDoing]] = {}
    for each in pieces:
        if each.piece:
            alike.setdefault((each.piece, each.text), []).append(each)
    for (piece, text), group in alike.items():
        count = sum(each.count for each in group)
        yield say(
            "class/piece-line",
            s="s" if len(group) > 1 else "",
            kits=listed(kit.letter for kit in cut.kits if kit.letter in {each.letter for each in group}),
            pieces=_figure(count, spoken(piece)),
            text=capital(text),
        )


def _figure(count: int, noun: str) -> str:
    """`36 cuts`: figures, since the eye looks for them in a list."""
    return f"{count:,}\u00a0{noun if count == 1 else plural(noun)}"
