"""`build` for a class file: its files, its exit status, what does not go with it, the bar of its progress."""

import json
import shutil
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from pypdf import PdfReader

from cardrecipe.cli import main
from cardrecipe.commands import progress as bars
from tests.commands.test_progress import is_wiped, terminal
from tests.recipes import ROOT, SAMPLES

CLASS = 'class "Two evenings"\n  make 3 of "night-market.recipe", 1 spare\n  make 2 of "market-tags.recipe"\n'
SCHEMA = json.loads((files("cardrecipe.render") / "class.schema.json").read_text("utf-8"))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("class")
    for path in SAMPLES.glob("*.recipe"):
        shutil.copy(path, place)
    (place / "evenings.recipe").write_text(CLASS, "utf-8")
    return place


@pytest.fixture(scope="module")
def built(folder: Path) -> Path:
    """Every format of the class, once for all tests."""
    out = folder / "out"
    to = "html,pdf,md,json,svg"
    assert (
        main(["build", str(folder / "evenings.recipe"), "-o", str(out), "--to", to, "--page", "letter,a4"])
        == 0
    )
    return out


def test_every_format_is_written(built: Path) -> None:
    names = {path.name.removeprefix("evenings") for path in built.iterdir()}
    assert {".html", ".md", ".json", "-letter.pdf", "-a4.pdf", "-kit-K.svg", "-sheet-1.svg"} <= names
    assert not [path for path in built.iterdir() if not path.stat().st_size]


def test_the_json_keeps_to_its_schema_and_the_plan_holds_what_the_bags_ask_for(built: Path) -> None:
    """Counted on the nested cuts; a blank that kits share bears the letters of all of them."""
    value = json.loads((built / "evenings.json").read_text("utf-8"))
    Draft202012Validator(SCHEMA).validate(value)
    assert [(kit["seats"], kit["spare"], len(kit["labels"])) for kit in value["kits"]] == [
        (3, 1, 4),
        (2, 0, 2),
    ]
    cut: dict[str, int] = {}
    for sheet in value["cutting"]["sheets"]:
        for piece in _pieces(sheet):
            cut[piece] = cut.get(piece, 0) + sheet["count"]
    wanted: dict[str, int] = {}
    for name in cut:
        letters, piece = name.split(" ")
        wanted[name] = sum(
            line["count"] * bag["bags"]
            for bag in value["bags"]
            for line in bag["holds"]
            if bag["kit"] in letters.split("+") and line["what"] == piece
        )
    assert all(0 < wanted[name] <= cut[name] for name in cut)
    told = [total for total in value["cutting"]["totals"] for total in total["blanks"]]
    assert {blank["piece"]: blank["count"] for blank in told} == wanted


def _pieces(part: dict[str, object]) -> list[str]:
    if "piece" in part:
        return [str(part["piece"])]
    inside = part.get("cut")
    return [each for one in inside["parts"] for each in _pieces(one)] if isinstance(inside, dict) else []


def test_all_formats_tell_of_the_same_tasks_and_labels(built: Path) -> None:
    value = json.loads((built / "evenings.json").read_text("utf-8"))
    markdown = (built / "evenings.md").read_text("utf-8")
    printed = _squeezed("".join(page.extract_text() for page in PdfReader(built / "evenings-a4.pdf").pages))
    for kit in value["kits"]:
        assert all(markdown.count(f"| {number} |") == 1 for number in kit["labels"])
        assert all(printed.count(number) == 1 for number in kit["labels"])
    for task in value["prep"]:
        clock = f"{task['starts_minute'] // 60}:{task['starts_minute'] % 60:02d}"
        assert f"- [ ] {clock} " in markdown
        assert all(_squeezed(line) in printed for line in (task["text"], *task["lines"]))


def _squeezed(text: str) -> str:
    """`text` without blanks; a fraction's own sign stands for its slash in a PDF or not."""
    return "".join(text.split()).replace("\u2044", "/")


