"""The steps that work on a piece while it lies flat: stamping, colouring, cutting to shape."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardrecipe.model.lengths import round_near, with_unit
from cardrecipe.model.work import Work
from cardrecipe.plan.order import finishing_works
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import (
    bought_length,
    capital,
    listed,
    number,
    quoted,
    sentences,
    the,
    the_count_of,
)
from cardrecipe.solve.sized import SizedCard, SizedPiece

VERBS = {
    "stamp": "stamp",
    "emboss": "emboss",
    "color": "colour",
    "die": "die-cut",
    "punch": "punch",
    "trim": "trim",
    "foil": "foil",
    "ink-edges": "ink",
    "write": "write on",
    "add": "decorate",
    "do": "prepare",
}
WET = ("stamp", "color", "ink-edges", "write")
CUTTING = ("die", "punch", "trim")


def work_step(card: SizedCard, piece: SizedPiece) -> Step:
    """All the work on one piece that comes before it is glued."""
    works = piece.works[: len(piece.works) - finishing_works(piece)]
    name = the_count_of(piece.name, piece.count)
    return Step(
        0,
        say("work/title", verbs=_verbs(works), name=name),
        sentences(*_told(card, piece, works), _for_the_rest(piece), _drying(piece, works)),
        (piece.name,),
        (name, *picked_up(works)),
        f"work-{piece.name}",
        _check(works),
    )


def finish_step(card: SizedCard, piece: SizedPiece) -> Step:
    """What stands proud of the piece goes on when everything else is in place."""
    works = piece.works[len(piece.works) - finishing_works(piece) :]
    name = the_count_of(piece.name, piece.count)
    return Step(
        0,
        say("finish/title", name=name),
        sentences(*_told(card, piece, works), _for_the_rest(piece)),
        (piece.name,),
        tuple(picked_up(works)),
        f"finish-{piece.name}",
        say("finish/check"),
    )


def picked_up(works: Iterable[Work]) -> tuple[str, ...]:
    """The things these works are done with, by the titles a shopper reads."""
    return tuple(dict.fromkeys(thing for work in works for thing in _things(work)))


def _things(work: Work) -> Iterator[str]:
    kinds = {
        "stamp": "stamp",
        "emboss": "embossing folder",
        "die": "die",
        "punch": "punch",
        "foil": "foil",
    }
    if work.verb in kinds:
        yield f"{kinds[work.verb]} {quoted(work.text)}"
    if work.verb in ("die", "emboss"):
        yield "die-cutting machine"
    if work.verb == "add":
        yield f"{work.item or 'piece'} {quoted(work.text)}"
        if work.long:
            yield "small scissors"
    if work.middle:
        yield "pencil"
    if work.verb == "trim":
        yield from ("pencil", "small scissors")
    if work.verb != "emboss":
        yield from work.using


def _verbs(works: Sequence[Work]) -> str:
    return capital(listed(dict.fromkeys(VERBS.get(work.verb, "prepare") for work in works)))


def _told(card: SizedCard, piece: SizedPiece, works: Sequence[Work]) -> Iterator[str]:
    """One sentence for each work, the piece by its name once and then as `it`."""
    it = the(piece.name) if piece.count == 1 else f"one {piece.name.replace('-', ' ')}"
    for at, work in enumerate(works, 1):
        marked = _marks(card, piece, work, it)
        if marked:
            yield marked
            it = "it"
        sentence = work_sentence(card, piece, work, it)
        if it in sentence:
            it = "it"
        yield sentence
        if work.middle and work.verb != "emboss":
            yield say("work/middle", middle=with_unit(work.middle, card.unit))
        if work.verb in WET and any(later.verb in WET for later in works[at:]):
            yield say("work/dry-between")


def _marks(card: SizedCard, piece: SizedPiece, work: Work, it: str) -> str:
    """Where the middle begins that is worked on, to the nearest mark; "" for the whole piece."""
    long = max(piece.width, piece.height)
    if not work.middle or work.middle >= long:
        return ""
    at = round_near((long - work.middle) / 2, card.nearest)
    return say("work/marks", it=it, at=with_unit(at, card.unit)) if at else ""


def work_sentence(card: SizedCard, piece: SizedPiece, work: Work, it: str) -> str:
    """One work as a sentence, the piece called `it`."""
    key = work.verb
    if key == "add" and work.long:
        key = "add-long"
    if key == "emboss" and work.middle:
        key = "emboss-middle"
    return say(
        f"work/{key}",
        it=it,
        name=it,
        text=quoted(work.text),
        plain=work.text,
        using=_using(work),
        item=work.item or "piece",
        middle=with_unit(work.middle, card.unit) if work.middle else "",
        long=bought_length(work.long, card.unit) if work.long else "",
    )


def _using(work: Work) -> str:
    if not work.using:
        return ""
    word = "in" if work.verb in ("stamp", "write") else "with"
    return f" {word} {listed(work.using)}"


def _drying(piece: SizedPiece, works: Sequence[Work]) -> str:
    return (
        say("work/dry", it="it" if piece.count == 1 else "them")
        if any(work.verb in WET for work in works)
        else ""
    )


def _for_the_rest(piece: SizedPiece) -> str:
    if piece.count == 1:
        return ""
    rest = "the other" if piece.count == 2 else f"the other {number(piece.count - 1)}"
    return say("work/each", rest=rest)


def _check(works: Sequence[Work]) -> str:
    """What to look at before going on; the ink matters most."""
    if any(work.verb in WET for work in works):
        return say("work/check-dry")
    if any(work.verb == "add" for work in works):
        return say("work/check-holds")
    if any(work.verb in CUTTING for work in works):
        return say("work/check-edge")
    embossed = [work for work in works if work.verb == "emboss"]
    if embossed:
        return say("work/check-flat" if embossed[-1].middle else "work/check-relief")
    return ""
