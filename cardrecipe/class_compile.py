"""A class file's text → its folded cards with their counts, or what is wrong with it and with its recipes.

As in `cardrecipe.compile`, nothing here touches a file; `texts` gives the recipes by name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.compile import Compiled, compile_tree
from cardrecipe.model.build import MAX_PIECES
from cardrecipe.model.card import Scope
from cardrecipe.model.classes import Class, Make, class_of, is_recipe_line, nearest_in
from cardrecipe.model.counts import MAX_COPIES
from cardrecipe.model.materials import paper_of, supply_of
from cardrecipe.model.papers import Paper, Supply
from cardrecipe.model.texts import Texts
from cardrecipe.model.used_names import not_given
from cardrecipe.model.uses import MAX_USED_FILES, Used, used_by
from cardrecipe.model.variants import variant_titles
from cardrecipe.plan.classes.at_hand import AtHand, Shelf, at_hand
from cardrecipe.plan.classes.cards import ClassCard, ClassCards
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error, has_errors, warning
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.parse import is_unmerged, parse
from cardrecipe.syntax.source import Source


class CompiledClass(NamedTuple):
    """What came of a class file. `cards` is None where an error stands in the way, in it or in a recipe.

    `sources` holds every text that a diagnostic may point into, by name.
    """

    cards: ClassCards | None
    diagnostics: list[Diagnostic]
    sources: Mapping[str, Source]


def is_class(file: tree.Tree) -> bool:
    """Tell whether a file holds a class."""
    return any(isinstance(each.node, tree.ClassHead) for each in file.statements)


def compile_class(source: Source, texts: Texts) -> CompiledClass:
    """Everything that can be known of the class in `source` and of the recipes that it makes."""
    file, form = parse(source)
    diagnostics, sources = list(form), dict[str, Source]()
    assert is_class(file), "`Compiled.is_class` says which files are classes"
    if any(map(is_recipe_line, file.statements)):
        recipe = compile_tree(file, diagnostics, source, texts)
        diagnostics = [each for each in recipe.diagnostics if each.code != "no-recipe"]  # it is a class
        sources |= recipe.sources
    said = class_of(file, diagnostics)
    used = used_by(file, texts)
    recipes = _Recipes(source.name, texts)
    made = [(make, recipes.made(make)) for make in said.makes]
    diagnostics += [*used.diagnostics, *recipes.diagnostics]
    unit = said.unit or next((each.folded.card.unit for _, each in made if each and each.folded), "inch")
    shelf = _shelf(file, used, unit, diagnostics)
    cards = _cards(said, made)
    diagnostics += _too_large(said, cards)
    here = AtHand((), frozenset(), [])
    if len(recipes.whole) == len(recipes.wanted) and not used.lost:
        here = at_hand(said.haves, [each.folded.card for each in cards], shelf, unit)
    diagnostics += _unused(file, said)
    grid = nearest_in(said.nearest, unit, diagnostics)
    diagnostics += here.diagnostics
    ready = ClassCards(said.title, said.about, unit, grid, cards, here.papers, here.supplies)
    if is_unmerged([*form, *used.diagnostics]):  # as in a recipe: what a class means is not settled yet
        diagnostics = [*form, *used.diagnostics, *recipes.diagnostics]
    return CompiledClass(
        cards=None if has_errors(diagnostics) else ready,
        diagnostics=_in_order(diagnostics, source.name),
        sources={**sources, **used.sources, **recipes.sources, source.name: source},
    )


# ---- recipes -------------------------------------------------------------------------------------


class _Recipes:
    """The recipes that a class makes, each read once and each of its variants compiled once."""

    def __init__(self, file: str, texts: Texts) -> None:
        self._file, self._texts = file, texts
        self._trees: dict[str, tuple[tree.Tree, list[Diagnostic]] | None] = {}
        self._made: dict[tuple[str, str | None], Compiled] = {}
        self.sources: dict[str, Source] = {}
        self.diagnostics: list[Diagnostic] = []
        self.wanted: list[Make] = []
        self.whole: list[Make] = []

    def made(self, make: Make) -> Compiled | None:
        """The card of a `make` line; None, and said why, where there is none."""
        self.wanted.append(make)
        found = self._compiled(make)
        if found is not None and found.folded is not None:
            self.whole.append(make)
            return found
        return None

    def _compiled(self, make: Make) -> Compiled | None:
        read = self._read(make)
        if read is None or make.file is None:
            return None
        recipe, mistakes = read
        title, titles = make.variant.text if make.variant else None, variant_titles(recipe)
        if make.variant is not None and title not in titles:
            self.diagnostics += [*mistakes, _no_variant(make, titles)]
            return None
        key = make.file, title
        if key not in self._made:
            found = compile_tree(recipe, list(mistakes), self.sources[make.file], self._texts, title)
            self.sources |= found.sources
            self.diagnostics += _told_of_variant(found.diagnostics, title, self._made.get((make.file, None)))
            self._made[key] = found
        made = self._made[key]
        self.diagnostics += _unfit(make, made)
        return made if made.folded is not None and made.folded.card.pieces else None

    def _read(self, make: Make) -> tuple[tree.Tree, list[Diagnostic]] | None:
        file, span = make.file, make.path.span
        if file is None:
            return None
        if file not in self._trees:
            problem = None
            text = (
                self._texts.read(file) if len(self._trees) < MAX_USED_FILES and file != self._file else None
            )
            if file == self._file:
                problem = error("class-cycle", span, "this class makes itself", "make recipes, not classes")
            elif len(self._trees) >= MAX_USED_FILES:
                problem = error("use-too-many", span, f"a class makes at most {MAX_USED_FILES} recipes",
                                "make two classes of it")  # fmt: skip
            elif not isinstance(text, str):
                problem = not_given(make.path, text, "class")
            if problem is not None or not isinstance(text, str):
                self._trees[file] = None
                self.diagnostics += [problem] if problem else []
                return None
            self.sources[file] = Source(file, text)
            self._trees[file] = parse(self.sources[file])
        read = self._trees[file]
        if read is not None and is_class(read[0]):
            self.diagnostics.append(error("class-cycle", span, f'"{make.path.text}" is a class itself',
                                          "name its recipes here instead"))  # fmt: skip
            return None
        return read


def _no_variant(make: Make, titles: Sequence[str]) -> Diagnostic:
    assert make.variant is not None
    meant = nearest(make.variant.text, titles)
    known = f"its variants are {', '.join(titles)}" if titles else "it has no variants"
    return error("unknown-name", make.variant.span,
                 f'no variant of "{make.path.text}" is called “{make.variant.text}”',
                 f'did you mean "{meant}"?' if meant else known)  # fmt: skip


def _unfit(make: Make, made: Compiled) -> Iterator[Diagnostic]:
    """Why a recipe that was read cannot be made; its own mistakes stand in its own file."""
    name = f'"{make.path.text}"' + (f" in variant “{make.variant.text}”" if make.variant else "")
    if made.folded is None:
        yield error("make-broken", make.path.span, f"{name} has mistakes of its own",
                    "mend them there first")  # fmt: skip
    elif not made.folded.card.pieces:
        yield error("make-no-card", make.path.span, f"{name} has no pieces to make",
                    "name a recipe of a card")  # fmt: skip


def _told_of_variant(
    found: Sequence[Diagnostic], title: str | None, plain: Compiled | None
) -> Iterator[Diagnostic]:
    """What a recipe says of itself, with the name of the variant where the plain card does not say it."""
    told = {each.mistake for each in plain.diagnostics} if plain is not None else set()
    for each in found:
        if title is None or each.mistake in told:
            yield each
        else:
            yield each._replace(message=f'in variant "{title}": {each.message}')


def _cards(said: Class, made: Sequence[tuple[Make, Compiled | None]]) -> tuple[ClassCard, ...]:
    """Each card once, with the seats of all its lines; spares written on lines win over the class's."""
    found: dict[tuple[str, str | None], ClassCard] = {}
    written: set[tuple[str, str | None]] = set()
    for make, compiled in made:
        if compiled is None or compiled.folded is None or make.file is None:
            continue
        key = make.file, make.variant.text if make.variant else None
        known = found.get(key) or ClassCard(*key, compiled.folded, tuple(compiled.diagnostics), 0, said.spare)
        spare = known.spare
        if make.spare is not None:
            spare = make.spare + (known.spare if key in written else 0)
            written.add(key)
        found[key] = known._replace(seats=known.seats + make.count, spare=spare)
    return tuple(found.values())


