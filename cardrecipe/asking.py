"""The small commands: `explain`, `new`, `structures`."""

import os
import sys
from fractions import Fraction

from cardrecipe.cli import DONE, MISTAKES, WRONG, compiled
from cardrecipe.files import write_whole
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names, fold_source, fold_statement
from cardrecipe.model.lengths import convert, with_unit
from cardrecipe.model.values import Var
from cardrecipe.report import as_text
from cardrecipe.solve.explain import explain
from cardrecipe.syntax import tree
from cardrecipe.syntax.nearest import nearest


def explain_size(path: str, size: str, variant: str | None) -> int:
    """Print the sum behind a size."""
    result = compiled(path, variant)
    solution = result.solution
    if solution is None or not solution.names.unknowns:
        print(as_text(result.diagnostics, result.sources), end="", file=sys.stderr)
        return MISTAKES
    var = solution.names.unknowns.get(size)
    if var is None:
        meant = nearest(size, solution.names.unknowns)
        hint = f"did you mean {meant}?" if meant else f"known: {', '.join(solution.names.unknowns)}"
        print(f"cardrecipe: {path} has no size {size}; {hint}", file=sys.stderr)
        return WRONG
    if var not in solution.values and result.folded is not None:
        print(_closed_size(size, var, result.folded))
        return DONE
    if var not in solution.values:
        print(as_text(result.diagnostics, result.sources), end="", file=sys.stderr)
        return MISTAKES
    sources = dict(result.sources)
    for reason in explain(solution, var):
        source = sources.get(reason.span.file) or fold_source(reason.span.file.removeprefix("library:"))
        place = f"{reason.span.file}:{source.line_of(reason.span)}"
        print(f"{'  ' * reason.depth}{reason.text}   ({reason.because}, {place})")
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
        meant = nearest(structure, fold_names())
        hint = f"did you mean {meant}?" if meant else f"there are {', '.join(fold_names())}"
        print(f"cardrecipe: no fold is called {structure}; {hint}", file=sys.stderr)
        return WRONG
    text = _starter(structure)
    if output is None:
        print(text, end="")
        return DONE
    if os.path.exists(output):
        print(f"cardrecipe: {output} is there already; nothing was written", file=sys.stderr)
        return WRONG
    write_whole(output, text.encode())
    print(output)
    return DONE


# Folds of three and more parts must still be cut from a Letter sheet.
_STARTER_WIDTHS = {"accordion": "2 1/2", "z-fold": "3 1/2", "rolled-tri-fold": "3 1/2"}


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


def _starter(structure: str) -> str:
    sections = [word.text for line in fold_statement(structure).block
                if isinstance(line.node, tree.Sections) for word in line.node.names]  # fmt: skip
    last = "back" if "back" in sections or not sections else sections[-1]
    host = last if sections else "section-1"
    width = _STARTER_WIDTHS.get(structure, "4 1/4")
    return f'''recipe "A {structure.replace("-", " ")} card"
  units inch nearest 1/16
  border 1/8
  about """
  What the card is for, and for whom.
  """

paper base is cardstock "Base colour" 8 1/2 x 11, 270 gsm, color "#3b5a6b"
paper light is cardstock "Light" 8 1/2 x 11, 216 gsm, color "#f6f1e4"

base card from base
  fold {structure}, width {width}, height 5 1/2

panel message from light on {host}
  tip "Write the message before you glue."
'''
