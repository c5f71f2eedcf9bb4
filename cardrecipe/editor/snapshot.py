"""A recipe as the editor has it at one moment: the one value that every feature of the editor reads.

A feature is a pure function `(snapshot, offset or span, …)` → small named tuples of this package. It knows
no protocol: the server turns the client's positions into character offsets of `snapshot.source.text`
before, and what comes back into the protocol's values after.

What each feature module gives (the server calls exactly these; each is called in a guard):

    telling/hover.py        hover(snapshot, offset) -> Hover | None
    telling/values.py       values(snapshot, span) -> tuple[Value, ...]
    names/names.py          definition(snapshot, offset) -> tuple[Span, ...]
                            references(snapshot, offset, with_declaration) -> tuple[Span, ...]
                            renamable(snapshot, offset) -> Span | None   the word that a rename would change
                            rename(snapshot, offset, new_name) -> tuple[Edit, ...]; CannotRename
    offering/completing.py  completions(snapshot, offset, beside=()) -> tuple[Completion, ...]
                            `beside` are files that could be used; the `span` of a completion gives way to
                            its `text`, which where `is_snippet` has holes (`snippets.filled` fills them)
    outline/symbols.py      symbols(snapshot) -> tuple[Symbol, ...]
    outline/folding.py      foldings(snapshot) -> tuple[Folding, ...]
    mending/repairs.py      repairs(snapshot, diagnostic) -> tuple[Repair, ...]

Kinds are words of ours ("piece", "section", "paper", "supply", "let", "structure", "variant", "size",
"word", "pose", "class", "file", "value"); a kind that the server does not know is shown as plain text. Spans
and edits may lie in other files: `span.file` is the name of a text that `snapshot.texts` reads.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from cardrecipe.compile import Compiled
from cardrecipe.model.texts import NoTexts, Texts
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.tree import Tree


class Edit(NamedTuple):
    """The characters of `span` give way to `text`; an empty span is an insertion."""

    span: Span
    text: str


def applied(text: str, file: str, edits: Iterable[Edit]) -> str:
    """`text`, which is called `file`, with those edits made that belong to it; they do not overlap."""
    own = sorted((each for each in edits if each.span.file == file), key=lambda each: each.span.start)
    for edit in reversed(own):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return text


class Snapshot(NamedTuple):
    """A recipe at one moment. `source`, `tree` and `form` always belong together and are of this moment.

    `compiled` is the plain card, `variants` each variant's by its title; they may be of an older text while
    the maker types (`is_current` False): take values from them by name, and places from `tree`. The text they
    were made of is `compiled.sources[source.name]`. Both are empty before the first check has ended, and
    `compiled` may be without a solution (a class file, a text with mistakes).
    """

    source: Source  # line ends are \n; `source.name` is the whole path, with /
    tree: Tree
    form: tuple[Diagnostic, ...] = ()  # what `parse` says of this text
    diagnostics: tuple[Diagnostic, ...] = ()  # everything that the maker is shown now, `form` among it
    compiled: Compiled | None = None
    variants: Mapping[str, Compiled] = {}
    is_current: bool = False
    texts: Texts = NoTexts()  # other files by the names that `name_beside` gives; windows win over the disk
    users: tuple["Snapshot", ...] = ()  # recipes that are known to `use` this one; for references and rename
