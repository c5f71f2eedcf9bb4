"""Recipes made by chance from a seed: all kinds of bases with panels, mats, strips, bands, tags, raised and
turned pieces, many small ones, long names, tall and wide cards, papers of all kinds and colours."""

import random
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.library.folds import fold_names
from cardrecipe.model.lengths import typed
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax.source import Source

LONG = "a-rather-long-winded"
FIRST = ("lantern", "harbour", "wind", "orchard", "boat", LONG, "moon", "i", "twelfth-night")
LAST = ("paper", "mat", "strip", "label", "piece-of-the-sky", "dot", "tile", "x")
COLORS = (
    *("", "#203040", "#7a7a7a", "#c9762f", "#ffe08a"),
    *("#ffffff", "#101010", "#5d7f3a", "#d9d9d9", "#b03060"),
)
KINDS = ("cardstock", "patterned", "plain", "vellum", "acetate")
SHAPES = ("circle", "oval", "square", "rectangle", "banner", "tag", "cutout")


def cards(first_seed: int, count: int) -> Iterator[tuple[str, Compiled]]:
    """So many cards that have no error, each with its name; seeds whose recipe has one are passed over."""
    found, seed = 0, first_seed
    while found < count:
        result = compile_recipe(Source("card.recipe", recipe(seed)), NoTexts())
        if result.folded is not None:
            found += 1
            yield f"seed {seed}", result
        seed += 1


def recipe(seed: int) -> str:
    return _Recipe(random.Random(seed)).text(seed)


@cache
def sections_of(structure: str) -> list[str]:
    """The names of a shipped structure's sections."""
    high = "" if structure == "triangle" else ", height 6"
    head = 'recipe "Any"\npaper ink is cardstock "Ink" 48 x 48\nbase card from ink\n'
    text = f"{head}  fold {structure}, width 4{high}\n"
    folded = compile_recipe(Source("card.recipe", text), NoTexts()).folded
    assert folded is not None
    return [section.name for section in folded.card.bases[0].sections]


