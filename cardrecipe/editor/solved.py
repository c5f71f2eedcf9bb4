"""A compiled recipe → the sizes of what is named in it, as they come out in one unit system or in both."""

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.compile import Compiled, solve_and_fold
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.card import Scoped
from cardrecipe.model.lengths import (
    ABBREVIATION,
    FRACTION_SLASH,
    MINUS,
    NARROW_SPACE,
    size_written,
    with_unit,
    written,
)
from cardrecipe.model.remembered import once_for_each
from cardrecipe.model.values import NotYet, Poisoned, Reader, Unreadable, Var
from cardrecipe.solve.explain import Reason, explain
from cardrecipe.solve.other_unit import OTHER, nudges_for
from cardrecipe.solve.rounding import rounded_sizes
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span


class Rectangle(NamedTuple):
    """The size of a piece on the hosts called `where`; the sides that are not known are None."""

    where: tuple[str, ...]
    width: Fraction | None
    height: Fraction | None


def compiled_at(snapshot: Snapshot, offset: int) -> Compiled | None:
    """The card that the line at `offset` speaks of: the plain one, or in a variant's block the variant's."""
    title = variant_at(snapshot.tree, offset)
    return snapshot.variants.get(title) if title is not None else snapshot.compiled


def variant_at(recipe: tree.Tree, offset: int) -> str | None:
    """The title of the variant in whose block `offset` lies."""
    for each in recipe.statements:
        if (
            isinstance(each.node, tree.Variant)
            and each.block
            and each.block[0].span.start <= offset <= end_of(each)
        ):
            return each.node.title.text
    return None


def end_of(statement: tree.Statement) -> int:
    """Where the last line of a statement's block ends."""
    while statement.block:
        statement = statement.block[-1]
    return statement.span.end


# ---- writing -------------------------------------------------------------------------------------


def typed(value: Fraction, unit: str) -> str:
    """A length as it would be typed, with its unit: `2 1/4 in`, `52.5 mm`."""
    return f"{_plain(written(value, unit))} {ABBREVIATION[unit]}"


def size_typed(width: Fraction, height: Fraction, unit: str) -> str:
    return f"{_plain(written(width, unit))} x {typed(height, unit)}"


def _plain(text: str) -> str:
    return text.replace(NARROW_SPACE, " ").replace(FRACTION_SLASH, "/").replace(MINUS, "-")


# ---- both unit systems ---------------------------------------------------------------------------


def in_other_unit(compiled: Compiled) -> Solution | None:
    """The same card solved in the other unit system; None where an error stands in the way."""
    own = compiled.solution
    if own is None or compiled.folded is None:
        return None
    return _twin(own)


@once_for_each
def _twin(own: Solution) -> Solution:
    """Solving a card in the other system takes as long as solving it."""
    unit = OTHER[own.unit]
    return solve_and_fold(own.card, unit, nudges_for(own.card, own, unit)).solution


def folded_anyway(compiled: Compiled | None) -> FoldedCard | None:
    """The folded card; where a line that cannot be read stands in the way, that of the other lines."""
    if compiled is None or compiled.folded is not None or compiled.solution is None:
        return compiled.folded if compiled is not None else None
    return _folded(compiled.solution)


@once_for_each
def _folded(solution: Solution) -> FoldedCard | None:
    return solve_and_fold(solution.card).folded


def in_both(compiled: Compiled, var: Var) -> str | None:
    """A size in the recipe's unit and in the other's own version: `2 1⁄4 in · 57 mm`."""
    solution = compiled.solution
    value = size_of(solution, var) if solution is not None else None
    if solution is None or value is None:
        return None
    twin = in_other_unit(compiled)
    other = size_of(twin, var) if twin is not None else None
    said = with_unit(value, solution.unit)
    return said if twin is None or other is None else f"{said} · {with_unit(other, twin.unit)}"


def rectangles_in_both(compiled: Compiled, piece: str) -> list[tuple[tuple[str, ...], str]]:
    """The size of a piece of a card with a solution on each of its hosts, in both systems: hosts that are
    alike stand together."""
    solution = compiled.solution
    assert solution is not None
    twin = in_other_unit(compiled)
    others = (
        {host: each for each in rectangles(twin, piece) for host in each.where} if twin is not None else {}
    )
    found = []
    for each in rectangles(solution, piece):
        if each.width is None or each.height is None:
            continue
        said = size_written(each.width, each.height, solution.unit)
        other = others.get(each.where[0])
        if twin is not None and other is not None and other.width is not None and other.height is not None:
            said += f" · {size_written(other.width, other.height, twin.unit)}"
        found.append((each.where, said))
    return found


# ---- sizes ---------------------------------------------------------------------------------------


@once_for_each
def _as_cut(solution: Solution) -> Mapping[Var, Fraction]:
    """Every size as it is cut."""
    return rounded_sizes(solution)


def size_of(solution: Solution, var: Var) -> Fraction | None:
    """An unknown as it is cut, where that is rounded; None where it is open."""
    if var[1] in ("width", "height") and var in solution.values:
        return _as_cut(solution).get(var, solution.values[var])
    return solution.values.get(var)


def rectangles(solution: Solution, piece: str) -> list[Rectangle]:
    """The sizes of a piece: one where all its hosts give it the same. A band's length comes first."""
    sizes = _as_cut(solution)
    found: dict[tuple[Fraction | None, Fraction | None], list[str]] = {}
    for part in solution.parts.of_piece(piece):
        size = sizes.get((part.owner, "width")), sizes.get((part.owner, "height"))
        found.setdefault(size, []).append(part.host.name if part.host is not None else "")
    return [Rectangle(tuple(dict.fromkeys(hosts)), *size) for size, hosts in found.items()]


def why(solution: Solution, var: Var) -> list[Reason]:
    """The sum behind a size; nothing where it is open."""
    return explain(solution, var) if var in solution.values else []


def value_of(solution: Solution, name: str) -> str | None:
    """What a `let` comes to, as typed; a bare number without a unit."""
    let = solution.card.scope.lets.get(name)
    return amount_of(solution, let) if let is not None else None


def amount_of(solution: Solution, scoped: Scoped) -> str | None:
    """What a sum comes to, as typed; None where it is open or means nothing."""
    reader = Reader(solution.card.head.unit, solution.unit, solution.names)
    reader.known = solution.values
    try:
        return _plain(written(reader.number(scoped), solution.unit))
    except (NotYet, Poisoned):
        return None
    except Unreadable:
        pass  # a length, not a bare number
    try:
        value = reader.length(scoped)
    except (Unreadable, NotYet, Poisoned):
        return None
    if any(var not in solution.values for var in value.terms):
        return None
    total = sum((factor * solution.values[var] for var, factor in value.terms.items()), value.constant)
    return typed(total, solution.unit)


def sum_scoped(solution: Solution, expression: tree.Expression, line: Span) -> Scoped:
    """An expression of the recipe's own lines, ready to be read."""
    return Scoped(expression, solution.card.scope, line)
