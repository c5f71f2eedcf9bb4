"""A solution and the sized card that came of it → the sums of every piece, for its sheet."""

from collections.abc import Iterator, Mapping

from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.sums import PieceSums, SumLine
from cardrecipe.solve.explain import explain_each
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span


def with_sums(sheet: Sheet, solution: Solution, other: Solution, sources: Mapping[str, Source]) -> Sheet:
    """The sheet with the sums of its pieces, and its twin with those of the `other` solution.

    Lines are those of the recipe itself, the first of the `sources`.
    """
    recipe = next(iter(sources.values()))
    twin = sheet.other
    if twin is not None:
        twin = twin._replace(sums=tuple(_sums(twin, other, recipe)))
    return sheet._replace(sums=tuple(_sums(sheet, solution, recipe)), other=twin)


def _sums(sheet: Sheet, solution: Solution, recipe: Source) -> Iterator[PieceSums]:
    owners, pieces = _owners(solution), sheet.folded.card.pieces
    sizes = {(piece.name, quantity): (owners.get(piece.name, piece.name), quantity)
             for piece in pieces for quantity in ("width", "height")}  # fmt: skip
    told = explain_each(solution, (var for var in sizes.values() if var in solution.values))

    def line(span: Span) -> int:
        return recipe.line_of(span) if span.file == recipe.name else 0

    def lines(piece: str, quantity: str) -> tuple[SumLine, ...]:
        reasons = told.get(sizes[piece, quantity], ())
        return tuple(SumLine(each.depth, each.text, each.because, line(each.span)) for each in reasons)

    for piece in pieces:
        yield PieceSums(piece.name, line(piece.span), lines(piece.name, "width"), lines(piece.name, "height"))


def _owners(solution: Solution) -> dict[str, str]:
    """Who owns the sizes of a piece, by the names that a sized card may give it: `mat`, `mat-on-door`."""
    owners: dict[str, str] = {}
    for part in solution.parts.ordered:
        owners.setdefault(part.piece.name, part.owner)
        if part.host is not None:
            owners.setdefault(f"{part.piece.name}-on-{part.host.name}", part.owner)
    return owners
