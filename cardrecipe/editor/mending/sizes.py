"""Repairs of sizes: the line that settles one, the statement to leave open, the nearest mark of the ruler."""

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.editor.mending.case import Case, Repair, expressions_in, lines_of
from cardrecipe.model.lengths import GRID, is_on, round_down, round_near, round_up, typed
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span

Size = tuple[Fraction, Fraction]


class Usual(NamedTuple):
    """Sizes to begin with where nothing is known, as they would be typed."""

    border: str
    strip: str
    size: Size
    flat: str
    flat_width: str


USUAL = {
    "inch": Usual("1/8", "1 1/2", (Fraction(3), Fraction(9, 4)), "10 x 7", "10"),
    "mm": Usual("3", "38", (Fraction(75), Fraction(55)), "250 x 180", "250"),
}


def conflict(case: Case) -> Iterator[Repair]:
    """One of the statements gives way: a size of it is left open, or its line goes."""
    places = [case.span, *(each.span for each in case.diagnostic.related if each.span.file == case.span.file)]
    lines = [trail[-1] for place in places if (trail := case.trail_to(place))]
    for line in dict.fromkeys(lines):
        for size in _sizes_of(line):
            for axis in (size.width, size.height):
                if not isinstance(axis, tree.Unknown):
                    new = with_words(case, line, axis.span, "?")
                    yield Repair(f"Write `{new}`", (case.replaced(axis.span, "?"),))
        if not line.block and isinstance(line.node, tree.SizeLine | tree.Border | tree.Measure | tree.Place):
            yield case.without(line)


def _sizes_of(line: tree.Statement) -> list[tree.SizeOf]:
    return [line.node.size] if isinstance(line.node, tree.SizeLine | tree.Flat) else []


def with_words(case: Case, line: tree.Statement, span: Span, text: str) -> str:
    whole = case.text_of(line)
    return whole[: span.start - line.span.start] + text + whole[span.end - line.span.start :]


# ---- nothing settles it --------------------------------------------------------------------------


def unsolved(case: Case) -> Iterator[Repair]:
    """The line that would settle the size, with a size that looks well on what the piece lies on."""
    head, line = case.head, case.line
    if head is None or line is None:
        return
    yield from _filled(case, line)
    for each in lines_of(head, tree.SizeLine, tree.Flat, tree.Measure):
        yield from _filled(case, each)
    if isinstance(head.node, tree.PieceHeader):
        for text in _settling(case, head.node):
            yield Repair(f"Write `{text}`", (case.put_first_under(head, text),))
        for fold in lines_of(head, tree.Fold):
            for text in _fold_sizes(case, fold):
                yield Repair(f"Write `{case.text_of(fold)}{text}`", (case.put(fold.span.end, text),))


def _filled(case: Case, line: tree.Statement) -> Iterator[Repair]:
    """Each `?` of a line with a size, alone and together."""
    open_ones = [each for each in expressions_in(line.node) if isinstance(each, tree.Unknown)]
    wide, high = _fitting(case)
    at_width = _sizes_of(line)[0].width if _sizes_of(line) else None
    edits = [case.replaced(each.span, typed(wide if each is at_width else high)) for each in open_ones]
    for edit in edits:
        yield Repair(f"Write `{with_words(case, line, edit.span, edit.text)}`", (edit,))
    if len(edits) > 1:
        yield Repair(f"Write {typed(wide)} x {typed(high)}", tuple(edits))


def _settling(case: Case, node: tree.PieceHeader) -> list[str]:
    usual = USUAL[case.unit]
    wide, high = _fitting(case)
    size = f"size {typed(wide)} x {typed(high)}"
    if node.kind == "circle":
        return [f"diameter {typed(min(wide, high))}"]
    if node.kind == "square":
        return [f"size {typed(min(wide, high))} x {typed(min(wide, high))}"]
    if node.kind == "band":
        return [f"width {usual.strip}", f"length {usual.flat_width}"]
    if node.kind == "base":
        return [f"flat {usual.flat}"]
    return [f"border {usual.border}", size] if node.kind == "panel" and node.hosts else [size]


