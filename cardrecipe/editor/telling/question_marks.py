"""A line with a `?` in it → the unknown that it stands for, and what that came out as."""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.editor.solved import size_of
from cardrecipe.model.card import Piece, Scope
from cardrecipe.model.values import Var, asked_var
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span


class Asked(NamedTuple):
    """A `?` in a line of a piece and the unknown that it stands for; `is_far`: measured from the far edge,
    so that the size is the whole `of` less the unknown."""

    span: Span
    var: Var
    of: Var | None = None


def asked_in(statement: tree.Statement, name: str, solution: Solution) -> Iterator[Asked]:
    """Every `?` in a line of the piece called `name`."""
    node = statement.node
    for expression, var in _places(node, name, solution):
        if isinstance(expression, tree.Unknown) and var is not None:
            yield Asked(expression.span, var)
    if isinstance(node, tree.LineAcross):
        yield from _scores(node, name, solution)


_Place = tuple[tree.Expression | None, Var | None]


def _places(node: tree.Node, name: str, solution: Solution) -> Iterable[_Place]:
    """The expressions of a line, each with the unknown that it is about."""
    if isinstance(node, tree.Flat | tree.SizeLine):
        return [(node.size.width, (name, "width")), (node.size.height, (name, "height"))]
    if isinstance(node, tree.Measure):
        # A band lies across the card: its length is its width there.
        quantity = {"width": "height", "length": "width", "diameter": "width"}.get(node.word, node.word)
        return [(node.value, (name, quantity))]
    if isinstance(node, tree.Border):
        return [(each.value, (name, f"{edge} border")) for each in node.entries
                for edge in (each.edges or ("left",))[:1]]  # fmt: skip
    if isinstance(node, tree.Place):
        return [(each.value, (name, f"{each.edge} border")) for each in node.entries]
    if isinstance(node, tree.At):
        return [(node.where.value, (name, f"{node.where.edge} border"))]
    if isinstance(node, tree.Repeat):
        return [(node.gap, (name, "gap"))]
    if isinstance(node, tree.Fold):
        return [(each.value, asked_size(solution, name, node, each.name.text)) for each in node.arguments]
    return []


def asked_size(solution: Solution, piece: str, fold: tree.Fold, asked: str) -> Var | None:
    """The unknown behind a size that the structure of a fold line asks for."""
    owner = next((each for each in solution.card.pieces if each.name == piece), None)
    scope = _scope(owner, fold, asked) if owner is not None else None
    return asked_var(scope, asked) if scope is not None and asked not in scope.scalars else None


def _scope(piece: Piece, fold: tree.Fold, asked: str) -> Scope | None:
    """The scope of a fold line: the one with its arguments, else the first that asks for the size."""
    fitting = [each for each in piece.scopes if asked in each.asked]
    for scope in fitting:
        spans = {given.expression.span for given in scope.asked.values() if given is not None}
        if any(argument.value.span in spans for argument in fold.arguments):
            return scope
    return fitting[0] if fitting else None


def _scores(node: tree.LineAcross, name: str, solution: Solution) -> Iterator[Asked]:
    spans = {each.span for each in node.at if isinstance(each, tree.Unknown)}
    for (piece, axis), lines in solution.draft.lines.items():
        if piece != name:
            continue
        for line, var in lines:
            span = line.at.expression.span
            if span in spans and line.times == 1:
                spans.discard(span)
                far = (
                    (name, "width" if axis == "x" else "height") if line.edge in ("right", "bottom") else None
                )
                yield Asked(span, var, far)


def set_size(solution: Solution, target: tree.Reference) -> Var | None:
    """The unknown that a `set` line is about: of a piece with a fold what the fold asks for comes first."""
    *owner, quantity = target.parts
    piece = next((each for each in solution.card.pieces if each.name == ".".join(owner)), None)
    for scope in piece.scopes if piece is not None else ():
        if quantity in scope.asked:
            return asked_var(scope, quantity)
    return solution.names.unknowns.get(target.text)


def asked_value(solution: Solution, asked: Asked) -> Fraction | None:
    """What a `?` came out as."""
    value = size_of(solution, asked.var)
    if value is None or asked.of is None:
        return value
    whole = solution.values.get(asked.of)
    return whole - value if whole is not None else None
