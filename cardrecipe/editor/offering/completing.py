"""A place in a recipe → what can be written there, and nothing that could not: the words that the grammar
takes next, the names that are meant there, the files beside."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from cardrecipe.editor.offering.choices import Offer
from cardrecipe.editor.offering.line_before import LineBefore, expected_after, first_word, line_before, reads
from cardrecipe.editor.offering.offers import names_for, quoted_for
from cardrecipe.editor.offering.snippets import filled, snippet
from cardrecipe.editor.places import place_at
from cardrecipe.editor.rules import INNER, RULES
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.syntax import tree
from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import FORMS, Form

MOST = 400  # more than anybody reads; the client asks again for every letter

# Lines that a block, or the head, holds once.
_ONCE = (
    "units", "makes", "envelope", "about", "flat", "sections", "size", "diameter", "width", "length",
    "overlap", "at", "turned", "repeat", "overhangs", "loose", "count", "corners", "spare",
)  # fmt: skip


class Completion(NamedTuple):
    """Something to write at `span`: `text`, where `is_snippet` with holes such as `${1:name}`."""

    label: str
    kind: str
    span: Span
    text: str
    detail: str = ""
    documentation: str = ""
    is_snippet: bool = False


def completions(snapshot: Snapshot, offset: int, beside: Sequence[str] = ()) -> tuple[Completion, ...]:
    """What can be written at `offset`, the likeliest first. `beside` are files that a recipe could use."""
    line = line_before(snapshot.source, offset)
    if line is None:
        return ()
    if line.quote is not None:
        return tuple(_completion(each, line) for each in quoted_for(line, snapshot, beside))
    if not line.text.strip():
        return tuple(_first_words(snapshot, line))[:MOST]
    offers = [*_named(snapshot, line, offset), *_words(line)]
    return tuple(_completion(each, line) for each in _each_once(offers) if reads(line.text + each.text))[
        :MOST
    ]


# ---- the first word of a line --------------------------------------------------------------------


def _first_words(snapshot: Snapshot, line: LineBefore) -> Iterator[Completion]:
    """The lines that may stand in this block, each form as it is written."""
    place = line.place
    said = _said_already(snapshot, line)
    for form in FORMS:
        if place in form.places and form.word not in said:
            if line.is_alone:
                yield _form(form, line)
            else:
                yield Completion(form.word, "word", line.span, form.word, form.example, RULES[form.word])


def _form(form: Form, line: LineBefore) -> Completion:
    several = sum(each.word == form.word for each in FORMS) > 1
    label = form.example if several else form.word
    return Completion(label, "word", line.span, snippet(form.example), form.example, RULES[form.word], True)


def _said_already(snapshot: Snapshot, line: LineBefore) -> set[str]:
    """What the block holds already and holds once; a file has one `recipe` or one `class`."""
    if not line.above:
        heads = {"recipe", "class"}
        words = {each.word for each in snapshot.tree.statements if each.span.start != line.span.start}
        return heads if words & heads else set()
    block = _block(snapshot, line.starts[-1])
    return {each.word for each in block if each.word in _ONCE and each.span.start != line.span.start}


def _block(snapshot: Snapshot, start: int) -> tuple[tree.Statement, ...]:
    place = place_at(snapshot.tree, start)
    return place.statement.block if place is not None else ()


# ---- within a line -------------------------------------------------------------------------------


def _named(snapshot: Snapshot, line: LineBefore, offset: int) -> Iterable[Offer]:
    """Names, where the grammar takes one."""
    return names_for(line, snapshot, offset) if reads(f"{line.text}zz") else ()


def _words(line: LineBefore) -> Iterator[Offer]:
    """The words of the language that the grammar takes next."""
    expected = expected_after(line.text)
    first = first_word(line.text)
    for word, terminals in tables().words.items():
        if word.isascii() and word[0].isalpha() and not expected.isdisjoint(terminals):
            yield Offer(word, "word", word, f"in a `{first}` line", INNER.get(word, ""))


def _completion(offer: Offer, line: LineBefore) -> Completion:
    """The offer; what would lead on to the next word is left out where that word stands already."""
    text = offer.text if line.is_alone else offer.text.rstrip(" .")
    return Completion(offer.label, offer.kind, line.span, text, offer.detail, offer.documentation)


def _each_once(offers: Iterable[Offer]) -> list[Offer]:
    found: dict[str, Offer] = {}
    for each in offers:
        found.setdefault(each.label, each)
    return list(found.values())


def inserted(text: str, completion: Completion) -> str:
    """The text once a completion is taken and its holes are left as they are."""
    new = filled(completion.text) if completion.is_snippet else completion.text
    return text[: completion.span.start] + new + text[completion.span.end :]
