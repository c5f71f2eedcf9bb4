"""The cutting steps: one for each paper, the base's paper first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import is_on, round_down, round_up, size_written, with_unit
from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.cutting.card_plans import PaperPlan
from cardrecipe.plan.cutting.paper_jobs import MARGIN, blank_size, has_margin
from cardrecipe.plan.papers import cut_order
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.step_pictures import cut_picture
from cardrecipe.plan.trims import trim_words
from cardrecipe.plan.window_words import window_words
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import (
    a_count_of,
    counted,
    listed,
    paper_words,
    sentences,
    spoken,
    the,
    the_count_of,
)
from cardrecipe.solve.sized import SizedCard, SizedPiece

SHAPE_WORDS = {
    "circle": "round",
    "oval": "oval",
    "square": "square",
    "tag": "tag-shaped",
    "banner": "banner-shaped",
}
OUTLINED = ("circle", "oval", "tag", "banner")


def cut_step(
    card: SizedCard,
    paper: str,
    copies: int,
    plans: Sequence[PaperPlan] = (),
    by_knife: frozenset[str] = frozenset(),
) -> Step:
    """Cut all the pieces of one paper ("" for those without one), as its plan says.

    Papers in `by_knife` have cuts that are longer than the trimmer.
    """
    pieces = [piece for piece in cut_order(card) if (piece.paper or "") == paper]
    words = paper_words(card.papers[paper]) if paper else say("cut/any-paper")
    text = sentences(
        say(
            "cut/text",
            paper=words,
            pieces=listed(_wanted(card, piece, copies) for piece in pieces),
        ),
        *as_planned(paper, plans),
        *_with_margin(card, pieces, copies),
        *_cautious(card, paper, pieces, copies),
    )
    return Step(
        0,
        _title(pieces, words, copies),
        text,
        tuple(piece.name for piece in pieces),
        (words, "trimmer", *_cut_with(pieces, paper in by_knife)),
        cut_picture(card, paper),
        _check(card, pieces, words, copies),
    )


def as_planned(paper: str, plans: Sequence[PaperPlan]) -> Iterator[str]:
    """Which sheets of the cutting plan show how."""
    numbers = [str(each.number) for plan in plans if plan.of.paper.name == paper for each in plan.layouts]
    if numbers:
        yield say("cut/as-planned", s="s" if len(numbers) > 1 else "", numbers=listed(numbers),
                  show="show" if len(numbers) > 1 else "shows")  # fmt: skip


def _with_margin(card: SizedCard, pieces: Sequence[SizedPiece], copies: int) -> Iterator[str]:
    """Shapes come out of a rectangle with a margin round them."""
    for piece in pieces:
        if has_margin(piece):
            size = size_written(*blank_size(card, piece), card.unit)
            margin = with_unit(MARGIN[card.unit], card.unit)
            name = the(piece.name) if piece.count * copies == 1 else f"each {spoken(piece.name)}"
            yield say("cut/margin", name=name, size=size, margin=margin)


def _cut_with(pieces: Sequence[SizedPiece], is_too_long: bool) -> Iterator[str]:
    """What a trimmer cannot do: outlines that are drawn and cut now, windows, slanted sides, long cuts."""
    drawn = [one for one in pieces if one.kind in OUTLINED and not (_has(one, "die") or _has(one, "trim"))]
    if any(not _has(one, "punch") for one in drawn):
        yield "scissors"
    if is_too_long or any(one.outline is not None or one.windows for one in pieces):
        yield "craft knife"
    if is_too_long:
        yield "metal ruler"
    if any(one.corner_radius for one in pieces):
        yield "corner rounder"


def _title(pieces: Sequence[SizedPiece], paper: str, copies: int) -> str:
    if len(pieces) > 2:
        return say("cut/title-many", paper=paper)
    return say("cut/title", names=listed(the_count_of(one.name, one.count * copies) for one in pieces))


def _wanted(card: SizedCard, piece: SizedPiece, copies: int) -> str:
    """`two door papers of 1 7⁄8 × 5 1⁄4 in`; for several cards all of them, and how many for one."""
    shape = SHAPE_WORDS.get(piece.kind, "")
    count, rest = a_count_of(piece.name, piece.count * copies).split(" ", 1)
    name = f"{count} {rest}" if not shape or piece.kind in rest else f"{count} {shape} {rest}"
    told = f"{name} of {size_written(piece.width, piece.height, card.unit)}"
    if piece.kind == "circle":
        told = f"{name}, {with_unit(piece.width, card.unit)} across"
    if copies == 1:
        return told
    return say("cut/each", pieces=told, count=str(piece.count), one=one_copy(card))


def _cautious(
    card: SizedCard, paper: str, pieces: Sequence[SizedPiece], copies: int
) -> Iterator[str]:
    """What to mind with these pieces: pattern, outlines, and sizes between two marks."""
    if paper and card.papers[paper].one_way and any(one.width != one.height for one in pieces):
        yield say("cut/upright")
    died = [one for one in pieces if _has(one, "die")]
    trimmed = [one for one in pieces if one.kind == "cutout" or _has(one, "trim")]
    drawn = [
        one for one in pieces if one.kind in OUTLINED and one not in died and one not in trimmed
    ]
    for key, found in (("cut/die", died), ("cut/hand", trimmed), ("cut/outline", drawn)):
        if found:
            yield say(
                key, names=listed(the_count_of(one.name, one.count * copies) for one in found)
            )
    yield from (trim_words(card, piece) for piece in pieces)
    for piece in pieces:
        yield from window_words(card, piece)
    for piece in pieces:
        if piece.corner_radius:
            yield say(
                "cut/corners",
                name=the(piece.name),
                radius=with_unit(piece.corner_radius, card.unit),
            )
    for size in dict.fromkeys(size for one in pieces for size in (one.width, one.height)):
        if not is_on(size, card.nearest):
            yield say("cut/off-ruler", **between_marks(card, size))


def between_marks(card: SizedCard, size: Fraction) -> dict[str, str]:
    """The marks of the maker's ruler on either side of a size that is on none."""
    return {
        "size": with_unit(size, card.unit),
        "below": with_unit(round_down(size, card.nearest), card.unit),
        "above": with_unit(round_up(size, card.nearest), card.unit),
    }


def _has(piece: SizedPiece, verb: str) -> bool:
    return any(work.verb == verb for work in piece.works)


def _check(card: SizedCard, pieces: Sequence[SizedPiece], paper: str, copies: int) -> str:
    total = sum(piece.count for piece in pieces) * copies
    if len(pieces) > 1 or pieces[0].count > 1:
        return say("cut/check-many", count=counted(total, "piece"), paper=paper)
    width, height = (with_unit(size, card.unit) for size in pieces[0][3:5])
    return say(
        "cut/check-one",
        it="It" if copies == 1 else "Each",
        width=width,
        height=height,
    )
