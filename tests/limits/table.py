"""Every limit of the language: a recipe that keeps to it, one that goes one beyond, and what is said then.

The page of the language lists the same limits; the lines of its table are made here.
"""

from collections.abc import Mapping
from typing import NamedTuple

from cardrecipe.fold import layers
from cardrecipe.model import blocks, build, counts, structures, uses, values
from cardrecipe.syntax import build as nodes
from cardrecipe.syntax import lines, parse
from tests.recipes import HEAD

Place = tuple[str, str]  # the module of a constant and its name


class Limit(NamedTuple):
    """`kept` and `broken` are whole recipes; in the broken one the mistake stands at the line `at`.

    `what` is how the page of the language names it, "" for a limit that is told there with another.
    """

    place: Place
    most: int
    what: str
    code: str
    kept: str
    broken: str
    at: int
    kept_files: Mapping[str, str] = {}
    broken_files: Mapping[str, str] = {}
    also: frozenset[str] = frozenset()  # what is said of the kept one for other reasons

    def __str__(self) -> str:
        return f"{self.place[1]}-{self.what or 'once-more'}".replace(" ", "-")


_BASE = "base card from ink\n  flat 12 x 8\n"
_CARD = f"{HEAD}{_BASE}  score 6 from left\n  sections front, back\n"
_PLATE = f"{_CARD}oval plate from ink on back\n"  # 8 lines
_TAG = f"{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n"  # 7 lines


def _sized(width: str) -> str:
    return f"{_PLATE}  size {width} x 2\n"


