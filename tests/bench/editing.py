"""An edit in the language server, from the client's change to the mistakes of form, beside a whole parse.

`python -m tests.bench.editing` prints the edits that take longest too.
"""

import time  # that of the processor: what else the machine does adds little to it
from collections.abc import Callable
from pathlib import Path
from random import Random
from statistics import median
from typing import NamedTuple

from cardrecipe.editor.desk.document import Document, opened
from cardrecipe.editor.desk.positions import ClientText
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source

HUNDRED = Path(__file__).parent / "hundred-lines.recipe"
EDITS = 200
_TYPED = ("x", "1", " ", '"', "#", "\n", "\n  ", "½")


class Editing(NamedTuple):
    """Seconds of the processor for a text of so many lines."""

    lines: int
    parse: float  # the least of several
    edit: float  # the median of `EDITS` letters, each typed somewhere by chance: the diagnostics are there
    worst: float  # of those
    with_tree: float  # the median until the tree is there too, which the solver needs
    text_block: float  # the diagnostics when a text block over the whole file is closed: all lines come back


def editing(lines: int, edits: int = EDITS) -> Editing:
    """Measure with the hundred-line recipe, so often one after the other, and so many edits of it."""
    text = HUNDRED.read_text("utf-8") * (lines // 100)
    parses = 8 if lines > 1_000 else max(1, edits // 10)
    whole = min(_seconds(lambda: parse(Source("a.recipe", text))) for _ in range(parses))
    client, document, chance = ClientText(text), opened("a.recipe", text), Random(lines)
    _known(document)
    _known(document.edited(0, 0, "papr\n"))  # what to say of mistakes is loaded for the first one
    _known(document.edited(0, 0, "panel 5\n"))
    forms, trees = [], []
    for _ in range(edits if lines <= 1_000 else max(1, edits // 5)):
        place, letters = client.position(chance.randint(0, len(text))), chance.choice(_TYPED)
        before = ClientText(text)  # which knows nothing of its lines yet
        start = time.process_time()
        after = document.edited(*before.edited(place, place, letters)[1])
        _ = after.diagnostics
        forms.append(time.process_time() - start)
        _ = after.tree
        trees.append(time.process_time() - start)
    swallowed = document.edited(0, 0, '"""')
    _ = swallowed.diagnostics
    closed = min(_seconds(lambda: swallowed.edited(3, 3, '"""').diagnostics) for _ in range(8))
    return Editing(lines, whole, median(forms), max(forms), median(trees), closed)


def seconds_to_edit(runs: int) -> float:
    """In a recipe of a thousand lines: the median of ten edits a run."""
    return editing(1_000, 10 * runs).edit


def seconds_of_an_edit(lines: int, runs: int) -> float:
    """The median of twenty edits a run."""
    return editing(lines, 20 * runs).edit


def rows_of_editing() -> list[str]:
    """The ratios to a whole parse, as a table's rows."""
    heads = f"{'ms':>7} {'ratio':>6} {'worst':>6} {'with tree':>9} {'block':>6}"
    found = [f"{'edit of a recipe of so many lines':<40} {heads}"]
    for each in map(editing, (100, 1_000, 10_000)):
        measured = (each.edit, each.worst, each.with_tree, each.text_block)
        ratios = [seconds / each.parse for seconds in measured]
        found.append(
            f"{each.lines:>7,} lines, whole parse {each.parse * 1000:>6.1f} ms    {each.edit * 1000:>7.2f}"
            f" {ratios[0]:>6.3f} {ratios[1]:>6.3f} {ratios[2]:>9.3f} {ratios[3]:>6.3f}"
        )
    return found


def _known(document: Document) -> None:
    _ = document.diagnostics, document.tree


def _seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    print("\n".join(rows_of_editing()))
