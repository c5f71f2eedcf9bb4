"""A recipe's text to a folded card: the stages in order, each a call with values in and values out.

The core touches no file, clock, terminal or environment; `texts` gives it other files by name.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.fold.card import ShutBase, fold, folded_shut, thickness_of, what_glue_locks
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.thickness import stack_under_band
from cardrecipe.library.folds import fold_names, fold_source
from cardrecipe.model.build import model
from cardrecipe.model.card import Card
from cardrecipe.model.lengths import MM_PER
from cardrecipe.model.structures import names_in
from cardrecipe.model.texts import Texts
from cardrecipe.model.variants import variant_titles
from cardrecipe.plan.checks import check_plan
from cardrecipe.solve.assemble import assembled
from cardrecipe.solve.checks import check_sizes
from cardrecipe.solve.sections import known_number
from cardrecipe.solve.sized import Around, SizedCard
from cardrecipe.solve.sizes import ClosedSize, Solution, solve_sizes
from cardrecipe.syntax.diagnostics import Diagnostic, has_errors, warning
from cardrecipe.syntax.parse import is_unmerged, parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.statements import in_order
from cardrecipe.syntax.tree import ClassHead, Recipe, Statement, Tree, Variant


class Compiled(NamedTuple):
    """What came of a recipe. `folded` is None where an error stands in the way.

    A class comes here as a card without pieces; `cardrecipe.class_compile` looks at what it makes.
    `sources` holds every text that a diagnostic may point into, by name.
    """

    folded: FoldedCard | None
    solution: Solution | None
    diagnostics: list[Diagnostic]
    sources: Mapping[str, Source]
    variants: tuple[str, ...]
    is_class: bool = False

    @property
    def is_shelf(self) -> bool:
        """True of papers that recipes share; a recipe without pieces is told that it makes nothing yet."""
        is_empty = self.folded is not None and not self.folded.card.pieces
        return is_empty and not self.is_class and not self.diagnostics


class Folding(NamedTuple):
    """A card solved and folded in one unit."""

    folded: FoldedCard | None
    solution: Solution
    diagnostics: list[Diagnostic]


def compile_recipe(source: Source, texts: Texts, variant: str | None = None) -> Compiled:
    """Everything that can be known of the recipe in `source`, and all its mistakes.

    NoVariant when it has no variant called `variant`.
    """
    recipe, diagnostics = parse(source)
    return compile_tree(recipe, diagnostics, source, texts, variant)


def compile_tree(
    recipe: Tree, mistakes: list[Diagnostic], source: Source, texts: Texts, variant: str | None = None
) -> Compiled:
    """The stages after parsing; `mistakes` are those of the parser."""
    modelled = model(recipe, texts, variant)
    diagnostics = [*mistakes, *modelled.diagnostics]
    folding = solve_and_fold(modelled.card, poison=modelled.poison)
    diagnostics += folding.diagnostics
    if is_unmerged(diagnostics):  # two versions of a line contradict each other, and neither is the card's
        diagnostics = [*mistakes, *(each for each in modelled.diagnostics if is_unmerged([each]))]
    folded = folding.folded
    if folded is not None and modelled.card.pieces and not has_errors(diagnostics):
        diagnostics += [each for each in check_plan(folded)
                        if not _is_used_elsewhere(each, recipe, source, variant)]  # fmt: skip
    if not modelled.card.pieces and not has_errors(diagnostics):
        diagnostics += _nothing_to_make(recipe, variant)
    if variant is not None and any(each.code == "unknown-name" for each in diagnostics):
        from cardrecipe.model.drops import naming_the_drop  # rare, too

        diagnostics = naming_the_drop(diagnostics, recipe, source, variant)
    if any(each.span.file.startswith("library:") for each in diagnostics):
        from cardrecipe.library.own_lines import on_own_lines  # nothing is amiss in most recipes

        diagnostics = on_own_lines(diagnostics, recipe)
    sources = {source.name: source, **modelled.sources,
               **{f"library:{name}": fold_source(name) for name in _library_used(diagnostics)}}  # fmt: skip
    return Compiled(
        folded=None if has_errors(diagnostics) else folded,
        solution=folding.solution,
        diagnostics=_in_order(diagnostics, source.name),
        sources=sources,
        variants=variant_titles(recipe),
        is_class=_is_class(recipe),
    )


def _is_class(recipe: Tree) -> bool:
    return any(isinstance(each.node, ClassHead) for each in recipe.statements)


def _nothing_to_make(recipe: Tree, variant: str | None) -> Iterator[Diagnostic]:
    """Told where a recipe has no pieces yet, or a variant none any more; a shelf or a class needs none."""
    for each in recipe.statements if not _is_class(recipe) else ():
        if isinstance(each.node, Recipe) and variant is None:
            yield warning("no-pieces", each.span, "nothing is made in this recipe yet",
                          "begin with a base: base card from ink")  # fmt: skip
        elif isinstance(each.node, Variant) and each.node.title.text == variant:
            yield warning("no-pieces", each.span, "nothing is left to make", "drop fewer pieces")


def only_of_variant(found: Compiled, title: str, plain: Compiled) -> Compiled:
    """What the plain card does not say already, with the name of the variant."""
    told = {each.mistake for each in plain.diagnostics}
    own = [each._replace(message=f'in variant "{title}": {each.message}')
           for each in found.diagnostics if each.mistake not in told]  # fmt: skip
    return found._replace(diagnostics=own)


def solve_and_fold(
    card: Card,
    unit: str | None = None,
    nudges: Mapping[Span, int] | None = None,
    poison: frozenset[str] = frozenset(),
) -> Folding:
    """Solve the sizes, fold the base, and solve again what needed the closed card (a band, say)."""
    solution, problems = solve_sizes(card, unit, None, nudges, poison)
    if not _waits_for_closed(solution):
        return _folding(solution, problems)
    if not _is_shut_as_told(solution):
        return Folding(None, solution, [*problems, *check_sizes(solution, is_final=False)])
    if has_errors(problems) or not _can_be_folded(solution):
        early = [*problems, *check_sizes(solution, is_final=False)]
        if has_errors(early):
            return Folding(None, solution, early)
    sized = assembled(solution)
    shut, refusals = folded_shut(sized)
    if has_errors(refusals):
        early = check_sizes(solution, is_final=False)
        return Folding(None, solution, [*problems, *early, *([] if has_errors(early) else refusals)])
    solution, problems = solve_sizes(card, unit, _closed_sizes(card, sized, shut, solution), nudges, poison)
    return _folding(solution, problems)


def _folding(solution: Solution, problems: list[Diagnostic]) -> Folding:
    problems = [*problems, *check_sizes(solution, is_final=True)]
    if has_errors(problems):
        return Folding(None, solution, problems)
    folded, refusals = fold(assembled(solution))
    return Folding(folded, solution, [*problems, *refusals, *what_glue_locks(folded)])


def _can_be_folded(solution: Solution) -> bool:
    """True where every base has a size and no section, of a base or of what is glued to one, is of none.

    Sections between slits and slanted scores have only the names that are used; they are as they came. A
    panel may wait for the closed card.
    """
    plain = {piece.name for piece in solution.card.pieces if piece.has_plain_sections}
    bases = {piece.name for piece in solution.card.pieces if piece.kind == "base"}
    owners = {name: name for name in bases}
    owners |= {owner: piece for (piece, _), owner in solution.parts.sections.items() if piece in plain}
    sizes = [(piece, solution.values.get((owner, quantity)))
             for owner, piece in owners.items() for quantity in ("width", "height")]  # fmt: skip
    return all(piece not in bases if size is None else size > 0 for piece, size in sizes)


def _is_shut_as_told(solution: Solution) -> bool:
    """False where an angle of a pose `closed` means nothing: how large the closed card is, is open then."""
    reader = solution.placed().reader
    return all(known_number(degrees, reader) is not None
               for pose in solution.card.poses if pose.name == "closed"
               for _, _, degrees in pose.folds)  # fmt: skip


def _waits_for_closed(solution: Solution) -> bool:
    """True where a band, or an expression, needs the size of the closed card."""
    return _asks_for(solution, "finished-width", "finished-height", "thickness")


def _asks_for(solution: Solution, *sizes: str) -> bool:
    draft = solution.draft
    said = {quantity for equation in draft.said for _, quantity in equation.terms}
    named = {name for each in draft.pending for name in names_in(each.scoped.expression)}
    # A name in a pending sum may stand for a `let` that holds such a size: then better ask too often.
    known = {solution.names.unknowns[name][1] for name in named if name in solution.names.unknowns}
    return not said.isdisjoint(sizes) or not known.isdisjoint(sizes) or bool(
        named - set(solution.names.unknowns)
    )


def _closed_sizes(
    card: Card, sized: SizedCard, shut: Sequence[ShutBase], solution: Solution
) -> dict[str, ClosedSize]:
    mm = MM_PER[sized.unit]
    thickness = None
    if _asks_for(solution, "thickness"):
        known = thickness_of(sized)
        thickness = known.likely_mm / mm if known is not None else Fraction(0)
    sizes = {}
    for closed in shut:
        stacks = {}
        for piece in card.pieces:
            wide = solution.values.get((piece.name, "height"))
            if piece.kind == "band" and piece.around == closed.base and wide is not None:
                room = closed.width if piece.downward else closed.height
                around = Around(closed.base, piece.downward, _band_at(piece.name, solution, room, wide),
                                Fraction(0), Fraction(0))  # fmt: skip
                stack = stack_under_band(sized, around, wide)
                if stack is not None:
                    stacks[piece.name] = stack.likely_mm / mm
        sizes[closed.base] = ClosedSize(closed.width, closed.height, thickness, stacks)
    return sizes


def _band_at(name: str, solution: Solution, room: Fraction, wide: Fraction) -> Fraction:
    """Where a band lies before the closed card is part of the equations: as written, or in the middle."""
    near = solution.values.get((name, "top border"), solution.values.get((name, "left border")))
    far = solution.values.get((name, "bottom border"), solution.values.get((name, "right border")))
    if near is not None:
        return near
    return room - wide - far if far is not None else (room - wide) / 2


def _is_used_elsewhere(
    diagnostic: Diagnostic, recipe: Tree, source: Source, variant: str | None
) -> bool:
    """A paper that seems unused may come from a shared file, or be there for a variant."""
    if not diagnostic.code.startswith("unused-"):
        return False
    if variant is not None or diagnostic.span.file != source.name:
        return True
    name = source.words_at(diagnostic.span).split()[1]
    return any(isinstance(each.node, Variant) and name in _words_under(each, source)
               for each in recipe.statements)  # fmt: skip


def _words_under(statement: Statement, source: Source) -> list[str]:
    """The words of a block, however they are spaced: `in coal,rust` names two."""
    lines = (line for _, line in in_order(statement.block))
    return [word for line in lines for word in re.split(r"[\s,]+", source.words_at(line.span))]


def _library_used(diagnostics: list[Diagnostic]) -> list[str]:
    files = {each.span.file for each in diagnostics}
    files |= {related.span.file for each in diagnostics for related in each.related}
    return [name for name in fold_names() if f"library:{name}" in files]


def _in_order(diagnostics: list[Diagnostic], main: str) -> list[Diagnostic]:
    """By place, the recipe's own file first, each once."""
    unique = list(dict.fromkeys(diagnostics))
    return sorted(unique, key=lambda each: (each.span.file != main, each.span.file, each.span.start))
