"""In a real repository git prints the maker's diff: `git diff` by the driver, `log -p` by facts."""

from pathlib import Path

import pytest

from cardrecipe.report import visible
from tests.compare.repositories import Repository, needs_git, with_sample
from tests.compare.versions import SHELF
from tests.recipes import run

pytestmark = needs_git
SAMPLE = "night-market.recipe"
WIDER = SHELF[SAMPLE].replace("size 3 x 2 1/4", "size 3 1/2 x 2 1/4")
NOW_WIDER = "plate: now 3 1/2 x 2 1/4 in, was 3 x 2 1/4 in"
FACT_GONE = "-plate: one oval of 3 x 2 1/4 in from Soft white cardstock"
FACT_NEW = "+plate: one oval of 3 1/2 x 2 1/4 in from Soft white cardstock"
# A folder as people name them.
UNDER = "karten für später/"


@pytest.fixture
def repository(tmp_path: Path) -> Repository:
    return with_sample(tmp_path / "my cards")


def test_git_diff_prints_what_changed_for_the_maker(repository: Repository) -> None:
    repository.write(SAMPLE, WIDER)
    told = repository.git("diff")
    assert NOW_WIDER in told and "because of line 30: size 3 1/2 x 2 1/4" in told
    assert "@@" not in told


def test_what_is_staged_is_told_too(repository: Repository) -> None:
    repository.write(SAMPLE, WIDER)
    repository.git("add", SAMPLE)
    assert NOW_WIDER in repository.git("diff", "--staged")
    assert repository.git("diff") == ""


def test_two_commits_are_compared(repository: Repository) -> None:
    repository.write(SAMPLE, WIDER)
    repository.commit()
    assert NOW_WIDER in repository.git("diff", "HEAD~1", "HEAD")


@pytest.mark.parametrize("command", [("log", "-p", "-1"), ("show",)], ids=lambda each: each[0])
@pytest.mark.parametrize("under", ["", UNDER], ids=["top", "folder"])
def test_log_and_show_print_the_facts_that_changed(
    tmp_path: Path, command: tuple[str, ...], under: str
) -> None:
    repository = with_sample(tmp_path / "my cards", under)
    repository.write(under + SAMPLE, WIDER)
    repository.commit()
    told = repository.git(*command).splitlines()
    assert FACT_GONE in told and FACT_NEW in told
    assert not any("size 3" in line for line in told)


def test_log_and_show_may_ask_for_the_driver(repository: Repository) -> None:
    repository.write(SAMPLE, WIDER)
    repository.commit()
    assert NOW_WIDER in repository.git("show", "--ext-diff")
    assert NOW_WIDER in repository.git("log", "-p", "-1", "--ext-diff")


def test_the_facts_alone_make_a_maker_s_diff_of_every_command(tmp_path: Path) -> None:
    """The two lines of the set-up: no driver is named."""
    repository = with_sample(tmp_path / "cards", driver=False)
    repository.write(SAMPLE, WIDER)
    assert FACT_NEW in repository.git("diff").splitlines()
    repository.git("add", SAMPLE)
    assert FACT_NEW in repository.git("diff", "--staged").splitlines()
    repository.commit()
    assert FACT_NEW in repository.git("show").splitlines()
    assert FACT_NEW in repository.git("log", "-p", "-1").splitlines()


def test_the_driver_alone_leaves_log_with_the_text(tmp_path: Path) -> None:
    repository = with_sample(tmp_path / "cards", textconv=False)
    repository.write(SAMPLE, WIDER)
    assert NOW_WIDER in repository.git("diff")
    repository.commit()
    assert "+  size 3 1/2 x 2 1/4" in repository.git("show").splitlines()


def test_a_recipe_in_a_folder_uses_the_papers_beside_it(tmp_path: Path) -> None:
    repository = with_sample(tmp_path / "cards", UNDER)
    repository.write(UNDER + SAMPLE, WIDER)
    told = repository.git("diff")
    assert NOW_WIDER in told and UNDER + SAMPLE in told


