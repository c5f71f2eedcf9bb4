"""The door from these tests to the comparison: texts go in, versions and comparisons come out."""

import random
import re
from collections.abc import Iterator, Mapping
from functools import cache

from cardrecipe.commands.asking import starter
from cardrecipe.commands.comparing import made_from, read_text
from cardrecipe.compare.changes import Cause, Change, Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.compare.version import Version
from cardrecipe.files import source_of
from cardrecipe.library.folds import fold_names
from tests.generated.recipes import recipe
from tests.recipes import NAME, SAMPLES, Texts

SHELF = {path.name: path.read_text("utf-8") for path in sorted(SAMPLES.glob("*.recipe"))}
SAMPLE_NAMES = tuple(name for name, text in SHELF.items() if re.search("^recipe", text, re.MULTILINE))
MIRROR = {"new": "gone", "gone": "new", "larger": "smaller", "smaller": "larger"}


def version(
    text: str, variant: str | None = None, files: Mapping[str, str] = SHELF, name: str = NAME
) -> Version | None:
    """A card of a text; None where it has errors, or is a class."""
    side = read_text(source_of(name, text.encode()), Texts(files))
    return None if side.is_other else made_from(side, variant).version


def good(
    text: str, variant: str | None = None, files: Mapping[str, str] = SHELF, name: str = NAME
) -> Version:
    found = version(text, variant, files, name)
    assert found is not None, text
    return found


@cache
def shipped() -> dict[str, Version]:
    """Every sample and its variants, and the starter of every structure."""
    found = {}
    for name in SAMPLE_NAMES:
        plain = good(SHELF[name], name=name)
        found[name] = plain
        found |= {f"{name}, {title}": good(SHELF[name], title, name=name) for title in plain.variants}
    return found | {name: good(starter(name), name=f"{name}.recipe") for name in fold_names()}


def generated(seeds: range) -> Iterator[tuple[str, Version]]:
    """Whole recipes by chance that have no errors, of the seeds as many as there are.

    At most two copies, since planning many sheets takes longer than all that is looked at here.
    """
    for seed in seeds:
        text = re.sub(r"\bmakes [0-9]+", f"makes {seed % 2 + 1}", recipe(seed, 5))
        made = version(text)
        if made is not None:
            yield text, made


def edited(text: str, chance: random.Random) -> str:
    """One to three lines of a text changed, dropped or doubled: what people do between two saves."""
    lines = text.split("\n")
    for _ in range(chance.randint(1, 3)):
        at = chance.randrange(1, len(lines))
        lines[at : at + 1] = _another(lines[at], chance)
    return "\n".join(lines)


def _another(line: str, chance: random.Random) -> list[str]:
    way = chance.random()
    if way < 0.15 and line.startswith("  "):
        return []
    if way < 0.3:
        return [re.sub(r"#[0-9a-f]{6}", f"#{chance.randrange(1 << 24):06x}", line)]
    if way < 0.45:
        words = [("valley", "mountain"), ("inside", "outside"), ("left", "right"), ("tape", "liquid")]
        one, other = chance.choice(words)
        return [line.replace(one, other)]
    return [re.sub(r"\b[0-9]+\b", lambda found: str(max(1, int(found[0]) + chance.choice((-1, 0, 1)))), line)]


def difference(old: str, new: str, files: Mapping[str, str] = SHELF) -> Comparison:
    return compare(good(old, files=files), good(new, files=files))


def mirrored(comparison: Comparison) -> Comparison:
    """The same comparison with its sides changed over; changes in no order."""
    changes = [_mirrored(change) for change in comparison.changes]
    return comparison._replace(old=comparison.new, new=comparison.old, changes=tuple(sorted(changes)))


def in_no_order(comparison: Comparison) -> Comparison:
    changes = (each._replace(because=tuple(sorted(each.because))) for each in comparison.changes)
    return comparison._replace(changes=tuple(sorted(changes)))


def _mirrored(change: Change) -> Change:
    causes = (each._replace(side={"old": "new", "new": "old"}[each.side]) for each in change.because)
    return change._replace(
        kind=MIRROR.get(change.kind, change.kind), old=change.new, new=change.old,
        old_piece=change.new_piece, new_piece=change.old_piece, because=tuple(sorted(causes)),
    )  # fmt: skip


def told(comparison: Comparison, group: str | None = None) -> list[str]:
    """The changes as short lines with typed sizes: `pieces resized plate: 3 x 2 1/4 in -> …`."""
    return [
        _typed(f"{each.group} {each.kind} {each.what}: {each.old} -> {each.new}")
        for each in comparison.changes
        if group in (None, each.group)
    ]


def causes(change: Change) -> list[str]:
    return [_cause(each) for each in change.because]


def _cause(cause: Cause) -> str:
    return f"{cause.side} {cause.line}: {cause.text}"


def _typed(text: str) -> str:
    return text.translate(str.maketrans({"\u202f": " ", "\u00a0": " ", "\u2044": "/", "\u00d7": "x"}))
