"""A mutant in what a module works out once, while it is loaded → the running program with those values.

The changed module is run beside the one that is in use; what came out otherwise is put in the place of the
old: constants by their names wherever they were imported, and what functions and records take unless told.
"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Iterator
from fractions import Fraction
from types import FunctionType, ModuleType

from tests.mutants.changes import Mutant

VALUES = (bool, int, float, str, Fraction, tuple, list, dict, frozenset, set)


def reload(mutant: Mutant, source: str, path: str) -> bool:
    """Put the changed values in place; False where none has changed that can be."""
    name = mutant.module.removesuffix(".py").replace("/", ".").removesuffix(".__init__")
    old, new = sys.modules[name], ModuleType(name)
    new.__file__ = path
    exec(compile(mutant.applied(source), path, "exec", dont_inherit=True), vars(new))
    count = 0
    for word, value in vars(new).items():
        before = vars(old).get(word)
        if isinstance(value, VALUES) and value != before and not word.startswith("__"):
            count += _everywhere(word, before, value)
        elif callable(value) and getattr(value, "__module__", "") == name:
            count += sum(_take_over(one, two) for one, two in _callables(before, value))
    return count > 0


def _everywhere(word: str, before: object, value: object) -> int:
    """Change a constant in every module of the program that has it under this name."""
    holders = [
        module
        for name, module in list(sys.modules.items())
        if name.startswith("cardrecipe") and word in vars(module) and vars(module)[word] == before
    ]
    for module in holders:
        setattr(module, word, value)
    return len(holders)


def _callables(before: object, value: object) -> Iterator[tuple[object, object]]:
    """Give a function and its new version, or those of a class: its maker and its methods."""
    yield inspect.unwrap(before), inspect.unwrap(value)  # type: ignore[arg-type]
    if isinstance(value, type):
        yield before.__new__, value.__new__  # type: ignore[attr-defined]
        for word, inner in vars(value).items():
            if isinstance(inner, FunctionType) and word in vars(before):
                yield vars(before)[word], inner


def _take_over(old: object, new: object) -> bool:
    """Take over what is taken unless told."""
    if not isinstance(old, FunctionType) or not isinstance(new, FunctionType):
        return False
    if (old.__defaults__, old.__kwdefaults__) == (new.__defaults__, new.__kwdefaults__):
        return False
    old.__defaults__, old.__kwdefaults__ = new.__defaults__, new.__kwdefaults__
    return True
