"""Everything in the package that remembers from one call to the next, found in its source."""

import ast
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Literal, NamedTuple

import cardrecipe

PACKAGE = Path(cardrecipe.__file__).parent
Kind = Literal["one value", "the last ones", "each key", "within a call", "of the module"]
_MEMORIES = ("cache", "lru_cache", "once_for_each")
_CHANGES = {
    "add", "append", "appendleft", "clear", "discard", "extend", "extendleft", "insert", "pop", "popitem",
    "popleft", "remove", "reverse", "setdefault", "sort", "update",
}  # fmt: skip
_Function = ast.FunctionDef | ast.AsyncFunctionDef


class Memory(NamedTuple):
    """Something that remembers; `place` is its dotted name below the package.

    "one value" belongs to a function without parameters; "the last ones" are so many, whatever is asked;
    "each key" is for ever; "within a call" ends with the function around it; "of the module" is a value
    beside the functions, which one of them changes.
    """

    place: str
    kind: Kind


@cache
def memories() -> tuple[Memory, ...]:
    """Everything that remembers, file by file."""
    return tuple(each for path in sorted(PACKAGE.rglob("*.py"))
                 for each in memories_in(path.read_text("utf-8"), _module(path)))  # fmt: skip


def memories_in(text: str, module: str) -> list[Memory]:
    """Everything that remembers in the source of a module."""
    finder, read = _Finder(module), ast.parse(text)
    finder.visit(read)
    return [*finder.found, *_changed(read, module)]


def remembering(place: str) -> Any:
    """The function at a place, with its cache; None where its module has not been loaded."""
    module, _, name = place.rpartition(".")
    return getattr(sys.modules.get(f"{cardrecipe.__name__}.{module}"), name, None)


def forget() -> None:
    """Empty all caches, so that what is left is held by something else."""
    for each in memories():
        function = remembering(each.place)
        if hasattr(function, "cache_clear"):
            function.cache_clear()
        elif hasattr(function, "__wrapped__"):  # `once_for_each`, of the last cards
            for cell in function.__closure__ or ():
                if isinstance(cell.cell_contents, list):
                    cell.cell_contents.clear()


def _module(path: Path) -> str:
    return ".".join(path.relative_to(PACKAGE).with_suffix("").parts)


# ---- functions that remember ---------------------------------------------------------------------


class _Finder(ast.NodeVisitor):
    """Every mention of a memory, as a decorator or otherwise."""

    def __init__(self, module: str) -> None:
        self.found: list[Memory] = []
        self._place = [module]
        self._functions = 0

    def visit_FunctionDef(self, node: _Function) -> None:
        self._place.append(node.name)
        for decorator in node.decorator_list:
            if _is_memory(decorator.func if isinstance(decorator, ast.Call) else decorator):
                self.found.append(Memory(".".join(self._place), self._kind(decorator, node)))
        self._functions += 1
        for each in (node.args, *node.body):
            self.visit(each)
        self._functions -= 1
        self._place.pop()

    visit_AsyncFunctionDef = visit_FunctionDef

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        self._place.append(node.name)
        self.generic_visit(node)
        self._place.pop()

    def visit_Name(self, node: ast.Name) -> None:
        """A memory that is no decorator: for ever, as far as can be seen."""
        if _is_memory(node):
            self.found.append(Memory(".".join(self._place), "each key"))

    def visit_Attribute(self, node: ast.Attribute) -> None:
        if _is_memory(node):
            self.found.append(Memory(".".join(self._place), "each key"))
        self.generic_visit(node)

    def _kind(self, decorator: ast.expr, node: _Function) -> Kind:
        if self._functions:
            return "within a call"
        if not any((node.args.args, node.args.posonlyargs, node.args.kwonlyargs, node.args.vararg)):
            return "one value"
        return "the last ones" if _is_bounded(decorator) else "each key"


def _is_memory(node: ast.expr) -> bool:
    name = node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""
    return name in _MEMORIES


def _is_bounded(decorator: ast.expr) -> bool:
    """Whether it is `once_for_each`, which keeps a few, or `lru_cache` that does not say `maxsize=None`."""
    if not isinstance(decorator, ast.Call):
        return not ast.unparse(decorator).endswith(".cache") and ast.unparse(decorator) != "cache"
    sizes = [*decorator.args[:1], *(each.value for each in decorator.keywords if each.arg == "maxsize")]
    return all(ast.unparse(each) != "None" for each in sizes)


# ---- values of a module that change --------------------------------------------------------------


def _changed(read: ast.Module, module: str) -> Iterator[Memory]:
    """The names at a module's left edge whose values are changed inside functions."""
    own = {name for each in read.body for name in _bound(each)}
    functions = [each for each in ast.walk(read) if isinstance(each, _Function)]
    changed = dict.fromkeys(name for each in functions for name in _changed_in(each))
    yield from (Memory(f"{module}.{name}", "of the module") for name in changed if name in own)


def _bound(statement: ast.stmt) -> set[str]:
    """The names that an assignment gives a value."""
    targets = statement.targets if isinstance(statement, ast.Assign) else []
    if isinstance(statement, ast.AnnAssign):
        targets = [statement.target]
    return {each.id for target in targets for each in ast.walk(target) if isinstance(each, ast.Name)}


def _changed_in(function: _Function) -> Iterator[str]:
    """The names that are not the function's own and are changed in it."""
    inside = list(ast.walk(function))
    outer = {name for each in inside if isinstance(each, ast.Global) for name in each.names}
    yield from outer
    local = {each.arg for each in inside if isinstance(each, ast.arg)}
    stored = (each for each in inside if isinstance(each, ast.Name) and isinstance(each.ctx, ast.Store))
    local |= {each.id for each in stored} - outer
    for each in inside:
        changed = None
        if isinstance(each, ast.Call) and isinstance(each.func, ast.Attribute) and each.func.attr in _CHANGES:
            changed = each.func.value
        elif isinstance(each, ast.Subscript | ast.Attribute) and not isinstance(each.ctx, ast.Load):
            changed = each.value
        if isinstance(changed, ast.Name) and changed.id not in local:
            yield changed.id
