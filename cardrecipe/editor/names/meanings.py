"""A recipe → every name in it and in the files it uses, with the thing that it means.

The plain card is read first, then each variant, then each structure by itself: a name that means one thing
in the plain card and another in a variant means both, so that a rename changes both or neither.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from cardrecipe.editor.names.occurrences import Occurrences, read_changes, read_world
from cardrecipe.editor.names.world import Symbol, World, world
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.model.texts import Texts, name_beside, text_at
from cardrecipe.model.used_names import Refused
from cardrecipe.model.uses import used_by
from cardrecipe.model.variants import with_variant
from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span


class Name(NamedTuple):
    """A name at one place. `kind` is what stands there ("host" for a section or a piece, "size" in a sum);
    `symbols` is empty where nothing is called so. `is_alias`: it is not the thing's own name."""

    span: Span
    kind: str
    symbols: tuple[Symbol, ...]
    is_declaration: bool = False
    is_alias: bool = False


class Meanings(NamedTuple):
    """The names of a recipe and of the files that it uses, in order; `worlds` by the variant's title."""

    names: tuple[Name, ...]
    sources: Mapping[str, Source]
    worlds: Mapping[str | None, World]

    def at(self, file: str, offset: int) -> Name | None:
        """The name that the character at `offset` belongs to, or that ends there."""
        near = [each for each in self.names
                if each.span.file == file and each.span.start <= offset <= each.span.end]  # fmt: skip
        return near[-1] if near else None


def meanings(snapshot: Snapshot) -> Meanings:
    """What every name means; worked out once for a tree that is asked about again and again."""
    for recipe, read, known in _LAST:
        if recipe is snapshot.tree and read.is_as_before(snapshot.texts):
            return known
    reading = _Remembered(snapshot.texts)
    found = meanings_of(snapshot.tree, snapshot.source, reading)
    _LAST.insert(0, (snapshot.tree, reading, found))
    del _LAST[_KEPT:]
    return found


class _Remembered:
    """Texts that are read once, so that it can be seen whether they are still the same."""

    def __init__(self, texts: Texts) -> None:
        self._texts = texts
        self._found: dict[str, str | Refused | None] = {}

    def read(self, name: str) -> str | Refused | None:
        if name not in self._found:
            self._found[name] = self._texts.read(name)
        return self._found[name]

    def is_as_before(self, texts: Texts) -> bool:
        return all(texts.read(name) == text for name, text in self._found.items())


# A cursor that rests asks for a hover, a definition and references of one text. The trees are kept with
# what was found, so that none of them can be mistaken for a later one.
_KEPT = 2
_LAST: list[tuple[tree.Tree, _Remembered, Meanings]] = []


def meanings_of(recipe: tree.Tree, source: Source, texts: Texts) -> Meanings:
    """What every name of `recipe` and of the files it uses means."""
    used = used_by(recipe, texts)
    sources = {source.name: source, **used.sources}
    occurrences = Occurrences(sources)
    plain, _ = with_variant(recipe, None)
    worlds: dict[str | None, World] = {None: world(plain, used.statements, texts)}
    read_world(worlds[None], occurrences)
    for statement in recipe.statements:
        if isinstance(statement.node, tree.Variant):
            title = statement.node.title.text
            if title not in worlds:
                changed, _ = with_variant(recipe, title)
                worlds[title] = world(changed, used.statements, texts)
                read_world(worlds[title], occurrences)
            for each in (worlds[None], worlds[title]):
                read_changes(each, statement.block, occurrences)
    for alone in _structures_alone(plain, worlds[None]):
        read_world(world(alone, used.statements, texts), occurrences)
    names = [Name(span, *found) for span, found in occurrences.found.items()]
    names += _titles(recipe.statements, sources)
    names += _files(recipe, texts)
    names.sort(key=lambda each: (each.span.file, each.span.start))
    return Meanings(tuple(names), sources, worlds)


def inside(text: tree.Text) -> Span:
    """The characters between the quotes of a one-line text."""
    return Span(text.span.file, text.span.start + 1, text.span.end - 1)


