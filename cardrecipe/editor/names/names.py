"""The name at a place → where it is declared, where else it stands, and the edits that give it another name.

A rename is tried on the texts before it is given: it must leave every name with the meaning that it had, so
that the same card comes of it.
"""

import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from cardrecipe.editor.names.meanings import Meanings, Name, made_recipe, meanings, meanings_of
from cardrecipe.editor.names.world import Symbol
from cardrecipe.editor.snapshot import Edit, Snapshot, applied
from cardrecipe.library.folds import fold_names
from cardrecipe.model.texts import Texts
from cardrecipe.model.used_names import Refused
from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.statements import in_order

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_LIBRARY = "library:"
# Names that the compiler itself understands: `back` lies on the table, these poses exist for every card.
_OWN_MEANING = {"section": ("back",), "pose": ("flat", "open", "closed")}
_TOGETHER = ("piece", "section", "let")  # they may stand in one sum


class CannotRename(ValueError):
    """A name that cannot be changed so; the message tells the maker why."""


def definition(snapshot: Snapshot, offset: int) -> tuple[Span, ...]:
    """Where the thing named at `offset` is declared; in a shipped structure too (`library:NAME`)."""
    name = meanings(snapshot).at(snapshot.source.name, offset)
    return (name.symbols[0].span,) if name is not None and name.symbols else ()


def references(snapshot: Snapshot, offset: int, with_declaration: bool = True) -> tuple[Span, ...]:
    """Every place, in all files that are known, that names the same thing."""
    texts = _texts(snapshot)
    name = texts[0].at(snapshot.source.name, offset)
    if name is None or not name.symbols or name.kind == "file":
        return ()
    places = _places(name, texts)
    return tuple(each.span for each in places if with_declaration or not each.is_declaration)


def renamable(snapshot: Snapshot, offset: int) -> Span | None:
    """The word that a rename would change, where one is possible."""
    name = meanings(snapshot).at(snapshot.source.name, offset)
    if name is None or not name.symbols or name.is_alias or name.kind == "file":
        return None
    return name.span if _refusal(_all_of(name, (meanings(snapshot),))) is None else None


def rename(snapshot: Snapshot, offset: int, new_name: str) -> tuple[Edit, ...]:
    """The edits, in all files that are known, that call the thing at `offset` by `new_name`."""
    texts = _texts(snapshot)
    name = texts[0].at(snapshot.source.name, offset)
    if name is None or not name.symbols or name.is_alias or name.kind == "file":
        raise CannotRename("there is no name here that could be changed")
    symbols = _all_of(name, texts)
    refusal = _refusal(symbols) or _misspelt(new_name, name.symbols[0].kind)
    refusal = refusal or _clash(new_name, symbols, texts) or _unread(name, new_name, snapshot)
    if refusal is not None:
        raise CannotRename(refusal)
    if new_name == name.symbols[0].name:
        return ()
    edits = tuple(Edit(each.span, new_name) for each in _places(name, texts))
    _check_meanings(snapshot, texts, edits)
    return edits


# ---- all the texts together ----------------------------------------------------------------------


def _roots(snapshot: Snapshot) -> list[tuple[tree.Tree, Source, Texts]]:
    """The recipe itself, those that use it or share a file with it, and those that a class makes."""
    roots = [(each.tree, each.source, each.texts) for each in (snapshot, *snapshot.users)]
    for recipe, source, texts in tuple(roots):
        for line in (line for each in recipe.statements for line in each.block):
            made = made_recipe(line.node, source.name, texts) if isinstance(line.node, tree.Make) else None
            if made is not None and all(made[1].name != known.name for _, known, _ in roots):
                roots.append((*made, texts))
    return roots


def _texts(snapshot: Snapshot) -> list[Meanings]:
    return [meanings(snapshot), *(meanings_of(*root) for root in _roots(snapshot)[1:])]


def _all_of(name: Name, texts: Iterable[Meanings]) -> set[Symbol]:
    """The thing, and what must be called alike: names that mean one in one version and one in another."""
    together = set(name.symbols)
    groups = [set(each.symbols) for text in texts for each in text.names if len(each.symbols) > 1]
    grew = True
    while grew:
        touching = [group for group in groups if group & together and not group <= together]
        together = together.union(*touching)
        grew = bool(touching)
    return together


def _places(name: Name, texts: Iterable[Meanings]) -> list[Name]:
    symbols = _all_of(name, texts)
    found = {each.span: each for text in texts for each in text.names
             if not each.is_alias and not symbols.isdisjoint(each.symbols)}  # fmt: skip
    return [found[span] for span in sorted(found)]


# ---- what cannot be renamed ----------------------------------------------------------------------


def _refusal(symbols: set[Symbol]) -> str | None:
    """Why the thing must keep its name, if it must."""
    for each in sorted(symbols):
        if each.span.file.startswith(_LIBRARY):
            fold = each.span.file.removeprefix(_LIBRARY)
            return f"`{each.name}` is a name of the shipped fold `{fold}`, which cannot be changed"
        if each.name in _OWN_MEANING.get(each.kind, ()):
            return f"`{each.name}` has a meaning of its own; by another name the card would be another"
        if each.kind == "section" and each.span.start == each.span.end:
            return f"nothing declares `{each.name}`; name the sections with a `sections` line"
    return None


