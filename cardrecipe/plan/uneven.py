"""What makes a letter uneven or stiff, so that a sorting machine does not take it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from cardrecipe.plan.glue import is_raised
from cardrecipe.plan.papers import pieces_of
from cardrecipe.plan.supplies import Need, needs
from cardrecipe.solve.sized import SizedCard

UNEVEN_KINDS = ("ribbon", "cord", "gem")
UNEVEN_WORDS = (
    "bead", "bell", "brad", "button", "chain", "charm", "clip", "coin", "cord", "eyelet", "gem", "key",
    "magnet", "pearl", "pen", "pin", "ribbon", "rivet", "sequin", "shell", "string", "twine",
)  # fmt: skip
STIFF_WORDS = ("acrylic", "chipboard", "greyboard", "grayboard", "metal", "plywood", "veneer", "wood")

# A stamp of a button is no button: these are named for their design, or stay with the maker.
NOT_SENT = ("stamp", "die", "folder", "punch", "foil", "ink", "marker", "adhesive", "tool")


def uneven_things(card: SizedCard) -> tuple[str, ...]:
    """What stands up from the card, each once: `ribbon`, `button`, last `foam`."""
    found = [thing for need in _sent(card) if (thing := _uneven(need))]
    if any(is_raised(piece) for piece in card.pieces):
        found.append("foam")
    return tuple(dict.fromkeys(found))


def stiff_things(card: SizedCard) -> tuple[str, ...]:
    """What hardly bends, by the words in the titles of papers and supplies: `chipboard`."""
    titles = [paper.title for name, paper in card.papers.items() if pieces_of(card, name)]
    titles += [f"{need.kind} {need.title}" for need in _sent(card)]
    return tuple(dict.fromkeys(word for title in titles for word in _words(STIFF_WORDS, title)))


def _sent(card: SizedCard) -> Iterator[Need]:
    """What goes with the card besides paper: all that is added, and what a free text names."""
    yield from (need for need in needs(card) if need.kind not in NOT_SENT)
    told = [work.text for piece in card.pieces for work in piece.works if work.verb == "do"]
    told += [step.text for step in card.extra_steps]
    for supply in card.supplies.values():
        named = any(supply.title.casefold() in text.casefold() for text in told)
        if named and supply.kind not in NOT_SENT:
            yield Need(supply.kind, supply.title, "")


def _uneven(need: Need) -> str:
    if need.kind in UNEVEN_KINDS:
        return need.kind
    return next(_words(UNEVEN_WORDS, f"{need.kind} {need.title}"), "")


def _words(words: Iterable[str], text: str) -> Iterator[str]:
    """Those of `words` that stand in `text`, whole, in any case, singular or plural."""
    return (word for word in words if re.search(rf"\b{word}s?\b", text.lower()))
