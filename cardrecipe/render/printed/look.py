"""A printing's one grid and one type scale, usual or large, in points and mm."""

from typing import NamedTuple

from cardrecipe.render.papers import Paper, Printing

POINT = 25.4 / 72  # mm


class TypeScale(NamedTuple):
    """The five sizes of type, in points: notes, text, step titles, sections and step numbers, the title."""

    small: float
    body: float
    step: float
    part: float
    title: float


class Grid(NamedTuple):
    """A page's columns, in mm."""

    width: float  # between the margins
    height: float
    columns: int  # of steps, cuts and supplies
    gutter: float
    hang: float  # the column in which numbers hang

    @property
    def column(self) -> float:
        return (self.width - (self.columns - 1) * self.gutter) / self.columns


USUAL_TYPE = TypeScale(8.0, 9.5, 11.0, 16.0, 26.0)
# 18 pt is the least that guidelines of print for readers with low vision commonly ask for (from memory).
LARGE_TYPE = TypeScale(18.0, 18.0, 20.0, 24.0, 34.0)
LARGE_LETTERS = LARGE_TYPE.body / USUAL_TYPE.body  # pictures grow as the text round them does
PITCH = 1.255  # from line to line, over the size of the type: capitals 0.705 high, 0.55 between


def type_scale(printing: Printing) -> TypeScale:
    return LARGE_TYPE if printing.is_large else USUAL_TYPE


def grid(paper: Paper, printing: Printing) -> Grid:
    """Two columns that a step each stands in; in large print one."""
    width, height = paper.width - 2 * paper.side, paper.height - paper.top - paper.foot
    if printing.is_large:
        return Grid(width, height, 1, 8.0, 16.0)
    return Grid(width, height, 2, 8.0, 10.0)


def picture_growth(printing: Printing) -> float:
    """How much larger than drawn a picture is printed where it has room."""
    return LARGE_LETTERS if printing.is_large else 1.0


def white(scale: TypeScale) -> float:
    """How much wider than usual the white between blocks is: half as much as the type is larger."""
    return (1 + scale.body / USUAL_TYPE.body) / 2


def line_height(points: float) -> float:
    """From one line of type to the next, in mm."""
    return points * PITCH * POINT
