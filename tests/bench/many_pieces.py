"""A card with as many pieces as are wanted, up to as many as a card may have, and what stages take for it."""

import tempfile
from pathlib import Path

from cardrecipe.checking import checked
from cardrecipe.fold.card import fold, glued
from cardrecipe.model.build import MAX_PIECES
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.bench.clock import processor_seconds
from tests.recipes import NAME, Texts, compile_text, run

PIECES = (20, 200, MAX_PIECES)
DRAWN = (2, 20, 200)  # each piece has a step with a picture of all those before it: the square of so many
_ACROSS = 32
_HEAD = """recipe "A wall of tiles"
  units inch nearest 1/16
paper ink is cardstock "Ink" 90 x 90, 200 gsm
base card from ink
  fold accordion, width 30, height 50, panels 2
"""


def tiled_card(pieces: int) -> str:
    """A base and tiles in rows on its two sections: five lines a piece."""
    return _HEAD + "".join(map(_tile, range(pieces - 1)))


def seconds_to_check(pieces: int, runs: int) -> float:
    """All that `check` does, of the text as read from a file."""
    source = Source(NAME, tiled_card(pieces))
    return processor_seconds(lambda: checked(*parse(source), source, Texts()), runs)


def seconds_to_fold(pieces: int, runs: int) -> float:
    """Folding, views, thickness and glue zones."""
    folded = compile_text(tiled_card(pieces)).folded
    assert folded is not None and len(folded.card.pieces) == pieces
    return processor_seconds(lambda: glued(fold(folded.card)[0]), runs)


def seconds_to_build(form: str, pieces: int, runs: int) -> float:
    """The command, from the file to the bytes of that form."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / NAME
        path.write_text(tiled_card(pieces), "utf-8")
        return processor_seconds(lambda: _built(path, form), runs)


def _tile(number: int) -> str:
    section, (row, column) = number % 2 + 1, divmod(number // 2, _ACROSS)
    return (
        f"rectangle tile-{number + 1} from ink on section-{section} inside\n"
        f"  size 3/4 x 3/4\n"
        f"  place {15 * column}/16 from left, {15 * row}/16 from top\n"
        f"  glue with tape\n\n"
    )


def _built(path: Path, form: str) -> None:
    assert run("build", str(path), "-o", str(path.parent), "--to", form).status == 0
