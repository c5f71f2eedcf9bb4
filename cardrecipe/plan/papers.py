"""How many sheets of a paper the pieces need at the very least, and whether a piece fits a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.papers import Paper, StockSheet
from cardrecipe.solve.sized import SizedCard, SizedPiece

Size = tuple[Fraction, Fraction]


def pieces_of(card: SizedCard, paper: str) -> tuple[SizedPiece, ...]:
    """The pieces that are cut from the paper called `paper`."""
    return tuple(piece for piece in card.pieces if piece.paper == paper)


def cut_order(card: SizedCard) -> tuple[SizedPiece, ...]:
    """The pieces by paper, bases' papers first; in each paper bases, then by falling area."""
    bases_first = sorted(card.pieces, key=lambda piece: piece.kind != "base")
    papers = list(dict.fromkeys(piece.paper for piece in bases_first))
    return tuple(
        sorted(
            card.pieces,
            key=lambda one: (
                papers.index(one.paper),
                one.kind != "base",
                -one.width * one.height,
            ),
        )
    )


def fits_upright(piece: SizedPiece, sheet: StockSheet) -> bool:
    """True where the piece can be cut from the sheet without turning it."""
    return piece.width <= sheet.width and piece.height <= sheet.height


def fits_turned(piece: SizedPiece, sheet: StockSheet) -> bool:
    """True where the piece can be cut from the sheet a quarter turn round."""
    return piece.height <= sheet.width and piece.width <= sheet.height


def sheets_that_hold(paper: Paper, pieces: Sequence[SizedPiece]) -> tuple[StockSheet, ...]:
    """The sizes of the paper that every one of the pieces fits."""
    return tuple(
        sheet
        for sheet in paper.sheets
        if all(fits_upright(piece, sheet) or fits_turned(piece, sheet) for piece in pieces)
    )


def least_sheets(pieces: Sequence[SizedPiece], copies: int, sheet: StockSheet) -> int:
    """A number of sheets that no way of cutting can go below.

    The larger of two bounds: the pieces' area over the sheet's, and the number of pieces of which no
    two fit one sheet together. Real cutting may need more.
    """
    area = sum((one.width * one.height * one.count for one in pieces), Fraction(0)) * copies
    by_area = ceil(area / (sheet.width * sheet.height))
    return max(by_area, _never_together(pieces, copies, sheet))


def _never_together(pieces: Sequence[SizedPiece], copies: int, sheet: StockSheet) -> int:
    """How many pieces, largest first, each of which needs a sheet of its own."""
    chosen: list[SizedPiece] = []
    total = 0
    for piece in sorted(pieces, key=lambda one: -one.width * one.height):
        if any(_share(piece, other, sheet) for other in chosen):
            continue
        chosen.append(piece)
        alone = not _share(piece, piece, sheet)
        total += piece.count * copies if alone else 1
    return total


def _share(one: SizedPiece, other: SizedPiece, sheet: StockSheet) -> bool:
    """True where both can be cut from one sheet: two rectangles lie side by side or one above."""
    return any(
        _beside(first, second, (sheet.width, sheet.height))
        or _beside(first[::-1], second[::-1], (sheet.height, sheet.width))
        for first in _ways(one)
        for second in _ways(other)
    )


def _ways(piece: SizedPiece) -> tuple[Size, Size]:
    return (piece.width, piece.height), (piece.height, piece.width)


def _beside(first: Size, second: Size, sheet: Size) -> bool:
    return first[0] + second[0] <= sheet[0] and max(first[1], second[1]) <= sheet[1]
