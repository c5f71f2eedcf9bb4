"""What is cut, glued or worked within a piece: windows, round corners, foam, the middle that is embossed, a
length of ribbon. Each is more than nothing, and fits."""

from __future__ import annotations

from collections.abc import Iterator

from cardrecipe.model.card import Piece
from cardrecipe.model.lengths import with_unit
from cardrecipe.model.values import Reader
from cardrecipe.solve.sections import known_length
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic, error


def wrong_details(solution: Solution) -> Iterator[Diagnostic]:
    """Give what is wrong with the windows, the round corners, the foam and the work of all pieces."""
    reader = solution.placed().reader
    for piece in solution.card.pieces:
        if piece.name not in solution.parts.skipped:
            yield from _empty_windows(piece, reader, solution.unit)
            yield from _round_corners(piece, reader, solution)
            yield from _thin_foam(piece, reader, solution.unit)
            yield from _work(piece, reader, solution)


def _empty_windows(piece: Piece, reader: Reader, unit: str) -> Iterator[Diagnostic]:
    """A window has a width and a height; one of nothing opens nothing."""
    for window in piece.windows:
        for word, said in (("width", window.width), ("height", window.height)):
            size = known_length(said, reader)
            if size is not None and size <= 0:
                yield error("size-not-positive", window.span, f"the {word} of this window in "
                            f"`{piece.name}` comes to {with_unit(size, unit)}",
                            "make it more than nothing")  # fmt: skip


def _round_corners(piece: Piece, reader: Reader, solution: Solution) -> Iterator[Diagnostic]:
    """A radius of more than half a side would leave no room for the corner at its other end."""
    radius = known_length(piece.corners, reader) if piece.corners is not None else None
    if piece.corners is None or radius is None:
        return
    unit, span = solution.unit, piece.corners.span
    if radius <= 0:
        yield error("size-not-positive", span, f"the radius of the corners of `{piece.name}` comes to "
                    f"{with_unit(radius, unit)}", "make it more than nothing")  # fmt: skip
        return
    sides = [solution.values.get((piece.name, side)) for side in ("width", "height")]
    shorter = min((each for each in sides if each is not None and each > 0), default=None)
    if shorter is not None and radius > shorter / 2:
        yield error("corners-too-round", span, f"the corners of `{piece.name}` are rounded by "
                    f"{with_unit(radius, unit)}, and it is only {with_unit(shorter, unit)} "
                    f"{'wide' if shorter == sides[0] else 'high'}",
                    f"round them by {with_unit(shorter / 2, unit)} at the most")  # fmt: skip


def _thin_foam(piece: Piece, reader: Reader, unit: str) -> Iterator[Diagnostic]:
    thick = piece.glue.thick if piece.glue is not None else None
    size = known_length(thick, reader) if thick is not None else None
    if thick is not None and size is not None and size <= 0:
        yield error("size-not-positive", thick.span, f"the foam under `{piece.name}` comes to "
                    f"{with_unit(size, unit)} thick", "make it more than nothing")  # fmt: skip


def _work(piece: Piece, reader: Reader, solution: Solution) -> Iterator[Diagnostic]:
    """The middle that is embossed lies within its piece; what is added has a length."""
    unit = solution.unit
    for work in piece.works:
        for word, said in (("middle", work.middle), ("length", work.long)):
            size = known_length(said, reader) if said is not None else None
            if size is not None and size <= 0:
                yield error("size-not-positive", work.span, f"the {word} here comes to "
                            f"{with_unit(size, unit)}", "make it more than nothing")  # fmt: skip
        middle = known_length(work.middle, reader) if work.middle is not None else None
        sides = [solution.values.get((piece.name, side)) for side in ("width", "height")]
        longer = max((each for each in sides if each is not None), default=None)
        if middle is not None and longer is not None and None not in sides and middle > longer > 0:
            yield error("middle-too-long", work.span, f"`{piece.name}` is only {with_unit(longer, unit)} "
                        f"long, and its middle {with_unit(middle, unit)} would be worked on",
                        "leave `on middle` out, or make it shorter")  # fmt: skip
