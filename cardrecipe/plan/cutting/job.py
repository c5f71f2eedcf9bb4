"""What has to be cut from one paper, in whole steps of the ruler: blanks, and the sheets they come from."""

from __future__ import annotations

from typing import NamedTuple


class Blank(NamedTuple):
    """A rectangle that is cut `demand` times. `may_turn`: no grain and no pattern forbids a quarter turn."""

    name: str
    width: int
    height: int
    demand: int
    may_turn: bool = True


class Stock(NamedTuple):
    """A sheet to cut from. `cost` is a whole number, 1 where sheets are counted; `available` None: enough."""

    name: str
    width: int
    height: int
    cost: int = 1
    available: int | None = None


class Job(NamedTuple):
    """The blanks of one paper. `stages` limits how often the direction of cuts may change (the last
    trimming cut is free); `first_cut` "x" or "y" says which direction is cut first, None leaves it open."""

    stocks: tuple[Stock, ...]
    blanks: tuple[Blank, ...]
    stages: int | None = None
    first_cut: str | None = None


class Part(NamedTuple):
    """A rectangle of a layout: a blank, an offcut, or a row of parts side by side.

    `axis` "x": the parts of the row lie from left to right, "y": from top to bottom; each is as long as
    the row is wide across it. A part without a blank and without parts is an offcut.
    """

    width: int
    height: int
    blank: str | None = None
    turned: bool = False
    axis: str | None = None
    parts: tuple[Part, ...] = ()


class Layout(NamedTuple):
    """One way to cut a sheet, and how many sheets are cut so."""

    stock: str
    root: Part
    count: int  # type: ignore[assignment]  # a tuple has a method of that name


def blanks_in(part: Part) -> dict[str, int]:
    """Give how many of each blank a part holds."""
    return dict(_blanks_in(part, {}))


def _blanks_in(part: Part, known: dict[int, dict[str, int]]) -> dict[str, int]:
    """`known`: what is held by parts, by their identity; a layout holds the same row many times over."""
    if part.blank is not None:
        return {part.blank: 1}
    if id(part) not in known:
        found: dict[str, int] = {}
        for each in reversed(part.parts):
            for name, count in _blanks_in(each, known).items():
                found[name] = found.get(name, 0) + count
        known[id(part)] = found
    return known[id(part)]


def orientations(blank: Blank) -> tuple[tuple[int, int, bool], ...]:
    """Give the ways a blank may lie: width, height, and whether it is turned."""
    upright = (blank.width, blank.height, False)
    if blank.may_turn and blank.width != blank.height:
        return upright, (blank.height, blank.width, True)
    return (upright,)


def fits(blank: Blank, width: int, height: int) -> bool:
    """Tell whether a blank fits a rectangle in some way that it may lie."""
    return any(wide <= width and tall <= height for wide, tall, _ in orientations(blank))
