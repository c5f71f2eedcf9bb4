"""A generated recipe in, the same card written otherwise out: other names, another order of its lines."""

import re
from random import Random
from typing import NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.words import WORDS
from tests.generated.bases import FOLDS, PARTS
from tests.recipes import parsed

_OUTSIDE_TEXTS = re.compile(r'(?P<text>"""(?s:.*?)"""|"[^"\n]*"|#.*)|(?P<name>[a-z][a-z0-9]*(?:-[a-z0-9]+)*)')
_NEW_NAME = re.compile(r"\b[a-z]{2}q\d+q\b")
# Lines that mean the same wherever in their block they stand; works and tips are done in their order.
_FREE = ("flat", "score", "cut", "window", "corners", "sections", "size", "diameter", "width", "length",
         "overlap", "place", "at", "turned", "repeat", "overhangs", "loose", "count", "border")  # fmt: skip
_DECLARED = ("paper", "supply", "let", "structure")


class Renamed(NamedTuple):
    """A text with other names, and what each of them was called before."""

    text: str
    before: dict[str, str]

    def back(self, value: object) -> object:
        """Plain data with the old names."""
        if isinstance(value, str):
            return _NEW_NAME.sub(lambda found: self.before.get(found[0], found[0]), value)
        if isinstance(value, dict):
            return {self.back(key): self.back(each) for key, each in value.items()}
        if isinstance(value, list | tuple):
            return [self.back(each) for each in value]
        return value


def renamed(text: str, chance: Random) -> Renamed | None:
    """Other names for every piece, paper, supply, let and structure; None where a name is also a word.

    The new names stand in another order of the alphabet than the old ones.
    """
    names = _declared_names(text)
    parts = {each for parts in PARTS for each in parts} | {each for fold in FOLDS.values() for each in fold}
    words = {*WORDS, *parts, *FOLDS, "x", "in", "mm", "cm", "on", "from", "min", "max", "base", "standing"}
    if len(set(names)) != len(names) or words & set(names):
        return None
    letters = chance.sample(range(26 * 26), len(names))
    new = {name: f"{chr(97 + at // 26)}{chr(97 + at % 26)}q{number}q"
           for number, (name, at) in enumerate(zip(names, letters, strict=True))}  # fmt: skip
    changed = _OUTSIDE_TEXTS.sub(lambda found: found["text"] or new.get(found["name"], found["name"]), text)
    return Renamed(changed, {value: key for key, value in new.items()})


def _declared_names(text: str) -> list[str]:
    nodes = [each.node for top in parsed(text)[0].statements for each in (top, *top.block)]
    kinds = tree.PaperLine | tree.SupplyLine | tree.Let | tree.Structure | tree.PieceHeader
    return [node.name.text for node in nodes if isinstance(node, kinds)]


def reordered(text: str, chance: Random) -> str:
    """Lines of a piece in another order, declarations anywhere; what is done, and laid, keeps its order."""
    head, *others = _blocks(text)
    declared = [each for each in others if each.startswith(_DECLARED)]
    rest = [_shuffled(each, chance) for each in others if not each.startswith(_DECLARED)]
    for each in declared:
        rest.insert(chance.randint(0, len(rest)), each)
    return head + "".join(rest)


def _blocks(text: str) -> list[str]:
    """The statements at the left edge, each with what is under it; lines of a text belong to theirs."""
    found: list[str] = []
    is_text = False
    for line in text.splitlines(keepends=True):
        if found and (is_text or line.startswith(" ")):
            found[-1] += line
        else:
            found.append(line)
        is_text ^= line.count('"""') == 1
    return found


def _shuffled(block: str, chance: Random) -> str:
    """The lines of one depth that are free, dealt out anew over their own places."""
    header, *lines = block.splitlines(keepends=True)
    if '"""' in block or header.startswith(("variant", "pose", "recipe")):
        return block
    places = [at for at, line in enumerate(lines) if line.startswith("  ") and line.split()[0] in _FREE]
    for at, line in zip(places, chance.sample([lines[at] for at in places], len(places)), strict=True):
        lines[at] = line
    return header + "".join(lines)
