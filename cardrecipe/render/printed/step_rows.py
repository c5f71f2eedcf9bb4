"""Steps into rows of two, the pictures and texts of each row beginning at the same height.

Nothing is measured by typst: what a text takes is worked out from the font's advance widths.
"""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.plan.sheet import Step
from cardrecipe.render.printed.lines_taken import lines_height, lines_taken, text_height
from cardrecipe.render.printed.look import POINT, USUAL_TYPE, Grid, TypeScale, line_height, white
from cardrecipe.render.printed.markdown_data import blocks_data
from cardrecipe.render.printed.pictures import PictureRoom, height_of, picture, width_of
from cardrecipe.render.prose import plain_text, prose

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Data = dict[str, object]
GAP = 4.0  # between a picture and the text beside it
LEAST_TEXT = 38.0  # mm at 9.5 pt: a narrower column would break after every third word
ASIDE = 2.6 + 0.5  # what the rule beside a tip takes of its width
UNDER_TITLE = 1.6
BETWEEN = 2.6  # mm from title to picture, and from picture to text
ROW_GAP = 5.8  # from the last line of one to the number of the next
CAUTION = 8.0  # a caution's frame and the gaps round it
TALLEST_ROW = 0.9  # of a page: a row that may be taller is allowed to break


class StepSize(NamedTuple):
    """What one step takes in its column: lines of its head, and mm of the rest either way."""

    title_lines: int
    with_lines: int
    is_beside: bool
    body: float


def step_rows(
    steps: Sequence[Step], pictures: Mapping[str, "Drawing"], grid: Grid, scale: TypeScale, room: PictureRoom
) -> list[Data]:
    """Each row: its cautions, its steps, and whether it is so tall that it may be broken."""
    return [
        _row(steps[first : first + grid.columns], pictures, grid, scale, room)
        for first in range(0, len(steps), grid.columns)
    ]


def _row(
    steps: Sequence[Step], pictures: Mapping[str, "Drawing"], grid: Grid, scale: TypeScale, room: PictureRoom
) -> Data:
    shown = [picture(pictures.get(step.picture), room) for step in steps]
    sizes = [_size(step, each, grid, scale) for step, each in zip(steps, shown, strict=True)]
    titles = max(size.title_lines for size in sizes)
    withs = max(size.with_lines for size in sizes)
    cautions = [[f"Before step {step.number}:", caution] for step in steps for caution in step.cautions]
    return {
        "cautions": cautions,
        "height": _row_height(sizes, cautions, grid, scale),
        "breaks": _row_height(sizes, cautions, grid, scale) > TALLEST_ROW * grid.height,
        "steps": [
            _step(step, each, size, _lead(size, titles, withs, scale))
            for step, each, size in zip(steps, shown, sizes, strict=True)
        ],
    }


def _lead(size: StepSize, titles: int, withs: int, scale: TypeScale) -> float:
    """What a step's head lacks beside its neighbour's, in mm."""
    missing = line_height(scale.step) * (titles - size.title_lines)
    return round(missing + line_height(scale.small) * (withs - size.with_lines), 3)


def _row_height(
    sizes: Sequence[StepSize], cautions: Sequence[list[str]], grid: Grid, scale: TypeScale
) -> float:
    head = lines_height(max(size.title_lines for size in sizes), scale.step) + UNDER_TITLE * white(scale)
    head += lines_height(max(size.with_lines for size in sizes), scale.small)
    warned = sum(
        CAUTION + line_height(scale.body) * lines_taken(" ".join(each), scale.body, grid.width - 6.0)
        for each in cautions
    )
    return head + warned + max(size.body for size in sizes) + ROW_GAP * white(scale)


def _step(step: Step, shown: Data | None, size: StepSize, lead: float) -> Data:
    return {
        "number": step.number,
        "title": step.title,
        "picks_up": _with(step),
        "picture": shown,
        "text": step.text,
        "tips": [blocks_data(prose(tip, 4)) for tip in step.tips],
        "check": step.check,
        "beside": size.is_beside,
        "lead": lead,
    }


def _with(step: Step) -> str:
    return f"With: {', '.join(step.picks_up)}" if step.picks_up else ""


def _size(step: Step, shown: Data | None, grid: Grid, scale: TypeScale) -> StepSize:
    """A step with its text where it takes less height: beside its picture or beneath it."""
    inner = grid.column - grid.hang
    title = max(1, lines_taken(step.title, scale.step, inner, bold=True))
    withs = lines_taken(_with(step), scale.small, inner)
    if shown is None:
        return StepSize(title, withs, False, BETWEEN * white(scale) + _text_height(step, grid.column, scale))
    width, height = width_of(shown), height_of(shown)
    beneath = 2 * BETWEEN * white(scale) + height + _text_height(step, grid.column, scale)
    left = grid.column - width - GAP
    if left < LEAST_TEXT * scale.body / USUAL_TYPE.body:
        return StepSize(title, withs, False, beneath)
    beside = BETWEEN * white(scale) + max(height, _text_height(step, left, scale))
    return StepSize(title, withs, beside <= beneath, min(beside, beneath))


def _text_height(step: Step, width: float, scale: TypeScale) -> float:
    asides = [f"Tip {_words(tip)}" for tip in step.tips]
    asides += [f"Check {step.check}"] if step.check else []
    beside = sum(text_height(each, scale.body, width - ASIDE) for each in asides)
    return text_height(step.text, scale.body, width) + beside + len(asides) * (0.6 * scale.body * POINT + 0.8)


def _words(tip: str) -> str:
    """A tip's text in a row; lists and the like take a little more than this."""
    return " ".join(plain_text(block.runs) or block.text for block in prose(tip, 4))