def test_a_class_goes_to_standard_output(folder: Path, capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    assert main(["build", str(folder / "evenings.recipe"), "--to", "md", "-o", "-"]) == 0
    assert capfdbinary.readouterr().out.startswith(b"# Two evenings\n")


@pytest.mark.parametrize(
    ("option", "reason"),
    [
        (["--variant", "Harvest"], "names the variant of each card itself"),
        (["--copies", "3"], "says itself how many cards are made"),
        (["--units", "mm"], "write units inch or units mm in it"),
        (["--to", "dxf"], "build the recipes that this class makes"),
    ],
)
def test_options_of_a_recipe_are_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], option: list[str], reason: str
) -> None:
    assert main(["build", str(folder / "evenings.recipe"), "-o", str(tmp_path), *option]) == 2
    said = capsys.readouterr().err
    assert reason in said and "evenings.recipe" in said
    assert not list(tmp_path.iterdir())


def test_a_class_with_an_error_writes_nothing(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = folder / "wrong.recipe"
    wrong.write_text('class "Wrong"\n  make 3 of "nowhere.recipe"\n', "utf-8")
    assert main(["build", str(wrong), "-o", str(tmp_path)]) == 1
    assert "wrong.recipe:2:" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())


def test_recipes_and_classes_are_built_together(folder: Path, tmp_path: Path) -> None:
    paths = [str(folder / name) for name in ("market-tags.recipe", "evenings.recipe")]
    assert main(["build", *paths, "-o", str(tmp_path), "--to", "md"]) == 0
    assert {path.name for path in tmp_path.iterdir()} == {"market-tags.md", "evenings.md"}


def test_a_recipe_that_speaks_of_a_class_is_none(folder: Path, tmp_path: Path) -> None:
    text = (SAMPLES / "first-frost.recipe").read_text("utf-8")
    (folder / "speaks.recipe").write_text(f"# class\n{text}", "utf-8")
    assert main(["build", str(folder / "speaks.recipe"), "-o", str(tmp_path), "--to", "md"]) == 0
    assert "First frost" in (tmp_path / "speaks.md").read_text("utf-8")


def test_the_order_of_hashes_changes_nothing(folder: Path, built: Path, tmp_path: Path) -> None:
    command = [
        sys.executable,
        "-m",
        "cardrecipe",
        "build",
        str(folder / "evenings.recipe"),
        "-o",
        str(tmp_path),
    ]
    environment = {
        "PYTHONHASHSEED": "7",
        "PYTHONPATH": str(ROOT),
        "PATH": "/usr/bin:/bin",
        "TZ": "Asia/Tokyo",
    }
    subprocess.run([*command, "--to", "html,pdf,json", "--page", "letter"], env=environment, check=True)
    assert (tmp_path / "evenings.pdf").read_bytes() == (built / "evenings-letter.pdf").read_bytes()
    for name in ("evenings.html", "evenings.json"):
        assert (tmp_path / name).read_bytes() == (built / name).read_bytes()


def test_a_long_build_shows_its_parts_on_a_terminal(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bars, "WAITS", 0.005)
    monkeypatch.setattr(bars, "BEATS", 0.005)
    with terminal(monkeypatch) as written:
        assert main(["build", str(folder / "evenings.recipe"), "-o", str(tmp_path), "--to", "md,json"]) == 0
    assert " of 8, 00:0" in written[0] and is_wiped(written[0])


def test_a_build_of_several_files_counts_them_and_prints_their_names(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(bars, "WAITS", 0.005)
    monkeypatch.setattr(bars, "BEATS", 0.005)
    names = ("market-tags", "evenings", "first-frost")
    with terminal(monkeypatch) as written:
        assert (
            main(
                [
                    "build",
                    *(str(folder / f"{name}.recipe") for name in names),
                    "-o",
                    str(tmp_path),
                    "--to",
                    "md",
                ]
            )
            == 0
        )
    assert "first-frost.recipe |" in written[0] and "2 of 3" in written[0] and is_wiped(written[0])
    assert " of 8" not in written[0]  # the parts of the class have no bar of their own
    assert capsys.readouterr().out.split() == [str(tmp_path / f"{name}.md") for name in names]


def test_all_papers_are_cut_together_on_demand(folder: Path, tmp_path: Path) -> None:
    path = str(folder / "evenings.recipe")
    assert main(["build", path, "-o", str(tmp_path), "--to", "md", "--by-setting"]) == 0
    page = (tmp_path / "evenings.md").read_text("utf-8")
    assert "All papers are cut together" in page
    assert "go by one of the two" in page


def test_a_card_has_no_papers_to_cut_together(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = str(folder / "market-tags.recipe")
    assert main(["build", path, "-o", str(tmp_path), "--to", "md", "--by-setting"]) == 2
    assert "--by-setting is for a class" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
