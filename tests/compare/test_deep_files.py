"""Blocks that lie in each other as deeply as a file may hold them, and sums as long as a line may be."""

from math import isqrt

import pytest

from cardrecipe.compare.statements import Statements, lines_of
from cardrecipe.compare.variant_lines import variant_lines
from cardrecipe.syntax import tree
from cardrecipe.syntax.build import MAX_OPERATORS
from cardrecipe.syntax.lines import MAX_FILE
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.statements import in_order

HEAD = 'recipe "Evening walk"\nvariant "Harvest"\n'


def deepest() -> tuple[Source, tree.Tree]:
    """Give the deepest file that the parser takes, found by trying deeper ones."""
    fits, too_deep = 100, isqrt(2 * MAX_FILE)  # each line is a space longer than the one before
    while too_deep - fits > 1:
        middle = (fits + too_deep) // 2
        fits, too_deep = (middle, too_deep) if depth_of(parsed(middle)[1]) > middle else (fits, middle)
    return parsed(fits)


def parsed(depth: int) -> tuple[Source, tree.Tree]:
    lines = [f"{' ' * at}set p{at}.width {at}\n" for at in range(1, depth + 1)]
    source = Source("deep.recipe", HEAD + "".join(lines))
    return source, parse(source)[0]


def depth_of(found: tree.Tree) -> int:
    return 1 + max(depth for depth, _ in in_order(found.statements))


def test_the_lines_of_the_deepest_file_are_all_found_in_order() -> None:
    source, found = deepest()
    depth = depth_of(found) - 1
    assert depth > 500
    lines = lines_of(found.statements)
    assert [line.statement for line in lines] == [each for _, each in in_order(found.statements)]
    assert len({line.owner for line in lines}) == 2
    of_variant = variant_lines(found, source)
    assert len(of_variant) == depth + 1
    assert of_variant[1] == "variant Harvest: set p1.width 1"
    assert of_variant[2] == "variant Harvest: set p1.width 1, set p2.width 2"
    assert of_variant[-1].endswith(f"set p{depth}.width {depth}")


@pytest.mark.parametrize("join", ["+", "*", "-"])
def test_the_names_of_the_longest_sum_are_all_found(join: str) -> None:
    names = [f"n{at}" for at in range(MAX_OPERATORS + 1)]
    text = f'recipe "Evening walk"\nlet n0 = 1\nlet all = {join.join(f" {name} " for name in names)}\n'
    statements = parse(Source("long.recipe", text))[0].statements
    line = lines_of(statements)[-1]
    assert line.owner == "let all"
    named = Statements.__new__(Statements)
    named.lines = lines_of(statements)
    assert [each.owner for each in named.named_in(line)] == ["let n0"]
