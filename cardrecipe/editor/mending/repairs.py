"""What could be typed instead of a mistake: repairs that have been tried.

A repair is offered only where the recipe, checked with it, no longer has the diagnostic and has no
new error; so what stands in an editor's list of repairs holds. A line that could not be read may have
hidden another mistake: where no likely repair is so clean, the first are offered that make it readable.
Trying costs a check of the recipe each, and is done when an editor asks: a `check` knows nothing of repairs.
"""

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import chain, islice
from typing import NamedTuple

from cardrecipe.checking import checked
from cardrecipe.editor.mending.case import Case, Repair
from cardrecipe.editor.mending.table import PROPOSERS
from cardrecipe.editor.snapshot import Edit, Snapshot, applied
from cardrecipe.model.texts import Texts
from cardrecipe.model.used_names import Refused
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source

MOST_TRIED = 40  # checks for one diagnostic
MOST_CHECKED = 200_000  # characters in all these checks: a second or two, whatever the recipe's length
MOST_OFFERED = 5  # more than that nobody reads in an editor's list
MOST_READABLE = 2
LONGEST_TITLE = 90


def repairs(snapshot: Snapshot, diagnostic: Diagnostic) -> tuple[Repair, ...]:
    """The repairs of a diagnostic of `snapshot`, best first; () where none is known to help.

    At most one of them is preferred.
    """
    before = _checked(snapshot.source, snapshot.texts)
    if not before.said[_key(diagnostic)]:
        return ()  # of an older text
    found: list[Repair] = []
    readable: list[Repair] = []
    most = min(MOST_TRIED, max(4, MOST_CHECKED // (len(snapshot.source.text) + 1)))
    for repair in islice(_proposed(snapshot, diagnostic), most):
        if repair.among and any(each.among == repair.among for each in found):
            continue
        after = _checked(*_mended(snapshot, repair))
        if _helps(repair, snapshot, diagnostic, before, after):
            found.append(repair)
        elif after.mistakes_of_form < before.mistakes_of_form:
            readable.append(repair)
        if len(found) == MOST_OFFERED:
            break
    if not any(each.is_preferred for each in found):
        likely = [each for each in readable if each.is_preferred]
        found = [*likely[:MOST_READABLE], *found] or readable[:MOST_READABLE]
    return _one_preferred(found)


def _one_preferred(found: Sequence[Repair]) -> tuple[Repair, ...]:
    first = next((each for each in found if each.is_preferred), None)
    return tuple(each._replace(is_preferred=each is first) for each in found)


def _proposed(snapshot: Snapshot, diagnostic: Diagnostic) -> Iterator[Repair]:
    """Everything that could be tried, each change once."""
    case = Case(snapshot, diagnostic)
    # What is wrong with a shipped fold is said of the line that folds by it: the fold itself stays as it is.
    assert not diagnostic.span.file.startswith("library:")
    seen = set()
    for repair in chain.from_iterable(each(case) for each in PROPOSERS.get(diagnostic.code, ())):
        if repair.edits not in seen and all(case.source.words_at(e.span) != e.text for e in repair.edits):
            seen.add(repair.edits)
            yield repair._replace(title=_on_one_line(repair.title))


def _on_one_line(title: str) -> str:
    """A title as an editor's list can show it."""
    line = " ".join(title.split())
    return line if len(line) <= LONGEST_TITLE else f"{line[: LONGEST_TITLE - 1]}…"


# ---- trying --------------------------------------------------------------------------------------


class _Checked(NamedTuple):
    """What is said of a recipe and its variants: counted without the places, and as it came."""

    said: Counter[tuple[str, str, str]]
    diagnostics: tuple[Diagnostic, ...]
    mistakes_of_form: int


def _checked(source: Source, texts: Texts) -> _Checked:
    recipe, form = parse(source)
    found = checked(recipe, form, source, texts).diagnostics
    return _Checked(Counter(_key(each) for each in found), found, len(form))


def _key(diagnostic: Diagnostic) -> tuple[str, str, str]:
    return diagnostic.span.file, diagnostic.code, diagnostic.message


def _mended(snapshot: Snapshot, repair: Repair) -> tuple[Source, Texts]:
    own = snapshot.source
    source = Source(own.name, applied(own.text, own.name, repair.edits))
    return source, _Mended(snapshot.texts, repair.edits)


def _helps(
    repair: Repair, snapshot: Snapshot, diagnostic: Diagnostic, before: _Checked, after: _Checked
) -> bool:
    """True where the diagnostic is gone, does not come again in other words, and no error is new.

    An error hides others from the later stages. So, where words are written in place of an error, what
    comes to light in other blocks is not held against the repair, unless it misses a name that is gone.
    """
    key = _key(diagnostic)
    if after.said[key] >= before.said[key]:
        return False
    new = [each for each in after.diagnostics if _key(each) not in before.said]
    errors = [each for each in new if each.severity == "error"]
    if any(each.code == diagnostic.code for each in new):
        return False
    if not errors or diagnostic.severity == "warning" or not all(each.text for each in repair.edits):
        return not errors
    own, (source, _) = snapshot.source, _mended(snapshot, repair)
    gone = " ".join(own.words_at(each.span) for each in repair.edits if each.span.file == own.name)
    tops = [each.span.start for each in parse(source)[0].statements]
    written = {bisect_right(tops, each) for each in _places_written(source, repair.edits)}
    here = [each for each in errors if each.span.file == source.name]
    return not any(bisect_right(tops, each.span.start) in written or _is_missed(each, source, gone)
                   for each in here)  # fmt: skip


def _is_missed(error: Diagnostic, source: Source, gone: str) -> bool:
    """True where an error is about a name in the words that a repair took away."""
    named = source.words_at(error.span)
    found = re.search(rf"(?<![\w-]){re.escape(named)}(?![\w-])", gone)
    return error.code == "unknown-name" and found is not None


def _places_written(source: Source, edits: tuple[Edit, ...]) -> Iterator[int]:
    """The places of the new text where the edits wrote something."""
    moved = 0
    for edit in sorted((each for each in edits if each.span.file == source.name), key=lambda e: e.span.start):
        yield edit.span.start + moved
        yield edit.span.start + moved + len(edit.text.rstrip())
        moved += len(edit.text) - (edit.span.end - edit.span.start)


class _Mended:
    """Other files by name, with the edits that belong to them made."""

    def __init__(self, texts: Texts, edits: tuple[Edit, ...]) -> None:
        self._texts = texts
        self._edits = edits

    def read(self, name: str) -> str | Refused | None:
        text = self._texts.read(name)
        return text if not isinstance(text, str) else applied(text, name, self._edits)

