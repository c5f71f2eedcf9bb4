"""Every limit is kept at n and refused at n + 1, with its place; no limit of the program is left out."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardrecipe.report import MAX_SHOWN
from cardrecipe.syntax.codes import CODES
from tests.limits.table import LIMITS, Limit, Place, page_table
from tests.recipes import ROOT, checked, run

# Limits of other things than a recipe, and where they are tested.
ELSEWHERE: dict[Place, str] = {
    ("files", "MAX_BYTES"): "follows from the characters of a file: tests/limits/test_shown.py",
    ("folder", "MAX_LINKS"): "of a file system, refused as its own: tests/test_files_and_streams.py",
    ("model.used_names", "MAX_NAME"): "of a file system, a name like any other: tests/model/test_uses.py",
    ("preview.server", "MAX_NAME"): "of what a browser sends, answered 413: tests/preview/test_server.py",
    ("report", "MAX_SHOWN"): "of what is printed of the mistakes: tests/limits/test_shown.py",
    ("report", "MAX_LETTERS"): "of what is printed of a line: tests/limits/test_shown.py",
    ("report", "MAX_BEFORE"): "of what is printed of a line: tests/limits/test_shown.py",
    ("report", "MAX_SAID"): "of what is printed of a message: tests/limits/test_shown.py",
    ("solve.sizes", "_MAX_ROUNDS"): "rounds of a search that ends with what it has: tests/solve",
    ("solve.other_unit", "_MAX_TRIALS"): "rounds of a search that ends with the best so far: tests/solve",
}


def _constants() -> Iterator[tuple[Place, str]]:
    """Every constant called MAX_… of the program, and its line with the one above it."""
    for path in sorted((ROOT / "cardrecipe").rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        for each in ast.parse(text).body:
            for name in _assigned(each):
                if re.fullmatch(r"_?MAX_[A-Z_]+", name):
                    above = text.split("\n")[max(0, each.lineno - 2) : each.lineno]
                    yield (_module(path), name), "\n".join(above)


def _assigned(statement: ast.stmt) -> list[str]:
    if isinstance(statement, ast.AnnAssign):
        return [statement.target.id] if isinstance(statement.target, ast.Name) else []
    targets = statement.targets if isinstance(statement, ast.Assign) else []
    return [each.id for each in targets if isinstance(each, ast.Name)]


def _module(path: Path) -> str:
    return ".".join(path.relative_to(ROOT / "cardrecipe").with_suffix("").parts)


CONSTANTS = dict(_constants())


@pytest.mark.parametrize("limit", LIMITS, ids=str)
def test_what_keeps_to_a_limit_is_taken(limit: Limit) -> None:
    found = checked(limit.kept, limit.kept_files)
    assert {each.code for each in found} <= limit.also - {limit.code}, [*map(str, found[:3])]


@pytest.mark.parametrize("limit", LIMITS, ids=str)
def test_one_more_is_refused_at_its_place(limit: Limit) -> None:
    found = [each for each in checked(limit.broken, limit.broken_files) if each.code == limit.code]
    assert [(each.severity, each.line) for each in found[:1]] == [("error", limit.at)], [*map(str, found[:3])]


def test_each_limit_is_the_constant_that_it_names() -> None:
    wrong = [place for place, most, *_ in LIMITS if not _says(CONSTANTS[place], most)]
    assert wrong == []


def _says(lines: str, most: int) -> bool:
    return re.search(rf"= {most:_}\b|= {most}\b", lines) is not None


def test_each_constant_has_a_limit_here_or_a_reason() -> None:
    here = {limit.place for limit in LIMITS}
    assert sorted(set(CONSTANTS) - here - set(ELSEWHERE)) == []
    assert here <= set(CONSTANTS) and not here & set(ELSEWHERE)


def test_each_constant_has_its_reason_beside_it() -> None:
    assert [place for place, lines in CONSTANTS.items() if "#" not in lines] == []


def test_each_limit_stands_on_the_page_of_mistakes() -> None:
    known = {each.name for each in CODES}
    assert {limit.code for limit in LIMITS} <= known


def test_the_page_of_the_language_lists_the_limits() -> None:
    page = (ROOT / "grammar" / "language.md").read_text(encoding="utf-8")
    assert page_table() in page, "write the table of tests.limits.table into the section Limits"
    assert f"the first {MAX_SHOWN} are shown" in page


def test_the_command_makes_as_many_copies_as_a_recipe(tmp_path: Path) -> None:
    missing = str(tmp_path / "none.recipe")
    assert "none.recipe" in run("build", missing, "--copies", "10000").err
    refused = run("build", missing, "--copies", "10001")
    assert refused.status == 2 and "from 1 to 10000" in refused.err


def test_a_card_at_many_limits_is_built(tmp_path: Path) -> None:
    """Sums, names and structures as deep as they may be go all the way to the pages."""
    recipe = tmp_path / "full.recipe"
    deep = next(limit.kept for limit in LIMITS if limit.place[1] == "MAX_STRUCTURE_DEPTH")
    lets = "".join(f"let wide-{n} = {f'wide-{n - 1}' if n else '1 1/2'}\n" for n in range(64))
    recipe.write_text(
        f"{deep}{lets}rectangle tag from ink\n  size {'(' * 64}wide-63{')' * 64} x {'1/128 + ' * 200}1/16\n"
        f"  loose\n  write \"{'(o) ' * 70}\"\n",
        encoding="utf-8",
    )
    done = run("build", str(recipe), "-o", str(tmp_path), "--to", "md,json")
    assert (done.status, sorted(each.name for each in tmp_path.iterdir())) == (
        0, ["full.json", "full.md", "full.recipe"],
    ), done.err  # fmt: skip
