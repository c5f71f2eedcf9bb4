"""A mutant → the functions of the running program with its code in the place of their own."""

from __future__ import annotations

import functools
import gc
import importlib
import pkgutil
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FunctionType

import cardrecipe
from tests.mutants.changes import Mutant
from tests.mutants.reloaded import reload

Functions = dict[tuple[str, str, int], list[FunctionType]]


def functions_of_the_program(root: Path) -> Functions:
    """Load the whole program and give its functions by file, name and first line, wherever they are held."""
    for found in pkgutil.walk_packages(cardrecipe.__path__, "cardrecipe."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    held: Functions = {}
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__code__.co_filename.startswith(str(root)):
            held.setdefault(_key(each.__code__), []).append(each)
    return held


def exchange(mutant: Mutant, root: Path, functions: Functions) -> bool:
    """Give every function that the mutant changes its new code; False where that is not possible."""
    path = root / mutant.module
    source = path.read_text("utf-8")
    if not mutant.is_inside:
        _forget(functions)
        return reload(mutant, source, str(path))
    new = compile(mutant.applied(source), str(path), "exec", dont_inherit=True)
    count = 0
    for code in _codes(new):
        for function in functions.get(_key(code), ()):
            if function.__code__ != code:
                if len(function.__code__.co_freevars) != len(code.co_freevars):
                    return False
                function.__code__ = code
                count += 1
    _forget(functions)
    return count > 0


def _codes(code: CodeType) -> Iterator[CodeType]:
    yield code
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield from _codes(each)


def _key(code: CodeType) -> tuple[str, str, int]:
    return code.co_filename, code.co_qualname, code.co_firstlineno


def _forget(functions: Functions) -> None:
    """Empty every memory of what the unchanged program said while the tests were collected."""
    gc.unfreeze()  # what was there before the fork is listed no more while it is frozen
    for each in gc.get_objects():
        if isinstance(each, functools._lru_cache_wrapper):
            each.cache_clear()
    for (_, name, _), held in functions.items():
        if name == "once_for_each.<locals>.remembered":
            for function in held:
                for cell in function.__closure__ or ():
                    if isinstance(cell.cell_contents, list):
                        cell.cell_contents.clear()
