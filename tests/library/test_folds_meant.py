"""Names of folds as makers write them, of which no fold has one: what they are told."""

import pytest

from cardrecipe.library.folds import OTHER_NAMES, fold_names, folds_meant
from tests.editor.test_repairs import mended, offered
from tests.recipes import HEAD, diagnostics_of, run

CARD = HEAD + "base card from ink\n  fold {}, width 4, height 5\n"


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("gate-fold", ["gate"]),
        ("gatefold", ["gate"]),
        ("Gate_Fold_Card", ["gate"]),
        ("gatte", ["gate"]),
        ("tent-card", ["tent"]),
        ("half-fold", ["side-fold", "tent"]),
        ("bifold", ["side-fold", "tent"]),
        ("booklet", ["one-sheet-booklet"]),
        ("box", ["box-lid", "exploding-box", "box-pop-up"]),
        ("bridge", ["diorama-bridge"]),
        ("fold", []),
        ("qqq", []),
        ("", []),
    ],
)
def test_a_fold_is_known_by_its_words_and_by_other_names(word: str, meant: list[str]) -> None:
    assert folds_meant(word, fold_names()) == meant


def test_other_names_are_of_folds_and_no_fold_has_one() -> None:
    assert {each for meant in OTHER_NAMES.values() for each in meant} <= set(fold_names())
    assert not set(OTHER_NAMES) & set(fold_names())
    for other, meant in OTHER_NAMES.items():
        assert folds_meant(other, fold_names()) == list(meant)


def test_every_fold_is_meant_by_its_own_name_with_a_word_added() -> None:
    """Two folds never differ by such a word alone."""
    for name in fold_names():
        assert folds_meant(f"{name.removesuffix('-fold')}-fold-card", fold_names()) == [name]


def test_a_recipe_is_told_and_an_editor_writes_it() -> None:
    text = CARD.format("gatefold")
    [found] = [each for each in diagnostics_of(text) if each.severity == "error"]
    assert (found.code, found.hint) == ("unknown-name", "did you mean `gate`?")
    [(_, [repair])] = offered(text, "unknown-name")
    assert mended(text, repair)[0] == CARD.format("gate")


def test_several_are_told_and_an_editor_offers_each() -> None:
    text = CARD.format("half-fold")
    [found] = [each for each in diagnostics_of(text) if each.severity == "error"]
    assert found.hint == "did you mean `side-fold` or `tent`?"
    [(_, repaired)] = offered(text, "unknown-name")
    assert [each.title for each in repaired] == ["Write `side-fold`", "Write `tent`"]


def test_a_fold_of_the_recipe_itself_is_meant_too() -> None:
    own = "structure garden-gate\n  ask width, height\n  flat width x height\n"
    text = CARD.format("garden-gatefold") + own
    [found] = [each for each in diagnostics_of(text) if each.severity == "error"]
    assert found.hint == "did you mean `garden-gate`?"


def test_new_says_what_is_meant() -> None:
    ran = run("new", "trifold")
    meant = "rolled-tri-fold, letter-thirds or z-fold"
    assert (ran.status, ran.err) == (2, f"cardrecipe: no fold is called trifold; did you mean {meant}?\n")
