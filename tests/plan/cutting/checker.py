"""Checks cutting plans as they stand in `card.json`, with code of its own: nothing comes from the planner.

A plan is the value of `cutting`; what has to be cut, and from what, is given apart, as a maker would say it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from math import gcd
from typing import Any, NamedTuple

import numpy as np

Cut = dict[str, Any]


class Wanted(NamedTuple):
    """A rectangle to cut, so often; `may_turn` by a quarter."""

    width: Fraction
    height: Fraction
    number: int
    may_turn: bool


class Sheet(NamedTuple):
    """A sheet to cut from, its cost, and how many there are (None: enough)."""

    width: Fraction
    height: Fraction
    cost: Fraction = Fraction(1)
    available: int | None = None


class Wrong(AssertionError):
    """A plan that cannot be cut, or does not give what is wanted, or claims what is not so."""


# ---- cuts ----------------------------------------------------------------------------------------


def check(layouts: Sequence[Cut], wanted: dict[str, Wanted], sheets: Sequence[Sheet]) -> None:
    """Raise Wrong unless every cut runs edge to edge, parts add up, the demand is met, nothing is turned
    that must not be, and no more sheets are taken than there are."""
    got: Counter[str] = Counter()
    used: Counter[tuple[Fraction, Fraction]] = Counter()
    for layout in layouts:
        size = (Fraction(layout["width"]), Fraction(layout["height"]))
        if layout["count"] < 1:
            raise Wrong("a layout that is never cut")
        used[size] += layout["count"]
        for name, number in _cut_up(layout, *size, wanted).items():
            got[name] += number * layout["count"]
    _check_used(used, sheets)
    for name, each in wanted.items():
        if got[name] < each.number:
            raise Wrong(f"{got[name]} of {name}, {each.number} are wanted")


def _check_used(used: Counter[tuple[Fraction, Fraction]], sheets: Sequence[Sheet]) -> None:
    for size, number in used.items():
        there = [each.available for each in sheets if (each.width, each.height) == size]
        if not there:
            raise Wrong(f"no sheet is {size}")
        if None not in there and number > sum(each or 0 for each in there):
            raise Wrong(f"{number} sheets of {size}, there are {there}")


def _cut_up(part: Cut, width: Fraction, height: Fraction, wanted: dict[str, Wanted]) -> Counter[str]:
    if width <= 0 or height <= 0:
        raise Wrong("a part without a size")
    if part.get("offcut"):
        return Counter()
    if "piece" in part:
        return _piece(part, width, height, wanted)
    cut = part["cut"]
    at, (first, second) = Fraction(cut["at"]), cut["parts"]
    if cut["across"] == "x":
        return _cut_up(first, at, height, wanted) + _cut_up(second, width - at, height, wanted)
    if cut["across"] != "y":
        raise Wrong(f"cut across {cut['across']}")
    return _cut_up(first, width, at, wanted) + _cut_up(second, width, height - at, wanted)


def _piece(part: Cut, width: Fraction, height: Fraction, wanted: dict[str, Wanted]) -> Counter[str]:
    if part["piece"] not in wanted:
        raise Wrong(f"nobody wants {part['piece']}")
    each = wanted[part["piece"]]
    if part["turned"] and not each.may_turn:
        raise Wrong(f"{part['piece']} must not be turned")
    size = (each.height, each.width) if part["turned"] else (each.width, each.height)
    if size != (width, height):
        raise Wrong(f"{part['piece']} is {size}, its part is {(width, height)}")
    return Counter({part["piece"]: 1})


# ---- what it costs to cut ------------------------------------------------------------------------


class Toil(NamedTuple):
    """What a plan costs to cut, counted from its cuts alone."""

    settings: int
    strokes: int


def toil(layouts: Sequence[Cut]) -> Toil:
    """Count settings and strokes: for each layout the different (depth, direction, size) of parts cut off."""
    settings = strokes = 0
    for layout in layouts:
        found: set[tuple[int, str, str]] = set()
        strokes += layout["count"] * _count(layout, 0, "", found)
        settings += len(found)
    return Toil(settings, strokes)


def _count(part: Cut, depth: int, row: str, found: set[tuple[int, str, str]]) -> int:
    """A cut in the direction of the row that its part lies in belongs to that row."""
    if "cut" not in part:
        return 0
    cut = part["cut"]
    here = depth if cut["across"] == row or not row else depth + 1
    found.add((here, cut["across"], cut["at"]))
    return 1 + sum(_count(each, here, cut["across"], found) for each in cut["parts"])


def stages_of(part: Cut) -> int:
    """Give how often the direction of cuts changes, the first counted, the last trimming of a piece not."""
    if "cut" not in part:
        return 0
    row = _row(part, part["cut"]["across"])
    used = [each for each in row if not each.get("offcut")]
    if len(used) == 1 and "piece" in used[0]:
        return 0
    return 1 + max(map(stages_of, row))


def _row(part: Cut, axis: str) -> list[Cut]:
    if "cut" not in part or part["cut"]["across"] != axis:
        return [part]
    return [each for half in part["cut"]["parts"] for each in _row(half, axis)]


# ---- what is claimed -----------------------------------------------------------------------------


class Rule(NamedTuple):
    """How many stages a layout may have, and which direction is cut first; None: as one likes."""

    stages: int | None = None
    first_cut: str | None = None


def check_total(
    total: Cut,
    layouts: Sequence[Cut],
    wanted: dict[str, Wanted],
    sheets: Sequence[Sheet],
    rule: Rule = Rule(),  # noqa: B008
) -> None:
    """Raise Wrong unless the figures of a paper are those of its layouts, and what they claim is proved."""
    number = sum(layout["count"] for layout in layouts)
    costs = {(each.width, each.height): each.cost for each in sheets}
    cost = sum(costs[Fraction(each["width"]), Fraction(each["height"])] * each["count"] for each in layouts)
    if (total["sheets"], total["settings"], total["strokes"]) != (number, *toil(layouts)):
        raise Wrong(f"{total} is not what its layouts come to")
    least = Fraction(total.get("least_cost", total["least"]))
    if Fraction(total.get("cost", number)) != cost or total["proved"] != (least == cost) or least > cost:
        raise Wrong(f"{total} does not fit its own cost")
    if total["certificate"] == {"exhausted": True}:
        return
    limits = total["certificate"]["sheet_limit"]
    prices = total["certificate"]["prices"]
    if len(limits) != len(sheets):
        raise Wrong("a sheet without a limit")
    for sheet, limit in zip(sheets, limits.values(), strict=True):
        if most_worth(prices, wanted, sheet, rule) > limit:
            raise Wrong(f"a sheet of {sheet} holds more than {limit}")
    if follows(prices, list(limits.values()), wanted, sheets) < least:
        raise Wrong(f"{least} does not follow from {prices} and {limits}")


def follows(
    prices: dict[str, int], limits: list[int], wanted: dict[str, Wanted], sheets: Sequence[Sheet]
) -> Fraction:
    """Give the least cost of sheets whose limits add up to what is wanted, by trying numbers of sheets."""
    value = sum(prices[name] * each.number for name, each in wanted.items())
    kinds = list(zip(sheets, limits, strict=True))

    def least(at: int, left: int) -> Fraction | None:
        if left <= 0:
            return Fraction(0)
        if at == len(kinds):
            return None
        sheet, limit = kinds[at]
        most = -(-left // limit) if limit else 0
        most = most if sheet.available is None else min(most, sheet.available)
        # The last kind has to hold what is left.
        tried = [most] if at == len(kinds) - 1 else range(most + 1)
        found = [(number, least(at + 1, left - number * limit)) for number in tried]
        return min((number * sheet.cost + rest for number, rest in found if rest is not None), default=None)

    best = least(0, value)
    assert best is not None, "there are too few sheets by these prices"
    return best


def most_worth(prices: dict[str, int], wanted: dict[str, Wanted], sheet: Sheet, rule: Rule) -> int:
    """Give the most that a sheet can be worth, by Gilmore and Gomory's recursion over every whole position.

    Nothing is left out but what lies between multiples of the pieces' common divisor.
    """
    sizes = {name: (each.width, each.height) for name, each in wanted.items()}
    steps = np.lcm.reduce([side.denominator for size in sizes.values() for side in size])
    x_unit = y_unit = 0
    for name, (wide, tall) in sizes.items():
        turned = (tall, wide) if wanted[name].may_turn else (wide, tall)
        x_unit = gcd(x_unit, int(wide * steps), int(turned[0] * steps))
        y_unit = gcd(y_unit, int(tall * steps), int(turned[1] * steps))
    width, height = int(sheet.width * steps) // x_unit, int(sheet.height * steps) // y_unit
    single = np.zeros((width + 1, height + 1), dtype=np.int64)
    for name, size in sizes.items():
        for wide, tall in {size} | ({size[::-1]} if wanted[name].may_turn else set()):
            spot = single[int(wide * steps) // x_unit :, int(tall * steps) // y_unit :]
            np.maximum(spot, prices[name], out=spot)
    if rule.stages is None:
        return _without_limit(single)
    firsts = {"x": single, "y": np.ascontiguousarray(single.T)}
    return max(_with_stages(firsts[axis], rule.stages) for axis in (rule.first_cut or "xy"))


def _without_limit(best: np.ndarray[Any, Any]) -> int:
    width, height = best.shape
    for wide in range(1, width):
        column = best[wide]
        half = wide // 2
        if half:
            np.maximum(column, (best[1 : half + 1] + best[wide - half : wide][::-1]).max(axis=0), out=column)
        for tall in range(2, height):
            half = tall // 2
            column[tall] = max(column[tall], (column[1 : half + 1] + column[tall - half : tall][::-1]).max())
    return int(best[-1, -1])


def _with_stages(best: np.ndarray[Any, Any], stages: int) -> int:
    """Cut along the one axis and the other by turns, the last of them along the first axis of the table."""
    if stages % 2 == 0:
        best = np.ascontiguousarray(best.T)
    for _ in range(stages):
        best = best.copy()
        for long in range(2, len(best)):
            half = long // 2
            np.maximum(
                best[long], (best[1 : half + 1] + best[long - half : long][::-1]).max(axis=0), out=best[long]
            )
        best = np.ascontiguousarray(best.T)
    return int(best[-1, -1])
