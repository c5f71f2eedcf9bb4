"""The command `diff`: files and variants in, pages and exit codes out."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.compare.versions import SHELF
from tests.recipes import ROOT, SAMPLES, run

SAMPLE = str(SAMPLES / "night-market.recipe")


@pytest.fixture
def two(tmp_path: Path) -> tuple[str, str]:
    """A sample and the same with a wider plate, papers beside them."""
    (tmp_path / "papers.recipe").write_text(SHELF["papers.recipe"], "utf-8")
    old, new = tmp_path / "old.recipe", tmp_path / "new.recipe"
    old.write_text(SHELF["night-market.recipe"], "utf-8")
    new.write_text(SHELF["night-market.recipe"].replace("size 3 x 2 1/4", "size 3 1/2 x 2 1/4"), "utf-8")
    return str(old), str(new)


def test_two_files(two: tuple[str, str]) -> None:
    done = run("diff", *two)
    assert done.status == 0 and not done.err
    assert "plate: now 3\u202f1⁄2 × 2\u202f1⁄4\u00a0in, was 3 × 2\u202f1⁄4\u00a0in" in done.out
    assert "because of line 30: size 3 1/2 x 2 1/4" in done.out


def test_a_file_with_itself(two: tuple[str, str]) -> None:
    assert run("diff", two[0], two[0]).out.endswith("Nothing changes for the maker.\n")


def test_one_file_and_its_variants() -> None:
    plain = run("diff", SAMPLE, "--new-variant", "Harvest")
    assert plain.status == 0 and "from the plain card to the variant Harvest" in plain.out
    both = run("diff", SAMPLE, "--old-variant", "Plain", "--new-variant", "Harvest")
    assert "from the variant Plain to the variant Harvest" in both.out


def test_one_file_alone_is_compared_with_nothing() -> None:
    done = run("diff", SAMPLE)
    assert done.status == 2 and "--new-variant" in done.err


def test_a_variant_that_is_not_there() -> None:
    done = run("diff", SAMPLE, "--new-variant", "Harvst")
    assert done.status == 2 and "did you mean 'Harvest'" in done.err


def test_a_file_that_is_not_there(two: tuple[str, str]) -> None:
    done = run("diff", two[0], "nowhere.recipe")
    assert done.status == 2 and "nowhere.recipe" in done.err


def test_errors_of_a_side_are_told_and_nothing_else(two: tuple[str, str]) -> None:
    Path(two[1]).write_text(SHELF["night-market.recipe"].replace("on sash", "on sach"), "utf-8")
    done = run("diff", *two)
    assert done.status == 1 and done.out == ""
    assert f"{two[1]}:29:" in done.err and "did you mean `sash`" in done.err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('class "Bench"\n  make 2 of "old.recipe"\n', "is a class"),
        ('paper ink is cardstock "Ink"\n', "is a shelf of papers"),
    ],
)
def test_a_class_or_a_shelf_has_no_card_to_compare(two: tuple[str, str], text: str, said: str) -> None:
    Path(two[1]).write_text(text, "utf-8")
    done = run("diff", *two)
    assert done.status == 2 and said in done.err and done.out == ""


@pytest.mark.parametrize("form", ["text", "md", "json", "html"])
def test_every_form_is_written_to_a_file_and_is_the_same_each_time(form: str, two: tuple[str, str]) -> None:
    out = Path(two[0]).parent / f"changes.{form}"
    made = []
    for _ in range(2):
        done = run("diff", *two, "--to", form, "-o", str(out))
        assert done.status == 0 and done.out == f"{out}\n", done.err
        made.append(out.read_bytes())
    assert made[0] == made[1] and b"plate" in made[0]


def test_json_tells_the_void_pages(two: tuple[str, str]) -> None:
    changes = json.loads(run("diff", *two, "--to", "json").out)["changes"]
    pages = next(each for each in changes if each["group"] == "pages")
    assert pages["old"] == "pages 1, 2 and 4 to 8 of 8"


def test_what_a_comparison_does_not_need_is_not_loaded(two: tuple[str, str]) -> None:
    code = "import sys; from cardrecipe.cli import main; main(sys.argv[1:]); print(*sys.modules)"
    arguments = ["git-diff", "old.recipe", two[0], "0", "100644", two[1], "0", "100644"]
    command = [sys.executable, "-c", code, *arguments]
    where = {"cwd": Path(two[0]).parent, "env": {"PYTHONPATH": str(ROOT)}}
    done = subprocess.run(command, capture_output=True, text=True, check=True, **where)
    loaded = done.stdout.splitlines()[-1].split()
    heavy = {"typst", "jinja2", "markdown_it", "lark", "numpy", "highspy", "cardrecipe.render.drawings"}
    assert not heavy & set(loaded)
