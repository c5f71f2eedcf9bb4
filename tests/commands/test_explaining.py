"""`explain` of written sizes and of the closed card."""

from pathlib import Path

import pytest

from tests.recipes import HEAD, SAMPLES, compile_text, explained, run

BANDED = (
    f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
    "oval plate from ink on back\n  size 2 x 3\n  glue with foam 2 mm thick\n"
)
BAND = "band sash from ink around card\n  width 1\n"
ASKED = "rectangle spine from ink on back\n  size 1 x 1\n  place card.thickness from left, 0 from top\n"


def of_thickness(path: Path, text: str) -> str:
    path.write_text(text, encoding="utf-8")
    ran = run("explain", str(path), "card.thickness")
    assert ran.status == 0, ran.err
    return ran.out.split("   (")[0]


@pytest.mark.parametrize("lines", ["", BAND, ASKED, BAND + ASKED])
def test_the_thickness_of_a_card_is_that_of_its_sheet_whatever_asks(tmp_path: Path, lines: str) -> None:
    compiled = compile_text(BANDED + lines)
    assert compiled.folded is not None
    assert compiled.folded.thickness is not None
    said = of_thickness(tmp_path / "a.recipe", BANDED + lines)
    shown = float(said.removeprefix("card.thickness = ").removeprefix("≈").removesuffix("\u00a0in"))
    assert shown > 0.05
    # What waits for the closed card (the band, the place of the spine) is not in the thickness that it uses.
    slack = 0.05 if ASKED in lines else 0.001
    assert abs(shown - float(compiled.folded.thickness.likely_mm) / 25.4) <= slack


def test_the_thickness_of_a_sample_with_a_band_is_more_than_nothing() -> None:
    ran = run("explain", str(SAMPLES / "night-market.recipe"), "card.thickness")
    assert ran.out.startswith("card.thickness = ≈0.2")


def test_a_size_that_is_written_has_its_unit_like_any_other() -> None:
    text = f"{HEAD}base card from ink\n  flat 10 x 7 1/2\n  score 5 from left\n"
    assert explained(text, "card.height") == ["card.height = 7\u202f1⁄2\u00a0in"]
    for size in ("card.width", "section-1.width"):
        assert all(line.endswith("\u00a0in") for line in explained(text, size)), explained(text, size)
    metric = text.replace("inch nearest 1/16", "mm nearest 1").replace("10 x 7 1/2", "100 x 75")
    assert explained(metric, "card.height") == ["card.height = 75\u00a0mm"]


@pytest.mark.parametrize(("text", "said"), [
    (f"{HEAD}bass card from ink\n", "a.recipe:5:1: error[unknown-word]: "),
    (HEAD, "a.recipe:1:1: warning[no-pieces]: "),
    ("", "a.recipe:1:1: error[no-recipe]: "),
])  # fmt: skip
def test_a_recipe_without_sizes_says_what_is_wrong_with_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, said: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("a.recipe").write_text(text, encoding="utf-8")
    ran = run("explain", "a.recipe", "card.width")
    assert (ran.status, ran.out) == (1, "")
    assert ran.err.startswith(said) and ran.err.count("a.recipe:") == 1


def test_a_shelf_of_papers_and_a_class_have_no_sizes_of_their_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for text, said in (
        ('paper ink is cardstock "Ink"\n',
         "a shelf of papers without a card; explain a size of a recipe that uses it"),
        ('class "Bench"\n  make 2 of "b.recipe"\n', "a class; explain a size of a recipe that it makes"),
    ):  # fmt: skip
        Path("a.recipe").write_text(text, encoding="utf-8")
        assert run("explain", "a.recipe", "card.width") == (2, "", f"cardrecipe: a.recipe is {said}\n")
