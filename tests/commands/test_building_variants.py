"""`build --variant all` and `each`: which files are written, what is said, and when nothing is written."""

import json
from pathlib import Path

import pytest

from tests.recipes import run
from tests.variant_recipes import FERRY, NO_VARIANT


@pytest.fixture(autouse=True)
def in_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("ferry.recipe").write_text(FERRY, "utf-8")


def files() -> list[str]:
    return sorted(path.name for path in Path().iterdir() if path.suffix != ".recipe")


def test_all_is_one_sheet_beside_that_of_the_plain_card() -> None:
    assert run("build", "ferry.recipe", "--to", "html,md").status == 0
    before = {name: Path(name).read_bytes() for name in files()}
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "html,pdf,md")
    assert (ran.status, ran.out.split()) == (
        0, ["ferry-variants.html", "ferry-variants.pdf", "ferry-variants.md"]
    )  # fmt: skip
    assert {name: Path(name).read_bytes() for name in before} == before


def test_what_programs_read_is_a_file_for_each_card() -> None:
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "md,json")
    assert ran.out.split() == [
        "ferry-variants.md", "ferry.json", "ferry-small.json", "ferry-with-a-band.json", "ferry-quiet.json",
        "ferry-all-the-trimmings.json",
    ]  # fmt: skip
    variants = [json.loads(Path(name).read_text("utf-8"))["variant"] for name in ran.out.split()[1:]]
    assert variants == [None, "Small", "With a band", "Quiet", "All the trimmings"]
    run("build", "ferry.recipe", "--variant", "all", "--to", "svg")
    assert {"ferry-finished.svg", "ferry-quiet-finished.svg"} <= set(files())


def test_each_is_a_sheet_for_each() -> None:
    ran = run("build", "ferry.recipe", "--variant", "each", "--to", "md")
    assert ran.out.split() == [
        "ferry.md", "ferry-small.md", "ferry-with-a-band.md", "ferry-quiet.md", "ferry-all-the-trimmings.md"
    ]  # fmt: skip
    single = Path("ferry-quiet.md").read_bytes()
    run("build", "ferry.recipe", "--variant", "Quiet", "--to", "md")
    assert Path("ferry-quiet.md").read_bytes() == single


def test_several_page_sizes_are_several_files() -> None:
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "pdf", "--page", "letter,a4")
    assert ran.out.split() == ["ferry-variants-letter.pdf", "ferry-variants-a4.pdf"]


@pytest.mark.parametrize("form", ["html", "md"])
def test_to_standard_output(form: str) -> None:
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", form, "-o", "-")
    run("build", "ferry.recipe", "--variant", "all", "--to", form)
    assert (ran.status, ran.out) == (0, Path(f"ferry-variants.{form}").read_bytes().decode())


@pytest.mark.parametrize(("variant", "form"), [("all", "json"), ("each", "md"), ("each", "html")])
def test_several_files_do_not_go_to_standard_output(variant: str, form: str) -> None:
    ran = run("build", "ferry.recipe", "--variant", variant, "--to", form, "-o", "-")
    assert (ran.status, ran.out, files()) == (2, "", [])
    assert "a file for each variant" in ran.err


def test_units_and_copies_are_those_of_every_card() -> None:
    ran = run(
        "build", "ferry.recipe", "--variant", "all", "--to", "md", "--units", "mm", "--copies", "3", "-o", "-"
    )
    assert "The cards side by side, for 3 cards" in ran.out and "Cut list, for 3 cards: Small" in ran.out
    assert "| Card | 252 × 178\u00a0mm<br>10 × 7\u00a0in |" in ran.out


def test_a_recipe_without_variants_is_told_so() -> None:
    Path("plain.recipe").write_text(NO_VARIANT, "utf-8")
    ran = run("build", "plain.recipe", "--variant", "all", "--to", "md")
    assert (ran.status, ran.out.split()) == (0, ["plain-variants.md"])
    assert "plain.recipe has no variants" in ran.err
    assert "This recipe has no variants" in Path("plain-variants.md").read_text("utf-8")


def test_one_wrong_variant_keeps_the_old_sheet_whole() -> None:
    run("build", "ferry.recipe", "--variant", "all", "--to", "md,json")
    before = {name: Path(name).read_bytes() for name in files()}
    Path("ferry.recipe").write_text(FERRY + 'variant "Wrong"\n  set sun.diameter 20\n  drop sash\n', "utf-8")
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "md,json")
    assert (ran.status, ran.out) == (1, "")
    assert 'in variant "Wrong": no piece is called `sash`' in ran.err
    assert {name: Path(name).read_bytes() for name in files()} == before


def test_each_writes_those_that_can_be_made() -> None:
    Path("ferry.recipe").write_text(FERRY + 'variant "Wrong"\n  drop sash\n', "utf-8")
    ran = run("build", "ferry.recipe", "--variant", "each", "--to", "md")
    assert ran.status == 1 and "ferry-quiet.md" in ran.out and "wrong" not in ran.out


def test_a_mistake_of_the_plain_card_is_said_once() -> None:
    Path("ferry.recipe").write_text(
        FERRY + 'paper tan is plain "Tan"\n', "utf-8"
    )
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "md")
    assert ran.status == 0 and ran.err.count("unused-paper") == 1


def test_titles_that_read_alike_do_not_share_a_file() -> None:
    alike = "".join(
        f'variant "{title}"\n  set sun.diameter 1 3/4\n' for title in ("Blue!", "Blue?", "Variants")
    )
    Path("alike.recipe").write_text(NO_VARIANT + alike, "utf-8")
    ran = run("build", "alike.recipe", "--variant", "all", "--to", "md,json")
    assert ran.out.split() == [
        "alike-variants.md", "alike.json", "alike-blue.json", "alike-blue-2.json", "alike-variants-2.json"
    ]  # fmt: skip
    ran = run("build", "alike.recipe", "--variant", "Blue?", "--to", "json")
    assert ran.out.split() == ["alike-blue-2.json"]


def test_grey_and_large_print() -> None:
    ran = run("build", "ferry.recipe", "--variant", "all", "--to", "pdf", "--grey", "--large-print")
    assert (ran.status, ran.out.split()) == (0, ["ferry-variants.pdf"])