def _fitting(case: Case) -> Size:
    """Half of what the piece lies on, on a mark of the ruler; a usual size where that is not known."""
    usual = USUAL[case.unit].size
    solution, head = case.solution, case.head
    if solution is None or head is None or not isinstance(head.node, tree.PieceHeader):
        return usual
    for part in solution.parts.ordered:
        if part.piece.name == head.node.name.text and part.host_owner is not None:
            sizes = [solution.values.get((part.host_owner, side)) for side in ("width", "height")]
            known = [each for each in sizes if each is not None and each > 0]
            if len(known) == 2:
                half = [max(round_near(each / 2, solution.grid), solution.grid) for each in known]
                return half[0], half[1]
    return usual


def _fold_sizes(case: Case, fold: tree.Statement) -> Iterator[str]:
    """The asked sizes of a fold that are not given, one by one and all of them."""
    given = {each.name.text for each in fold.node.arguments} if isinstance(fold.node, tree.Fold) else set()
    usual = {"width": ("4 1/4", "110"), "height": ("5 1/2", "150")}
    sizes = [f", {name} {pair[case.unit == 'mm']}" for name, pair in usual.items() if name not in given]
    yield from sizes
    if len(sizes) > 1:
        yield "".join(sizes)


# ---- too small, too large ------------------------------------------------------------------------


def not_positive(case: Case) -> Iterator[Repair]:
    """The difference the other way round, or the size left open, or the usual marks of a ruler."""
    line = case.line
    if line is None:
        return
    if isinstance(line.node, tree.Units):
        mark = typed(GRID[case.unit])
        new = f"units {line.node.unit.text} nearest {mark}"
        yield Repair(f"Write `{new}`", (case.replaced(line.span, new),), True)
    for each in expressions_in(line.node):
        if isinstance(each, tree.Sum) and each.operator == "-":
            left, right = (case.source.words_at(side.span) for side in (each.left, each.right))
            whole = Span(case.span.file, each.left.span.start, each.right.span.end)
            yield Repair(f"Write `{right} - {left}`", (case.replaced(whole, f"{right} - {left}"),), True)
    for size in _sizes_of(line):
        for axis in (size.width, size.height):
            new = with_words(case, line, axis.span, "?")
            yield Repair(f"Write `{new}`", (case.replaced(axis.span, "?"),))
    if isinstance(line.node, tree.Corners):
        yield case.without(line)


def corners_too_round(case: Case) -> Iterator[Repair]:
    """As round as there is room for; or square."""
    line, head, solution = case.line, case.head, case.solution
    if line is None or not isinstance(line.node, tree.Corners):
        return
    if head is not None and solution is not None and isinstance(head.node, tree.PieceHeader):
        sides = [solution.values.get((head.node.name.text, side)) for side in ("width", "height")]
        most = min((round_down(each / 2, solution.grid) for each in sides if each is not None), default=0)
        if most > 0:
            new = with_words(case, line, line.node.radius.span, typed(Fraction(most)))
            yield Repair(f"Write `{new}`", (case.replaced(line.node.radius.span, typed(Fraction(most))),))
    yield case.without(line)


def middle_too_long(case: Case) -> Iterator[Repair]:
    """All of it is worked on."""
    line = case.line
    if line is not None and isinstance(line.node, tree.WorkLine) and line.node.middle is not None:
        new = case.text_of(line).partition(" on middle")[0]
        yield Repair(f"Write `{new}`", (case.replaced(line.span, new),))
    if line is not None:
        yield case.without(line)


def border_leaves_nothing(case: Case) -> Iterator[Repair]:
    """A border that leaves half of what the panel lies on; or no border of its own."""
    head = case.head
    if head is None:
        return
    quarter = min(_fitting(case)) / 2
    border = typed(max(round_down(quarter, GRID[case.unit]), GRID[case.unit]))
    usual = USUAL[case.unit].border
    borders = lines_of(head, tree.Border)
    for line in borders:
        for value in dict.fromkeys([border, str(usual)]):
            yield Repair(f"Write `border {value}`", (case.replaced(line.span, f"border {value}"),))
        yield case.without(line)
    if not borders:
        yield Repair(f"Write `border {border}`", (case.put_first_under(head, f"border {border}"),))


def overhang(case: Case) -> Iterator[Repair]:
    """It is meant so; or it is as large as what it lies on."""
    head = case.head
    if head is None:
        return
    yield Repair("Say `overhangs`", (case.put_under(head, "overhangs"),), True)
    wide, high = (2 * each for each in _fitting(case))
    for line in lines_of(head, tree.SizeLine):
        new = f"size {typed(wide)} x {typed(high)}"
        yield Repair(f"Make it as large as what it lies on: `{new}`", (case.replaced(line.span, new),))


