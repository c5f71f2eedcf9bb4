"""What is measured once, and what it is measured against."""

from collections.abc import Callable
from functools import partial
from typing import NamedTuple

from tests.bench import cold
from tests.bench.editing import seconds_to_edit
from tests.bench.kits import seconds_to_cut
from tests.bench.large_card import seconds_to_fold
from tests.bench.parsing import seconds_to_parse
from tests.bench.rebuild import seconds_to_rebuild

Measure = Callable[[int], float]  # the least seconds of so many runs

# A floor is work that no change of ours makes faster or slower: a ratio to it says the same on any machine.
FLOORS: dict[str, Measure] = {
    "import lark": partial(cold.import_of, "lark"),
    "import lark (wall)": cold.import_of_lark_on_the_wall,
    "import shapely": partial(cold.import_of, "shapely"),
    "import highspy": partial(cold.import_of, "highspy"),
    "parse of 1,000 lines": partial(seconds_to_parse, 1_000),
}


class Row(NamedTuple):
    """`most` is the ratio to the floor that must not be passed; None where none is set."""

    name: str
    floor: str
    most: float | None
    measure: Measure


ROWS = (
    Row("check of a 100-line recipe, cold", "import lark", 1.6, cold.check),
    Row("build of a sample, Letter and A4, HTML, Markdown, SVG, cold", "import lark (wall)", 6.0, cold.build),
    Row("rebuild of the same sample in watch, warm", "import lark (wall)", 1.0, seconds_to_rebuild),
    Row("git-diff of the same sample, a measure changed, cold", "import lark", None, cold.git_diff),
    Row("parse of 1,000 lines", "import lark", None, partial(seconds_to_parse, 1_000)),
    Row("edit of 1,000 lines in the language server", "parse of 1,000 lines", 0.3, seconds_to_edit),
    Row("fold of 20 sections and 60 pieces", "import shapely", 10.0, seconds_to_fold),
    Row("cutting of the class kits", "import highspy", None, seconds_to_cut),
)
