"""A class of ten recipes on two papers, with as many seats for each as are wanted."""

import tempfile
from pathlib import Path

from tests.bench.clock import processor_seconds
from tests.recipes import run

SEATS = (1, 10, 100)
_RECIPES = 10
_RECIPE = """recipe "Card {number}"
  units inch nearest 1/16
paper ink is cardstock "Ink" 12 x 12, 200 gsm
paper leaf is patterned "Leaf" 12 x 12, 150 gsm
base card from ink
  flat 5 x 7
panel note from leaf on card
  border 1/4
rectangle label from ink on note
  size {wide}/16 x 1
"""


def seconds_to_build_class(seats: int, runs: int) -> float:
    """The command, from the files to the pack in Markdown."""
    with tempfile.TemporaryDirectory() as folder:
        path = _class_in(Path(folder), seats)
        return processor_seconds(lambda: _built(path), runs)


def _class_in(folder: Path, seats: int) -> Path:
    lines = ['class "Many seats"']
    for number in range(1, _RECIPES + 1):
        (folder / f"card-{number}.recipe").write_text(
            _RECIPE.format(number=number, wide=16 + 3 * number), "utf-8"
        )
        lines.append(f'  make {seats} of "card-{number}.recipe"')
    path = folder / "many.recipe"
    path.write_text("\n".join(lines) + "\n", "utf-8")
    return path


def _built(path: Path) -> None:
    found = run("build", str(path), "-o", str(path.parent / "sheets"), "--to", "md")
    assert found.status == 0, found.err