# ---- the marks of the ruler ----------------------------------------------------------------------


def off_grid(case: Case) -> Iterator[Repair]:
    """The marks on both sides of the size, the nearer one first."""
    head, line, solution = case.head, case.line, case.solution
    if head is None or line is None or solution is None:
        return
    grid = solution.grid
    for written in [line, *lines_of(head, tree.Border)]:
        for number in _numbers(written):
            if not is_on(number.value, grid):
                yield from _marks(case, written, number, number.value, grid)
    if not isinstance(head.node, tree.PieceHeader):
        return
    name = head.node.name.text
    for inner in lines_of(head, tree.SizeLine, tree.Flat, tree.Measure):
        for axis, quantity in _measured(inner):
            value = solution.values.get((name, quantity))
            if value is not None and not isinstance(axis, tree.Unknown) and not is_on(value, grid):
                yield from _marks(case, inner, axis, value, grid)
    yield from _written_out(case, head, name)


def _numbers(line: tree.Statement) -> list[tree.Number]:
    """The distances of a score, or the lengths of a border, that are written as numbers."""
    node = line.node
    found = node.at if isinstance(node, tree.LineAcross) else ()
    found = tuple(each.value for each in node.entries) if isinstance(node, tree.Border) else found
    return [each for each in found if isinstance(each, tree.Number) and each.unit is None]


def _measured(line: tree.Statement) -> list[tuple[tree.Expression, str]]:
    """The expressions of a line with the size of the piece that each settles."""
    if isinstance(line.node, tree.SizeLine | tree.Flat):
        return [(line.node.size.width, "width"), (line.node.size.height, "height")]
    assert isinstance(line.node, tree.Measure)
    quantity = {"width": "height", "length": "width", "diameter": "width"}.get(line.node.word)
    return [(line.node.value, quantity)] if quantity else []


def _marks(
    case: Case, line: tree.Statement, of: tree.Expression, value: Fraction, grid: Fraction
) -> Iterator[Repair]:
    down, up = round_down(value, grid), round_up(value, grid)
    for mark in sorted((down, up), key=lambda each: (abs(each - value), each)):
        if mark > 0:
            new = with_words(case, line, of.span, typed(mark))
            yield Repair(f"Write `{new}`", (case.replaced(of.span, typed(mark)),))


def _written_out(case: Case, head: tree.Statement, name: str) -> Iterator[Repair]:
    """A size that follows from others, written out on the mark below."""
    solution = case.solution
    sizes = [solution.values.get((name, side)) for side in ("width", "height")] if solution else []
    if solution is None or None in sizes or lines_of(head, tree.SizeLine, tree.Flat):
        return
    wide, high = (typed(round_down(each or Fraction(0), solution.grid)) for each in sizes)
    word = "flat" if isinstance(head.node, tree.PieceHeader) and head.node.kind == "base" else "size"
    line = f"{word} {wide} x {high}"
    yield Repair(f"Write `{line}`", (case.put_first_under(head, line),))


def border_not_equal(case: Case) -> Iterator[Repair]:
    """The size that shows one border on all edges: the one of the recipe, or the one that results."""
    head, solution = case.head, case.solution
    if head is None or solution is None or not isinstance(head.node, tree.PieceHeader):
        return
    for line in lines_of(head, tree.SizeLine):
        for text in _even(solution, head.node.name.text, line):
            yield Repair(f"Write `{text}`", (case.replaced(line.span, text),))


def _even(solution: Solution, name: str, line: tree.Statement) -> Iterator[str]:
    (size,) = _sizes_of(line)
    part = next((each for each in solution.parts.ordered if each.piece.name == name), None)
    if part is None or part.host_owner is None:
        return
    host = [solution.values.get((part.host_owner, side)) for side in ("width", "height")]
    own = [solution.values.get((part.owner, side)) for side in ("width", "height")]
    for at, axis in ((1, size.height), (0, size.width)):
        here, whole, there = own[at], host[at], host[1 - at]
        if isinstance(axis, tree.Unknown) or here is None or whole is None or there is None:
            continue
        other = there - (whole - here)
        if other > 0:
            sizes = (typed(here), typed(other)) if at == 0 else (typed(other), typed(here))
            yield f"size {sizes[0]} x {sizes[1]}"
    yield "size ? x ?"
