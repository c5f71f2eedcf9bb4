"""The mutants themselves: each is a program, none is the same as the one that it changes."""

import ast
from pathlib import Path

import pytest

from tests.mutants.changes import Mutant, mutants
from tests.mutants.explained import explanations
from tests.mutants.sample import FOLDERS, all_mutants, sample

ROOT = Path(__file__).parents[2]


def changed(body: str, result: str = "bool") -> set[str]:
    """The bodies that come of a function with this body."""
    source = f"def asked(x: int, y: int) -> {result}:\n    {body}\n"
    return {each.applied(source).split(":\n    ", 1)[1].rstrip("\n") for each in mutants("m.py", source)}


@pytest.mark.parametrize(
    ("body", "result", "expected"),
    [
        ("return x < y", "bool", {"return x <= y", "return not (x < y)"}),
        ("return x is not y", "bool", {"return x is y", "return not (x is not y)"}),
        ("return x and y", "bool", {"return x or y", "return not (x and y)"}),
        ("return x - y", "int", {"return x + y", "return (x - y) + 1"}),
        ("return not x", "bool", {"return bool(x)", "return not (not x)"}),
        ("return x[1:]", "tuple[int, ...]", {"return x[(2):]", "return x[(0):]", "return x[:]", "return ()"}),
        ("return min(x, y)", "Fraction", {"return max(x, y)", "return (min(x, y)) + 1"}),
        ("return True", "bool", {"return False"}),
        ("return found(x)", "Card | None", {"return None"}),
        ("yield x", "Iterator[int]", {"yield from ()"}),
        ("x += y", "None", {"x -= y", "pass"}),
        ("tell(x)", "None", {"pass"}),
        ("raise ValueError(x)", "None", {"pass"}),
        ("assert x < y and tell(x)", "None", {"assert not (x < y and tell(x))"}),
        ('return f"{x + 1} sheets"', "str", {"return ''"}),
        ("zip(x, y, strict=True)", "None", {"pass"}),
    ],
)  # fmt: skip
def test_a_line_has_these_changes(body: str, result: str, expected: set[str]) -> None:
    assert changed(body, result) == expected


def test_a_change_moves_no_other_line() -> None:
    source = "def asked(x: int) -> None:\n    tell(\n        x,\n    )\n    tell(x)\n"
    first, *_ = mutants("m.py", source)
    assert first.applied(source) == "def asked(x: int) -> None:\n    pass\n\n\n    tell(x)\n"
    assert (first.line, first.lines) == (2, (2, 4))


def test_what_is_worked_out_once_is_told_apart() -> None:
    head = "MOST = 3\n\nclass Card:\n    copies: int = 1\n\n"
    source = f"{head}def asked(x: int = 2) -> int:\n    return x - 1\n"
    inside = {each.before for each in mutants("m.py", source) if each.is_inside}
    assert inside == {"return x - 1"}
    assert {each.before for each in mutants("m.py", source)} > inside


@pytest.fixture(scope="module")
def drawn() -> list[Mutant]:
    return sample(ROOT, 7, 60)


def test_each_is_a_program_and_not_the_same(drawn: list[Mutant]) -> None:
    for mutant in drawn:
        source = (ROOT / mutant.module).read_text("utf-8")
        assert ast.dump(ast.parse(mutant.applied(source))) != ast.dump(ast.parse(source)), mutant


def test_a_seed_draws_the_same_lines_and_none_twice(tmp_path: Path) -> None:
    """A line with twelve numbers is as likely as one with two names."""
    for folder in FOLDERS:
        path = tmp_path / folder / "sums.py"
        path.parent.mkdir(parents=True)
        lines = [f"def sum_{at}(x: int) -> int:\n    return x - {at}\n" for at in range(20)]
        path.write_text("".join(lines) + f"TABLE = {[*range(12)]}\n", "utf-8")
    found = sample(tmp_path, 7, 40)
    assert found == sample(tmp_path, 7, 40) != sample(tmp_path, 8, 40)
    assert len({(each.module, each.line) for each in found}) == 40
    every = {(each.module, each.line) for each in all_mutants(tmp_path)}
    assert len(sample(tmp_path, 7, 1000)) == len(every) == 63


def test_every_explanation_is_of_a_line_that_there_is() -> None:
    reasons = explanations()
    modules = {module for module, *_ in reasons}
    known = {each.key for module in modules for each in mutants(module, (ROOT / module).read_text("utf-8"))}
    assert set(reasons) <= known
    assert all(len(why.split()) > 3 for why in reasons.values())
