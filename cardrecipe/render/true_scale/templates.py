"""The true-scale templates of a sheet as plain data for the typst template: mm from a piece's corner."""

from collections.abc import Iterator

from cardrecipe.model.lengths import to_mm
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Paper
from cardrecipe.render.words import piece_written
from cardrecipe.solve.sized import SizedPiece

Data = dict[str, object]

# A true-scale page: nothing nearer to the edge than 7 mm, since home printers leave up to
# 6.35 mm unprinted (standards.md, section 8), and room for the check bars below.
TEMPLATE_SIDE = 7.0
TEMPLATE_TOP = 13.0
TEMPLATE_FOOT = {"portrait": 28.0, "landscape": 21.0}


def templates(sheet: Sheet, paper: Paper) -> list[Data]:
    """One for each base that a page of `paper` has room for."""
    return list(_templates(sheet, paper))


def _templates(sheet: Sheet, paper: Paper) -> Iterator[Data]:
    unit = sheet.folded.card.unit
    for base in sheet.folded.card.bases:
        width, height = float(to_mm(base.width, unit)), float(to_mm(base.height, unit))
        for way in ("portrait", "landscape"):
            across, down = _room(paper, way)
            if width <= across and height <= down:
                yield _template(base, unit, way)
                break


def _room(paper: Paper, way: str) -> tuple[float, float]:
    sizes = (paper.width, paper.height)
    across, down = sizes if way == "portrait" else sizes[::-1]
    return across - 2 * TEMPLATE_SIDE, down - TEMPLATE_TOP - TEMPLATE_FOOT[way]


def _template(base: SizedPiece, unit: str, way: str) -> Data:
    def mm(value: object) -> float:
        return float(to_mm(value, unit))  # type: ignore[arg-type]

    return {
        "piece": piece_written(base.name),
        "way": way,
        "side": TEMPLATE_SIDE,
        "top": TEMPLATE_TOP,
        "foot": TEMPLATE_FOOT[way],
        "width": mm(base.width),
        "height": mm(base.height),
        "radius": mm(base.corner_radius) if base.corner_radius is not None else 0.0,
        "lines": [
            {
                "direction": score.direction,
                "start": [mm(score.start[0]), mm(score.start[1])],
                "end": [mm(score.end[0]), mm(score.end[1])],
            }
            for score in base.scores
        ],
        "sections": [
            {
                "name": piece_written(section.name),
                "x": mm(section.x),
                "y": mm(section.y),
                "width": mm(section.width),
                "height": mm(section.height),
            }
            for section in base.sections
        ],
    }
