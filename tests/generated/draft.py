"""What a generated recipe is made of while it is written: chance, the names so far, lengths and texts."""

from fractions import Fraction
from random import Random
from typing import NamedTuple

WORDS = (
    "moss", "reed", "larch", "harbour", "lantern", "kite", "orchard", "frost", "mill", "tide", "amber",
    "fern", "slate", "meadow", "ember", "plum", "dusk", "linen", "ripple", "willow", "x", "x2", "in", "top",
    "left", "from", "size", "width", "on", "min-x", "paper-2",
)  # fmt: skip
PHRASES = (
    "Row of lanterns", "Frosted fern", "Press until dry.", "Leave 1/2 in free; fold it # twice",
    "Für später – 5½ × 3", "it's dry", "x", "a, b, c", "(see the back)", "100 %", "units mm nearest 1",
    "tab\there", "ends in a space ",
)  # fmt: skip
MARKDOWN = (
    "A card for the evening.", "1. Choose four papers.", "2. Keep the trunks low.", "", "* one",
    "  * one below it", "# not a comment", 'the "quiet" one', "a line that breaks here  ", "    code: 5½ x 3",
    "`base` is a word", "",
)  # fmt: skip


class Written(NamedTuple):
    """A statement as text, with the statements of its block; a text block brings lines of its own."""

    line: str
    block: tuple["Written", ...] = ()


class Face(NamedTuple):
    """What a piece can be put on: its name, and its size in marks of the ruler."""

    name: str
    width: int
    height: int


class Draft:
    """A recipe that is being written. One mark is 1/16 in, or 1 mm."""

    def __init__(self, seed: int) -> None:
        self.chance = Random(seed)
        self.unit = self.chance.choice(("inch", "inch", "mm"))
        self.papers: list[str] = []
        self.supplies: list[str] = []
        self.lets: list[tuple[str, int]] = []
        self.bases: list[str] = []
        self.faces: list[Face] = []  # sections and pieces, where something can be put
        self.pieces: list[Face] = []
        self.scores = 1  # of the first base, at least
        self.border = False  # whether the recipe has a default border
        self._taken: set[str] = set()

    # ---- chance ----------------------------------------------------------------------------------

    def often(self, share: float) -> bool:
        return self.chance.random() < share

    def some(self, most: int, least: int = 0) -> range:
        return range(self.chance.randint(least, most))

    def name(self) -> str:
        """A new name; some are words of the language, as names may be."""
        while True:
            words = self.chance.sample(
                WORDS[:20] if self.often(0.9) else WORDS, self.chance.choice((1, 1, 2))
            )
            name = "-".join(words)
            if name not in self._taken and name not in _NEVER_NAMES:
                self._taken.add(name)
                return name

    # ---- lengths ---------------------------------------------------------------------------------

    def marks(self, least: int, most: int) -> int:
        """A size in marks; `most` may be smaller than `least`, where a face is small."""
        return self.chance.randint(min(least, most), max(1, most))

    def length(self, marks: int) -> str:
        """A size as a maker may write it: mostly a number, now and then a sum, always of that value."""
        if self.often(0.8):
            return self.number(marks)
        way = self.chance.randrange(7)
        part = self.chance.randint(1, 24)
        if way == 0 and self.lets:
            name, value = self.chance.choice(self.lets)
            return f"{name} {_signed(self, marks - value)}" if marks != value else name
        if way == 1:
            return f"min({self.number(marks)}, {self.length(marks + part)})"
        if way == 2:
            return f"max({self.number(marks)}, {self.number(max(1, marks - part))})"
        if way == 3:
            return f"({self.number(part)} {_signed(self, marks - part)})"
        if way == 4:
            return f"-(-{self.number(marks)})"
        if way == 5:
            return f"{self.number(2 * marks)} / 2"
        return f"{self.number(marks + part)} - {self.number(part)}"

    def number(self, marks: int) -> str:
        """A number of the recipe's unit, in one of the forms that the language has for it."""
        value = Fraction(marks, 16 if self.unit == "inch" else 1)
        unit = " in" if self.unit == "inch" else self.chance.choice((" mm", " mm", " cm"))
        if self.often(0.1):
            return plain(value / 10 if unit == " cm" else value, self.often(0.5)) + unit
        return plain(value, self.often(0.1))

    # ---- texts -----------------------------------------------------------------------------------

    def text(self) -> str:
        return f'"{self.chance.choice(PHRASES)}"'

    def any_text(self) -> str:
        """A text in quotes or a block of lines."""
        return self.block() if self.often(0.2) else self.text()

    def block(self) -> str:
        """A text block: some line of it stands at the edge, and no blank line at either end."""
        lines = self.chance.sample(MARKDOWN, self.chance.randint(0, 4))
        lines.insert(self.chance.randint(0, len(lines)), MARKDOWN[0])
        said = "\n".join(lines).strip()
        return f'"""\n{said}\n"""'


# Names that would be read as the next word of some line; the language allows them, a maker avoids them.
_NEVER_NAMES = {"from", "on", "in", "left", "top", "min", "max"}


def plain(value: Fraction, decimal: bool = False) -> str:
    """`5 1/2`, or `5.5` where `decimal` is wanted and possible in a few digits."""
    if decimal and value >= 0 and (value * 10_000).denominator == 1:
        return f"{float(value):.4f}".rstrip("0").rstrip(".")
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)


def _signed(draft: Draft, marks: int) -> str:
    return f"{'+' if marks >= 0 else '-'} {draft.number(abs(marks))}"


def as_text(statements: list[Written]) -> str:
    """The statements with their blocks, two spaces deeper each, as the formatter writes them."""
    return "".join(f"{line}\n" for each in statements for line in _lines(each, ""))


def _lines(statement: Written, indent: str) -> list[str]:
    own = [indent + line if line.strip() else "" for line in statement.line.split("\n")]
    return own + [line for each in statement.block for line in _lines(each, indent + "  ")]
