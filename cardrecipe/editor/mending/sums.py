"""Repairs of sums that mean nothing: units too many, `?` in a sum, numbers where lengths belong."""

import re
from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.editor.mending.case import Case, Repair, expression_around, expressions_in
from cardrecipe.model.lengths import typed
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span


def question_alone(case: Case) -> Iterator[Repair]:
    """`?` for the whole size."""
    whole = expression_around(case.line.node, case.span) if case.line else None
    if whole is not None:
        yield Repair("Write `?` for the whole size", (case.replaced(whole.span, "?"),), True)


def without_unit(case: Case) -> Iterator[Repair]:
    """A number without its unit: of a product or a quotient, the second one first."""
    for number in reversed(_numbers(case)):
        if number.unit is not None:
            bare = case.source.words_at(number.span).removesuffix(number.unit).rstrip()
            title = f"Write `{bare}` for `{case.source.words_at(number.span)}`"
            yield Repair(title, (case.replaced(number.span, bare),), True)


def times_a_length(case: Case) -> Iterator[Repair]:
    """A number of times becomes a length when it is multiplied by one."""
    unit = {"inch": "in", "mm": "mm"}[case.unit]
    yield Repair(f"Multiply it by 1 {unit}", (case.replaced(case.span, f"({case.words}) * 1 {unit}"),))


def turned_over(case: Case) -> Iterator[Repair]:
    """A quotient or a difference the other way round."""
    if case.line is None:
        return
    for each in expressions_in(case.line.node):
        if isinstance(each, tree.Sum | tree.Product) and each.operator in "-/":
            left, right = (case.source.words_at(side.span) for side in (each.left, each.right))
            new = f"{right} {each.operator} {left}"
            whole = Span(case.span.file, each.left.span.start, each.right.span.end)
            yield Repair(f"Write `{new}`", (case.replaced(whole, new),))


def _numbers(case: Case) -> list[tree.Number]:
    if case.line is None:
        return []
    found = [each for each in expressions_in(case.line.node) if isinstance(each, tree.Number)]
    inside = [each for each in found
              if case.span.start <= each.span.start and each.span.end <= case.span.end]  # fmt: skip
    return sorted(inside or found, key=lambda each: each.span.start)


def mixed_number(case: Case) -> Iterator[Repair]:
    """`2 9/8` as the number that it comes to; whether that was meant is the maker's to say."""
    found = re.fullmatch(r"([0-9]{1,20})\s+([0-9]{1,20}/0*[1-9][0-9]{0,20})", case.words)
    if found:
        meant = typed(int(found[1]) + Fraction(found[2]))
        yield Repair(f"Write {meant}", (case.replaced(case.span, meant),))
