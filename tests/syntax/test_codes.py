"""The registry of diagnostic codes against the sources and against its own examples."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardrecipe.syntax.codes import CODES, NO_EXAMPLE, Code
from tests.recipes import NAME, ROOT, checked

_MAKERS = {"error", "warning", "Diagnostic"}


def _emitted(path: Path) -> Iterator[tuple[str, str]]:
    """Code and severity ("" where it is not clear) of every diagnostic that a module makes."""
    for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(function, ast.FunctionDef) or function.name in ("error", "warning"):
            continue
        for call in ast.walk(function):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") in _MAKERS:
                yield from _codes(call, function)


def _codes(call: ast.Call, function: ast.FunctionDef) -> Iterator[tuple[str, str]]:
    severity = getattr(call.func, "id", "")
    if severity == "Diagnostic":
        severity = str(call.args[1].value) if isinstance(call.args[1], ast.Constant) else ""
    if isinstance(call.args[0], ast.Constant):
        yield str(call.args[0].value), severity
        return
    for each in ast.walk(function):  # the code is in a variable: every word with hyphens is one
        value = each.value if isinstance(each, ast.Constant) else None
        if isinstance(value, str) and "-" in value and all(word.isalpha() for word in value.split("-")):
            yield value, severity



def test_every_code_of_the_source_is_in_the_registry_and_no_other() -> None:
    emitted = {pair for path in sorted((ROOT / "cardrecipe").rglob("*.py")) for pair in _emitted(path)}
    assert {(each.name, each.severity) for each in CODES} == emitted


def test_each_code_is_declared_once_with_a_sentence() -> None:
    names = [each.name for each in CODES]
    assert len(set(names)) == len(names)
    for each in CODES:
        assert each.rule[0].isupper() or each.rule[0] == "`", each.name
        assert each.rule.endswith(".") and each.rule.count(". ") == 0, each.name
        assert each.frame.count("{}") == 1, each.name


def test_only_what_no_short_recipe_gives_has_no_example() -> None:
    assert [each.name for each in CODES if each.wrong == NO_EXAMPLE] == ["cannot-tell"]


@pytest.mark.parametrize(
    "code", [each for each in CODES if each.wrong != NO_EXAMPLE], ids=lambda code: code.name
)
def test_the_example_gives_the_code_alone_and_the_repair_gives_nothing(code: Code) -> None:
    found = checked(code.example, dict(code.files))
    # A recipe that a class makes says in its own file what is wrong with it.
    found = [each for each in found if each.file == NAME] or found
    assert {(each.code, each.severity) for each in found} == {(code.name, code.severity)}, [*map(str, found)]
    assert [str(each) for each in checked(code.repair, dict(code.files))] == []