def test_two_recipes_of_one_name_are_told_apart_by_their_papers(tmp_path: Path) -> None:
    """git gives textconv a file of its own: where the papers beside the two differ, the text is shown."""
    repository = with_sample(tmp_path / "cards", "one/")
    repository.write("two/" + SAMPLE, SHELF[SAMPLE])
    repository.write("two/papers.recipe", SHELF["papers.recipe"].replace("Soft white", "Chalk"))
    repository.commit()
    repository.write("one/" + SAMPLE, WIDER)
    repository.commit()
    assert "+  size 3 1/2 x 2 1/4" in repository.git("show").splitlines()
    repository.write("two/papers.recipe", SHELF["papers.recipe"])
    assert FACT_NEW in repository.git("show").splitlines()


def test_comments_and_spaces_are_no_change(repository: Repository) -> None:
    repository.write(
        SAMPLE, SHELF[SAMPLE].replace("  width 1 1/2\n", "  # as wide as a hand's breadth\n\n  width 1.5\n")
    )
    assert "Nothing changes for the maker." in repository.git("diff")
    repository.commit()
    assert "diff --git" not in repository.git("show")


def test_a_renamed_recipe_is_told_under_both_names(repository: Repository) -> None:
    repository.git("mv", SAMPLE, "canal lanterns.recipe")
    repository.write("canal lanterns.recipe", WIDER)
    repository.git("add", "-A")
    told = repository.git("diff", "--staged", "-M")
    assert f"{SAMPLE}, now called canal lanterns.recipe" in told and NOW_WIDER in told
    repository.commit()
    assert FACT_NEW in repository.git("show", "-M").splitlines()


def test_a_new_recipe_and_one_that_is_gone(repository: Repository) -> None:
    repository.write("tags.recipe", SHELF["market-tags.recipe"])
    repository.git("add", "-A")
    told = repository.git("diff", "--staged")
    assert "tags.recipe\na new recipe\n+ title: Market tags" in told
    repository.commit()
    assert "+title: Market tags" in repository.git("show").splitlines()
    repository.git("rm", "-q", "tags.recipe")
    assert "tags.recipe\nthis recipe is gone\n- title: Market tags" in repository.git("diff", "--staged")
    repository.commit()
    assert "-title:" in repository.git("show") or "-recipe" in repository.git("show")


@pytest.mark.parametrize("broken", ["oval plate from white on sach", "oval plate ((", "\x1b[31m"])
def test_where_a_side_cannot_be_solved_the_text_is_shown(repository: Repository, broken: str) -> None:
    repository.write(SAMPLE, SHELF[SAMPLE].replace("oval plate from white on sash", broken))
    told = repository.git("diff")
    assert "the new recipe cannot be solved (line 29: " in told
    assert "-oval plate from white on sash" in told.splitlines()
    assert "\x1b" not in told
    repository.commit()
    shown = repository.git("show").splitlines()
    assert "+" + visible(broken) in shown  # a pager would obey what is not shown
    (why,) = (line for line in shown if line.startswith("+this recipe cannot be solved (line 29: "))
    assert why.endswith("), so here is its text")
    repository.write(SAMPLE, WIDER)
    assert "the old recipe cannot be solved" in repository.git("diff")


def test_two_states_with_a_mistake_differ_by_their_text(repository: Repository) -> None:
    """The reason stands in both, so it is no difference."""
    broken = SHELF[SAMPLE].replace("oval plate from white on sash", "oval plate from wihte on sash")
    repository.write(SAMPLE, broken)
    repository.commit()
    repository.write(SAMPLE, broken.replace("size 3 x 2 1/4", "size 3 1/2 x 2 1/4"))
    repository.commit()
    shown = repository.git("show", "-U0").splitlines()
    assert shown[-2:] == ["-  size 3 x 2 1/4", "+  size 3 1/2 x 2 1/4"]


def test_a_mistake_in_the_papers_is_told_with_their_file(repository: Repository) -> None:
    repository.write("papers.recipe", SHELF["papers.recipe"].replace("8 1/2 x 11", "8 1/2 x eleven"))
    repository.write(SAMPLE, WIDER)
    repository.commit()
    told = repository.git("show", "-U99", "--", SAMPLE)
    assert " this recipe cannot be solved (papers.recipe line " in told


