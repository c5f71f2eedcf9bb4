"""The tasks before a class that are neither a cut nor work on a piece: printing, counting, labels, tables."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from cardrecipe.plan.classes.blanks import ClassBlank, ClassCut, KitCard
from cardrecipe.plan.classes.sheet import PrepTask
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.job import blanks_in
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_size, listed, plural, spoken

# Minutes: a rough rule of our own, common practice, no published source.
A_COPY = Fraction(1, 4)  # to print the sheet of one seat, once it is made
A_SHEET = Fraction(2)  # to make and look over what is printed for a kit
A_PILE = Fraction(1, 2)  # to count a pile and mark it
A_LABEL = Fraction(1, 4)
A_TABLE = Fraction(5)  # for what is laid on the table of a kit

_NO_TITLES = ("all", "each")  # after `--variant` they mean all of a recipe, whatever one of them is called


def steps_to_print(cut: ClassCut) -> PrepTask:
    """The sheet with its steps for each seat, kit by kit."""
    copies = sum(kit.of.seats for kit in cut.kits)
    minutes = copies * A_COPY + len(cut.kits) * A_SHEET
    return _task(cut, "printer", say("class/print"), figure(copies, "sheet"), minutes,
                 tuple(map(_to_print, cut.kits)))  # fmt: skip


def piles_to_count(cut: ClassCut, plan: PaperPlan) -> PrepTask:
    """What came of a paper against what is needed, before the next paper is taken."""
    made: dict[str, int] = {}
    for each in plan.layouts:
        for name, count in blanks_in(each.layout.root).items():
            made[name] = made.get(name, 0) + count * each.layout.count
    blanks = cut.of_paper(plan.of.paper.name)
    unit = cut.cards[plan.of.paper.name].unit
    lines = tuple(in_one_line(cut, _counted(blank, made.get(blank.rect.name, 0), unit)) for blank in blanks)
    letters = {letter for blank in blanks for letter, _ in blank.counts}
    task = _task(cut, "trimmer", say("class/count"), figure(len(lines), "pile"), len(lines) * A_PILE, lines)
    kits = tuple(letter for letter in task.kits if letter in letters)
    return task._replace(paper=plan.of.paper.name, kits=kits)


def labels_to_part(cut: ClassCut) -> PrepTask:
    labels = sum(kit.of.kits for kit in cut.kits)
    return _task(cut, "table", say("class/part-labels"), figure(labels, "label"), labels * A_LABEL)


def tables_to_lay(cut: ClassCut) -> PrepTask:
    return _task(cut, "table", say("class/lay-tables"), figure(len(cut.kits), "kit"), len(cut.kits) * A_TABLE)


def in_one_line(cut: ClassCut, text: str) -> str:
    """A text in which no line ends between the letters of a blank and its name: `one M+N card`."""
    letters = sorted({re.escape(blank.rect.name.split(" ")[0]) for blank in cut.blanks})
    return re.sub(rf"\b({'|'.join(letters)}) (?=[^\W\d])", "\\1\u00a0", text) if letters else text


def figure(count: int, noun: str) -> str:
    """`36 cuts`: figures, since the eye looks for them in a list."""
    return f"{count:,}\u00a0{noun if count == 1 else plural(noun)}"


def _task(
    cut: ClassCut, tool: str, text: str, amount: str, minutes: Fraction, lines: tuple[str, ...] = ()
) -> PrepTask:
    kits = tuple(kit.letter for kit in cut.kits)
    return PrepTask(0, tool, "", text, amount, max(1, ceil(minutes)), 0, kits, lines)


def _to_print(kit: KitCard) -> str:
    title = kit.of.variant
    variant = ("--variant", "each" if title in _NO_TITLES else title) if title else ()
    copies = ("--copies", "1") if kit.card.makes != 1 else ()
    command = shlex.join(("cardrecipe", "build", kit.of.path, *variant, *copies))
    printed = figure(kit.of.seats, "copy")
    return say("class/print-line", kit=kit.letter, copies=printed, command=command)


def _counted(blank: ClassBlank, made: int, unit: str) -> str:
    """`16 M+N cards of 5 1⁄2 × 11 in: 16 needed, 8 for kit M and 8 for kit N`."""
    rect = blank.rect
    size = bought_size(rect.width, rect.height, unit)
    told = say("class/of-size", pieces=figure(made, spoken(rect.name)), size=size)
    return say("class/counted", made=told, needed=str(rect.count), split="".join(_split(blank)))


def _split(blank: ClassBlank) -> Iterator[str]:
    if len(blank.counts) > 1:
        told = listed(say("class/for-kit", count=str(count), kit=letter) for letter, count in blank.counts)
        yield say("class/split", counts=told)
