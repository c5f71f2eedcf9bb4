"""Pages of diffs for these tests: the real comparison of two texts, each page made once."""

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from cardrecipe.compare.changes import Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.side_by_side import render_side_by_side
from tests.compare.versions import good
from tests.recipes import METRIC
from tests.variant_recipes import FERRY, NO_VARIANT, SHELF, TEXTS

MARKET = TEXTS["night-market"]
LOOSE = METRIC + "rectangle tag from ink\n  size 30 x 30\n  count 4\n"
METRIC_GATE = METRIC + "base card from ink\n  fold gate, width 100, height 140\npanel note from ink on back\n"


class Case(NamedTuple):
    old: str
    old_variant: str | None
    new: str
    new_variant: str | None


CASES = {
    "stepped up": Case(MARKET, None, MARKET, "Harvest"),
    "pieces gone": Case(MARKET, None, MARKET, "Plain"),
    "pieces come": Case(MARKET, "Plain", MARKET, "Harvest"),
    "smaller": Case(FERRY, None, FERRY, "Small"),
    "a band": Case(FERRY, None, FERRY, "With a band"),
    "renamed": Case(NO_VARIANT, None, NO_VARIANT.replace("sun", "moon"), None),
    "other card": Case(FERRY, None, METRIC_GATE, None),
    "loose pieces": Case(
        LOOSE, None, LOOSE.replace("30 x 30", "40 x 20").replace("count 4", "count 5"), None
    ),
    "words alone": Case(FERRY, None, FERRY.replace("Until soon", "Until then"), None),
    "same": Case(FERRY, "Quiet", FERRY, "Quiet"),
}


@cache
def compared(name: str) -> tuple[Sheet, Sheet, Comparison]:
    case = CASES[name]
    old, new = good(case.old, case.old_variant, SHELF), good(case.new, case.new_variant, SHELF)
    return old.sheet, new.sheet, compare(old, new)


@cache
def page(name: str) -> str:
    return render_side_by_side(*compared(name))


@cache
def page_file(name: str) -> Path:
    path = Path(_folder().name) / f"{name}.html"
    path.write_text(page(name), "utf-8")
    return path


@cache
def _folder() -> TemporaryDirectory[str]:
    return TemporaryDirectory(prefix="side-by-side-")  # it goes with the run
