"""The laws notice what they are there for: each is broken on purpose."""

from collections.abc import Iterator
from random import Random

import pytest

from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.fuzz import laws_of_a_run
from tests.fuzz.findings import Findings
from tests.fuzz.first_texts import all_texts, samples, vocabulary
from tests.fuzz.laws_of_a_run import Outcome, after_building, after_parsing, guarded
from tests.fuzz.line_mutations import MUTATIONS, mutated
from tests.fuzz.watchdog import NeverEnds, watched
from tests.recipes import NAME

HERE = Span(NAME, 0, 3)
SOURCES = {NAME: Source(NAME, "recipe\n")}
CARD = 'recipe "A"\npaper ink is cardstock "Ink" 12 x 12\nbase card from ink\n  flat 10 x 7\n'


def told(law: Iterator[str]) -> str:
    return "; ".join(law)


@pytest.mark.parametrize("span", [Span(NAME, 0, 8), Span(NAME, 4, 3), Span(NAME, -1, 3), Span("else", 0, 1)])
def test_a_place_outside_its_file_breaks_a_law(span: Span) -> None:
    second = error("conflict", HERE, "so", related=(Related(span, "here"),))
    for each in (error("conflict", span, "so"), second):
        assert "points" in told(laws_of_a_run._misplaced([each], SOURCES))


def test_a_diagnostic_without_a_message_breaks_a_law() -> None:
    assert "no message" in told(laws_of_a_run._misplaced([error("conflict", HERE, "")], SOURCES))
    assert "neither" in told(laws_of_a_run._misplaced([Diagnostic("conflict", "note", HERE, "so")], SOURCES))


def test_an_exception_is_named_by_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cardrecipe.compile.model", lambda *_: 1 / 0)
    outcome = guarded(after_building, CARD, {})
    assert outcome.broken[0].startswith("ZeroDivisionError in compile.py, line ")
    assert outcome.status == -1


def test_recursion_without_end_is_a_law_broken(monkeypatch: pytest.MonkeyPatch) -> None:
    def for_ever(*arguments: object) -> object:
        return for_ever(*arguments)

    monkeypatch.setattr("tests.fuzz.laws_of_a_run.parse", for_ever)
    assert guarded(after_parsing, CARD, {}).broken[0].startswith("RecursionError")


def test_a_formatter_that_changes_its_own_text_breaks_a_law(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.fuzz.laws_of_a_run.formatted", lambda source: source.text + " ")
    assert "changes it" in told(laws_of_a_run._broken_by_format(Source(NAME, CARD), []))
    monkeypatch.setattr("tests.fuzz.laws_of_a_run.formatted", lambda source: "")
    assert "cannot be formatted" in told(laws_of_a_run._broken_by_format(Source(NAME, CARD), []))


def test_printers_that_leave_something_out_break_a_law(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong = [error("conflict", HERE, "so")]
    assert told(laws_of_a_run._misprinted(wrong, SOURCES)) == ""
    monkeypatch.setattr("tests.fuzz.laws_of_a_run.as_json", lambda *_: "[]")
    assert "another number" in told(laws_of_a_run._misprinted(wrong, SOURCES))
    monkeypatch.setattr("tests.fuzz.laws_of_a_run.as_text", lambda *_: "\x1b[2J")
    assert "would obey" in told(laws_of_a_run._misprinted(wrong, SOURCES))


def test_an_error_without_a_diagnostic_breaks_a_law(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cardrecipe.compile.fold", lambda card: (None, []))
    monkeypatch.setattr("cardrecipe.compile.what_glue_locks", lambda folded: [])
    assert "finds no error" in "; ".join(guarded(after_building, CARD, {}).broken)


def test_samples_are_built() -> None:
    outcome = guarded(after_building, samples()["first-frost.recipe"], samples())
    assert outcome.reached in ("planned", "drawn")
    assert outcome._replace(reached="planned") == Outcome(0, "planned", ())


def test_each_mutation_changes_some_text_and_a_seed_gives_the_same_change() -> None:
    text, others = CARD, ["panel a on card", '  tip "x"']
    for mutation in MUTATIONS:
        made = {"\n".join(mutation(text.split("\n"), Random(seed), others)) for seed in range(30)}
        assert made - {text}
        assert made == {"\n".join(mutation(text.split("\n"), Random(seed), others)) for seed in range(30)}
    assert all(mutated("", Random(seed)) is not None for seed in range(200))


def test_fuzzing_begins_with_every_recipe_of_the_project_and_the_words_of_the_language() -> None:
    assert len(all_texts()) > 250
    assert {"recipe", "score", "downward", "foam", "gate", "1/0"} <= set(vocabulary())


def test_each_cause_is_counted_and_three_of_its_texts_are_kept(tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    findings = Findings(
        lambda text, files: Outcome(1, "checked", (f"a law of '{text}', line 3",)), tmp_path, "x"
    )
    for text in "abcde":
        findings.look_at(text, {})
    assert len(list(tmp_path.glob("x-broken-1-*.recipe"))) == 3
    assert "5 x a law of #, line #" in findings.summary()
    assert not findings.is_clean
    assert "a law of 'a'" in capsys.readouterr().out


def test_what_never_ends_is_ended() -> None:
    with pytest.raises(NeverEnds), watched(0.05):
        while True:
            pass
