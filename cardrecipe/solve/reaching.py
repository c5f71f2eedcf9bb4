"""Pieces that reach beyond what they lie on, bands beside their card, copies that lie over each other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardrecipe.model.lengths import with_unit
from cardrecipe.model.values import Var
from cardrecipe.solve.parts import Part
from cardrecipe.solve.rounding import edges_of
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic, error, warning
from cardrecipe.syntax.spans import Span


def what_reaches_beyond(solution: Solution, sizes: Mapping[Var, Fraction]) -> Iterator[Diagnostic]:
    """Give what is wrong or doubtful about where pieces lie; `sizes` are those that are cut."""
    yield from _overhangs(solution, sizes)
    yield from _bands_beside(solution)
    yield from _overlapping_copies(solution)


def _overhangs(solution: Solution, sizes: Mapping[Var, Fraction]) -> Iterator[Diagnostic]:
    """A panel larger than what it lies on overhangs; that is fine once the recipe says `overhangs`."""
    for part in solution.parts.ordered:
        piece = part.piece
        if piece.kind == "band" or piece.overhangs or part.over is not None or part.host is None:
            continue
        if part.host_owner is not None and part.host_owner.endswith(" front"):
            continue  # a piece on a band reaches beyond it: that is what a band is for
        if _overlapping(part, solution) is not None:
            continue  # `_overlapping_copies` tells why
        edges = edges_of(part, sizes, solution)
        over = {edge: -amount for edge, amount in edges.items() if amount < 0}
        if over:
            amounts = ", ".join(f"{with_unit(v, solution.unit)} at the {edge}" for edge, v in over.items())
            yield warning("overhang", piece.span, f"`{piece.name}` reaches beyond {part.host.name}: "
                          f"{amounts}", "make it smaller, or say `overhangs` in it")  # fmt: skip


def _bands_beside(solution: Solution) -> Iterator[Diagnostic]:
    """A band goes round the card and not beside it; it is measured across the way that it goes."""
    for piece in solution.card.pieces:
        if piece.band_at is None:
            continue
        (at, edge), across = piece.band_at, ("left", "right") if piece.downward else ("top", "bottom")
        if edge in across:
            yield from _beside(piece.name, at.span, across, solution)
        else:
            way = "from top to bottom" if piece.downward else "from left to right"
            yield error("band-off-card", at.span, f"`{piece.name}` goes all the way {way}: it has no "
                        f"distance from the {edge}",
                        f"write `from {across[0]}` or `from {across[1]}`")  # fmt: skip


def _beside(band: str, span: Span, across: tuple[str, str], solution: Solution) -> Iterator[Diagnostic]:
    wide, near, far = (solution.values.get((band, each))
                       for each in ("height", *(f"{edge} border" for edge in across)))  # fmt: skip
    if wide is None or near is None or far is None or wide <= 0:
        return
    if min(near, far) <= -wide:
        card = with_unit(near + wide + far, solution.unit)
        yield error("band-off-card", span, f"`{band}` would lie beside the closed card, which is {card} "
                    f"{'high' if across[0] == 'top' else 'wide'}",
                    "measure it from an edge of the closed card")  # fmt: skip
    elif min(near, far) < 0:
        over = ", ".join(f"{with_unit(-each, solution.unit)} at the {edge}"
                         for each, edge in zip((near, far), across, strict=True) if each < 0)  # fmt: skip
        yield warning("overhang", span, f"`{band}` reaches beyond the closed card: {over}",
                      "make it narrower, or lay it elsewhere")  # fmt: skip


def _overlapping_copies(solution: Solution) -> Iterator[Diagnostic]:
    """Copies in a row lie side by side, unless a gap of less than nothing is written."""
    for part in solution.parts.ordered:
        repeat, amount = part.piece.repeat, _overlapping(part, solution)
        if repeat is not None and amount is not None and part.host is not None:
            yield warning("copies-overlap", repeat.span, f"{repeat.number} copies of `{part.piece.name}` "
                          f"have no room beside each other on {part.host.name}: each would overlap the next "
                          f"by {with_unit(amount, solution.unit)}",
                          "make them smaller, or take fewer")  # fmt: skip


def _overlapping(part: Part, solution: Solution) -> Fraction | None:
    """How far the copies of a part overlap each other though it does not say so; None where they do not."""
    gap, repeat = solution.values.get((part.owner, "gap")), part.piece.repeat
    return -gap if repeat is not None and repeat.gap is None and gap is not None and gap < 0 else None
