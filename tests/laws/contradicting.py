"""A seed in, a recipe out whose lines say more than is needed, and one or two of them something else.

Each line with sizes in it can be opened: what it says is left to follow from the others.
"""

import re
from random import Random

from tests.laws.drawn import Way

_WAY = Way()
HEAD = (
    'recipe "Overfull"\n  units inch nearest 1/16\npaper ink is cardstock "Ink" 24 x 24\nbase card from ink'
)


def overfull(seed: int) -> list[str]:
    """The lines of the recipe of that seed."""
    chance = Random(seed)
    front, back, high = chance.randint(30, 60), chance.randint(30, 60), chance.randint(40, 90)
    lines = HEAD.split("\n")
    lines += [f"  flat {_len(front + back)} x {_len(high)}", f"  score {_len(front)} from left",
              "  sections front, back"]  # fmt: skip
    widths = {"front": (front, high), "back": (back, high)}
    for number in range(chance.randint(1, 3)):
        host = chance.choice(sorted(widths))
        widths[f"panel-{number}"] = _panel(chance, f"panel-{number}", host, widths[host], lines)
    said = [at for at, line in enumerate(lines) if re.match(r"  (flat|score|size|border)", line)]
    for at in chance.sample(said, chance.randint(1, 2)):
        lines[at] = re.sub(r"(?<= )\d\S*(?: \d+/\d+)?", _other(chance), lines[at], count=1)
    return [line for line in lines if not line.startswith("  border") or chance.random() < 0.9]


def _panel(chance: Random, name: str, host: str, room: tuple[int, int], lines: list[str]) -> tuple[int, int]:
    edges = {edge: chance.randint(1, 4) for edge in ("left", "right", "top", "bottom")}
    width, height = room[0] - edges["left"] - edges["right"], room[1] - edges["top"] - edges["bottom"]
    lines.append(f"panel {name} from ink on {host}")
    lines.append(f"  size {_len(width)} x {_len(height)}")
    lines += [f"  border {_len(marks)} {edge}" for edge, marks in edges.items()]
    return width, height


def _len(marks: int) -> str:
    return _WAY.length(marks)


def _other(chance: Random) -> str:
    return _len(chance.randint(20, 50))


def opened(line: str) -> str:
    """The line with what it says of sizes left open, or gone where it says nothing else."""
    if line.startswith("  flat"):
        return "  flat ? x ?"
    if line.startswith("  score"):
        return "  score ? from left"
    return "" if re.match(r"  (size|border)", line) else line
