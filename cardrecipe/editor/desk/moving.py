"""What stands at one place of a text → the same further on: nodes and diagnostics with their spans moved."""

from collections.abc import Iterable
from typing import Any, TypeVar

from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span

_R = TypeVar("_R", bound=Record)


def moved_node(node: _R, by: int) -> _R:
    """`node` with every span in it moved; a node without spans is given back itself."""
    content = {name: _moved(value, by) for name, value in node.__dict__.items()}
    copy = object.__new__(type(node))
    copy.__dict__.update(content)
    return copy


def moved_span(span: Span, by: int) -> Span:
    return Span(span.file, span.start + by, span.end + by)


def moved_diagnostic(diagnostic: Diagnostic, by: int) -> Diagnostic:
    """A diagnostic whose places all lie in the same text."""
    related = tuple(Related(moved_span(each.span, by), each.message) for each in diagnostic.related)
    return diagnostic._replace(span=moved_span(diagnostic.span, by), related=related)


def _moved(value: Any, by: int) -> Any:
    kind = type(value)
    if kind is Span:
        return Span(value.file, value.start + by, value.end + by)
    if kind is tuple:
        return tuple(_moved(each, by) for each in value)
    if isinstance(value, Record):
        return moved_node(value, by)
    return value


def carried_along(
    diagnostics: Iterable[Diagnostic], file: str, start: int, end: int, new: str
) -> tuple[Diagnostic, ...]:
    """Diagnostics after the characters `start` to `end` have become `new`; those that touch them are gone."""
    kept = []
    for each in diagnostics:
        span = _carried(each.span, file, start, end, len(new))
        if span is not None:
            related = [(_carried(one.span, file, start, end, len(new)), one.message) for one in each.related]
            kept.append(each._replace(span=span, related=tuple(
                Related(place, message) for place, message in related if place is not None)))  # fmt: skip
    return tuple(kept)


def _carried(span: Span, file: str, start: int, end: int, length: int) -> Span | None:
    if span.file != file or span.end < start:
        return span
    if span.start > end:
        return moved_span(span, length - (end - start))
    return None