def _too_large(said: Class, cards: Sequence[ClassCard]) -> Iterator[Diagnostic]:
    """No more cards than one recipe may make, and no more pieces than one card may have."""
    if sum(each.kits for each in cards) > MAX_COPIES:
        yield error("class-too-large", said.span,
                    f"a class makes at most {MAX_COPIES:,} kits in all, spares included",
                    "make two classes of it")  # fmt: skip
    if sum(len(each.folded.card.pieces) for each in cards) > MAX_PIECES:
        yield error("class-too-large", said.span,
                    f"the recipes of a class have at most {MAX_PIECES:,} pieces in all",
                    "make two classes of it")  # fmt: skip


# ---- what the class names itself -----------------------------------------------------------------


def _shelf(file: tree.Tree, used: Used, unit: str, diagnostics: list[Diagnostic]) -> Shelf:
    """Papers and supplies that the class declares or uses, its own before others."""
    papers: dict[str, Paper] = {}
    supplies: dict[str, Supply] = {}
    for statement in (*used.statements, *file.statements):
        node = statement.node
        if isinstance(node, tree.PaperLine):
            papers[node.name.text] = paper_of(
                statement.span, node.name, node.facts, Scope({}), unit, diagnostics
            )
        elif isinstance(node, tree.SupplyLine):
            supplies[node.name.text] = supply_of(statement.span, node, diagnostics)
    return Shelf(papers, supplies)


def _unused(file: tree.Tree, said: Class) -> Iterator[Diagnostic]:
    """Papers and supplies of the class itself only say what its `have` lines mean; recipes have their own."""
    if any(map(is_recipe_line, file.statements)):
        return  # which of them belong to that recipe is not known
    named = {each.name.text.casefold() for each in said.haves}
    for statement in file.statements:
        node = statement.node
        if not isinstance(node, tree.PaperLine | tree.SupplyLine):
            continue
        is_paper = isinstance(node, tree.PaperLine)
        title = node.facts.title if isinstance(node, tree.PaperLine) else node.title
        if not named & {node.name.text, title.text.casefold()}:
            name, sheets = node.name.text, " 3 sheets" if is_paper else ""
            code = "unused-paper" if is_paper else "unused-supply"
            yield warning(code, statement.span, f"no `have` line of this class names `{name}`",
                          f"say what there is of it, as in `have {name}{sheets}`, or take this line out:"
                          " a recipe declares what it is made of itself")  # fmt: skip


def _in_order(diagnostics: list[Diagnostic], main: str) -> list[Diagnostic]:
    """By place, the class's own file first, each once."""
    unique = list(dict.fromkeys(diagnostics))
    return sorted(unique, key=lambda each: (each.span.file != main, each.span.file, each.span.start))
