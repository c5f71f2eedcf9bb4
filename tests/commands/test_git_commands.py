"""What the commands for git answer where one side is missing, is no card, or cannot be made."""

import subprocess
from pathlib import Path

import pytest

from tests.compare.repositories import needs_git
from tests.recipes import HEAD, Ran, run

CARD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
PAPERS = 'paper ink is cardstock "{}" 12 x 12\n'
USING = f'use "papers.recipe"\n{CARD.replace(PAPERS.format("Ink"), "")}'
BENCH = 'class "Bench"\n  make 2 of "a.recipe"\n'
NOTHING = "/dev/null"


@pytest.fixture(autouse=True)
def in_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def write(name: str, content: str | bytes) -> str:
    path = Path(name)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return name


def differences(old: str, new: str) -> Ran:
    """As git asks for those of `a.recipe`: each side is a file of git's own, or nothing."""
    return run("git-diff", "a.recipe", old, "0", "100644", new, "0", "100644")


# ---- git-diff ------------------------------------------------------------------------------------


def test_a_recipe_that_is_new_or_gone_is_told_by_its_facts() -> None:
    side = write("blobs/side", CARD)
    facts = run("facts", write("a.recipe", CARD)).out.splitlines()
    assert "title: Evening walk" in facts
    new, gone = (NOTHING, side, "a new recipe", "+"), (side, NOTHING, "this recipe is gone", "-")
    for before, after, word, sign in (new, gone):
        told = differences(before, after)
        assert (told.status, told.err) == (0, "")
        assert told.out.splitlines() == ["a.recipe", word, *(f"{sign} {fact}" for fact in facts)]


@pytest.mark.parametrize(("text", "noun"), [
    (CARD.replace("from ink", "from inc"), "recipe"), (BENCH, "file"), (PAPERS.format("Ink"), "file"),
])  # fmt: skip
def test_a_file_that_makes_no_card_and_is_new_or_gone_is_told_by_its_text(text: str, noun: str) -> None:
    write("a.recipe", text)
    side, lines = write("blobs/side", text), text.splitlines()
    told = differences(NOTHING, side).out.splitlines()
    assert told == ["a.recipe", f"a new {noun}", *(f"+ {line}" for line in lines)]
    told = differences(side, NOTHING).out.splitlines()
    assert told == ["a.recipe", f"this {noun} is gone", *(f"- {line}" for line in lines)]


@pytest.mark.parametrize(("old", "new", "word"), [
    (BENCH, CARD, "old"), (CARD, BENCH, "new"), (BENCH, BENCH, "old"),
])  # fmt: skip
def test_a_side_that_is_a_class_is_named_and_the_texts_are_compared(old: str, new: str, word: str) -> None:
    told = differences(write("blobs/old", old), write("blobs/new", new + "# as it is\n")).out.splitlines()
    assert told[:2] == [
        "a.recipe", f"the {word} file is no card, but a class or papers; here is its text",
    ]  # fmt: skip
    assert told[-1] == "+# as it is"


@pytest.mark.parametrize("word", ["old", "new"])
def test_a_side_that_cannot_be_solved_is_named_with_its_first_mistake(word: str) -> None:
    wrong = CARD.replace("card from ink", "card from inc")
    sides = (wrong, CARD) if word == "old" else (CARD, wrong)
    told = differences(write("blobs/old", sides[0]), write("blobs/new", sides[1])).out
    why = "cannot be solved (line 5: no paper is called `inc`), so here is its text"
    assert told.startswith(f"a.recipe\nthe {word} recipe {why}\n")
    assert ("-" if word == "old" else "+") + "base card from inc" in told.splitlines()


# ---- facts ---------------------------------------------------------------------------------------


def test_bytes_that_are_no_text_are_told_apart_and_reach_no_terminal() -> None:
    told = [run("facts", write("a.recipe", content)) for content in (b"\xff\x1b", b"\xfe\x1b")]
    for each in told:
        assert (each.status, each.err) == (0, "")
        assert each.out.startswith("no text in UTF-8: 2 bytes, SHA-256 ") and "\x1b" not in each.out
    assert told[0].out != told[1].out


def test_a_class_and_a_shelf_of_papers_are_their_own_text() -> None:
    for text in (BENCH, PAPERS.format("Ink")):
        assert run("facts", write("b.recipe", text)) == (0, text, "")


@pytest.fixture
def tracked(tmp_path: Path) -> str:
    """Two tracked recipes of one name, each with papers beside it; the file that git wrote one of them to."""
    subprocess.run(["git", "init", "-q"], check=True)
    for folder in ("one/", "two/"):
        write(f"{folder}night [walk].recipe", USING)
        write(f"{folder}papers.recipe", PAPERS.format("Ink"))
    write("other/night w.recipe", USING)  # what the name stands for where its brackets mean a choice
    write("other/papers.recipe", PAPERS.format("Chalk"))
    subprocess.run(["git", "add", "--all"], check=True)
    return str(tmp_path / write("blobs/night [walk].recipe", USING))


@needs_git
def test_a_text_of_git_is_made_with_the_papers_beside_the_tracked_recipe_of_its_name(tracked: str) -> None:
    told = run("facts", tracked)
    assert (told.status, told.err) == (0, "")
    assert told.out == run("facts", "one/night [walk].recipe").out
    assert "Ink" in told.out and "title: Evening walk" in told.out.splitlines()


@needs_git
def test_papers_that_differ_leave_the_text_and_say_so(tracked: str) -> None:
    write("two/papers.recipe", PAPERS.format("Chalk"))
    why = "the files that recipes of this name use differ, so here is the text\n"
    assert run("facts", tracked) == (0, why + USING, "")


@needs_git
def test_without_git_on_the_machine_the_papers_are_missing_and_the_text_is_shown(
    tracked: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    told = run("facts", tracked)
    assert (told.status, told.err) == (0, "")
    assert told.out.startswith(
        'this recipe cannot be solved (line 1: there is no file "papers.recipe" here), so here is its text\n'
    )
    assert told.out.endswith(USING)
