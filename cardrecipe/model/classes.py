"""A class file's tree → what it asks for: which recipes how often, and what is there already."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Scope, Scoped
from cardrecipe.model.counts import MAX_COPIES, MAX_SHEETS, MAX_SPARE
from cardrecipe.model.head import unit_of
from cardrecipe.model.lengths import GRID
from cardrecipe.model.materials import whole
from cardrecipe.model.texts import name_beside
from cardrecipe.model.used_names import problem_of_name
from cardrecipe.model.values import Names, Reader, Unreadable
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.spans import Span

_BESIDE = (tree.Use, tree.PaperLine, tree.SupplyLine, tree.Let, tree.Broken)


class Make(NamedTuple):
    """One `make` line: `count` cards of the recipe in `file`, None where it may not be read; `spare` None:
    as many as the class says."""

    file: str | None
    path: tree.Text
    variant: tree.Text | None
    count: int  # type: ignore[assignment]  # a tuple has a method of that name
    spare: int | None


class Have(NamedTuple):
    """One `have` line: a paper's name, or its title in quotes; `count` None where no sheets are counted."""

    name: tree.Word | tree.Text
    count: int | None  # type: ignore[assignment]  # a tuple has a method of that name
    size: tree.SizeOf | None
    span: Span


class Class(NamedTuple):
    """A class as written; `unit` and `nearest` are None where it leaves them to its first recipe."""

    title: str
    about: str
    unit: str | None
    nearest: tree.Expression | None
    spare: int
    makes: tuple[Make, ...]
    haves: tuple[Have, ...]
    span: Span


def class_of(file: tree.Tree, diagnostics: list[Diagnostic]) -> Class:
    """The class that a file holds; mistakes go to `diagnostics`."""
    heads = [each for each in file.statements if isinstance(each.node, tree.ClassHead)]
    head = heads[0]
    assert isinstance(head.node, tree.ClassHead)
    diagnostics += _strangers(file, head, heads)
    said = _said_once(head, diagnostics)
    lines = [(each, each.node) for each in head.block]
    makes = tuple(_make(node, file.file, diagnostics) for _, node in lines if isinstance(node, tree.Make))
    haves = _haves([(each, node) for each, node in lines if isinstance(node, tree.Have)], diagnostics)
    if not any(isinstance(node, tree.Make | tree.Broken) for _, node in lines):
        diagnostics.append(error("class-empty", head.span, "this class makes nothing",
                                 'say what is made: make 12 of "card.recipe"'))  # fmt: skip
    units, about, spare = said.get("units"), said.get("about"), said.get("spare")
    return Class(
        title=head.node.title.text,
        about=about.text.text if isinstance(about, tree.About) else "",
        unit=unit_of(units.unit, diagnostics) if isinstance(units, tree.Units) else None,
        nearest=units.nearest if isinstance(units, tree.Units) else None,
        spare=whole(spare.number, diagnostics, MAX_SPARE, 0) if isinstance(spare, tree.Amount) else 0,
        makes=makes,
        haves=haves,
        span=head.span,
    )


def is_recipe_line(statement: tree.Statement) -> bool:
    """Tell whether a line at the left edge belongs into a recipe and not beside a class."""
    return not isinstance(statement.node, (tree.ClassHead, *_BESIDE))


def nearest_in(expression: tree.Expression | None, unit: str, diagnostics: list[Diagnostic]) -> Fraction:
    """The grid of the maker's ruler: as the class says it, else that of its unit."""
    found = length_in(expression, unit, diagnostics) if expression is not None else None
    return found or GRID[unit]


def size_in(size: tree.SizeOf, unit: str, diagnostics: list[Diagnostic]) -> tuple[Fraction, Fraction] | None:
    """The size of a sheet in a class of that unit; None where it cannot be read."""
    width, height = (length_in(each, unit, diagnostics) for each in (size.width, size.height))
    return (width, height) if width is not None and height is not None else None


def length_in(expression: tree.Expression, unit: str, diagnostics: list[Diagnostic]) -> Fraction | None:
    """A length that is worked out from numbers alone; None where it cannot be read."""
    try:
        reader = Reader(unit, unit, Names({}))
        value = reader.constant_length(Scoped(expression, Scope({}), expression.span))
    except Unreadable as problem:
        diagnostics.append(problem.diagnostic)
        return None
    if value > 0:
        return value
    diagnostics.append(error("size-not-positive", expression.span, "this must be more than nothing",
                             "write a length such as 8 1/2"))  # fmt: skip
    return None


# ---- details -------------------------------------------------------------------------------------


def _strangers(file: tree.Tree, head: tree.Statement, heads: list[tree.Statement]) -> Iterator[Diagnostic]:
    """Whatever belongs into a recipe, and a second class."""
    for other in heads[1:]:
        yield error("said-twice", other.span, "a file holds one class",
                    "put the second one in a file of its own",
                    (Related(head.span, "the first one"),))  # fmt: skip
    # Said once: all else that there is goes with the recipe that it is a part of.
    for each in [each for each in file.statements if is_recipe_line(each)][:1]:
        yield error("class-alone", each.span, f"a file with a class has no `{each.word}`",
                    "put the recipe in a file of its own and `make` it here",
                    (Related(head.span, "the class"),))  # fmt: skip
    for each in file.statements:
        if isinstance(each.node, tree.Let):
            yield error("class-alone", each.span, "a file with a class has no `let`",
                        "take it out, and write the numbers themselves: recipes do not see it",
                        (Related(head.span, "the class"),))  # fmt: skip


def _said_once(head: tree.Statement, diagnostics: list[Diagnostic]) -> dict[str, tree.Node]:
    found: dict[str, tree.Statement] = {}
    for line in head.block:
        if line.word in found and not isinstance(line.node, tree.Make | tree.Have | tree.Broken):
            diagnostics.append(_twice(line.span, f"`{line.word}`", found[line.word].span))
        found.setdefault(line.word, line)
    return {word: line.node for word, line in found.items()}


def _make(line: tree.Make, file: str, diagnostics: list[Diagnostic]) -> Make:
    name = name_beside(file, line.path.text)
    problem = problem_of_name(line.path, "class")
    diagnostics += [problem] if problem is not None else []
    spare = whole(line.spare, diagnostics, MAX_SPARE, 0) if line.spare is not None else None
    return Make(name, line.path, line.variant, whole(line.number, diagnostics, MAX_COPIES), spare)


def _haves(lines: list[tuple[tree.Statement, tree.Have]], diagnostics: list[Diagnostic]) -> tuple[Have, ...]:
    found = []
    first: dict[object, Span] = {}
    for statement, line in lines:
        count = whole(line.number, diagnostics, MAX_SHEETS) if line.number is not None else None
        size = _typed(line.size.width, line.size.height) if line.size is not None else ()
        key = (type(line.name), line.name.text, size)
        if key in first:
            diagnostics.append(_twice(statement.span, f"what there is of `{line.name.text}`", first[key]))
            continue
        first[key] = statement.span
        found.append(Have(line.name, count, line.size, statement.span))
    return tuple(found)


def _typed(*values: tree.Expression) -> tuple[object, ...]:
    """Numbers by their value, sums by their place: two sizes that are typed alike are the same."""
    return tuple((each.value, each.unit) if isinstance(each, tree.Number) else each.span for each in values)


def _twice(span: Span, what: str, first: Span) -> Diagnostic:
    return error("said-twice", span, f"{what} is said twice", "keep one of the two",
                 (Related(first, "here it is said first"),))  # fmt: skip
