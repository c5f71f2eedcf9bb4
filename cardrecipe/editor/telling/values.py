"""The lines of a recipe → what was worked out for them, to be shown beside them: the value of each `?`, the
size of a piece that does not write it, the length of a band, what a `let` comes to."""

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.compile import Compiled
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import (
    Rectangle,
    amount_of,
    end_of,
    rectangles,
    size_of,
    size_typed,
    sum_scoped,
    typed,
)
from cardrecipe.editor.telling.question_marks import asked_in, asked_value, set_size
from cardrecipe.model.values import Var
from cardrecipe.solve.explain import explain_each
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span


class Value(NamedTuple):
    """A worked out value, shown at `offset`; the tooltip is the sum behind it, a line each."""

    offset: int
    text: str
    tooltip: str = ""


class _Found(NamedTuple):
    offset: int
    text: str
    because: tuple[Var, ...] = ()


def values(snapshot: Snapshot, span: Span | None = None) -> tuple[Value, ...]:
    """The values within `span` (all of them without), in order. Inside a variant they are the variant's."""
    within = span or Span(snapshot.source.name, 0, len(snapshot.source.text))
    near = [each for each in snapshot.tree.statements
            if each.span.start <= within.end and end_of(each) >= within.start]  # fmt: skip
    plain = tuple(each for each in near if not isinstance(each.node, tree.Variant))
    found = _told(snapshot.compiled, plain, within)
    for statement in near:
        if isinstance(statement.node, tree.Variant):
            compiled = snapshot.variants.get(statement.node.title.text)
            found += _told(compiled, statement.block, within)
    return tuple(sorted(found))


def _told(compiled: Compiled | None, statements: tuple[tree.Statement, ...], within: Span) -> list[Value]:
    solution = compiled.solution if compiled is not None else None
    if solution is None:
        return []
    found = [each for statement in statements for each in _in_statement(statement, solution)
             if within.start <= each.offset <= within.end]  # fmt: skip
    wanted = {var for each in found for var in each.because if var in solution.values}
    reasons = explain_each(solution, wanted) if wanted else {}
    return [Value(each.offset, each.text, "\n".join(dict.fromkeys(
                reasons[var][0].text for var in each.because if reasons.get(var))))
            for each in found]  # fmt: skip


def _in_statement(statement: tree.Statement, solution: Solution) -> Iterator[_Found]:
    node = statement.node
    if isinstance(node, tree.Let):
        yield from _let(statement, node, solution)
    elif isinstance(node, tree.PieceHeader):
        yield from _piece(statement, node, solution)
    elif isinstance(node, tree.Set):
        yield from _set(node, solution)


def _let(statement: tree.Statement, node: tree.Let, solution: Solution) -> Iterator[_Found]:
    if isinstance(node.value, tree.Number | tree.Unknown):
        return
    amount = amount_of(solution, sum_scoped(solution, node.value, statement.span))
    if amount is not None:
        yield _Found(statement.span.end, f"= {amount}")


# ---- pieces --------------------------------------------------------------------------------------


def _piece(statement: tree.Statement, header: tree.PieceHeader, solution: Solution) -> Iterator[_Found]:
    name = header.name.text
    for line in statement.block:
        for asked in asked_in(line, name, solution):
            value = asked_value(solution, asked)
            if value is not None:
                yield _Found(asked.span.end, typed(value, solution.unit), (asked.var,))
        if _is_sum(line):
            size = _own_size(name, header.kind, solution, line.word)
            if size is not None:
                yield _Found(line.span.end, f"= {size}")
    if not _says_size(statement, header.kind):
        size = _own_size(name, header.kind, solution, "length")
        if size is not None:
            yield _Found(statement.span.end, size, _vars(name, header.kind))


def _vars(name: str, kind: str) -> tuple[Var, ...]:
    return ((name, "width"),) if kind == "band" else ((name, "width"), (name, "height"))


def _says_size(statement: tree.Statement, kind: str) -> bool:
    """Some line of the piece is about its size, so that what is worked out stands there."""
    if kind == "band":
        return any(
            isinstance(line.node, tree.Measure) and line.node.word == "length" for line in statement.block
        )
    return any(isinstance(line.node, tree.SizeLine | tree.Flat)
               or (isinstance(line.node, tree.Measure) and line.node.word == "diameter")
               for line in statement.block)  # fmt: skip


def _is_sum(line: tree.Statement) -> bool:
    """A size that is written, and not as plain numbers: what it comes to is worth seeing."""
    node = line.node
    sides: tuple[tree.Expression, ...] = ()
    if isinstance(node, tree.SizeLine | tree.Flat):
        sides = (node.size.width, node.size.height)
    elif isinstance(node, tree.Measure) and node.word in ("diameter", "width", "length"):
        sides = (node.value,)
    return not any(isinstance(each, tree.Unknown) for each in sides) and any(
        not isinstance(each, tree.Number) for each in sides
    )


def _own_size(name: str, kind: str, solution: Solution, word: str) -> str | None:
    """The size of a piece as one text: of a band its length or its width, of others both sides."""
    known = rectangles(solution, name)
    if kind == "band":
        sides = [each.height if word == "width" else each.width for each in known]
        long = "" if word == "width" else " long"
        texts = [typed(side, solution.unit) + long for side in sides if side is not None]
    elif word == "diameter":
        texts = [typed(each.width, solution.unit) for each in known if each.width is not None]
    else:
        texts = [_sides(each, solution.unit, len(known) > 1) for each in known
                 if each.width is not None and each.height is not None]  # fmt: skip
    return ", ".join(dict.fromkeys(texts)) or None


def _sides(size: Rectangle, unit: str, with_place: bool) -> str:
    width, height = size.width or Fraction(0), size.height or Fraction(0)
    where = f" on {' and '.join(size.where)}" if with_place and all(size.where) else ""
    return size_typed(width, height, unit) + where


# ---- variants ------------------------------------------------------------------------------------


def _set(node: tree.Set, solution: Solution) -> Iterator[_Found]:
    """`set plate.width ?`: the width; `set message.border 3/16`: the size that comes of it."""
    *owner, quantity = node.target.parts
    name = ".".join(owner)
    piece = next((each for each in solution.card.pieces if each.name == name), None)
    if piece is None:
        return
    var = set_size(solution, node.target)
    value = size_of(solution, var) if var is not None else None
    if isinstance(node.value, tree.Unknown) and var is not None and value is not None:
        yield _Found(node.value.span.end, typed(value, solution.unit), (var,))
    elif quantity == "border":
        size = _own_size(name, piece.kind, solution, "length")
        if size is not None:
            yield _Found(node.value.span.end, size, _vars(name, piece.kind))
