"""Text → tree, for recipes of many lines."""

from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.bench.clock import processor_seconds
from tests.bench.cold import HUNDRED


def seconds_to_parse(lines: int, runs: int) -> float:
    """The hundred lines, so often one after the other."""
    text = HUNDRED.read_text("utf-8") * (lines // 100)
    return processor_seconds(lambda: parse(Source("a.recipe", text)), runs)
