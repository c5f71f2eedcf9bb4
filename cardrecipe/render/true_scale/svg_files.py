"""A drawing at true scale → an SVG file for any vector program, in mm, with a group for each kind of line.

The groups `cut`, `score-valley`, `score-mountain` and `slit` hold lines alone; all words stand in `note`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.model.lengths import to_mm
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.drawings.colors import MOUNTAIN, QUIET_INK, VALLEY
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label, text_width
from cardrecipe.render.drawings.svg import Markup, element, escaped
from cardrecipe.render.signs import signed_svg
from cardrecipe.render.true_scale import outlines
from cardrecipe.render.true_scale.drawn import TrueDrawing, true_drawings
from cardrecipe.render.true_scale.outlines import Move, Quarter, TrueLine, enlarged
from cardrecipe.solve.sized import Point

MARGIN = 3.0  # mm round the lines, so that none is half outside
LEADING = 1.35
# A colour, a width and a dash for each kind, so that they are told apart with and without colour.
STYLES: dict[str, tuple[str, float, str | None]] = {
    outlines.CUT: ("#000000", 0.25, None),
    outlines.VALLEY: (VALLEY, 0.25, "2.2 1.1"),
    outlines.MOUNTAIN: (MOUNTAIN, 0.25, "4 1 0.5 1"),
    outlines.SLIT: ("#000000", 0.5, None),
}


def svg_files(sheet: Sheet) -> dict[str, bytes]:
    """A file for each piece and each sheet of the cutting plan, by what follows the recipe's name."""
    drawings = true_drawings(sheet.folded.card, sheet.paper_plans, sheet.copies)
    return {f"-{each.name}.svg": signed_svg(svg_file(each)) for each in drawings}


def svg_file(drawing: TrueDrawing) -> str:
    """The whole file; the left top of the piece or sheet is at 0, 0."""
    width, height = (float(to_mm(each, drawing.unit)) for each in (drawing.width, drawing.height))
    words = [drawing.title, *drawing.notes]
    wide = max(width, *(text_width(text, SMALL) for text in words)) + 2 * MARGIN
    high = height + 2 * MARGIN + (len(words) + 0.5) * SMALL * LEADING
    name = escaped(drawing.name)
    parts = (
        element("title", escaped(drawing.title), id=f"{name}-title"),
        element("desc", escaped(drawing.description), id=f"{name}-desc"),
        *_groups(drawing),
        element("g", *_written(drawing, words, width, height), id="note"),
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.3f}mm" height="{high:.3f}mm" '
        f'viewBox="{-MARGIN:.0f} {-MARGIN:.0f} {wide:.3f} {high:.3f}" role="img" '
        f'aria-labelledby="{name}-title" aria-describedby="{name}-desc">' + "".join(parts) + "</svg>\n"
    )


def path_data(line: TrueLine) -> str:
    """A line in mm as path data; round parts are elliptical arcs."""
    return f"M{_point(line.start)}" + "".join(_move(each) for each in line.moves) + "Z" * line.is_closed


def _groups(drawing: TrueDrawing) -> Iterator[Markup]:
    lines = enlarged(drawing.lines, to_mm(Fraction(1), drawing.unit))
    for kind, (color, width, dash) in STYLES.items():
        paths = [element("path", d=path_data(line)) for line in lines if line.kind == kind]
        yield element(
            "g", *paths, id=kind, fill="none", stroke=color, stroke_width=width, stroke_dasharray=dash
        )


def _written(drawing: TrueDrawing, words: list[str], width: float, height: float) -> Iterator[Markup]:
    """The edge of a sheet, and the words below it."""
    if drawing.frame_is_drawn:
        size = {"width": f"{width:.6f}", "height": f"{height:.6f}"}
        yield element("rect", fill="none", stroke=QUIET_INK, stroke_width=0.18, **size)
    for row, text in enumerate(words, 1):
        look = Lettering(SMALL, bold=row == 1, anchor="start", color=QUIET_INK)
        yield label(0.0, height + MARGIN + (row - 0.5) * SMALL * LEADING, text, look).markup


def _move(move: Move) -> str:
    if isinstance(move, Quarter):
        return f"A{_number(move.across)} {_number(move.down)} 0 0 1 {_point(move.end)}"
    return f"L{_point(move)}"


def _point(point: Point) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


def _number(value: Fraction) -> str:
    """In mm with six decimals: exact for every mark of a ruler down to 1/64 in."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")
