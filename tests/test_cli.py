"""The command line: exit status, what goes to which stream, and that nothing ends in a traceback."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.recipes import HEAD, ROOT, STRUCTURES, Ran, run, sample_cards

GOOD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
WRONG = GOOD.replace("flat", "flt") + "oval plate from ink on bakc\n"
FOLDS = sorted(path.stem for path in STRUCTURES.glob("*.recipe"))


@pytest.fixture(autouse=True)
def in_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(name: str, text: str | bytes) -> str:
    Path(name).parent.mkdir(parents=True, exist_ok=True)
    Path(name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return name


def files() -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(Path().rglob("*")) if path.is_file()}


def assert_calm(ran: Ran) -> None:
    assert "Traceback" not in ran.err + ran.out


# ---- check ---------------------------------------------------------------------------------------


def test_check_of_a_good_recipe_says_nothing() -> None:
    assert run("check", write("a.recipe", GOOD)) == (0, "", "")


def test_check_of_a_wrong_recipe_says_where_what_and_what_to_type() -> None:
    assert run("check", write("a.recipe", WRONG)) == (
        1,
        "",
        "a.recipe:8:24: error[unknown-name]: no section or piece is called `bakc`\n"
        "  8 | oval plate from ink on bakc\n"
        "    |                        ^^^^\n"
        "  hint: did you mean `back`?\n",
    )


def test_warnings_alone_are_no_failure() -> None:
    ran = run("check", write("a.recipe", GOOD + 'paper tan is plain "Tan"\n'))
    assert (ran.status, ran.out) == (0, "")
    assert ran.err.startswith("a.recipe:8:1: warning[unused-paper]: ")


def test_check_of_several_files_and_all_their_variants() -> None:
    variant = GOOD + 'variant "B"\n  set note.width 9\nvariant "C"\n  drop nota\n'
    ran = run("check", write("a.recipe", WRONG), write("b.recipe", variant))
    assert re.findall(r"^(\S+:\d+):\d+: \w+\[([\w-]+)\]", ran.err, re.M) == [
        ("a.recipe:8", "unknown-name"), ("b.recipe:7", "overhang"), ("b.recipe:11", "unknown-name"),
    ] or ran.status == 1  # fmt: skip
    assert ran.err.count("[unknown-name]") == 2


def test_all_mistakes_appear_at_once() -> None:
    text = GOOD + "score 1\npanle a\npanel b from inc on back\noval c from ink on back\n  size 3\n"
    ran = run("check", write("a.recipe", text))
    assert [int(line) for line in re.findall(r"^a.recipe:(\d+):", ran.err, re.M)] == [8, 9, 10, 12]


def test_related_places_are_marked_as_well() -> None:
    ran = run("check", write("a.recipe", GOOD + "  size 3 x 4\n  border 1 left\n  border 1 right\n"))
    assert "a.recipe:9:3: error[conflict]" in ran.err or "a.recipe:10:3: error[conflict]" in ran.err
    assert ran.err.count("^") > 10
    assert "  8 |   size 3 x 4\n" in ran.err


def test_json_says_the_same_to_programs() -> None:
    ran = run("check", "--format", "json", write("a.recipe", WRONG))
    assert (ran.status, ran.err) == (1, "")
    (found,) = json.loads(ran.out)
    assert found == {
        "code": "unknown-name", "severity": "error", "message": "no section or piece is called `bakc`",
        "hint": "did you mean "
                "`back`?", "file": "a.recipe", "line": 8, "column": 24, "end_line": 8, "end_column": 28,
        "related": [],
    }  # fmt: skip
    assert run("check", "--format", "json", write("b.recipe", GOOD)) == (0, "[]\n", "")


def test_more_than_a_hundred_diagnostics_are_counted() -> None:
    ran = run("check", write("a.recipe", GOOD + "wrong\n" * 100))
    assert (ran.err.count("error["), "more" in ran.err) == (100, False)
    ran = run("check", write("a.recipe", GOOD + "wrong\n" * 130))
    assert ran.err.count("error[") == 100
    assert ran.err.endswith("… 30 more\n")


def test_no_text_of_a_recipe_reaches_the_terminal_raw() -> None:
    ran = run("check", write("a.recipe", GOOD + "panel \x1b[31mred from \u202eink\x07\n"))
    assert ran.status == 1
    assert not set(ran.err) & {"\x1b", "\u202e", "\x07"}
    assert "<U+001B>" in ran.err


def test_a_mistake_in_a_used_file_is_shown_there() -> None:
    write("shelf/papers.recipe", 'papr tan is plain "Tan"\n')
    ran = run("check", write("a.recipe", GOOD.replace("paper", 'use "shelf/papers.recipe"\npaper', 1)))
    assert ran.err.startswith("shelf/papers.recipe:1:1: error[unknown-word]: ")


def test_files_are_used_from_the_recipes_folder_wherever_one_stands() -> None:
    write("x/papers.recipe", 'paper ink is plain "Ink" 12 x 12\n')
    text = GOOD.replace('paper ink is cardstock "Ink" 12 x 12', 'use "papers.recipe"')
    assert run("check", write("x/a.recipe", text)) == (0, "", "")
    assert run("check", "./x/a.recipe").status == run("check", str(Path("x/a.recipe").resolve())).status == 0


def test_no_file_outside_the_folder_is_read() -> None:
    write("papers.recipe", 'paper ink is plain "Ink" 12 x 12\n')
    os.makedirs("x")
    os.symlink("../papers.recipe", "x/link.recipe")
    for path in ("../papers.recipe", "link.recipe"):
        ran = run("check", write("x/a.recipe", GOOD.replace("paper ink", f'use "{path}"\npaper ink')))
        assert ran.status == 1, path
        assert "error[use-" in ran.err


def test_crlf_and_a_byte_order_mark_change_nothing() -> None:
    assert run("check", write("a.recipe", b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())) == (
        0,
        "",
        "",
    )
    ran = run("check", write("a.recipe", WRONG.replace("\n", "\r\n")))
    assert ran.err.startswith("a.recipe:8:24: ")
    assert "\r" not in ran.err


# ---- files that cannot be read and commands that are wrong ---------------------------------------


@pytest.mark.parametrize("command", [["check"], ["build"], ["explain"]])
def test_what_cannot_be_read_is_said_in_a_sentence(command: list[str]) -> None:
    write("latin.recipe", 'recipe "Caf\xe9"'.encode("latin-1"))
    write("nul.recipe", b"\0\xff\xfe")
    os.makedirs("folder.recipe")
    size = ["card.width"] if command == ["explain"] else []
    for name, words in (("missing.recipe", "No such file"), ("latin.recipe", "UTF-8"),
    ("nul.recipe", "UTF-8"),
                        ("folder.recipe", "directory"), ("missing/a.recipe", "No such file")):  # fmt: skip
        ran = run(*command, name, *size)
        assert (ran.status, ran.out) == (2, ""), name
        assert ran.err.startswith(f"cardrecipe: {name}: ")
        assert words in ran.err
        assert ran.err.count("\n") == 1


@pytest.mark.parametrize("arguments", [
    [], ["bake", "a.recipe"], ["check"], ["check", "--format", "xml", "a.recipe"],
    ["build", "a.recipe", "--to", "docx"],
    ["build", "a.recipe", "--to", ""], ["build", "a.recipe", "--copies", "0"],
    ["build", "a.recipe", "--copies", "two"],
    ["build", "a.recipe", "--stages", "4"], ["build", "a.recipe", "--stages", "two"],
    ["build", "a.recipe", "--trimmer", "12"], ["build", "a.recipe", "--trimmer", "0in"],
    ["build", "a.recipe", "--trimmer", "-3 mm"],
    ["build", "a.recipe", "--copies", "10001"], ["build", "a.recipe", "--units", "cm"],
    ["build", "a.recipe", "-o", "-"],
    ["build", "a.recipe", "-o", "-", "--to", "svg"],
    ["build", "a.recipe", "a.recipe", "-o", "-", "--to", "md"],
    ["build", "a.recipe", "--variant", "Harvest"], ["build", "a.recipe", "--page", "a5"],
    ["build", "a.recipe", "--copies", "0000019999999"],
    ["explain", "a.recipe"],
    ["explain", "a.recipe", "plate"], ["explain", "a.recipe", "card.wdth"], ["new", "gaet"], ["new"],
    ["explain", "a.recipe", "card.width", "--variant", "B"],
])  # fmt: skip
def test_a_wrong_command_is_status_2_and_writes_nothing(arguments: list[str]) -> None:
    write("a.recipe", GOOD)
    before = files()
    ran = run(*arguments)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err
    assert files() == before
    assert_calm(ran)


def test_hostile_files_end_in_a_diagnostic() -> None:
    for text in (
        "recipe \"A\"\n"
        "let a = " + "(" * 100_000, "recipe \"A\"\n" + "base b\n " * 5_000, "let a = a\n" * 2_000,
        "".join(" " * depth + "base b\n" for depth in range(2_000)), '"""', "recipe", '\n' * 100_000 + "x",
        'recipe "A"\nlet a0 = 99\n' + "".join(f"let a{n} = a{n - 1} * "
                                              f"a{n - 1}\n" for n in range(1, 40)) + "rectangle r\n"
                                                                                     "  size a39 x 1\n",
        'recipe "A"\nbase b\n  flat 8 x 8\n' + "  score every 1/8, 400 times from left\n" * 20,
    ):  # fmt: skip
        ran = run("check", write("a.recipe", text))
        assert ran.status == 1, text[:60]
        assert_calm(ran)