def variant_symbol(statement: tree.Statement) -> Symbol:
    assert isinstance(statement.node, tree.Variant)
    return Symbol("variant", statement.node.title.text, inside(statement.node.title))


# ---- structures by themselves --------------------------------------------------------------------


def _structures_alone(recipe: tree.Tree, plain: World) -> Iterator[tree.Tree]:
    """For each structure a recipe with one base that is folded by it, so that its lines are understood."""
    shared = tree.Let | tree.PaperLine | tree.SupplyLine | tree.Structure
    kept = tuple(each for each in recipe.statements if isinstance(each.node, shared))
    for name, structure in plain.structures.items():
        word = tree.Word(structure.span, f"a card of {name}")  # no piece can be called so
        fold = tree.Fold(tree.Word(structure.span, name), ())
        header = tree.PieceHeader("base", word)
        block = (tree.Statement(structure.span, "fold", fold),)
        yield recipe.replace(statements=(*kept, tree.Statement(structure.span, "base", header, block)))


# ---- titles and files ----------------------------------------------------------------------------


def _titles(statements: tuple[tree.Statement, ...], sources: Mapping[str, Source]) -> Iterator[Name]:
    first: dict[str, Symbol] = {}
    for statement in statements:
        if isinstance(statement.node, tree.Variant):
            own = variant_symbol(statement)
            meant = first.setdefault(own.name, own)
            yield Name(own.span, "variant", tuple(dict.fromkeys((meant, own))), is_declaration=True)


def _files(recipe: tree.Tree, texts: Texts) -> Iterator[Name]:
    """The paths of `use` and `make` lines, the variants that a class makes, and the papers that it has."""
    made: list[tuple[tree.Tree, Source]] = []
    for statement in (*recipe.statements, *(line for each in recipe.statements for line in each.block)):
        node = statement.node
        if isinstance(node, tree.Use):
            yield _path(node.path, recipe.file)
        elif isinstance(node, tree.Make):
            yield _path(node.path, recipe.file)
            other = made_recipe(node, recipe.file, texts)
            made += [other] if other is not None else []
            if node.variant is not None:
                yield _variant_named(node.variant, other)
    for statement in (line for each in recipe.statements for line in each.block):
        if isinstance(statement.node, tree.Have) and isinstance(statement.node.name, tree.Word):
            word = statement.node.name
            meant = tuple(_stock(word.text, made, texts))
            yield Name(word.span, meant[0].kind if meant else "paper", meant)


def made_recipe(make: tree.Make, file: str, texts: Texts) -> tuple[tree.Tree, Source] | None:
    """The recipe that a line of a class makes, if it is there."""
    name = name_beside(file, make.path.text)
    text = text_at(texts, name)
    if name is None or text is None:
        return None
    source = Source(name, text)
    return parse(source)[0], source


def _path(path: tree.Text, file: str) -> Name:
    name = name_beside(file, path.text)
    meant = (Symbol("file", path.text, Span(name, 0, 0)),) if name is not None else ()
    return Name(inside(path), "file", meant)


def _variant_named(title: tree.Text, other: tuple[tree.Tree, Source] | None) -> Name:
    statements = other[0].statements if other is not None else ()
    meant = [variant_symbol(each) for each in statements
             if isinstance(each.node, tree.Variant) and each.node.title.text == title.text]  # fmt: skip
    return Name(inside(title), "variant", tuple(meant[:1]))


def _stock(name: str, made: list[tuple[tree.Tree, Source]], texts: Texts) -> Iterator[Symbol]:
    """The papers of that name in the recipes of a class, each once; else the supplies."""
    for kind, node in (("paper", tree.PaperLine), ("supply", tree.SupplyLine)):
        found: dict[Symbol, None] = {}
        for recipe, _ in made:
            statements = (*recipe.statements, *used_by(recipe, texts).statements)
            words = [each.node.name for each in statements
                     if isinstance(each.node, node) and each.node.name.text == name]  # fmt: skip
            found |= {Symbol(kind, word.text, word.span): None for word in words[:1]}
        yield from found
        if found:
            return