def _misspelt(new_name: str, kind: str) -> str | None:
    if kind == "variant":
        wrong = not new_name.strip() or '"' in new_name or "\n" in new_name
        return "a title has no quotes in it and stands on one line" if wrong else None
    if not _NAME.fullmatch(new_name):
        return f"`{new_name}` is no name: names have lower-case letters, digits and single hyphens: left-door"
    if new_name in _OWN_MEANING.get(kind, ()):
        return f"`{new_name}` has a meaning of its own"
    return None


def _clash(new_name: str, symbols: set[Symbol], texts: Iterable[Meanings]) -> str | None:
    """The new name must not be another thing's already."""
    kinds = {each.kind for each in symbols}
    if "structure" in kinds and new_name in fold_names():
        return f"`{new_name}` is a shipped fold"
    wanted = {other for kind in kinds for other in (_TOGETHER if kind in _TOGETHER else (kind,))} - {"asked"}
    for text in texts:
        known = {each for name in text.names for each in name.symbols} | {
            owner.symbol for world in text.worlds.values() for owner in world.owners.values()
        }
        for each in known - symbols:
            if each.name == new_name and each.kind in wanted:
                return f"there is a {each.kind} called `{new_name}` already"
    return None


def _unread(name: Name, new_name: str, snapshot: Snapshot) -> str | None:
    """A line that cannot be read may hold the name, and nobody knows what it means there."""
    words = {name.symbols[0].name, new_name}
    for recipe, source, _ in _roots(snapshot):
        for line, node in _broken(recipe):
            if words & node.words:
                place = f"line {source.line_of(line.span)}"
                return f"{place} cannot be read and may speak of `{name.symbols[0].name}`; mend it first"
    return None


def _broken(recipe: tree.Tree) -> list[tuple[tree.Statement, tree.Broken]]:
    statements = (each for _, each in in_order(recipe.statements))
    return [(each, each.node) for each in statements if isinstance(each.node, tree.Broken)]


# ---- the same card -------------------------------------------------------------------------------


class _Edited(NamedTuple):
    """Texts as they will be: those that an edit touches, else as they are."""

    texts: Texts
    changed: Mapping[str, str]

    def read(self, name: str) -> str | Refused | None:
        return self.changed[name] if name in self.changed else self.texts.read(name)


def _check_meanings(snapshot: Snapshot, before: list[Meanings], edits: tuple[Edit, ...]) -> None:
    """Raise where a name would mean another thing after the edits, or a line could not be read."""
    sources = {name: source for text in before for name, source in text.sources.items()}
    files = {each.span.file for each in edits}
    changed = {file: applied(sources[file].text, file, edits) for file in files if file in sources}
    moved = _Moved(edits)
    for (recipe, source, texts), known in zip(_roots(snapshot), before, strict=True):
        new_source = Source(source.name, changed.get(source.name, source.text))
        new_tree, _ = parse(new_source)
        if len(_broken(new_tree)) != len(_broken(recipe)):
            raise CannotRename(
                "a line that uses it could no longer be read: this word stands for something else"
            )
        now = meanings_of(new_tree, new_source, _Edited(texts, changed))
        if _graph(known, moved) != _graph(now, None):
            raise CannotRename("another thing is called so where this name is used; take another name")


class _Moved:
    """Where a place of the old texts lies after the edits."""

    def __init__(self, edits: Iterable[Edit]) -> None:
        self.starts: dict[str, list[int]] = {}
        self.edits: dict[str, list[Edit]] = {}
        for each in sorted(edits, key=lambda edit: edit.span):
            self.starts.setdefault(each.span.file, []).append(each.span.start)
            self.edits.setdefault(each.span.file, []).append(each)

    def __call__(self, span: Span) -> Span:
        return Span(
            span.file, self._offset(span.file, span.start, False), self._offset(span.file, span.end, True)
        )

    def _offset(self, file: str, offset: int, is_end: bool) -> int:
        """An end that touches an edit lies after it, a start before it."""
        edits = self.edits.get(file, [])
        count = bisect_right(self.starts.get(file, []), offset if not is_end else offset - 1)
        shift = sum(len(each.text) - (each.span.end - each.span.start) for each in edits[:count]
                    if each.span.end <= offset)  # fmt: skip
        return offset + shift


def _graph(text: Meanings, moved: _Moved | None) -> set[tuple[object, ...]]:
    """Each place with the places of what it means: the same before and after, wherever the texts moved to."""

    def place(span: Span) -> Span:
        return moved(span) if moved is not None else span

    return {
        (place(each.span), each.is_declaration, each.is_alias,
         frozenset((symbol.kind, place(symbol.span)) for symbol in each.symbols))
        for each in text.names
    }  # fmt: skip
