"""A seed in, the text of a small card out, written in one of several ways that mean the same.

Nothing but the seed decides what the card is; the way of writing decides the unit, the scale, and whether
left and right are changed over. What depends on a unit by nature (default sheets, usual overlaps) is written
out.
"""

from fractions import Fraction
from random import Random
from typing import NamedTuple

from cardrecipe.model.lengths import typed

MARK = Fraction(1, 16)  # of the inch ruler; the others' marks are as far apart


class Way(NamedTuple):
    """How a card is written: in which unit, so many times as large, left and right changed over or not."""

    unit: str = "inch"
    times: int = 1
    is_mirrored: bool = False

    def exact(self, inches: Fraction) -> Fraction:
        """That many inches of the card, in the unit of the recipe."""
        return inches * self.times * (Fraction(127, 5) if self.unit == "mm" else 1)

    def length(self, marks: int) -> str:
        value = self.exact(marks * MARK)
        return typed(value) if value >= 0 else f"0 - {typed(-value)}"

    def edge(self, name: str) -> str:
        return {"left": "right", "right": "left"}.get(name, name) if self.is_mirrored else name

    def in_order(self, parts: list[str]) -> list[str]:
        return parts[::-1] if self.is_mirrored else parts


class Section(NamedTuple):
    """A part of the base, in marks."""

    name: str
    width: int
    height: int


def drawn(seed: int, way: Way | None = None) -> str:
    """The card of that seed, written that way."""
    return _Drawing(Random(seed), way or Way()).text()


class _Drawing:
    """Every choice is drawn whatever the way is, so that one seed is one card."""

    def __init__(self, chance: Random, way: Way) -> None:
        self.chance = chance
        self.way = way
        self.hosts: list[Section] = []

    def text(self) -> str:
        way, chance = self.way, self.chance
        lines = ['recipe "Drawn"', f"  units {way.unit} nearest {way.length(1)}"]
        lines += [f"  border {way.length(chance.randint(1, 3))}"] * (chance.random() < 0.7)
        lines.append(f"let reveal = {way.length(2)}")
        side = way.length(320)
        lines.append(f'paper ink is cardstock "Ink" {side} x {side}, thick 0.3 mm')
        lines += self._base()
        for number in range(chance.randint(1, 5)):
            lines += self._piece(f"piece-{number}")
        return "\n".join(lines) + "\n"

    def _base(self) -> list[str]:
        chance, way = self.chance, self.way
        part, height = chance.randint(24, 48), chance.randint(48, 80)
        fold = chance.choice(("half", "gate", "zigzag", "none"))
        widths = {"half": [2, 2], "gate": [1, 2, 1], "zigzag": [2, 2, 2], "none": [4]}[fold]
        wide = [part * each for each in widths]
        total, edge = sum(wide), way.edge(chance.choice(("left", "right")))
        lines = ["base card from ink", f"  flat {way.length(total)} x {way.length(height)}"]
        near = wide[0] if edge == way.edge("left") else wide[-1]
        if fold == "gate" and chance.random() < 0.5:
            lines.append(f"  score {way.length(wide[0])} from both sides")
        elif fold == "zigzag":
            far = total - near
            lines.append(f"  score {way.length(near)} from {edge}")
            lines.append(f"  score {way.length(far)} from {edge}, mountain")
        elif fold != "none":
            places = (sum(wide[:at]) for at in range(1, len(wide)))
            lines += [f"  score {way.length(place)} from {way.edge('left')}" for place in places]
        names = [f"part-{number}" for number in range(len(wide))]
        if fold == "none":
            self.hosts = [Section("card", total, height)]
            return lines
        self.hosts = [Section(name, width, height) for name, width in zip(names, wide, strict=True)]
        return [*lines, f"  sections {', '.join(way.in_order(names))}"]

    def _piece(self, name: str) -> list[str]:
        chance, way = self.chance, self.way
        host = chance.choice(self.hosts)
        kind = chance.choice(("panel", "panel", "oval", "circle", "tag"))
        side = chance.choice(("", "", " outside")) if host.name.startswith("part") else ""
        width = max(2, host.width - chance.randint(4, 12))
        height = max(2, host.height - chance.randint(4, 12))
        if kind == "circle":
            width = height = min(width, height)
        lines = [f"{kind} {name} from ink on {host.name}{side}"]
        if kind == "circle":
            lines.append(f"  diameter {way.length(width)}")
        elif kind != "panel" or chance.random() < 0.6:
            sums = (way.length(width), f"{host.name}.width - {way.length(host.width - width)}",
                    f"{way.length(width - 2)} + reveal", f"2 * {way.length(width)} / 2",
                    f"max({way.length(width)}, reveal)", f"{way.length(width)} + 0 mm")  # fmt: skip
            lines.append(f"  size {chance.choice(sums)} x {way.length(height)}")
        else:
            lines.append(f"  border {way.length(chance.randint(1, 4))}")
            width, height = host.width, host.height
        lines += self._place(host, width, height)
        if chance.random() < 0.2:
            lines.append(f"  corners round {way.length(1)}")
        done = chance.choice(('stamp "A star"', 'write "A wish"', "glue with tape", ""))
        self.hosts.append(Section(name, width, height))
        return [*lines, f"  {done}"] if done else lines

    def _place(self, host: Section, width: int, height: int) -> list[str]:
        """A place in one direction or both; in the middle, it lies on a mark only now and then."""
        chance, way = self.chance, self.way
        edges = way.edge(chance.choice(("left", "right"))), chance.choice(("top", "bottom"))
        across = f"{way.length(chance.randint(0, max(0, host.width - width)))} from {edges[0]}"
        down = f"{way.length(chance.randint(0, max(0, host.height - height)))} from {edges[1]}"
        said = chance.choice((across, down, f"{across}, {down}", ""))
        return [f"  place {said}"] if said and width < host.width and height < host.height else []
