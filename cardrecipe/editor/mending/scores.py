"""Repairs of scores and slits: in the middle, from one edge, right across, or not at all."""

from collections.abc import Iterator

from cardrecipe.editor.mending.case import Case, Repair
from cardrecipe.editor.mending.folding import score_line
from cardrecipe.editor.mending.sizes import with_words
from cardrecipe.model.lengths import round_near, typed
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span


def score_off_sheet(case: Case) -> Iterator[Repair]:
    """In the middle of the piece; or as far as its edge; or not at all."""
    yield from _in_the_middle(case)
    yield from _to_the_edge(case)
    yield from score_twice(case)


def _to_the_edge(case: Case) -> Iterator[Repair]:
    """A line that runs too far ends where its piece does; one that does not mend it is not offered."""
    line, head, solution = case.line, case.head, case.solution
    node = line.node if line else None
    if line is None or head is None or solution is None or not isinstance(head.node, tree.PieceHeader):
        return
    if not isinstance(node, tree.LineAcross) or node.between is None:
        return
    side = "height" if node.edges[0] in ("left", "right") else "width"
    whole = solution.values.get((head.node.name.text, side))
    if whole is not None:
        for end in node.between:
            new = with_words(case, line, end.span, typed(whole))
            yield Repair(f"Write `{new}`", (case.replaced(end.span, typed(whole)),))


def _in_the_middle(case: Case) -> Iterator[Repair]:
    line, head, solution = case.line, case.head, case.solution
    node = line.node if line else None
    if line is None or head is None or solution is None or not isinstance(node, tree.LineAcross):
        return
    if len(node.at) > 1 or node.times is not None or not isinstance(head.node, tree.PieceHeader):
        return
    side = "width" if node.edges[0] in ("left", "right") else "height"
    whole = solution.values.get((head.node.name.text, side))
    if whole is not None and len(node.edges) == 1:
        middle = typed(round_near(whole / 2, solution.grid))
        new = with_words(case, line, node.at[0].span, middle)
        yield Repair(f"Score it in the middle: `{new}`", (case.replaced(node.at[0].span, middle),))


def score_twice(case: Case) -> Iterator[Repair]:
    """From one edge instead of both; or one of several distances goes; or the line."""
    line = case.line
    node = line.node if line else None
    if line is None:
        return
    if isinstance(node, tree.LineAcross):
        if len(node.edges) == 2:
            text = case.text_of(line)
            for pair in (("both sides", "left"), ("top and bottom", "top")):
                if pair[0] in text:
                    new = text.replace(*pair)
                    yield Repair(f"Write `{new}`", (case.replaced(line.span, new),), True)
        for at in range(len(node.at)) if len(node.at) > 1 else ():
            yield _without_distance(case, line, node, at)
    yield case.without(line)


def _without_distance(case: Case, line: tree.Statement, node: tree.LineAcross, at: int) -> Repair:
    kept = ", ".join(case.source.words_at(each.span) for number, each in enumerate(node.at) if number != at)
    whole = Span(case.span.file, node.at[0].span.start, node.at[-1].span.end)
    edit = case.replaced(whole, kept)
    return Repair(f"Write `{with_words(case, line, whole, kept)}`", (edit,))


def window_off_sheet(case: Case) -> Iterator[Repair]:
    """Not at all: where it was meant to be nobody knows."""
    if case.line is not None:
        yield case.without(case.line)


def score_dangles(case: Case) -> Iterator[Repair]:
    """It runs from edge to edge."""
    line = case.line
    node = line.node if line else None
    if line is None:
        return
    if isinstance(node, tree.LineAcross) and node.between is not None and node.times is None:
        whole = node.replace(between=None)
        new = score_line(case, whole, list(range(len(node.at))), node.direction)
        yield Repair(f"Write `{new}`", (case.replaced(line.span, new),), True)
    yield case.without(line)


def section_loose(case: Case) -> Iterator[Repair]:
    """A score where the slit is."""
    line = case.line
    if line is not None and case.text_of(line).startswith("cut "):
        word = Span(case.span.file, line.span.start, line.span.start + 3)
        yield Repair("Score it instead of slitting it", (case.replaced(word, "score"),))
        yield case.without(line)
