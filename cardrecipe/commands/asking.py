"""The small commands: `explain`, `new`, `structures`."""

import os
import sys
from collections.abc import Iterator
from fractions import Fraction
from itertools import chain

from cardrecipe.cli import DONE, MISTAKES, WRONG, compiled
from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names, fold_source, fold_statement, folds_meant
from cardrecipe.model.lengths import convert, with_unit
from cardrecipe.model.texts import NoTexts
from cardrecipe.model.values import Var
from cardrecipe.report import as_text, say, show
from cardrecipe.solve.explain import explain
from cardrecipe.syntax import tree
from cardrecipe.syntax.nearest import either, nearest
from cardrecipe.syntax.source import Source
from cardrecipe.writing import write_whole


def explain_size(path: str, size: str, variant: str | None) -> int:
    """Print the sum behind a size."""
    result = compiled(path, variant)
    if result.is_class:
        say(f"{path} is a class; explain a size of a recipe that it makes")
        return WRONG
    if result.is_shelf:
        say(f"{path} is a shelf of papers without a card; explain a size of a recipe that uses it")
        return WRONG
    solution = result.solution
    if solution is None or not solution.names.unknowns:
        print(as_text(result.diagnostics, result.sources), end="", file=sys.stderr)
        return MISTAKES
    var = solution.names.unknowns.get(size)
    if var is None:
        meant = nearest(size, solution.names.unknowns)
        hint = f"did you mean {meant}?" if meant else f"known: {', '.join(solution.names.unknowns)}"
        say(f"{path} has no size {size}; {hint}")
        return WRONG
    if var not in solution.values and result.folded is not None:
        show(_closed_size(size, var, result.folded))
        return DONE
    if var not in solution.values:
        print(as_text(result.diagnostics, result.sources), end="", file=sys.stderr)
        return MISTAKES
    sources = dict(result.sources)
    for reason in explain(solution, var):
        source = sources.get(reason.span.file) or fold_source(reason.span.file.removeprefix("library:"))
        place = f"{reason.span.file}:{source.line_of(reason.span)}"
        show(f"{'  ' * reason.depth}{reason.text}   ({reason.because}, {place})")
    return DONE


def _closed_size(size: str, var: Var, folded: FoldedCard) -> str:
    """The sum of a size of the closed card that nothing in the recipe asks for."""
    unit = folded.card.unit
    closed = next(each for each in folded.closed if each.base == var[0])
    thick = folded.thickness.likely_mm if folded.thickness is not None else Fraction(0)
    value = {"finished-width": closed.width, "finished-height": closed.height,
             "thickness": convert(thick, "mm", unit)}[var[1]]  # fmt: skip
    return f"{size} = {with_unit(value, unit)}   ({var[0]} folded shut)"


def list_structures() -> int:
    """Print each shipped fold with what it asks for and what it is."""
    width = max(map(len, fold_names()))
    for name in fold_names():
        comment = fold_source(name).line_text(1).removeprefix("#").strip()
        print(f"{name:<{width}}  {comment}\n{'':<{width}}  asks: {', '.join(_asks(name))}")
    return DONE


def new_recipe(structure: str, output: str | None) -> int:
    """Print, or write to a file that is not there yet, a recipe that builds as it stands."""
    if structure not in fold_names():
        meant = either(folds_meant(structure, fold_names()))
        hint = f"did you mean {meant}?" if meant else f"there are {', '.join(fold_names())}"
        say(f"no fold is called {structure}; {hint}")
        return WRONG
    text = starter(structure)
    if output is None:
        print(text, end="")
        return DONE
    if os.path.lexists(output):
        say(f"{output} is there already; nothing was written")
        return WRONG
    write_whole(output, text.encode())
    show(output)
    return DONE


# Sizes to begin with, best first: one is taken that asks nothing more of the maker.
_STARTER_SIZES = (
    ("4 1/4", "5 1/2"), ("4", "5"), ("3 1/2", "5 1/2"), ("4 1/2", "5 1/2"), ("2 1/2", "5 1/2"), ("3", "4"),
    ("2", "3"),
)  # fmt: skip
_STARTER_TIP = '  tip "Write the message before you glue."\n'
_ROOMY = "us-a7"  # an oblong envelope, for a card that would else want a square one


def _asks(name: str) -> list[str]:
    source = fold_source(name)
    asked = [each for line in fold_statement(name).block if isinstance(line.node, tree.Ask)
             for each in line.node.parameters]  # fmt: skip
    return [
        each.name.text
        if each.default is None
        else f"{each.name.text} (else {source.words_at(each.default.span)})"
        for each in asked
    ]


def starter(structure: str) -> str:
    """The first recipe for a fold, of the common sizes, that is checked without a word."""
    sliding = (text.replace(_STARTER_TIP, "  loose\n") for text in _starters(structure))  # in a sleeve
    quiet = (text for text in chain(_starters(structure), sliding) if not _compiled_text(text).diagnostics)
    return next(quiet, None) or next(_starters(structure))


def _starters(structure: str) -> Iterator[str]:
    """The sizes to try, one after the other; the first will do for most folds."""
    for envelope in (None, _ROOMY):
        for width, height in _STARTER_SIZES:
            yield _recipe_for(structure, width, height, envelope)


def _compiled_text(text: str) -> Compiled:
    return compile_recipe(Source("new.recipe", text), NoTexts())


def _recipe_for(structure: str, width: str, height: str, envelope: str | None) -> str:
    asked = [each.split()[0] for each in _asks(structure)]
    given = [f"{name} {size}" for name, size in (("width", width), ("height", height)) if name in asked]
    card = f"base card from base\n  fold {', '.join([structure, *given])}\n"
    return f'''recipe "A {structure.replace("-", " ")} card"
  units inch nearest 1/16
  border 1/8
{f"  envelope {envelope}{chr(10)}" if envelope else ""}  about """
  What the card is for, and for whom.
  """

paper base is cardstock "Base colour" 8 1/2 x 11, 270 gsm, color "#3b5a6b"
paper light is cardstock "Light" 8 1/2 x 11, 216 gsm, color "#f6f1e4"

{card}
panel message from light on {_panel_place(card)}
{_STARTER_TIP}'''


def _panel_place(card: str) -> str:
    """Where a first panel goes: on the section that stays on the table, else on the largest rectangle.

    Where no section is a rectangle, the panel has a size and a place of its own.
    """
    folded = _compiled_text(f'recipe "A card"\npaper base is cardstock "Base"\n\n{card}').folded
    if folded is None:
        return "section-1"
    still = folded.closed[0].root
    plain = [each for each in folded.card.bases[0].sections if len(each.outline) == 4]
    if not plain:
        return f"{still}\n  size 1 1/2 x 1 1/2\n  place 1/4 from right, 1/4 from bottom"
    return max(plain, key=lambda each: (each.name == still, each.width * each.height)).name