def test_lets_that_double_each_other_are_read_in_no_time() -> None:
    lets = "let a0 = 1/1024\n" + "".join(f"let a{n} = a{n - 1} + a{n - 1}\n" for n in range(1, 61))
    assert run("check", write("a.recipe", f"{GOOD}{lets}rectangle b from ink on back\n  size a11 x 1\n")) == (
        0,
        "",
        "",
    )


# ---- build ---------------------------------------------------------------------------------------


def test_build_writes_a_page_and_a_pdf_beside_the_recipe() -> None:
    ran = run("build", write("x/a.recipe", GOOD))
    assert (ran.status, ran.err, ran.out.split()) == (0, "", ["x/a.html", "x/a.pdf"])
    assert sorted(files()) == ["x/a.html", "x/a.pdf", "x/a.recipe"]


def test_build_into_a_folder_that_is_not_there_yet() -> None:
    ran = run("build", write("a.recipe", GOOD), "-o", "out/today", "--to", "md,json")
    assert (ran.status, sorted(files())) == (0, ["a.recipe", "out/today/a.json", "out/today/a.md"])


@pytest.mark.parametrize("options", [
    ["--to", "md,json"], ["--to", "md", "--to", "json"], ["--to=json", "--to", "md,json"],
])  # fmt: skip
def test_formats_that_are_asked_for_one_by_one_are_all_written(options: list[str]) -> None:
    assert run("build", write("a.recipe", GOOD), "-o", "out", *options).status == 0
    assert sorted(files()) == ["a.recipe", "out/a.json", "out/a.md"]


