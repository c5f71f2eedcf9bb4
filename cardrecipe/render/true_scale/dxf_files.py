"""A drawing at true scale → a DXF file: a layer for each kind of line, in the recipe's unit, y upward.

It is written by ezdxf, an extra of the package. Round parts are true arcs, circles and ellipses. The file
carries no date: two runs give the same bytes.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from math import sqrt
from typing import TYPE_CHECKING

from cardrecipe.model.lengths import MM_PER
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.drawings.lettering import POINT_MM
from cardrecipe.render.signs import DXF_COMMENT
from cardrecipe.render.true_scale.drawn import TrueDrawing, true_drawings
from cardrecipe.render.true_scale.dxf_library import load_ezdxf
from cardrecipe.render.true_scale.outlines import (
    CUT,
    KINDS,
    MOUNTAIN,
    SLIT,
    VALLEY,
    Quarter,
    TrueLine,
    end_of,
)
from cardrecipe.solve.sized import Point

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import Modelspace

VERSION = "R2000"  # the first with ellipses, and one that nearly every program reads
NOTE = "note"
COLORS = {CUT: 7, VALLEY: 5, MOUNTAIN: 1, SLIT: 7, NOTE: 8}  # of the 255 that DXF numbers
DASHES_MM = {VALLEY: (2.2, -1.1), MOUNTAIN: (4.0, -1.0, 0.5, -1.0)}  # strokes, and gaps as negative numbers
UNIT_CODES = {"inch": 1, "mm": 4}  # of the header variable $INSUNITS
METRIC = {"inch": 0, "mm": 1}  # $MEASUREMENT
QUARTER_BULGE = 1 - sqrt(2)  # the tangent of a quarter of the angle, negative for clockwise
LETTERS_MM = 8 * POINT_MM
LEADING = 1.6
MOST_CHARACTERS = 250  # in one text: the limit of the format is 255

_SPOKEN = str.maketrans({"\u202f": " ", "\u00a0": " ", "\u2044": "/", "\u00d7": "x", "\\": "/"})
_UNPRINTED = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]+")


def dxf_files(sheet: Sheet) -> dict[str, bytes]:
    """A file for each piece and each sheet of the cutting plan, by what follows the recipe's name."""
    drawings = true_drawings(sheet.folded.card, sheet.paper_plans, sheet.copies)
    return {f"-{each.name}.dxf": dxf_file(each) for each in drawings}


def dxf_file(drawing: TrueDrawing) -> bytes:
    """The whole file; the left bottom of the piece or sheet is at 0, 0."""
    with _without_dates():
        document = _document(drawing)
        space = document.modelspace()
        for line in drawing.lines:
            _draw(space, line, drawing.height)
        if drawing.frame_is_drawn:
            wide, high = float(drawing.width), float(drawing.height)
            corners = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
            space.add_lwpolyline(corners, close=True, dxfattribs={"layer": NOTE})
        for row, text in enumerate((drawing.title, *drawing.notes), 1):
            _write(space, text, row, drawing.unit)
        out = io.StringIO(DXF_COMMENT)
        out.seek(0, io.SEEK_END)
        document.write(out)
        return out.getvalue().encode(document.output_encoding, errors="dxfreplace")


@contextmanager
def _without_dates() -> Iterator[None]:
    """ezdxf writes the time and new random numbers into each file, unless this option of it is set."""
    load_ezdxf()
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _document(drawing: TrueDrawing) -> Drawing:
    import ezdxf

    document = ezdxf.new(VERSION)
    document.header["$INSUNITS"] = UNIT_CODES[drawing.unit]
    document.header["$MEASUREMENT"] = METRIC[drawing.unit]
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (float(drawing.width), float(drawing.height), 0.0)
    for name, dashes in DASHES_MM.items():
        lengths = [each / float(MM_PER[drawing.unit]) for each in dashes]
        document.linetypes.add(name, [sum(map(abs, lengths)), *lengths], description=name)
    for name in (*KINDS, NOTE):
        linetype = name if name in DASHES_MM else "CONTINUOUS"
        document.layers.add(name, color=COLORS[name], linetype=linetype)
    return document


def _draw(space: Modelspace, line: TrueLine, height: Fraction) -> None:
    layer = {"layer": line.kind}
    points = [_upward(line.start, height), *(_upward(end_of(each), height) for each in line.moves)]
    first = line.moves[0]
    if isinstance(first, Quarter) and all(isinstance(each, Quarter) for each in line.moves):
        center, across, down = _upward(first.center, height), float(first.across), float(first.down)
        if across == down:
            space.add_circle(center, across, layer)
        elif across > down:
            space.add_ellipse(center, (across, 0.0), down / across, dxfattribs=layer)
        else:
            space.add_ellipse(center, (0.0, down), across / down, dxfattribs=layer)
    elif line.is_closed:
        bulges = [QUARTER_BULGE if isinstance(each, Quarter) else 0.0 for each in line.moves]
        corners = [(*point, bulge) for point, bulge in zip(points, bulges, strict=False)]
        space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=layer)
    else:
        space.add_line(points[0], points[1], layer)


def _upward(point: Point, height: Fraction) -> tuple[float, float]:
    return float(point[0]), float(height - point[1])


def _write(space: Modelspace, text: str, row: int, unit: str) -> None:
    """One line of words below the piece."""
    size = LETTERS_MM / float(MM_PER[unit])
    place = (0.0, -row * size * LEADING)
    space.add_text(_plain(text), height=size, dxfattribs={"layer": NOTE, "insert": place})


def _plain(text: str) -> str:
    """`text` on one line, without the signs that mean a command in a DXF text (`\\P`, `%%u`)."""
    shown = _UNPRINTED.sub(" ", text.translate(_SPOKEN))
    while "%%" in shown:
        shown = shown.replace("%%", "% %")
    return shown[:MOST_CHARACTERS]
