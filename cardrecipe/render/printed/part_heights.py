"""The heights of a sheet's parts as `page_fill` asks for them, from the data that the template will show."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, cast

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.printed.lines_taken import lines_height, list_height, prose_height, text_height
from cardrecipe.render.printed.look import POINT, Grid, TypeScale, line_height, white
from cardrecipe.render.printed.page_fill import Parts
from cardrecipe.render.printed.pictures import height_of, width_of
from cardrecipe.render.prose import Block, prose

Data = Mapping[str, object]
Items = Sequence[Data]
SECTION_GAP = 8.0
BLOCK_GAP = 5.0
CAPTION = 1.2  # mm between a picture and the words beneath it
CAUTION = 4.4 + 4.0  # frame, and the gap before it
SLIP_HEAD = 21.0  # words above the line, heading, title, unit, head of the table


class Known(NamedTuple):
    """Heights that are known: the tallest columns of supplies and cuts, the rows of the cutting plan."""

    supplies: float
    cuts: float
    layouts: Sequence[float]


def part_heights(data: Data, sheet: Sheet, heights: Known, grid: Grid, scale: TypeScale) -> Parts:
    """What `page_fill.settle` goes by."""
    facts = [(str(label), str(value)) for label, value in cast(Sequence[tuple[str, str]], data["facts"])]
    head = head_height(
        str(data["title"]), prose(sheet.about_markdown, 2), facts, data["finished"], grid, scale,
        float(str(data["label_column"])),
    )  # fmt: skip
    head += section_height(scale) + heights.supplies if heights.supplies else 0.0
    head += sum(
        CAUTION + text_height(f"Take care: {each}", scale.body, grid.width - 6.0) for each in sheet.cautions
    )
    if grid.columns == 1 and sheet.notes:  # the notes stand before the cut list
        head += section_height(scale) + list_height(sheet.notes, scale.body, grid.width, 0.8)
    legend, layers = data["legend"], cast(Sequence[object], data["layers"])
    rows = cast(Items, data["rows"])
    return Parts(
        head,
        heights.cuts + SLIP_HEAD if heights.cuts else 0.0,
        _after(data, grid, scale),
        section_height(scale) + height_of(legend) if legend else 0.0,
        tuple(_plan(data, heights.layouts, grid, scale)),
        _guides(data, grid, scale),
        section_height(scale) + side_by_side(layers, grid.width) + CAPTION * white(scale)
        + line_height(scale.small) if layers else 0.0,
        _rows(rows, scale),
        _views(data, grid, scale),
    )


def _rows(rows: Items, scale: TypeScale) -> tuple[float, ...]:
    heights = [float(str(row["height"])) for row in rows]
    return (section_height(scale) + heights[0], *heights[1:]) if heights else ()


def _views(data: Data, grid: Grid, scale: TypeScale) -> float:
    views = [each["picture"] for each in cast(Items, data["views"])]
    return (
        section_height(scale) + side_by_side(views, grid.width) + line_height(scale.small) + CAPTION
        if views
        else 0.0
    )


def _after(data: Data, grid: Grid, scale: TypeScale) -> float:
    """What is read after the card is done: envelope and post beside the notes."""
    named = [
        f"{each['name']}: {each['note']}"
        for each in (*cast(Items, data["envelopes"]), *cast(Items, data["post"]))
    ]
    notes = list(cast(Sequence[str], data["notes"])) if grid.columns > 1 else []
    columns = [texts for texts in (named, notes) if texts]
    if not columns:
        return 0.0
    width = grid.column if len(columns) == 2 else grid.width
    return section_height(scale) + max(list_height(texts, scale.body, width, 0.8) for texts in columns)


def _plan(data: Data, rows: Sequence[float], grid: Grid, scale: TypeScale) -> list[float]:
    """The rows of the cutting plan, the first with the heading and the totals."""
    if not rows:
        return []
    totals = [f"{title}: {words}" for title, words in cast(Sequence[tuple[str, str]], data["totals"])]
    first, *more = rows
    return [
        section_height(scale) + list_height(totals, scale.body, grid.width, 0.62) + BLOCK_GAP + first,
        *more,
    ]


def _guides(data: Data, grid: Grid, scale: TypeScale) -> float:
    """The score guide up to its last piece: what stands in one block."""
    total = 0.0
    for guide in cast(Items, data["scores"]):
        rows = (len(cast(Sequence[object], guide["lines"])) + 1) * (line_height(scale.body) + 0.5)
        beside = grid.width - width_of(guide["picture"]) - grid.gutter
        if guide["beside"]:
            short = text_height(str(guide["short_way"]), scale.body, beside)
            total += max(height_of(guide["picture"]), rows + short + line_height(scale.small) + 4.0)
        else:
            total += height_of(guide["picture"]) + 5.0 + lines_height(4, scale.body) + 8.0
    return section_height(scale) + total if total else 0.0


def section_height(scale: TypeScale) -> float:
    """A section's heading, with the gap before it."""
    return (SECTION_GAP + 2.4 + 3.6) * white(scale) + lines_height(1, scale.part)


def head_height(
    title: str,
    about: Iterable[Block],
    facts: Sequence[tuple[str, str]],
    finished: object,
    grid: Grid,
    scale: TypeScale,
    label_column: float,
) -> float:
    """The masthead: title, text and facts beside the picture of the finished card; in large print the facts
    beneath it."""
    width = grid.width - (width_of(finished) + grid.gutter if finished else 0.0)
    words = text_height(title, scale.title, width, bold=True) + 0.45 * scale.title * POINT
    words += prose_height(about, scale.body, width) + 1.3 * scale.body * POINT
    values = [value for _, value in facts]
    if grid.columns > 1:
        return max(words + list_height(values, scale.body, width - label_column, 0.62), height_of(finished))
    beneath = list_height(values, scale.body, grid.width - label_column, 0.62)
    return max(words, height_of(finished)) + 4.0 + beneath


def side_by_side(pictures: Iterable[object], width: float, gap: float = 6.0) -> float:
    """Pictures in lines, as many in each as have room."""
    total, used, tallest = 0.0, 0.0, 0.0
    for shown in pictures:
        wide, high = width_of(shown), height_of(shown)
        if used and used + gap + wide > width:
            total, used, tallest = total + tallest + gap, 0.0, 0.0
        used, tallest = used + wide + (gap if used else 0.0), max(tallest, high)
    return total + tallest