@pytest.mark.parametrize("form", ["html", "md", "json"])
def test_build_to_standard_output(form: str) -> None:
    write("a.recipe", GOOD)
    ran = run("build", "a.recipe", "-o", "-", "--to", form)
    assert (ran.status, ran.err, sorted(files())) == (0, "", ["a.recipe"])
    run("build", "a.recipe", "--to", form)
    assert Path(f"a.{form}").read_bytes().decode() == ran.out


def test_build_writes_every_variant() -> None:
    text = GOOD + 'variant "Warm & dark"\n  set border 1/4\nvariant "§"\n  set border 1/2\n'
    ran = run("build", write("a.recipe", text), "--variant", "all", "--to", "json")
    assert (ran.status, ran.out.split()) == (0, ["a.json", "a-warm-dark.json", "a-variant.json"])
    borders = [json.loads(Path(name).read_text())["pieces"][1]["border"]["left"] for name in ran.out.split()]
    assert borders == ["1/8", "1/4", "1/2"]
    ran = run("build", "a.recipe", "--variant", "Warm & dark", "--to", "json")
    assert ran.out.split() == ["a-warm-dark.json"]


def test_a_recipe_with_errors_touches_no_earlier_output() -> None:
    write("a.recipe", GOOD)
    assert run("build", "a.recipe", "--to", "html,md,json").status == 0
    before = files() | {"a.recipe": WRONG.encode()}
    ran = run("build", write("a.recipe", WRONG), "--to", "html,md,json")
    assert (ran.status, ran.out) == (1, "")
    assert "error[unknown-name]" in ran.err
    assert files() == before


def test_one_wrong_recipe_does_not_keep_the_others_from_being_built() -> None:
    ran = run("build", write("a.recipe", WRONG), write("b.recipe", GOOD), "--to", "md")
    assert (ran.status, ran.out.split()) == (1, ["b.md"])


def test_a_folder_that_cannot_be_written_is_said_in_a_sentence() -> None:
    write("a.recipe", GOOD)
    write("out", "a file and no folder")
    before = files()
    ran = run("build", "a.recipe", "-o", "out", "--to", "md")
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith("cardrecipe: out")
    assert files() == before


def test_units_page_and_copies() -> None:
    write("a.recipe", GOOD)
    assert (
        json.loads(run("build", "a.recipe", "-o", "-", "--to", "json", "--units", "mm").out)["unit"] == "mm"
    )
    assert json.loads(run("build", "a.recipe", "-o", "-", "--to", "json", "--copies", "7").out)["copies"] == 7
    assert run("build", "a.recipe", "--to", "html", "--page", "a4").status == 0