class _Recipe:
    def __init__(self, chance: random.Random) -> None:
        self.chance = chance
        self.unit = chance.choice(("inch", "inch", "mm"))
        self.step = Fraction(1, chance.choice((8, 16, 16))) if self.unit == "inch" else Fraction(1)
        self.inch = Fraction(1) if self.unit == "inch" else Fraction(25)
        self.names: list[str] = []

    def text(self, seed: int) -> str:
        lines = [*self.head(seed), *self.papers(), *self.base(), *self.pieces(), *self.band()]
        return "\n".join(lines) + "\n"

    def length(self, least: float, most: float) -> Fraction:
        """A length on the ruler, from so many to so many inches."""
        low, high = (int(Fraction(each) * self.inch / self.step) for each in (least, most))
        return max(1, self.chance.randint(low, high)) * self.step

    def written(self, least: float, most: float) -> str:
        return typed(self.length(least, most))

    def name(self) -> str:
        name = f"{self.chance.choice(FIRST)}-{self.chance.choice(LAST)}"
        while name in self.names:
            name += self.chance.choice(("-b", "-two", "-also"))
        self.names.append(name)
        return name

    def paper(self) -> str:
        return f"paper-{self.chance.randint(1, 4)}"

    def head(self, seed: int) -> list[str]:
        ruler = f"inch nearest {typed(self.step)}" if self.unit == "inch" else "mm nearest 1"
        border = self.written(0.06, 0.3)
        makes = self.chance.choice((1, 1, 1, 1, 1, 2))
        return [f'recipe "Chance {seed}"', f"  units {ruler}", f"  border {border}", f"  makes {makes}"]

    def papers(self) -> Iterator[str]:
        sizes = ("24 x 40", "12 x 18") if self.unit == "inch" else ("600 x 1000", "300 x 450")
        for number in range(1, 5):
            kind, color = self.chance.choice(KINDS), self.chance.choice(COLORS)
            more = f', color "{color}"' if color else ""
            if kind == "patterned" and self.chance.random() < 0.5:
                more += ", one-way"
            if kind == "cardstock" and self.chance.random() < 0.3:
                more += f", grain {self.chance.choice(('long', 'short'))}"
            yield f'paper paper-{number} is {kind} "Paper no. {number} of {kind}" {sizes[number > 1]}{more}'

    def base(self) -> list[str]:
        first = ["base card from paper-1"]
        if self.chance.random() < 0.4:
            return [*first, *self.structure()]
        return [*first, *self.strip()]

    def structure(self) -> list[str]:
        name = self.chance.choice(fold_names())
        high = "" if name == "triangle" else f", height {self.written(2, 9)}"
        self.sections = sections_of(name)
        return [f"  fold {name}, width {self.written(2, 7)}{high}"]

    def strip(self) -> list[str]:
        parts = self.chance.choice((2, 2, 3, 3, 4, 5, 6, 9))
        lengths = [self.length(0.3, 4) for _ in range(parts)]
        across, whole = self.length(1, 10), sum(lengths)
        lies = self.chance.random() < 0.7
        size = (whole, across) if lies else (across, whole)
        lines = [f"  flat {typed(size[0])} x {typed(size[1])}"]
        for number in range(1, parts):
            way = self.chance.choice(("", ", mountain"))
            lines.append(f"  score {typed(sum(lengths[:number]))} from {'left' if lies else 'top'}{way}")
        self.sections = [f"{self.chance.choice(FIRST)}-{number}" for number in range(1, parts + 1)]
        self.names += self.sections
        lines.append(f"  sections {', '.join(self.sections)}")
        if self.chance.random() < 0.15:
            at = f"{self.written(0.1, 2)}, {self.written(0.1, 2)}"
            lines.append(f"  window {self.written(0.2, 1)} x {self.written(0.2, 1)} at ({at})")
        return lines

    def pieces(self) -> Iterator[str]:
        hosts = [*self.sections]
        for _ in range(self.chance.choice((0, 1, 2, 3, 4, 10))):
            if not hosts or self.chance.random() < 0.1:
                yield from self.loose()
                continue
            host = self.chance.choice(hosts)
            name = self.name()
            yield from self.on(name, host)
            hosts.append(name)

    def loose(self) -> list[str]:
        kind = self.chance.choice(("tag", "rectangle", "banner"))
        size = f"{self.written(0.3, 8)} x {self.written(0.3, 4)}"
        count = f"  count {self.chance.randint(2, 4)}"
        return [f"{kind} {self.name()} from {self.paper()}", f"  size {size}", "  loose", count]

    def on(self, name: str, host: str) -> Iterator[str]:
        side = self.chance.choice((" outside", " inside", "")) if host in self.sections else ""
        if self.chance.random() < 0.4:
            yield f"panel {name} from {self.paper()} on {host}{side}"
            if self.chance.random() < 0.3:
                yield f"  border {self.written(0.06, 0.4)}"
            return
        small = self.chance.random() < 0.5
        wide, high = (self.length(0.15, 0.8 if small else 4) for _ in range(2))
        kind = self.chance.choice(SHAPES)
        if kind in ("circle", "square"):
            high = wide
        yield f"{kind} {name} from {self.paper()} on {host}{side}"
        yield f"  diameter {typed(wide)}" if kind == "circle" else f"  size {typed(wide)} x {typed(high)}"
        if self.chance.random() < 0.4:
            edges = self.chance.choice(("left", "right")), self.chance.choice(("top", "bottom"))
            yield f"  place {self.written(0, 1)} from {edges[0]}, {self.written(0, 1)} from {edges[1]}"
        if self.chance.random() < 0.2:
            yield f"  turned {self.chance.choice((15, 45, 90, 180))}"
        elif self.chance.random() < 0.2:
            yield f"  repeat {self.chance.randint(2, 4)} across, gap {self.written(0.06, 0.5)}"
        if self.chance.random() < 0.25:
            yield "  glue with foam 2 mm thick"
        yield "  overhangs"

    def band(self) -> Iterator[str]:
        if self.chance.random() > 0.3:
            return
        yield f"band the-sash from {self.paper()} around card{self.chance.choice(('', ' downward'))}"
        yield f"  width {self.written(0.3, 2)}"
        yield f"  overlap {self.written(0.5, 1)}"
        if self.chance.random() < 0.5:
            yield f"panel {self.name()} from {self.paper()} on the-sash"
            yield f"  size {self.written(0.3, 1.2)} x {self.written(0.2, 1.2)}"
            yield "  overhangs"
