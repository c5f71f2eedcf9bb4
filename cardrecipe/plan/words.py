"""English for a maker's ear: numbers in words, lists, singular and plural, names read aloud."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from cardrecipe.model.lengths import (
    ABBREVIATION,
    convert,
    is_on,
    round_near,
    size_written,
    to_mm,
    with_unit,
    written,
)
from cardrecipe.model.papers import Paper

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


SIDES = ("left", "right", "top", "bottom")  # alone they are no thing to take in hand


def number(count: int) -> str:
    """`count` in words up to ten, then in figures."""
    return NUMBERS[count] if count < len(NUMBERS) else str(count)


def counted(count: int, noun: str) -> str:
    """A count with its noun: `one piece`, `two pieces`."""
    return f"{number(count)} {noun if count == 1 else plural(noun)}"


def listed(items: Iterable[str], last: str = "and") -> str:
    """`a`, `a and b`, `a, b and c`."""
    parts = list(items)
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def sentences(*parts: str) -> str:
    """The parts that are not empty, each with a capital and a full stop, in one paragraph."""
    return " ".join(sentence(part) for part in parts if part)


def sentence(text: str) -> str:
    """`text` with a capital and, unless it ends a sentence already, a full stop."""
    ended = text if text.endswith((".", "!", "?", "…")) else f"{text}."
    return capital(ended)


def capital(text: str) -> str:
    """`text` with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def spoken(name: str) -> str:
    """A recipe's name as it is read aloud: `left-door` is `left door`."""
    return name.replace("-", " ")


def the(name: str) -> str:
    """A name with its article; one that ends in a number needs none: `section 2`."""
    if _is_numbered(name):
        return spoken(name)
    return f"the {spoken(name)} part" if name in SIDES else f"the {spoken(name)}"


def a_count_of(name: str, count: int) -> str:
    """Pieces seen for the first time: `one plate`, `two door papers`."""
    return f"{number(count)} {_so_many(name, count)}"


def the_count_of(name: str, count: int) -> str:
    """Pieces already met: `the plate`, `the two door papers`."""
    return the(name) if count == 1 else f"the {number(count)} {_so_many(name, count)}"


def plural(noun: str) -> str:
    """More than one of a noun, by the common rules; a noun that ends in s stays as it is."""
    if noun.endswith(("ss", "x", "z", "ch", "sh")):
        return noun + "es"
    if noun.endswith("s"):
        return noun
    if noun.endswith("leaf"):
        return noun[:-1] + "ves"
    if noun.endswith("y") and noun[-2:-1] not in tuple("aeiou"):
        return noun[:-1] + "ies"
    return noun + "s"


def quoted(text: str) -> str:
    """A design's name in quotation marks."""
    return f"“{text}”"


def lengths(values: Sequence[Fraction], unit: str) -> str:
    """Several lengths with the unit once: `1 1⁄4 and 3 3⁄8 in`."""
    return f"{listed(written(value, unit) for value in values)}\u00a0{ABBREVIATION[unit]}"


def bought_length(value: Fraction, unit: str) -> str:
    """A thickness or a length as shops mark it: in the other unit where a rule has no such mark.

    Foam 2 mm thick is 10⁄127 in to the compiler, and foam 1⁄16 in thick 1.5875 mm; nobody would know it
    by those numbers.
    """
    millimetres = to_mm(value, unit)
    if unit == "inch" and value.denominator > 32 and millimetres.denominator <= 10:
        return with_unit(millimetres, "mm")
    inches = convert(value, unit, "inch")
    if unit == "mm" and value.denominator > 10 and 32 % inches.denominator == 0:
        return f"{with_unit(inches, 'inch')} (about {with_unit(round_near(value, Fraction(1, 10)), 'mm')})"
    return with_unit(value, unit)


def bought_size(width: Fraction, height: Fraction, unit: str) -> str:
    """The size of a sheet or an envelope as shops mark it: one of the other unit system keeps its own.

    A sheet of 12 × 12 in is 304.8 × 304.8 mm, and nobody would ask for it by that.
    """
    other = "mm" if unit == "inch" else "inch"
    across, down = convert(width, unit, other), convert(height, unit, other)
    own = all(is_on(side, BOUGHT[unit]) for side in (width, height))
    if not own and all(is_on(side, BOUGHT[other]) for side in (across, down)):
        return size_written(across, down, other)
    return size_written(width, height, unit)


# The finest marks that sheets and envelopes are sold by.
BOUGHT = {"inch": Fraction(1, 16), "mm": Fraction(1)}


def paper_words(paper: Paper) -> str:
    """A paper as one asks for it: `Ink blue cardstock`."""
    kind = {"patterned": "patterned paper", "plain": "paper"}.get(paper.kind, paper.kind)
    said = paper.title.lower()
    if any(word in said.split() for word in (*kind.split(), "paper", "card")):
        return paper.title
    return f"{paper.title} {kind}"


def _is_numbered(name: str) -> bool:
    return name[-1:].isdigit()


def _so_many(name: str, count: int) -> str:
    if count == 1:
        return spoken(name)
    return f"{spoken(name)} pieces" if _is_numbered(name) else plural(spoken(name))