def test_stages_and_trimmer() -> None:
    write("a.recipe", GOOD)
    plain = run("build", "a.recipe", "-o", "-", "--to", "md")
    assert (plain.status, plain.err) == (0, "")
    assert "more than the" not in plain.out
    for length in ("4in", "100 mm", "10cm"):
        short = run("build", "a.recipe", "-o", "-", "--to", "md", "--trimmer", length)
        assert short.status == 0
        assert "of the trimmer: use a craft knife and a metal ruler" in short.out, length
    for stages in ("2", "3"):
        ran = run("build", "a.recipe", "-o", "-", "--to", "json", "--stages", stages, "--copies", "9")
        assert (ran.status, ran.err) == (0, "")
        assert json.loads(ran.out)["copies"] == 9


HEAVY = ("numpy", "highspy")


@pytest.mark.parametrize(("copies", "is_heavy"), [("1", False), ("30", True)])
def test_the_planner_is_loaded_only_for_more_than_one_sheet(copies: str, is_heavy: bool) -> None:
    """In a process of its own; what it writes to standard output is the sheet and nothing else."""
    code = (
        "import sys; from cardrecipe.cli import main; status = main(sys.argv[1:]);"
        f"print(*(each for each in {HEAVY!r} if each in sys.modules), file=sys.stderr); sys.exit(status)"
    )
    sample = str(ROOT / "samples" / "night-market.recipe")
    ran = subprocess.run(
        [sys.executable, "-c", code, "build", sample, "-o", "-", "--to", "json", "--copies", copies],
        capture_output=True, text=True, cwd=ROOT, check=True, encoding="utf-8",
    )  # fmt: skip
    assert ran.stderr.split() == [*HEAVY] * is_heavy
    assert json.loads(ran.stdout)["copies"] == int(copies)


# ---- explain, new, structures --------------------------------------------------------------------


def test_explain_prints_the_sum_with_its_places() -> None:
    ran = run("explain", write("a.recipe", GOOD), "note.width")
    assert (ran.status, ran.err) == (0, "")
    first, *others = ran.out.splitlines()
    assert first.startswith(
        "note.width = back.width 4 − 2 × border 1⁄8 = 3\u202f3⁄4\u00a0in   (note lies on back, a.recipe:7)"
    )
    assert all(line.startswith("  ") for line in others)


def test_explain_of_an_open_size_shows_the_mistakes() -> None:
    ran = run("explain", write("a.recipe", GOOD.replace("width 4, ", "")), "card.width")
    assert (ran.status, ran.out) == (1, "")
    assert "error[unsolved]" in ran.err


def test_explain_of_a_variant() -> None:
    write("a.recipe", GOOD + 'variant "B"\n  set border 1/4\n')
    assert "3\u202f1⁄2" in run("explain", "a.recipe", "note.width", "--variant", "B").out.splitlines()[0]


def test_every_size_of_every_sample_can_be_explained() -> None:
    for path in sample_cards():
        known = run("explain", str(path), "no.size").err.partition("known: ")[2].strip().split(", ")
        for size in known:
            ran = run("explain", str(path), size)
            assert ran.status == 0, (path.name, size, ran.err)


def test_structures_lists_the_folds_with_what_they_ask_for() -> None:
    ran = run("structures")
    assert (ran.status, ran.err) == (0, "")
    assert [line.split()[0] for line in ran.out.splitlines() if line[0] != " "] == FOLDS
    assert "asks: width, height, flap (else width / 4)" in ran.out


@pytest.mark.parametrize("fold", FOLDS)
def test_a_new_recipe_checks_without_a_word_and_builds(fold: str) -> None:
    assert run("new", fold, "-o", "a.recipe") == (0, "a.recipe\n", "")
    assert Path("a.recipe").read_text() == run("new", fold).out
    assert run("check", "a.recipe") == (0, "", "")
    assert run("build", "a.recipe", "--to", "md") == (0, "a.md\n", "")


def test_new_overwrites_nothing() -> None:
    write("a.recipe", "precious")
    ran = run("new", "gate", "-o", "a.recipe")
    assert (ran.status, ran.out, files()) == (2, "", {"a.recipe": b"precious"})


def test_a_reader_that_goes_away_is_no_traceback() -> None:
    write("a.recipe", GOOD)
    command = f"{sys.executable} -m cardrecipe build a.recipe -o - --to html | head -c 10 > /dev/null"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)})  # fmt: skip
    assert done.stderr == ""
