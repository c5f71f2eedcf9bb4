"""A recipe with a few of its lines changed as a slip of the hand, or an enemy, would change them."""

import re
from collections.abc import Callable, Sequence
from random import Random

from cardrecipe.syntax.words import WORDS
from tests.fuzz.first_texts import vocabulary

_TOKEN = re.compile(r'"[^"\n]*"|[0-9]+[ \t]+[0-9]+/[0-9]+|[0-9]+(?:[./][0-9]+)?|[\w-]+|[^\s\w]')
_NUMBER = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+")
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
NUMBERS = ("0", "-1", "999999999999", "1/0", "1", "1/1000000", "0.000001", "100000", "1 mm", "2 cm", "?",
           "-(0)", "1/2", "64", "1/3", "2", "12", "3", "0/1", "10000000000000")  # fmt: skip
TEXTS = ('""', '"x"', f'"{"m" * 300}"', '"\u202eback"', '"<b>&amp;</b>"', '"[a](b)`|*_"', '"😀 ½ é"',
         '"../x"', '"/etc"', '"""\n  \n  """', '"card.recipe"', '"\\"', '"#"')  # fmt: skip
Lines = list[str]
Mutation = Callable[[Lines, Random, Sequence[str]], Lines]


def mutated(text: str, chance: Random, others: Sequence[str] = (), most: int = 3) -> str:
    """`text` with one to `most` changes; `others` are lines of other recipes."""
    lines = text.split("\n")
    for _ in range(chance.randint(1, most)):
        lines = chance.choice(MUTATIONS)(lines, chance, others or lines) or [""]
    return "\n".join(lines)


# ---- whole lines ---------------------------------------------------------------------------------


def _at(lines: Lines, chance: Random) -> int:
    """A line with something on it, where there is one."""
    full = [at for at, line in enumerate(lines) if line.strip()]
    return chance.choice(full) if full else chance.randrange(len(lines))


def _delete(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    at = _at(lines, chance)
    return lines[:at] + lines[at + chance.choice((1, 1, 1, 3)) :]


def _double(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    at = _at(lines, chance)
    return lines[:at] + [lines[at]] * chance.choice((2, 2, 2, 30)) + lines[at + 1 :]


def _swap(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    one, two = _at(lines, chance), _at(lines, chance)
    changed = list(lines)
    changed[one], changed[two] = lines[two], lines[one]
    return changed


def _move(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    at = _at(lines, chance)
    rest = lines[:at] + lines[at + 1 :]
    to = chance.randint(0, len(rest))
    return [*rest[:to], lines[at], *rest[to:]]


def _indent(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    at = _at(lines, chance)
    indent = chance.choice(("", " ", "  ", "   ", "    ", "\t", "  \t"))
    return [*lines[:at], indent + lines[at].lstrip(), *lines[at + 1 :]]


def _foreign(lines: Lines, chance: Random, others: Sequence[str]) -> Lines:
    at = chance.randint(0, len(lines))
    return [*lines[:at], chance.choice(others), *lines[at:]]


def _block_again(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    """A statement with its block once more, at the end of the file."""
    heads = [at for at, line in enumerate(lines) if line[:1].strip()]
    if not heads:
        return lines
    at = chance.choice(heads)
    end = next((each for each in heads if each > at), len(lines))
    return lines + lines[at:end]


# ---- within a line -------------------------------------------------------------------------------


def _replaced(pattern: re.Pattern[str], choices: Sequence[str]) -> Mutation:
    """A change of one match of `pattern`, on any line, to one of `choices`; of the file's own where empty."""

    def replace(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
        found = [(at, match) for at, line in enumerate(lines) for match in pattern.finditer(line)]
        if not found:
            return lines
        at, match = chance.choice(found)
        put = chance.choice(choices or [other.group() for _, other in found])
        return [*lines[:at], lines[at][: match.start()] + put + lines[at][match.end() :], *lines[at + 1 :]]

    return replace


def _insert(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    """A word of the language between two others."""
    at = _at(lines, chance)
    gaps = [match.start() for match in _TOKEN.finditer(lines[at])] + [len(lines[at])]
    gap = chance.choice(gaps)
    return [
        *lines[:at],
        f"{lines[at][:gap]}{chance.choice(vocabulary())} {lines[at][gap:]}",
        *lines[at + 1 :],
    ]


def _cut(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    """A line that ends in the middle, or a file that does."""
    at = _at(lines, chance)
    to = chance.randint(0, len(lines[at]))
    return [*lines[:at], lines[at][:to], *(lines[at + 1 :] if chance.random() < 0.8 else ())]


def _break(lines: Lines, chance: Random, _: Sequence[str]) -> Lines:
    """A line broken in two, or joined with the next."""
    at = _at(lines, chance)
    if chance.random() < 0.5:
        return [*lines[:at], " ".join(lines[at : at + 2]), *lines[at + 2 :]]
    to = chance.randint(0, len(lines[at]))
    return [*lines[:at], lines[at][:to], lines[at][to:], *lines[at + 1 :]]


MUTATIONS: tuple[Mutation, ...] = (
    _delete, _double, _swap, _move, _indent, _foreign, _block_again, _insert, _cut, _break,
    _replaced(_TOKEN, ()), _replaced(_NUMBER, NUMBERS), _replaced(_NUMBER, NUMBERS), _replaced(_NUMBER, ()),
    _replaced(_NAME, ()), _replaced(_NAME, WORDS), _replaced(re.compile(r'"[^"\n]*"'), TEXTS),
)  # fmt: skip
