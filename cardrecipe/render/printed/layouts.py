"""The sheets of a cutting plan on the page: how many side by side, and whether the settings stand beside the
picture or beneath it, whichever takes less height."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.plan.sheet import CuttingSheet
from cardrecipe.render.printed.lines_taken import lines_taken, list_height, text_height
from cardrecipe.render.printed.look import POINT, Grid, TypeScale, line_height
from cardrecipe.render.printed.pictures import PictureRoom, height_of, picture, width_of
from cardrecipe.render.words import cut_so, sheet_heading

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Data = dict[str, object]
FEW_SETTINGS = 6  # of a layout that may stand in a third of the page
LEAST_WORDS = 44.0  # mm beside a picture
GAP = 4.0  # between a picture and the settings beside it
ENUM_HANG = 6.0
BETWEEN = 5.0  # mm from row to row
PAGE_FILL = 0.95  # a row that is taller than this share of a page is the last choice


class Layouts(NamedTuple):
    """The data of each layout, how many stand side by side, and the height of each row."""

    shown: list[Data]
    across: int
    heights: list[float]


class _Way(NamedTuple):
    across: int
    beside: bool


def layouts(
    sheets: Sequence[CuttingSheet],
    pictures: Mapping[str, "Drawing"],
    grid: Grid,
    scale: TypeScale,
    room: PictureRoom,
) -> list[Layouts]:
    """The arrangements in which every picture has room at full size, the lowest first."""
    made = [_made(sheets, pictures, grid, scale, room, way) for way in _ways(sheets, pictures, grid)]
    return sorted(
        made, key=lambda each: (max(each.heights, default=0.0) > PAGE_FILL * grid.height, sum(each.heights))
    )


def _ways(sheets: Sequence[CuttingSheet], pictures: Mapping[str, "Drawing"], grid: Grid) -> list[_Way]:
    if grid.columns == 1:
        return [_Way(1, False)]
    widest = max(
        (each.width_mm for each in (pictures.get(sheet.picture) for sheet in sheets) if each), default=0.0
    )
    ways = [_Way(2, False)]
    third = (grid.width - 2 * grid.gutter) / 3
    if len(sheets) > 2 and widest <= third and all(len(each.settings) <= FEW_SETTINGS for each in sheets):
        ways.append(_Way(3, False))
    if 0 < widest <= grid.column - GAP - LEAST_WORDS:
        ways.append(_Way(2, True))
    if 0 < widest <= grid.width / 2:
        ways.append(_Way(1, True))
    return ways


def _made(
    sheets: Sequence[CuttingSheet],
    pictures: Mapping[str, "Drawing"],
    grid: Grid,
    scale: TypeScale,
    room: PictureRoom,
    way: _Way,
) -> Layouts:
    width = (grid.width - (way.across - 1) * grid.gutter) / way.across
    own = room._replace(width=min(room.width, width))
    shown = [_layout(each, picture(pictures.get(each.picture), own), way.beside) for each in sheets]
    heights = [_height(each, width, scale) for each in shown]
    rows = [
        max(heights[first : first + way.across]) + BETWEEN for first in range(0, len(heights), way.across)
    ]
    return Layouts(shown, way.across, rows)


def _layout(sheet: CuttingSheet, shown: Data | None, beside: bool) -> Data:
    """One layout: its picture, and the settings beside or beneath it."""
    return {
        "heading": sheet_heading(sheet),
        "count": cut_so(sheet),
        "picture": shown,
        "beside": beside and shown is not None,
        "settings": [[each.number, each.size, each.text] for each in sheet.settings],
    }


def _height(layout: Data, width: float, scale: TypeScale) -> float:
    settings = layout["settings"]
    assert isinstance(settings, list)
    beside = bool(layout["beside"])
    left = width - ENUM_HANG - (width_of(layout["picture"]) + GAP if beside else 0.0)
    words = list_height([f"Set {size}. {text}" for _, size, text in settings], scale.body, left, 0.7)
    head = text_height(str(layout["heading"]), scale.step, width, bold=True) + 0.6 * scale.step * POINT
    head += lines_taken(str(layout["count"]), scale.body, width, bold=True) * line_height(scale.body) + 1.0
    shown = height_of(layout["picture"])
    return head + (max(shown, words) if beside else shown + 6.0 + words)
