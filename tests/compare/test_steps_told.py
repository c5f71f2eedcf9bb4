"""Which steps kept their order: as many as can be, and the same ones whichever side is the old one."""

import random

from cardrecipe.compare.compare import compare
from cardrecipe.compare.of_steps import in_steady_order
from tests.compare.test_seeded_edits import CARD
from tests.compare.versions import difference, good, in_no_order, mirrored, told


def test_it_does_not_matter_which_order_is_the_old_one() -> None:
    chance = random.Random(3)
    for length in range(1, 9):
        for _ in range(60):
            keys = [(chance.choice("abc"), str(number)) for number in range(length)]
            other = chance.sample(keys, length)
            steady = in_steady_order(keys, other)
            assert steady == in_steady_order(other, keys)
            assert [key for key in keys if key in steady] == [key for key in other if key in steady]
            assert len(steady) == longest(keys, other)


def longest(one: list[tuple[str, str]], other: list[tuple[str, str]]) -> int:
    """The length of the longest common order, by the textbook's table."""
    row = [0] * (len(other) + 1)
    for key in one:
        before, row = row, [0]
        for at, there in enumerate(other):
            row.append(before[at] + 1 if key == there else max(row[-1], before[at + 1]))
    return row[-1]


def test_a_step_that_moved_is_told_once_with_both_numbers() -> None:
    """Work on loose pieces is done in the order in which they are written."""
    pieces = [
        f'tag {name} from snow\n  size 1 x 2\n  loose\n  write "{name}"\n' for name in ("one", "two", "three")
    ]
    found = difference(CARD + "".join(pieces), CARD + "".join((*pieces[1:], pieces[0])))
    moved = [each for each in told(found, "steps") if " moved " in each]
    assert len(moved) == 1 and moved[0].startswith("steps moved Write on the one: step ")
    assert {each.kind for each in found.in_group("steps")} == {"moved", "renumbered", "reworded"}


def test_lines_that_slant_are_told_by_their_ends_both_ways() -> None:
    base = (
        CARD.split("base card")[0]
        + "base card from ink\n  flat 8 x 4\n  score from (4, 0) to (8, 4), valley\n"
    )
    new = base.replace("(8, 4)", "(6, 4)")
    said = told(difference(base, new), "scores")
    assert "scores folded card: scores: valley from 4, 0 to 8, 4 -> valley from 4, 0 to 6, 4" in said
    assert mirrored(compare(good(base), good(new))) == in_no_order(compare(good(new), good(base)))
