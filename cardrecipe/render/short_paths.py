"""The numbers of a drawing in whole twentieths of a mm, its path data told from point to point: said shorter.

A twentieth of a mm is a seventh of a point: less than a line is thin, less than a screen's dot.
"""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

PER_MM = 20

_NUMBER = re.compile(r"-?\d*\.?\d+")
_COMMAND = re.compile(r"([A-Z])([^A-Z]*)")
_TRANSFORM = re.compile(r"(\w+)\(([^()]*)\)")
_LENGTHS = {"translate": (0, 1), "rotate": (1, 2), "matrix": (4, 5)}  # which numbers of a transform

XY = tuple[int, int]


def whole(text: str) -> str:
    """`text` with every number in it, a place in mm, in whole units."""
    return _NUMBER.sub(lambda found: str(_units(found[0])), text).replace(" ", ",")


def measured(text: str) -> str:
    """`text` with every number in it, a size in mm, in units; thin lines keep a decimal."""
    return _NUMBER.sub(lambda found: _decimal(float(found[0]) * PER_MM, 1), text)


def short_transform(text: str) -> str:
    """The transforms of a drawing, in units; a turn by nothing is left out."""
    return "".join(_transforms(text))


@lru_cache(maxsize=1 << 14)
def short_path(data: str) -> str:
    """`data` in units, every line and curve told from where the last one ended.

    Points are rounded first and then told apart, so that no error grows along a line.
    """
    return "".join(_told(data))


def _transforms(text: str) -> Iterator[str]:
    for name, inside in _TRANSFORM.findall(text):
        numbers = inside.split()
        if name == "rotate" and float(numbers[0]) == 0:
            continue
        lengths = _LENGTHS[name]
        said = (str(_units(number)) if at in lengths else _decimal(float(number), 3)
                for at, number in enumerate(numbers))  # fmt: skip
        yield f"{name}({','.join(said)})"


def _told(data: str) -> Iterator[str]:
    at: XY = (0, 0)  # a first move is told from nowhere, in small letters too
    start, last = at, ""
    for command, text in _COMMAND.findall(data):
        if command == "Z":
            yield "z"
            at, last = start, ""
            continue
        letter, numbers, at = _from(at, command, text.split())
        if command == "M":
            start = at
        said = _joined(numbers)
        yield said if letter == last and said[0] == "-" else f",{said}" if letter == last else letter + said
        last = "l" if letter == "m" else letter  # lines follow a move without a letter


def _from(at: XY, command: str, numbers: list[str]) -> tuple[str, list[str], XY]:
    """A command told from the point `at`: its letter, its numbers, and where it ends."""
    if command in "HV":
        end = (_units(numbers[0]), at[1]) if command == "H" else (at[0], _units(numbers[0]))
    else:
        end = (_units(numbers[-2]), _units(numbers[-1]))
    right, down = end[0] - at[0], end[1] - at[1]
    if command in "LHV":
        letter = "h" if not down else "v" if not right else "l"
        told = [right] if not down else [down] if not right else [right, down]
        return letter, [str(each) for each in told], end
    if command == "A":
        radii = [measured(each) for each in numbers[:2]]
        return "a", [*radii, *numbers[2:5], str(right), str(down)], end
    told = [_units(each) - at[place % 2] for place, each in enumerate(numbers)]
    return command.lower(), [str(each) for each in told], end


def _joined(numbers: Iterable[str]) -> str:
    """The numbers with a comma only where no sign parts them: without blanks they need no quotes."""
    return ",".join(numbers).replace(",-", "-")


@lru_cache(maxsize=1 << 15)
def _units(text: str) -> int:
    return round(float(text) * PER_MM)


def _decimal(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    text = text.replace("0.", ".", 1) if abs(value) < 1 else text
    return "0" if text in ("-0", "-", "") else text
