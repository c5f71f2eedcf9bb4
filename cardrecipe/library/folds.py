"""The shipped structures: folds written in the recipe language, one file each."""

import os
from collections.abc import Iterable
from functools import cache

from cardrecipe.syntax import tree
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source

_FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "structures")
_END = ".recipe"
# What folds are also called: common practice, no published source.
OTHER_NAMES = {
    "half-fold": ("side-fold", "tent"),
    "single-fold": ("side-fold", "tent"),
    "book-fold": ("side-fold",),
    "bi-fold": ("side-fold", "tent"),
    "tri-fold": ("rolled-tri-fold", "letter-thirds", "z-fold"),
    "roll-fold": ("rolled-tri-fold", "rolled-four"),
    "letter-fold": ("letter-thirds",),
    "french-fold": ("quarter-fold",),
    "zigzag": ("z-fold", "accordion"),
    "concertina": ("accordion", "concertina-spine"),
    "leporello": ("accordion",),
}
# Words at the end of a name that are often added or left out.
_ADDED = ("fold", "card")
_MOST_MEANT = 3


@cache
def fold_names() -> tuple[str, ...]:
    """The names of the shipped structures, in alphabetical order."""
    return tuple(
        sorted(name.removesuffix(_END) for name in os.listdir(_FOLDER) if name.endswith(_END))
    )


@cache
def fold_source(name: str) -> Source:
    """The text of a shipped structure; KeyError for a name that is not in `fold_names()`."""
    if name not in fold_names():
        raise KeyError(name)
    with open(os.path.join(_FOLDER, name + _END), encoding="utf-8") as file:
        return Source(f"library:{name}", file.read())


@cache
def fold_statement(name: str) -> tree.Statement:
    """The `structure` statement of a shipped structure."""
    recipe, _ = parse(fold_source(name))
    return next(each for each in recipe.statements if isinstance(each.node, tree.Structure))


def folds_meant(word: str, known: Iterable[str]) -> list[str]:
    """The folds of `known`, three at the most, that somebody may mean by a name that none of them has.

    They are what it is another name of, or what has the same words, or the nearest in its letters, or those
    that have all its words.
    """
    names, words = list(known), _words(word)
    for other, meant in OTHER_NAMES.items():
        if words == _words(other):
            return [each for each in meant if each in names]
    same = [each for each in names if words and words == _words(each)]
    near = same[:1] or [each for each in (nearest(word, names),) if each]
    if near:
        return near
    found = [each for each in names if words and words <= _words(each)]
    return sorted(found, key=lambda each: (len(_words(each)), len(each)))[:_MOST_MEANT]


def _words(name: str) -> frozenset[str]:
    """The words of a name, without those that are often added: "gatefold" and "gate-fold-card" are `gate`."""
    parts = name.lower().replace("_", "-").split("-")
    for added in _ADDED:
        parts = [each.removesuffix(added) for each in parts]
    return frozenset(filter(None, parts))
