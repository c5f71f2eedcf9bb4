"""What is done to the pieces of a class before it, so that a bag holds what is ready to be worked on.

Cutting to shape, work in the die-cutting machine, punching and scoring are done before the class, and what
must be done to a piece before its die or its folder; stamping, colouring, folding and gluing are the class.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import GRID, round_near, size_written, with_unit
from cardrecipe.model.work import Work
from cardrecipe.plan.classes.blanks import ClassCut, KitCard
from cardrecipe.plan.classes.order import Doing, Setting
from cardrecipe.plan.cut_steps import OUTLINED
from cardrecipe.plan.fold_steps import score_step, slanted_and_slit
from cardrecipe.plan.score_runs import ENDS
from cardrecipe.plan.scores import whole_marks
from cardrecipe.plan.trims import trim_words
from cardrecipe.plan.window_words import window_words
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import lengths, quoted, sentences, the
from cardrecipe.plan.work_steps import work_sentence
from cardrecipe.solve.sized import SizedCard, SizedPiece

# What is worked before the class whatever stands before it, by what it is worked with.
MACHINES = {"die": "die-cutting machine", "emboss": "die-cutting machine", "punch": "punch"}
DESIGNS = {"die": "die", "emboss": "embossing folder", "punch": "punch"}
# Tools in the order in which they are taken up; the trimmer comes first, the bags last.
ANY_PAPER, KNIFE, SCISSORS, CORNERS, TABLE, MACHINE, SCORES, BAGS = range(1, 9)
# Minutes for one piece: a rough rule of our own, common practice, no published source.
MINUTES = {
    "trimmer": Fraction(1, 2),
    "craft knife": Fraction(2),
    "scissors": Fraction(1),
    "corner rounder": Fraction(1, 2),
    "table": Fraction(1, 2),
    "die-cutting machine": Fraction(1, 2),
    "punch": Fraction(1, 4),
}
SCORE_MINUTES = Fraction(1, 4)  # for one line


class PieceDoing(NamedTuple):
    """One thing to do to all pieces of a name of one kit; `count` pieces, `text` says how."""

    letter: str
    piece: str
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    text: str
    minutes: Fraction
    size: str = ""  # finished, as it is written


def pieces_to_do(cut: ClassCut) -> tuple[Doing, ...]:
    """Everything before the class that is no cut of the cutting plan, with the bags."""
    return tuple(doing for kit in cut.kits for doing in _of_kit(cut, kit))


def ready_works(piece: SizedPiece) -> tuple[Work, ...]:
    """The works on a piece that are done before the class: up to the last that needs a machine."""
    last = max((at for at, work in enumerate(piece.works, 1) if work.verb in MACHINES), default=0)
    return piece.works[:last]


def size_told(card: SizedCard, piece: SizedPiece) -> str:
    """`3 × 2 1⁄4 in`; a circle by its one length."""
    if piece.kind == "circle":
        return say("class/across", size=with_unit(piece.width, card.unit))
    return size_written(piece.width, piece.height, card.unit)


def is_cut_out_before(piece: SizedPiece) -> bool:
    """Tell whether an outline is cut before the class with scissors, or with a die or a punch of its size."""
    verbs = {work.verb for work in piece.works}
    return piece.kind in OUTLINED and not verbs & {"die", "trim", "punch"}


def _of_kit(cut: ClassCut, kit: KitCard) -> Iterator[Doing]:
    keys: list[Hashable] = []
    for piece in kit.card.pieces:
        before: tuple[Hashable, ...] = ()
        is_planned = (kit.letter, piece.name) in cut.names
        for setting, text, minutes in _chain(kit.card, piece, is_planned=is_planned):
            key = (kit.letter, piece.name, len(keys))
            count = piece.count * kit.of.kits
            yield Doing(
                key,
                setting,
                before,
                PieceDoing(kit.letter, piece.name, count, text, minutes * count, size_told(kit.card, piece)),
            )
            keys.append(key)
            before = (key,)
    bag = PieceDoing(kit.letter, "", kit.of.kits, "", Fraction(kit.of.kits))
    yield Doing((kit.letter, "bag"), Setting(BAGS, "table", label=f"kit {kit.letter}"), tuple(keys), bag)


def _chain(
    card: SizedCard, piece: SizedPiece, *, is_planned: bool
) -> Iterator[tuple[Setting, str, Fraction]]:
    """What is done to a piece, one thing after the other: the setting, how, and the minutes for one."""
    for setting, text in (*_cut_to_shape(card, piece, is_planned), *_worked(card, piece)):
        yield setting, text, MINUTES[setting.tool]
    lines = [score for score in piece.scores if score.direction != "slit"]
    if lines:
        label = _score_label(card, piece)
        yield (
            Setting(SCORES, "scoring board", label=label),
            score_step(card, piece).text,
            SCORE_MINUTES * len(lines),
        )
    elif piece.scores:
        text = sentences(*slanted_and_slit(card, piece, is_all=True))
        yield Setting(KNIFE, "craft knife"), text, MINUTES["craft knife"]


def _cut_to_shape(card: SizedCard, piece: SizedPiece, is_planned: bool) -> Iterator[tuple[Setting, str]]:
    if not is_planned:
        size = f"{with_unit(piece.width, card.unit)} by {with_unit(piece.height, card.unit)}"
        yield Setting(ANY_PAPER, "trimmer", label="any paper"), say("class/any-paper", size=size)
    by_knife = sentences(trim_words(card, piece), *window_words(card, piece))
    if by_knife:
        yield Setting(KNIFE, "craft knife"), by_knife
    if is_cut_out_before(piece):
        yield Setting(SCISSORS, "scissors"), say("class/round") if piece.kind == "circle" else ""
    if piece.corner_radius:
        radius = with_unit(piece.corner_radius, card.unit)
        label = say("class/radius", radius=radius)
        yield (
            Setting(CORNERS, "corner rounder", label=label),
            say("cut/corners", name=the(piece.name), radius=radius),
        )


def _worked(card: SizedCard, piece: SizedPiece) -> Iterator[tuple[Setting, str]]:
    for work in ready_works(piece):
        tool = MACHINES.get(work.verb)
        label = (
            f"{DESIGNS[work.verb]} {quoted(work.text)}"
            if tool
            else work_sentence(card, piece, work, "the pieces")
        )
        setting = Setting(MACHINE if tool else TABLE, tool or "table", label=label)
        told = work_sentence(card, piece, work, the(piece.name))
        yield setting, sentences(told, *_from_each_end(card, piece, work))


def _from_each_end(card: SizedCard, piece: SizedPiece, work: Work) -> Iterator[str]:
    """Where the middle that is worked on begins: about, since nobody sees a sixteenth there."""
    long = max(piece.width, piece.height)
    if work.middle and work.middle < long:
        at = round_near((long - work.middle) / 2, GRID[card.unit])
        yield say("class/from-each-end", at=with_unit(at, card.unit))


def _score_label(card: SizedCard, piece: SizedPiece) -> str:
    """The marks that lines from edge to edge lie at; what else there is stands in the text."""
    told = []
    for axis, (near, _) in ENDS.items():
        marks = whole_marks(piece, axis)
        told += [say("class/marks", marks=lengths(marks, card.unit), near=near)] if marks else []
    return "; ".join(told) or say("class/other-scores")