def test_bytes_that_are_no_text_do_not_stop_git_and_reach_no_terminal(tmp_path: Path) -> None:
    repository = with_sample(tmp_path / "cards")
    repository.write(SAMPLE, b"recipe \xff\xfe\x1b")
    assert "is not UTF-8 text" in repository.git("diff")
    repository.commit()
    repository.git("config", "--unset", "diff.cardrecipe.command")
    repository.write(SAMPLE, b"recipe \xfe\xff\x1b")
    *_, old, new = repository.git("diff").splitlines()
    assert old.startswith("-no text in UTF-8: 10 bytes, SHA-256 ")
    assert new.startswith("+no text in UTF-8: 10 bytes, SHA-256 ") and old[1:] != new[1:]
    repository.commit()
    assert "\x1b" not in repository.git("show")


def test_a_changed_variant_is_told_by_its_lines(repository: Repository) -> None:
    repository.write(SAMPLE, SHELF[SAMPLE].replace("set plate.width 3 1/2", "set plate.width 3 1/4"))
    told = repository.git("diff")
    assert "Harvest: now set plate.width 3 1/4, was set plate.width 3 1/2" in told
    repository.commit()
    assert "+variant Harvest: set plate.width 3 1/4" in repository.git("show").splitlines()


def test_a_class_is_shown_as_text(repository: Repository) -> None:
    bench = 'class "Bench"\n  make 2 of "night-market.recipe"\n'
    repository.write("bench.recipe", bench)
    repository.commit()
    repository.write("bench.recipe", bench.replace("2", "3"))
    told = repository.git("diff").splitlines()
    assert '+  make 3 of "night-market.recipe"' in told
    repository.commit()
    assert '+  make 3 of "night-market.recipe"' in repository.git("show").splitlines()


def test_a_shelf_of_papers_is_shown_as_text(repository: Repository) -> None:
    repository.write("papers.recipe", SHELF["papers.recipe"].replace("#f7f3ea", "#ffffff"))
    assert '+paper white is cardstock "Soft white"' in repository.git("diff")
    repository.commit()
    assert '+paper white is cardstock "Soft white"' in repository.git("show")


def test_a_path_that_is_not_merged(repository: Repository) -> None:
    main = repository.git("branch", "--show-current").strip()
    repository.git("switch", "-q", "-c", "other")
    repository.write(SAMPLE, WIDER)
    repository.commit()
    repository.git("switch", "-q", main)
    repository.write(SAMPLE, SHELF[SAMPLE].replace("size 3 x 2 1/4", "size 3 1/4 x 2 1/4"))
    repository.commit()
    with pytest.raises(AssertionError):
        repository.git("merge", "other")
    assert f"{SAMPLE}: not merged yet" in repository.git("diff", "--staged")
    told = repository.git("diff").splitlines()
    assert "++<<<<<<< HEAD" in told
    assert any(line.startswith("++this recipe cannot be solved (line 30: ") for line in told)
    text = repository.git("diff", "--no-textconv", "-U0").splitlines()
    assert [line for line in text if line[:2] in ("++", "+ ", " +")][1:] == [
        "++<<<<<<< HEAD", " +  size 3 1/4 x 2 1/4", "++=======", "+   size 3 1/2 x 2 1/4", "++>>>>>>> other"
    ]  # fmt: skip


def test_other_commands_show_what_the_page_says(repository: Repository) -> None:
    assert "plate: one oval of 3 x 2 1/4 in" in repository.git("blame", SAMPLE)
    assert "size 3 x 2 1/4" in repository.git("blame", "--no-textconv", SAMPLE)
    assert "size 3" not in repository.git("blame", SAMPLE)
    repository.write(SAMPLE, WIDER)
    repository.git("stash", "-q")
    assert "+  size 3 1/2 x 2 1/4" in repository.git("stash", "show", "-p").splitlines()
    assert FACT_NEW in repository.git("stash", "show", "-p", "--textconv").splitlines()
    repository.git("stash", "pop", "-q")
    repository.commit()
    assert "+  size 3 1/2 x 2 1/4" in repository.git("log", f"-L29,31:{SAMPLE}", "-1").splitlines()


def test_called_by_hand_the_driver_says_who_calls_it() -> None:
    done = run("git-diff", "one", "two", "three")
    assert done.status == 2 and "cardrecipe diff OLD NEW" in done.err
