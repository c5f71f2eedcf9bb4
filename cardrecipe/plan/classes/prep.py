"""The cutting plan and the kits of a class → the preparation, task after task, with its time.

It goes paper after paper, and all that is cut at one setting of the trimmer stands together over all sheets
of the paper, as far as the order of the cuts allows; so strips wait only while their own paper is cut. On
demand all papers are cut together, which takes fewer settings and more room on the table. Then comes what is
done to pieces, all at one setting of a tool together, and at the end the bags.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import ceil

from cardrecipe.model.lengths import convert
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.classes.blanks import ClassCut
from cardrecipe.plan.classes.cut_order import CUT_STAGE, Cut, cuts_to_do
from cardrecipe.plan.classes.order import Doing, Group, Setting, in_groups
from cardrecipe.plan.classes.piece_prep import (
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
from cardrecipe.plan.classes.ready import (
    figure,
    in_one_line,
    labels_to_part,
    piles_to_count,
    steps_to_print,
    tables_to_lay,
)
from cardrecipe.plan.classes.sheet import PrepTask
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.cut_list import InHand, letters
from cardrecipe.plan.cutting.cut_list import Setting as CutSetting
from cardrecipe.plan.cutting.job import Part, blanks_in
from cardrecipe.plan.cutting_sheets import TRIMMER, SheetWords, is_kept, longest_cut
from cardrecipe.plan.supplies import counted_sheets
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_length, capital, listed, sentences, spoken

# Minutes to set a tool and lay things ready, and for one cut: a rough rule of our own, common practice, no
# published source.
SETTING_MINUTES = Fraction(1)
CUT_MINUTES = Fraction(1, 4)
_TEXTS = {
    CUT_STAGE: "class/set", ANY_PAPER: "class/any", KNIFE: "class/by-knife", SCISSORS: "class/scissors",
    CORNERS: "class/set", TABLE: "class/table", MACHINE: "class/with", SCORES: "class/score",
    BAGS: "class/fill",
}  # fmt: skip


def prep_groups(cut: ClassCut, plans: Sequence[PaperPlan], by_setting: bool = False) -> tuple[Group, ...]:
    """Everything that is done before a class, by setting, in the order in which it is done: all cuts before
    what is done to the pieces."""
    units = {name: card.unit for name, card in cut.cards.items()}
    together = [plans] if by_setting else [[plan] for plan in plans]
    cuts = [group for each in together for group in in_groups(cuts_to_do(each, units))]
    return (*cuts, *in_groups(pieces_to_do(cut)))


def prep_tasks(cut: ClassCut, plans: Sequence[PaperPlan], options: CuttingOptions) -> tuple[PrepTask, ...]:
    """The preparation in words: it begins with what is printed and ends with the tables."""
    return tuple(_timed(_tasks(cut, plans, options)))


def _tasks(cut: ClassCut, plans: Sequence[PaperPlan], options: CuttingOptions) -> Iterator[PrepTask]:
    by_setting = options.by_setting
    yield steps_to_print(cut)
    runs = groupby(
        prep_groups(cut, plans, by_setting),
        lambda group: (group[0].stage == BAGS, _papers(group, plans, by_setting)),
    )
    for (is_bags, papers), groups in runs:
        if is_bags:
            yield labels_to_part(cut)
        for task in (_task(cut, *group, options) for group in groups):
            yield task._replace(paper="") if by_setting else task
        for plan in papers:
            counted = piles_to_count(cut, plan)
            yield counted._replace(paper="") if by_setting else counted
    yield tables_to_lay(cut)


def _papers(group: Group, plans: Sequence[PaperPlan], by_setting: bool) -> tuple[PaperPlan, ...]:
    """The papers that are cut in the run that a group belongs to; none where it is no cut."""
    what = group[1][0].what
    if not isinstance(what, Cut):
        return ()
    return tuple(plans) if by_setting else (what.plan,)


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
        amount=figure(strokes, "cut") if cuts else figure(count, noun),
        minutes=ceil(minutes),
        starts=0,
        kits=_letters(cut, cuts, pieces),
        lines=(*(_sheet_line(cut, each, options) for each in cuts), *_piece_lines(cut, pieces)),
        paper=cuts[0].plan.of.paper.name if cuts else "",
    )


def _size_label(cut: ClassCut, setting: Setting, cuts: Sequence[Cut]) -> str:
    """What the trimmer is set to: exactly where some piece has that size, else as its sheet tells it."""
    for each in cuts:
        words = _words(cut, each)
        told = words.with_unit(each.setting.size)
        if told == bought_length(convert(setting.size, "mm", words.card.unit), words.card.unit):
            return told
    return _words(cut, cuts[0]).with_unit(cuts[0].setting.size)


class _Words(SheetWords):
    """What is left over is told in short, since the picture beside the list shows it, and no side of a square
    is told."""

    def offcut(self, part: Part) -> str:
        if not is_kept(self.paper.of, part, self.card.unit):
            return say("class/scrap")
        return say("class/keep", size=self.size(part.width, part.height))

    def _lay(self, each: CutSetting, held: InHand, what: str, *, turns: bool) -> str:
        paper = self.paper.of.paper
        if held.width == held.height and not paper.one_way and paper.grain is None:
            return say("class/lay-square", what=what)
        return super()._lay(each, held, what, turns=turns)


def _words(cut: ClassCut, each: Cut) -> SheetWords:
    return _Words(cut.cards[each.plan.of.paper.name], each.plan, each.layout)


def _letters(cut: ClassCut, cuts: Sequence[Cut], pieces: Sequence[PieceDoing]) -> tuple[str, ...]:
    """The kits that a task serves: those that something is for which comes of the part in hand."""
    held = {name for each in cuts for name in _comes_of(each)}
    found = {letter for blank in cut.blanks if blank.rect.name in held for letter, _ in blank.counts}
    found |= {each.letter for each in pieces}
    return tuple(kit.letter for kit in cut.kits if kit.letter in found)


def _comes_of(cut: Cut) -> Iterator[str]:
    """The blanks that a cut gives, and those that will come of the strips it gives."""
    strips = {letter: part for part, letter in letters(cut.layout.layout.root).items()}
    for off in (*cut.held.off, *cut.held.left):
        if off.kind == "blank":
            yield off.name
        elif off.kind == "part":
            yield from blanks_in(strips[off.name])


def _sheet_line(cut: ClassCut, each: Cut, options: CuttingOptions) -> str:
    words, sheets = _words(cut, each), each.layout.layout.count
    longest = options.trimmer_in(words.card.unit) or TRIMMER[words.card.unit]
    return say(
        "class/sheet-line",
        number=str(each.layout.number),
        line=str(each.setting.number),
        count=say("class/sheets-count", sheets=counted_sheets(sheets)) if sheets > 1 else "",
        text=in_one_line(
            cut,
            sentences(
                words.afresh(each.setting, each.held, each.gone),
                words.too_long(longest_cut(each.setting), longest),
                *_made(words, each),
            ),
        ),
    )


def _made(words: SheetWords, each: Cut) -> Iterator[str]:
    """How many finished blanks that gives in all, and their size."""
    made: dict[tuple[str, str], int] = {}
    for off in (*each.held.off, *each.held.left):
        if off.kind == "blank":
            key = off.name, words.size(off.width, off.height)
            made[key] = made.get(key, 0) + off.count * each.held.count * each.layout.layout.count
    if made:
        told = [
            say("class/of-size", pieces=figure(count, spoken(name)), size=size)
            for (name, size), count in made.items()
        ]
        yield say("class/made", blanks=listed(told))


def _piece_lines(cut: ClassCut, pieces: Sequence[PieceDoing]) -> Iterator[str]:
    """A line for all kits whose pieces of one name and size are treated alike."""
    alike: dict[tuple[str, str, str], list[PieceDoing]] = {}
    for each in pieces:
        if each.piece:
            alike.setdefault((each.piece, each.size, each.text), []).append(each)
    for (piece, size, text), group in alike.items():
        count = sum(each.count for each in group)
        yield say(
            "class/piece-line",
            s="s" if len(group) > 1 else "",
            kits=listed(kit.letter for kit in cut.kits if kit.letter in {each.letter for each in group}),
            pieces=say("class/of-size", pieces=figure(count, spoken(piece)), size=size),
            text=f" {capital(text)}" if text else "",
        )
