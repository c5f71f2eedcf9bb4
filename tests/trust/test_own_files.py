"""A build writes over what a build wrote, and over nothing else."""

import os
from pathlib import Path

import pytest

from cardrecipe.own_files import FIRST, LAST, may_be_replaced
from cardrecipe.render.class_pack.pages import FORMATS as OF_A_CLASS
from cardrecipe.render.pages import FORMATS, TOGETHER
from cardrecipe.render.signs import SIGNS
from tests.recipes import SAMPLES, run
from tests.trust.test_outputs import GOOD, everything, folder

__all__ = ["folder"]  # each test runs in a folder of its own

CLASS = 'class "Bench"\n  make 3 of "a.recipe"\n'
VARIANT = 'variant "Plain"\n  drop note\n'


def write_recipes() -> None:
    Path("a.recipe").write_text(GOOD + VARIANT)
    Path("bench.recipe").write_text(CLASS)


@pytest.mark.parametrize(
    "command",
    [
        ("a.recipe", "--to", ",".join(FORMATS)),
        ("a.recipe", "--to", ",".join(FORMATS), "--page", "letter,a4", "--large-print", "--grey"),
        ("a.recipe", "--to", ",".join(TOGETHER), "--variant", "all"),
        ("a.recipe", "--to", "html,md,json", "--variant", "each"),
        ("bench.recipe", "--to", ",".join(OF_A_CLASS)),
    ],
)
def test_all_that_a_build_writes_it_writes_again(command: tuple[str, ...]) -> None:
    pytest.importorskip("ezdxf")
    write_recipes()
    first = run("build", *command, "-o", "out")
    assert first.status == 0, first.err
    before, made = everything(), first.out.split()
    assert all(may_be_replaced(path) for path in made)
    for path in made:
        assert before[path].count(SIGNS[os.path.splitext(path)[1]]) == 1
    second = run("build", *command, "-o", "out")
    assert (second.status, second.out, everything()) == (0, first.out, before)


def test_the_pack_of_the_sample_class_in_large_print_is_known_again(tmp_path: Path) -> None:
    """The longest PDF that the samples give, so the one whose table is longest."""
    name = str(SAMPLES / "saturday-bench.recipe")
    assert run("build", name, "--to", "pdf", "--large-print", "-o", str(tmp_path)).status == 0
    content = (tmp_path / "saturday-bench.pdf").read_bytes()
    assert len(content) - content.rindex(SIGNS[".pdf"]) < LAST / 10


@pytest.mark.parametrize("name", FORMATS)
def test_a_file_of_the_users_is_left_alone_and_nothing_is_written_beside_it(name: str) -> None:
    pytest.importorskip("ezdxf")
    write_recipes()
    assert run("build", "a.recipe", "--to", name, "-o", "first").status == 0
    last = sorted(path for path in everything() if path.startswith("first"))[-1].replace("first", "out")
    Path("out").mkdir()
    Path(last).write_text("What I told the class about cardrecipe.\n")
    before = everything()
    ran = run("build", "a.recipe", "--to", name, "-o", "out")
    why = "this file is not one that a build wrote; move it, or name another folder with -o"
    assert (ran.status, ran.out, ran.err) == (2, "", f"cardrecipe: {last}: {why}\n")
    assert everything() == before


def test_one_file_of_the_users_among_several_sheets_files_stops_them_all() -> None:
    write_recipes()
    Path("a.md").write_text("# Notes\n")
    before = everything()
    assert run("build", "a.recipe", "--to", "html,md,json").status == 2
    assert everything() == before
    assert run("build", "a.recipe", "--to", "html,json").status == 0


def test_nothing_is_lost_of_an_empty_file_or_of_what_a_link_leads_to() -> None:
    write_recipes()
    Path("a.md").touch()
    Path("notes.html").write_text("mine")
    os.symlink("notes.html", "a.html")
    assert run("build", "a.recipe", "--to", "html,md").status == 0
    assert Path("notes.html").read_text() == "mine"
    assert not Path("a.html").is_symlink()


def test_a_sheet_is_known_with_the_ends_of_lines_of_another_system() -> None:
    write_recipes()
    formats = "html,md,json,svg"
    assert run("build", "a.recipe", "--to", formats).status == 0
    for path in set(everything()) - {"a.recipe", "bench.recipe"}:
        Path(path).write_bytes(Path(path).read_bytes().replace(b"\n", b"\r\n"))
    assert run("build", "a.recipe", "--to", formats).status == 0


@pytest.mark.parametrize(("before", "after", "is_known"), [
    (0, FIRST + LAST, True),
    (FIRST - len(SIGNS[".pdf"]), LAST + FIRST, True),
    (FIRST - len(SIGNS[".pdf"]) + 1, LAST + FIRST, False),
    (FIRST, LAST - len(SIGNS[".pdf"]), True),
    (FIRST, LAST - len(SIGNS[".pdf"]) + 1, False),
])  # fmt: skip
def test_a_sign_is_looked_for_at_both_ends(before: int, after: int, is_known: bool) -> None:
    Path("a.pdf").write_bytes(b" " * before + SIGNS[".pdf"] + b" " * after)
    assert may_be_replaced("a.pdf") is is_known


def test_what_cannot_be_read_is_not_lost_either(monkeypatch: pytest.MonkeyPatch) -> None:
    write_recipes()
    Path("a.md").write_text("mine")

    def refused(path: str) -> bool:
        raise PermissionError(13, "Permission denied", path)

    monkeypatch.setattr("cardrecipe.own_files.may_be_replaced", refused)
    ran = run("build", "a.recipe", "--to", "md")
    assert (ran.status, ran.err) == (2, "cardrecipe: a.md: Permission denied\n")
    assert Path("a.md").read_text() == "mine"
