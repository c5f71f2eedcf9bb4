"""The shipped structures: folds written in the recipe language, one file each."""

import os
from functools import cache

from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source

_FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "structures")
_END = ".recipe"


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
