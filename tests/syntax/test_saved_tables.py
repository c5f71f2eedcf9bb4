"""The tables that are saved are those of the grammar; where they are not, they are made anew."""

import runpy
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardrecipe.report import as_text
from cardrecipe.syntax import grammar, make_tables
from cardrecipe.syntax.diagnostics import error
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.tables import TABLES


@pytest.fixture
def not_yet_read() -> Iterator[None]:
    grammar.tables.cache_clear()
    yield
    grammar.tables.cache_clear()


@pytest.mark.usefixtures("not_yet_read")
def test_a_grammar_that_was_edited_has_tables_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    text = grammar.grammar_text() + "\n// a remark\n"
    monkeypatch.setattr(grammar, "grammar_text", lambda: text)
    monkeypatch.setattr(make_tables, "grammar_text", lambda: text)
    made = grammar.tables()
    assert made.checksum == grammar.checksum(text) != TABLES.checksum
    assert made._replace(checksum=0) == TABLES._replace(checksum=0)


def test_an_installation_without_the_grammar_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(grammar, "_PLACES", ("/nowhere/recipe.lark",))
    with pytest.raises(FileNotFoundError, match=r"recipe\.lark is missing"):
        grammar.grammar_text()


def test_the_tables_are_saved_as_they_stand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    saved = tmp_path / "tables.py"
    monkeypatch.setattr(make_tables, "TABLES", str(saved))
    make_tables.save()
    assert saved.read_bytes() == Path(grammar.HERE, "tables.py").read_bytes()


def test_the_command_for_an_edited_grammar_writes_them_into_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(grammar, "HERE", str(tmp_path))
    monkeypatch.delitem(sys.modules, make_tables.__name__)  # as in a process that has not read it yet
    runpy.run_module(make_tables.__name__, run_name="__main__")
    assert (tmp_path / "tables.py").read_bytes() == Path(make_tables.TABLES).read_bytes()


def test_a_mistake_in_an_empty_line_is_told_without_it() -> None:
    source = Source("a.recipe", "\nlet a = 1\n")
    said = as_text([error("not-understood", Span("a.recipe", 0, 0), "so")], {"a.recipe": source})
    assert said == "a.recipe:1:1: error[not-understood]: so\n"
