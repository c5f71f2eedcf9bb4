"""What the lines of a recipe say of its sizes, worked out from the tree, without the solver's equations.

Names are looked up among the solved values; what a line says must be what they are, to the last bit.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import convert
from cardrecipe.syntax import tree

EDGES = ("left", "right", "top", "bottom")
Values = Mapping[str, Fraction]  # by dotted name: "plate.width"


class Wrong(NamedTuple):
    """A line whose size is not what it says."""

    line: str
    said: Fraction
    solved: Fraction


class Recipe(NamedTuple):
    """A tree with what its names mean."""

    unit: str
    lets: Mapping[str, tree.Expression]
    values: Values


def worked_out(expression: tree.Expression, recipe: Recipe) -> Fraction | None:
    """What an expression comes to, bare numbers in the recipe's unit; None where a name in it is open."""
    if isinstance(expression, tree.Number):
        unit = expression.unit
        return convert(expression.value, unit, recipe.unit) if unit is not None else expression.value
    if isinstance(expression, tree.Negative):
        inner = worked_out(expression.operand, recipe)
        return -inner if inner is not None else None
    if isinstance(expression, tree.Reference):
        let = recipe.lets.get(expression.text)
        return worked_out(let, recipe) if let is not None else recipe.values.get(expression.text)
    if isinstance(expression, tree.Call):
        each = [worked_out(argument, recipe) for argument in expression.arguments]
        known = [value for value in each if value is not None]
        return (min if expression.function == "min" else max)(known) if len(known) == len(each) else None
    if isinstance(expression, tree.Sum | tree.Product):
        return _combined(expression, recipe)
    return None


def _combined(expression: tree.Sum | tree.Product, recipe: Recipe) -> Fraction | None:
    left, right = worked_out(expression.left, recipe), worked_out(expression.right, recipe)
    if left is None or right is None:
        return None
    sums = {"+": lambda: left + right, "-": lambda: left - right,
            "*": lambda: left * right, "/": lambda: left / right}  # fmt: skip
    return sums[expression.operator]()


def wrong_sizes(statements: tuple[tree.Statement, ...], recipe: Recipe) -> Iterator[Wrong | None]:
    """Each size that a line of a piece says: None where it came out so, else what is wrong with it."""
    for statement in statements:
        if isinstance(statement.node, tree.PieceHeader):
            for line in statement.block:
                yield from _of_line(statement.node, line, recipe)


def _of_line(header: tree.PieceHeader, line: tree.Statement, recipe: Recipe) -> Iterator[Wrong | None]:
    name, node = header.name.text, line.node
    if isinstance(node, tree.Flat | tree.SizeLine):
        yield from _size(f"{name}.width", node.size.width, recipe)
        yield from _size(f"{name}.height", node.size.height, recipe)
    elif isinstance(node, tree.Measure) and node.word in ("diameter", "overlap"):
        sizes = {"diameter": (f"{name}.width", f"{name}.height"), "overlap": (f"{name}.overlap",)}
        for each in sizes[node.word]:
            yield from _size(each, node.value, recipe)
    elif isinstance(node, tree.Border) and len(header.hosts) == 1 and header.kind == "panel":
        for edge, said in _borders(line, node):
            yield from _size(f"{name}.{edge}-border", said, recipe)


def _borders(line: tree.Statement, node: tree.Border) -> Iterator[tuple[str, tree.Expression]]:
    said: dict[str, tree.Expression] = {}
    for entry in node.entries:
        said |= {edge: entry.value for edge in entry.edges or EDGES if entry.edges or edge not in said}
    yield from said.items()


def _size(name: str, said: tree.Expression, recipe: Recipe) -> Iterator[Wrong | None]:
    value, solved = worked_out(said, recipe), recipe.values.get(name)
    if value is not None and solved is not None:
        yield Wrong(name, value, solved) if value != solved else None
