"""Commands as whole processes, from the start of Python to the last byte: what a terminal waits for."""

import sys
import tempfile
from pathlib import Path

from tests.bench.clock import PROGRAM, process_seconds, wall_seconds
from tests.recipes import SAMPLES

HUNDRED = Path(__file__).parent / "hundred-lines.recipe"
SAMPLE = SAMPLES / "first-frost.recipe"
ID = "0" * 40  # what git gives as the names of the two sides' contents; nothing hangs on them


def import_of(module: str, runs: int) -> float:
    return process_seconds([sys.executable, "-c", f"import {module}"], runs)


def import_of_lark_on_the_wall(runs: int) -> float:
    return wall_seconds([sys.executable, "-c", "import lark"], runs)


def check(runs: int) -> float:
    return process_seconds([*PROGRAM, "check", str(HUNDRED)], runs)


def build(runs: int) -> float:
    """Three pages, Letter and A4, HTML, Markdown and SVG; on the wall, since several threads set the PDFs."""
    options = ("--page", "letter,a4", "--to", "html,pdf,md,svg")
    with tempfile.TemporaryDirectory() as folder:
        return wall_seconds([*PROGRAM, "build", str(SAMPLE), "-o", folder, *options], runs)


def git_diff(runs: int) -> float:
    """A measure of the sample is another one."""
    text = SAMPLE.read_text("utf-8")
    with tempfile.TemporaryDirectory() as folder:
        new = Path(folder) / "new.recipe"
        new.write_text(text.replace("size 2 1/2 x 1", "size 2 3/4 x 1"), "utf-8")
        sides = (str(SAMPLE), ID, "100644", str(new), ID, "100644")
        return process_seconds([*PROGRAM, "git-diff", str(SAMPLE), *sides], runs)
