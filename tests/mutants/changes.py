"""A module's text → every small change that a test should notice: the mutants, each as one edit of the text.

An edit is made in the text rather than in the tree, so that a mutant reads as a line of the module with one
word changed, and everything else stays byte for byte.
"""

from __future__ import annotations

import ast
from bisect import bisect_right
from collections.abc import Callable
from itertools import accumulate
from typing import NamedTuple

SWAPPED_COMPARISONS: dict[type[ast.cmpop], tuple[str, str]] = {
    ast.Lt: ("<", "<="),
    ast.LtE: ("<=", "<"),
    ast.Gt: (">", ">="),
    ast.GtE: (">=", ">"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.In: ("in", "not in"),
    ast.NotIn: ("not in", "in"),
    ast.Is: ("is", "is not"),
    ast.IsNot: ("is not", "is"),
}
SWAPPED_ARITHMETIC: dict[type[ast.operator], tuple[str, str]] = {
    ast.Add: ("+", "-"),
    ast.Sub: ("-", "+"),
    ast.Mult: ("*", "/"),
    ast.Div: ("/", "*"),
    ast.FloorDiv: ("//", "/"),
    ast.Mod: ("%", "*"),
    ast.BitOr: ("|", "&"),
    ast.BitAnd: ("&", "|"),
}
SWAPPED_CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
EMPTY_RESULTS = {
    "tuple": "()", "Sequence": "()", "list": "[]", "dict": "{}", "Mapping": "{}", "set": "set()",
    "frozenset": "frozenset()", "Iterator": "iter(())", "str": "''",
}  # fmt: skip
NUMBERS = {"int", "float", "Fraction", "Number"}
NOT_FOR_MAKERS = {"__repr__", "__str__", "__hash__"}
GUARDS = {"strict"}  # a keyword that, like `assert`, only speaks up where the program itself is wrong


class Mutant(NamedTuple):
    """One change of a module. `lines` are those of the statement, or of its head, that hold it.

    `is_inside` a function that is called, rather than in what is worked out once when the module is loaded.
    """

    module: str
    function: str
    is_inside: bool
    operator: str
    start: int
    end: int
    text: str
    line: int
    lines: tuple[int, int]
    before: str
    after: str

    def applied(self, source: str) -> str:
        """Give the module with the change; all lines below stay where they are."""
        lost = source.count("\n", self.start, self.end) - self.text.count("\n")
        return source[: self.start] + self.text + "\n" * lost + source[self.end :]

    @property
    def key(self) -> tuple[str, str, str, str]:
        """What names it even after the lines above it have changed."""
        return self.module, self.function, self.before, self.after


def mutants(module: str, source: str) -> list[Mutant]:
    """Give every mutant of a module, in the order of its text."""
    tree = ast.parse(source)
    reading = _Reading(module, source)
    reading.visit(tree)
    return sorted(reading.found, key=lambda each: (each.start, each.end, each.text))


class _Reading(ast.NodeVisitor):
    def __init__(self, module: str, source: str) -> None:
        self.module, self.source = module, source
        self.found: list[Mutant] = []
        self.functions: list[str] = []
        self.results: list[str] = []
        self.statement = (1, 1)
        self.rows = source.split("\n")
        self.starts = [0, *accumulate(len(row) + 1 for row in self.rows)]

    # ---- the walk --------------------------------------------------------------------------------

    def visit(self, node: ast.AST) -> None:
        if isinstance(node, ast.stmt):
            self.statement = (node.lineno, _end_of_head(node))
        for look in LOOKS:
            look(self, node)
        super().visit(node)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        if node.name in NOT_FOR_MAKERS:
            return
        self.functions.append(node.name)
        for default in [*node.args.defaults, *(each for each in node.args.kw_defaults if each)]:
            self.visit(default)
        self.results.append(ast.unparse(node.returns) if node.returns else "")
        for each in node.body:
            self.visit(each)
        self.functions.pop()
        self.results.pop()

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        self.functions.append(node.name)
        for each in node.body:
            self.visit(each)
        self.functions.pop()

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value:
            self.visit(node.value)

    def visit_keyword(self, node: ast.keyword) -> None:
        if node.arg not in GUARDS:
            self.visit(node.value)

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Leave the words of a message alone, and where they stand: Python 3.11 does not know it."""

    def visit_Assert(self, node: ast.Assert) -> None:
        """Leave alone what stands in an assertion: it holds, or the program is wrong."""

    def visit_If(self, node: ast.If) -> None:
        if not ast.unparse(node.test).endswith("TYPE_CHECKING"):
            self.generic_visit(node)

    # ---- edits -----------------------------------------------------------------------------------

    def at(self, line: int, column: int) -> int:
        """The place of a line and a column in bytes, in characters."""
        row = self.rows[line - 1]
        return self.starts[line - 1] + (column if row.isascii() else len(row.encode()[:column].decode()))

    def span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        assert node.end_lineno is not None and node.end_col_offset is not None
        return self.at(node.lineno, node.col_offset), self.at(node.end_lineno, node.end_col_offset)

    def replace(self, operator: str, node: ast.expr | ast.stmt, text: str) -> None:
        self.edit(operator, *self.span(node), text)

    def between(self, operator: str, left: ast.expr, right: ast.expr, swap: tuple[str, str]) -> None:
        """Swap the word between two operands."""
        start, end = self.span(left)[1], self.span(right)[0]
        at = self.source.find(swap[0], start, end)
        if at >= 0:
            self.edit(operator, at, at + len(swap[0]), swap[1])

    def edit(self, operator: str, start: int, end: int, text: str) -> None:
        first = self.source.rfind("\n", 0, start) + 1
        last = self.source.find("\n", end)
        line = bisect_right(self.starts, start)
        after = self.source[first:start] + text + self.source[end:last]
        self.found.append(
            Mutant(
                self.module, ".".join(self.functions), bool(self.results), operator, start, end, text, line,
                self.statement, _in_one_line(self.source[first:last]), _in_one_line(after),
            )
        )  # fmt: skip


def _in_one_line(text: str) -> str:
    return " ".join(text.split())


def _end_of_head(node: ast.stmt) -> int:
    body = getattr(node, "body", None)
    if isinstance(body, list) and body:
        return max(node.lineno, body[0].lineno - 1)
    return node.end_lineno or node.lineno


# ---- the operators -------------------------------------------------------------------------------


def _comparisons(reading: _Reading, node: ast.AST) -> None:
    """`<` ↔ `<=`, `>` ↔ `>=`, `==` ↔ `!=`, `in` ↔ `not in`, `is` ↔ `is not`."""
    if isinstance(node, ast.Compare):
        operands = [node.left, *node.comparators]
        for left, word, right in zip(operands, node.ops, operands[1:], strict=False):
            reading.between("comparison", left, right, SWAPPED_COMPARISONS[type(word)])


def _arithmetic(reading: _Reading, node: ast.AST) -> None:
    """`+` ↔ `-`, `*` ↔ `/`, `//` → `/`, `%` → `*`, `|` ↔ `&`; not where texts or lists are joined."""
    operator = node.op if isinstance(node, ast.BinOp | ast.AugAssign) else None
    if operator is None or type(operator) not in SWAPPED_ARITHMETIC or not reading.results:
        return
    left, right = (node.left, node.right) if isinstance(node, ast.BinOp) else (node.target, node.value)
    if not any(_is_joined(each) for each in (left, right)):
        reading.between("arithmetic", left, right, SWAPPED_ARITHMETIC[type(operator)])


def _is_joined(node: ast.expr) -> bool:
    if isinstance(node, ast.Constant):
        return isinstance(node.value, str)
    return isinstance(node, ast.JoinedStr | ast.List | ast.Tuple | ast.ListComp)


def _and_or(reading: _Reading, node: ast.AST) -> None:
    """`and` ↔ `or`, one at a time."""
    if isinstance(node, ast.BoolOp):
        swap = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        for left, right in zip(node.values, node.values[1:], strict=False):
            reading.between("and/or", left, right, swap)


def _negations(reading: _Reading, node: ast.AST) -> None:
    """`not x` → `x`; a condition that is neither that nor one comparison → its contrary."""
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        start, end = reading.span(node)
        reading.edit("negation", start, end, f"bool{_in_brackets(reading.source[start + 3 : end])}")
        return
    tests = node.ifs if isinstance(node, ast.comprehension) else [getattr(node, "test", None)]
    for test in tests:
        if isinstance(test, ast.expr) and not isinstance(test, ast.Compare | ast.UnaryOp | ast.Constant):
            start, end = reading.span(test)
            reading.edit("negation", start, end, f"not {_in_brackets(reading.source[start:end])}")


def _in_brackets(text: str) -> str:
    return f"({text.strip()})"


def _constants(reading: _Reading, node: ast.AST) -> None:
    """A number one more and one less; `True` ↔ `False`."""
    if not isinstance(node, ast.Constant):
        return
    if isinstance(node.value, bool):
        reading.replace("constant", node, str(not node.value))
    elif isinstance(node.value, int | float):
        reading.replace("constant", node, f"({node.value + 1})")
        reading.replace("constant", node, f"({node.value - 1})")


def _results(reading: _Reading, node: ast.AST) -> None:
    """A result → its contrary, one more, nothing in it, or None, as its type says."""
    if not isinstance(node, ast.Return) or node.value is None or isinstance(node.value, ast.Constant):
        return
    start, end = reading.span(node.value)
    text, kind = reading.source[start:end], reading.results[-1]
    if kind == "bool":
        text = f"not {_in_brackets(text)}"
    elif kind in NUMBERS:
        text = f"{_in_brackets(text)} + 1"
    elif kind.startswith("tuple[") and not kind.endswith("...]"):
        text = "None"
    else:
        text = EMPTY_RESULTS.get(kind.split("[")[0], "None")
    if text != reading.source[start:end]:
        reading.edit("result", start, end, text)


def _statements(reading: _Reading, node: ast.AST) -> None:
    """A call, a change in place, a `yield`, `continue`, `break` or `raise` → nothing."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Yield | ast.YieldFrom):
        reading.replace("statement", node, "yield from ()")
    elif isinstance(node, ast.stmt) and _may_go(node):
        reading.replace("statement", node, "pass")


def _may_go(node: ast.stmt) -> bool:
    if isinstance(node, ast.Assign):
        return not any(map(_is_name, node.targets))
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Call)
    return isinstance(node, ast.AugAssign | ast.Continue | ast.Break | ast.Raise | ast.Delete)


def _is_name(node: ast.expr) -> bool:
    return any(isinstance(each, ast.Name) and isinstance(each.ctx, ast.Store) for each in ast.walk(node))


def _extremes(reading: _Reading, node: ast.AST) -> None:
    """`min` ↔ `max`, `any` ↔ `all`, `floor` ↔ `ceil`."""
    if isinstance(node, ast.Call):
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name in SWAPPED_CALLS:
            end = reading.span(node.func)[1]
            reading.edit("extreme", end - len(name), end, SWAPPED_CALLS[name])


def _slices(reading: _Reading, node: ast.AST) -> None:
    """A slice without its first or its last place."""
    if isinstance(node, ast.Slice):
        for bound in (node.lower, node.upper):
            if bound is not None:
                reading.replace("slice", bound, "")


LOOKS: tuple[Callable[[_Reading, ast.AST], None], ...] = (
    _comparisons,
    _arithmetic,
    _and_or,
    _negations,
    _constants,
    _results,
    _statements,
    _extremes,
    _slices,
)