def _filled(characters: int) -> str:
    """A recipe of exactly so many characters."""
    rest = characters - len(_TAG)
    return _TAG + "#" * (rest % 100) + ("\n" + "#" * 99) * (rest // 100)


def _written(characters: int) -> str:
    """A recipe with a line of so many characters."""
    line = '  write "'
    return f'{_TAG}{line}{"o" * (characters - len(line) - 1)}"\n'


def _bits(number: int) -> str:
    """A size over which numbers of so many bits pass; 549755813888 is a 1 with 39 zeros in binary."""
    many, rest = divmod(number - 1, 39)
    product = " * ".join(["549755813888"] * many + ["2"] * rest)
    return f"let many = {product}\n{_sized('many / many * 3')}"


def _lets(number: int) -> str:
    """A size with so many names behind one another, which none of the names has."""
    named = "".join(f"let wide-{n} = wide-{n - 1} + 1/32\n" for n in range(1, number))
    return f"let wide-0 = 1/32\n{named}{_sized(f'wide-{number - 1}')}"


def _structures(deep: int) -> str:
    asks = "\n  ask width, height\n"
    first = f"structure book-1{asks}  flat 2 * width x height\n  score width from left\n"
    others = "".join(f"structure book-{n}{asks}  fold book-{n - 1}, width width, height height\n"
                     for n in range(2, deep + 1))  # fmt: skip
    return f"{HEAD}base card from ink\n  fold book-{deep}, width 4, height 5\n{first}{others}"


def _folds(number: int) -> str:
    """A base of so many structures, all but the first with no scores in them."""
    folds = "  fold side-fold, width 4, height 5\n" + "  fold nothing\n" * (number - 1)
    return f'{HEAD}base card from ink\n{folds}structure nothing\n  ask width = 1\n'


def _tags(number: int, first: int = 0) -> str:
    return "".join(
        f"rectangle tag-{n} from ink\n  size 1 x 1\n  loose\n" for n in range(first, first + number)
    )


def _brought(number: int) -> str:
    """A card of so many pieces, most of which a structure brings."""
    return (
        f"{HEAD}base card from ink\n  fold bringing\n{_tags(number - 3)}structure bringing\n  flat 8 x 5\n"
        "  score 4 from left\n  panel one on base\n    size 1 x 1\n    loose\n"
        "  panel two on base\n    size 1 x 1\n    loose\n"
    )


def _uses(number: int) -> str:
    return "".join(f'use "shelf-{n}.recipe"\n' for n in range(number)) + _TAG


def _shelves(number: int) -> dict[str, str]:
    return {f"shelf-{n}.recipe": f"let wide-{n} = {n}\n" for n in range(number)}


def _row_of_shelves(number: int) -> dict[str, str]:
    """Files of which each uses the next."""
    files = {f"shelf-{n}.recipe": f'use "shelf-{n + 1}.recipe"\n' for n in range(number - 1)}
    return files | {f"shelf-{number - 1}.recipe": "let wide = 1\n"}


def _slits(number: int) -> str:
    return f"{_CARD}  cut every 1/16, {number - 1} times from top, between 1 and 2\n"


def _slanted(number: int) -> str:
    return _CARD + "".join(f"  cut from (1, {n}/4) to (2, {n}/4 + 1/8)\n" for n in range(1, number + 1))


def _windows(number: int) -> str:
    return _CARD + "".join(f"  window 1/16 x 1/16 at ({n}/16, 1)\n" for n in range(1, 2 * number, 2))


_COMB = (
    f"{HEAD}{_BASE}  score every 1, 11 times from left, by turns\n"
    "  cut every 1/2, 12 times from top, between 1 and 10\n"  # nine strips in thirteen parts, and three more
)
_BENCH = 'class "Saturday bench"\n'
_MADE = {"tag.recipe": _TAG}
_MANY = {f"tag-{n}.recipe": _TAG for n in range(uses.MAX_USED_FILES + 1)}
_HALF = {"tag.recipe": HEAD + _tags(1_000), "other.recipe": HEAD + _tags(1_000)}
_MORE = _HALF | {"other.recipe": HEAD + _tags(1_001)}
_TOO_MANY_SCORES = "too-many-scores"


def _makes(number: int) -> str:
    return _BENCH + "".join(f'  make 1 of "tag-{n}.recipe"\n' for n in range(number))


LIMITS = (
    Limit(("syntax.lines", "MAX_FILE"), lines.MAX_FILE, "characters of a file", "file-too-long",
          _filled(lines.MAX_FILE), _filled(lines.MAX_FILE + 1), 1),
    Limit(("syntax.lines", "MAX_LINE"), lines.MAX_LINE, 'characters of a line, but for `"""` texts',
          "line-too-long", _written(lines.MAX_LINE), _written(lines.MAX_LINE + 1), 8),
    Limit(("syntax.parse", "MAX_PARENTHESES"), parse.MAX_PARENTHESES, "parentheses of a line, but for texts",
          "too-many-parentheses", _sized("(" * 64 + "3" + ")" * 64), _sized("(" * 65 + "3" + ")" * 65), 10),
    Limit(("syntax.build", "MAX_OPERATORS"), nodes.MAX_OPERATORS, "operations of a line", "sum-too-long",
          _sized("1/128 + " * 200 + "1/16"), _sized("1/128 + " * 201 + "1/16"), 10),
    Limit(("syntax.build", "MAX_DIGITS"), nodes.MAX_DIGITS, "digits of a number", "number-too-long",
          _sized("2.50000000000"), _sized("2.500000000000"), 10),
    Limit(("model.values", "MAX_BITS"), values.MAX_BITS, "bits of a number that is worked out",
          "number-too-large", _bits(4_096), _bits(4_097), 1),
    Limit(("model.values", "MAX_LETS"), values.MAX_LETS, "`let`s behind one another", "lets-too-deep",
          _lets(64), _lets(65), 75),
    Limit(("model.uses", "MAX_USED_FILES"), uses.MAX_USED_FILES, "used files", "use-too-many",
          _uses(50), _uses(51), 51, _shelves(50), _shelves(51)),
    Limit(("model.uses", "MAX_USED_FILES"), uses.MAX_USED_FILES, "recipes of a class", "use-too-many",
          _makes(50), _makes(51), 52, _MANY, _MANY),
    Limit(("model.uses", "MAX_USE_DEPTH"), uses.MAX_USE_DEPTH, "used files behind one another",
          "use-too-deep", _uses(1), _uses(1), 1, _row_of_shelves(16), _row_of_shelves(17)),
    Limit(("model.build", "MAX_PIECES"), build.MAX_PIECES, "pieces of a card", "too-many-pieces",
          HEAD + _tags(2_000), HEAD + _tags(2_001), 6_005),
    Limit(("model.build", "MAX_PIECES"), build.MAX_PIECES, "", "too-many-pieces",
          _brought(2_000), _brought(2_001), 6_007),
    Limit(("model.build", "MAX_PIECES"), build.MAX_PIECES, "pieces of all recipes of a class",
          "class-too-large", _BENCH + '  make 1 of "tag.recipe"\n  make 1 of "other.recipe"\n',
          _BENCH + '  make 1 of "tag.recipe"\n  make 1 of "other.recipe"\n', 1, _HALF, _MORE),
    Limit(("model.blocks", "MAX_LINES"), blocks.MAX_LINES, "scores and slits of a piece", _TOO_MANY_SCORES,
          _slits(100), _slits(101), 9),
    Limit(("model.blocks", "MAX_SLANTED"), blocks.MAX_SLANTED, "slanted ones among them", _TOO_MANY_SCORES,
          _slanted(24), _slanted(25), 33),
    Limit(("model.blocks", "MAX_WINDOWS"), blocks.MAX_WINDOWS, "windows of a piece", "too-many-windows",
          _windows(50), _windows(51), 59),
    Limit(("fold.layers", "MAX_SECTIONS"), layers.MAX_SECTIONS, "sections of a base with its glued panels",
          "too-many-sections", _COMB, f"{_COMB}  score 11 1/2 from left\n", 5,
          also=frozenset({"post-too-thick"})),
    Limit(("model.structures", "MAX_STRUCTURE_DEPTH"), structures.MAX_STRUCTURE_DEPTH,
          "structures that fold each other", "structures-too-deep", _structures(16), _structures(17), 13),
    Limit(("model.structures", "MAX_FOLDS"), structures.MAX_FOLDS, "structures of a base", "too-many-folds",
          _folds(100), _folds(101), 106),
    Limit(("model.counts", "MAX_COPIES"), counts.MAX_COPIES, "cards of a recipe (`makes`, `make`)",
          "not-a-count", _TAG.replace("  units", "  makes 10000\n  units"),
          _TAG.replace("  units", "  makes 10001\n  units"), 2),
    Limit(("model.counts", "MAX_COPIES"), counts.MAX_COPIES, "", "not-a-count",
          f'{_BENCH}  make 10000 of "tag.recipe"\n', f'{_BENCH}  make 10001 of "tag.recipe"\n', 2,
          _MADE, _MADE),
    Limit(("model.counts", "MAX_COPIES"), counts.MAX_COPIES, "kits of a class", "class-too-large",
          f'{_BENCH}  spare 1\n  make 9999 of "tag.recipe"\n',
          f'{_BENCH}  spare 1\n  make 10000 of "tag.recipe"\n', 1, _MADE, _MADE),
    Limit(("model.counts", "MAX_SPARE"), counts.MAX_SPARE, "spare kits of a card", "not-a-count",
          f'{_BENCH}  make 1 of "tag.recipe"\n  spare 1000\n',
          f'{_BENCH}  make 1 of "tag.recipe"\n  spare 1001\n', 3, _MADE, _MADE),
    Limit(("model.counts", "MAX_SHEETS"), counts.MAX_SHEETS, "sheets that are there (`have`)", "not-a-count",
          f'{_BENCH}  make 1 of "tag.recipe"\n  have ink 10000 sheets\n',
          f'{_BENCH}  make 1 of "tag.recipe"\n  have ink 10001 sheets\n', 3, _MADE, _MADE),
    Limit(("model.counts", "MAX_PACK"), counts.MAX_PACK, "sheets of a pack", "not-a-count",
          _TAG.replace("12 x 12", "12 x 12, pack of 10000"),
          _TAG.replace("12 x 12", "12 x 12, pack of 10001"), 4),
    Limit(("model.counts", "MAX_COUNT"), counts.MAX_COUNT, "pieces alike (`count`)", "not-a-count",
          f"{_TAG}  count 2000\n", f"{_TAG}  count 2001\n", 8),
    Limit(("model.counts", "MAX_REPEAT"), counts.MAX_REPEAT, "pieces in a row (`repeat`)", "not-a-count",
          f"{_PLATE}  size 1 x 1/16\n  repeat 100 down, gap 0\n",
          f"{_PLATE}  size 1 x 1/16\n  repeat 101 down, gap 0\n", 11),
    Limit(("model.counts", "MAX_SCORE"), counts.MAX_SCORE, "", "not-a-count",
          f"{_CARD}pose standing\n  fold 1000 at 60\n", f"{_CARD}pose standing\n  fold 1001 at 60\n", 10,
          also=frozenset({"no-such-score"})),
)  # fmt: skip


def page_table() -> str:
    """The table of the page of the language."""
    rows = [
        f"| {each.what} | {each.most:,} | [{each.code}](mistakes.md#{each.code}) |"
        for each in LIMITS
        if each.what
    ]
    return "\n".join(["| of these | at most | what is said of more |", "| --- | --- | --- |", *rows]) + "\n"
