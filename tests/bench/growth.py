"""What is measured for once, ten times and a hundred times the work, and how its time grows with it."""

from collections.abc import Callable, Sequence
from functools import partial
from math import log10
from typing import NamedTuple

from tests.bench.class_of_many import SEATS, seconds_to_build_class
from tests.bench.editing import seconds_of_an_edit
from tests.bench.kits import COPIES, seconds_to_cut_copies
from tests.bench.many_pieces import DRAWN, PIECES, seconds_to_build, seconds_to_check, seconds_to_fold
from tests.bench.parsing import seconds_to_parse

RUNS = (10, 5, 1)  # of the three sizes: what takes long is disturbed little


class Growing(NamedTuple):
    """`measure` gives the least seconds for a size, of so many runs."""

    name: str
    sizes: Sequence[int]
    measure: Callable[[int, int], float]


class Grown(NamedTuple):
    """The seconds for each size that was measured."""

    seconds: Sequence[float]

    @property
    def factors(self) -> list[float]:
        """How many times as long each size takes as the one before; in proportion it is ten."""
        return [after / before for before, after in zip(self.seconds, self.seconds[1:], strict=False)]

    @property
    def exponent(self) -> float:
        """Of the work in the time, over the last tenfold: 1 is in proportion, 2 the square."""
        return log10(self.factors[-1])


GROWINGS = (
    Growing("parse, lines", (100, 1_000, 10_000), seconds_to_parse),
    Growing("edit in the language server, lines", (100, 1_000, 10_000), seconds_of_an_edit),
    Growing("check of five lines a piece, pieces", PIECES, seconds_to_check),
    Growing("fold with views and glue zones, pieces", PIECES, seconds_to_fold),
    Growing("build of JSON, pieces", PIECES, partial(seconds_to_build, "json")),
    Growing("build of HTML, pieces, each with its picture", DRAWN, partial(seconds_to_build, "html")),
    Growing("cutting of a class kit, copies", COPIES, seconds_to_cut_copies),
    Growing("build of a class of ten recipes, seats", SEATS, seconds_to_build_class),
)


def grown(growing: Growing, decades: int = 2) -> Grown:
    """Measure it over so many tenfolds."""
    asked = zip(growing.sizes, RUNS, strict=True)
    return Grown([growing.measure(size, runs) for size, runs in list(asked)[: decades + 1]])
