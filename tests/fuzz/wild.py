"""Chance, the names so far, and values: the ones a maker would write, and the ones nobody would.

`hostility` is the share of values and names that are hostile: 0, negatives, vast ones, twelve digits, empty
texts, a name of another kind of thing, a name that is not there.
"""

from collections.abc import Callable, Sequence
from fractions import Fraction
from random import Random
from typing import TypeVar

from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span

NOWHERE = Span("tree", 0, 0)
HOSTILE_NUMBERS = ("0", "0", "1/1000000", "999999999999", "1/999999999999", "100000", "12345678901/12", "1",
                   "1/64", "1000", "10001", "2001", "64", "361", "180", "90", "1/3")  # fmt: skip
TEXTS = ("Row of lanterns", "Press until dry.", "Für später – 5½ × 3", "it's dry", "a, b, c")
HOSTILE_TEXTS = ("", " ", "m" * 400, "two\nlines", "# not a comment", 'the "quiet" one', "<b>&amp;</b>",
                 "[a](b) `c` *d* | _e_", "\u202eback", "😀", "1.", "- ", "\u00a0", "\\", "../x", "#panel",
                 "units mm", "card.recipe", "$a$ #b <c> @d")  # fmt: skip
NAMES = ("moss", "reed", "larch", "tide", "amber", "fern", "slate", "plum", "dusk", "linen", "x2", "paper-2",
         "left", "size", "width", "on", "from", "border", "base", "front", "back", "section-1",
         "height")  # fmt: skip
KINDS = ("paper", "supply", "let", "face", "piece", "base", "fold", "section", "lying")
One = TypeVar("One")


class Wild:
    """A recipe's tree while it grows."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.hostility = self.chance.choice((0.0, 0.01, 0.03, 0.1, 0.4))
        self.unit = self.chance.choice(("inch", "inch", "mm"))
        self.names: dict[str, list[str]] = {kind: [] for kind in KINDS}

    # ---- chance ----------------------------------------------------------------------------------

    def often(self, share: float) -> bool:
        return self.chance.random() < share

    def is_hostile(self) -> bool:
        return self.often(self.hostility)

    def some(self, most: int, least: int = 0) -> range:
        return range(self.chance.randint(least, most))

    def one(self, choices: Sequence[One]) -> One:
        return self.chance.choice(choices)

    def perhaps(self, share: float, make: Callable[[], One]) -> One | None:
        return make() if self.often(share) else None

    # ---- names and texts -------------------------------------------------------------------------

    def word(self, text: str) -> tree.Word:
        return tree.Word(NOWHERE, text)

    def kind(self, choices: Sequence[str]) -> tree.Word:
        """A keyword that stands where a name could, or another word."""
        return self.word(self.one(NAMES) if self.is_hostile() else self.one(choices))

    def fresh(self, kind: str) -> str:
        """A new name; where hostile, one that something has already."""
        taken = [name for names in self.names.values() for name in names]
        if self.is_hostile():
            name = self.one([*taken, *NAMES])
        else:
            number = len(taken)
            name = f"{self.one(NAMES[:11])}-{number}"
        self.names[kind].append(name)
        return name

    def known(self, kind: str) -> str:
        """A name of that kind; where hostile, or where there is none, any name."""
        if self.names[kind] and not self.is_hostile():
            return self.one(self.names[kind])
        return self.one([*NAMES, *(name for names in self.names.values() for name in names)])

    def reference(self, kind: str) -> tree.Reference:
        parts = (self.known(kind),)
        if self.is_hostile():
            parts = (*parts, *(self.known(self.one(KINDS)) for _ in self.some(2)))
        return tree.Reference(NOWHERE, parts)

    def text(self) -> tree.Text:
        return tree.Text(NOWHERE, self.one(HOSTILE_TEXTS) if self.is_hostile() else self.one(TEXTS))

    def short(self, words: Sequence[str]) -> tree.Text:
        """A text that is one of `words`, as a path or a color is; never a block."""
        plain = [each for each in HOSTILE_TEXTS if '"' not in each and "\n" not in each]
        return tree.Text(NOWHERE, self.one(plain) if self.is_hostile() else self.one(words))

    # ---- numbers ---------------------------------------------------------------------------------

    def number(self, *choices: str) -> tree.Number:
        said = self.one(HOSTILE_NUMBERS) if self.is_hostile() else self.one(choices)
        unit = self.one(("in", "mm", "cm")) if self.is_hostile() else None
        return tree.Number(NOWHERE, Fraction(said), unit)

    def count(self, *choices: int) -> tree.Number:
        """A bare number, where the language has no sums and no units."""
        said = self.one(HOSTILE_NUMBERS) if self.is_hostile() else str(self.one(choices))
        return tree.Number(NOWHERE, Fraction(said))

    def length(self, inches: Fraction | int | str, depth: int = 0) -> tree.Expression:
        """A size of about so many inches, in the recipe's unit: a number, or a sum of that value."""
        value = Fraction(inches) if self.unit == "inch" else Fraction(round(Fraction(inches) * 25))
        if self.is_hostile() and depth < 4:
            return self._hostile(depth)
        exact = self.number(str(value))
        if depth > 2 or self.often(0.8):
            return exact
        part = self.length(self.one(("1/16", "1/8", "1/4")), 3)
        return self.one((
            tree.Call(NOWHERE, self.one(("min", "max")), (exact, exact)),
            tree.Negative(NOWHERE, tree.Negative(NOWHERE, exact)),
            tree.Sum(NOWHERE, "-", tree.Sum(NOWHERE, "+", exact, part), part),
            tree.Product(NOWHERE, "/", tree.Product(NOWHERE, "*", exact, self.number("2")), self.number("2")),
        ))  # fmt: skip

    def _hostile(self, depth: int) -> tree.Expression:
        inner = [self.length(self.one(("1", "3", "1/8")), depth + 1) for _ in range(2)]
        owner = self.known(self.one(KINDS))
        quantity = self.one(("width", "height", "finished-width", "thickness", "border", "size", "x2"))
        return self.one((
            tree.Unknown(NOWHERE),
            tree.Reference(NOWHERE, (owner,)),
            tree.Reference(NOWHERE, (owner, quantity)),
            tree.Reference(NOWHERE, (owner, quantity)),
            tree.Negative(NOWHERE, inner[0]),
            tree.Sum(NOWHERE, self.one("+-"), *inner),
            tree.Product(NOWHERE, self.one("*/"), *inner),
            tree.Call(NOWHERE, self.one(("min", "max")), tuple(inner[: self.one((1, 2))])),
            self.number("1", "1000"),
        ))  # fmt: skip

    def size(self, width: Fraction | int | str, height: Fraction | int | str) -> tree.SizeOf:
        return tree.SizeOf(NOWHERE, self.length(width), self.length(height))

    def point(self, x: Fraction | int | str, y: Fraction | int | str) -> tree.Point:
        return tree.Point(NOWHERE, self.length(x), self.length(y))

    def edge(self) -> str:
        return self.one(("left", "right", "top", "bottom"))
