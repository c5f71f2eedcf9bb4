"""A card of 20 sections and 60 pieces, and how long the whole of fold takes for it."""

from cardrecipe.fold.card import fold, glued
from tests.bench.clock import processor_seconds
from tests.recipes import compile_text

HEAD = """recipe "A long wall"
  units inch nearest 1/16
paper ink is cardstock "Ink" 90 x 90, 200 gsm
base card from ink
  fold accordion, width 3, height 5, panels 20
"""


def large_card() -> str:
    """Give a recipe with three pieces on each section, one of them outside."""
    lines = []
    for section in range(1, 21):
        for number, side in enumerate(("inside", "inside", "outside")):
            lines += [
                f"rectangle piece-{section}-{number} from ink on section-{section} {side}",
                "  size 1 x 1",
                f"  place {number + 1}/4 from left, {number}/2 from top",
            ]
    return HEAD + "\n".join(lines) + "\n"


def seconds_to_fold(runs: int) -> float:
    """The least time for folding, views, thickness and glue zones; a third of the runs is enough."""
    folded = compile_text(large_card()).folded
    assert folded is not None and len(folded.card.pieces) == 61
    return processor_seconds(lambda: glued(fold(folded.card)[0]), max(1, runs // 3))
