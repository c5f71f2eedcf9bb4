"""Every example in every page is run: recipes compile, and commands work or are listed here with a reason."""

import re
import shutil
from pathlib import Path

import pytest

from tests.grammar.walk import Block, blocks_of, walked
from tests.recipes import ROOT, SAMPLES, checked

PAGES = [
    *sorted((ROOT / "grammar").glob("*.md")), ROOT / "README.md", ROOT / "DEVELOPERS.md",
    *sorted((ROOT / "cardrecipe").rglob("README.md")),
]  # fmt: skip
WALKED = ("guide.md", "version-control.md")  # a script from its first line to its last
WRITTEN = ("mistakes.md", "folds.md")  # by the program, from what it really says; their own tests run them

# What blocks of commands begin with that are not run here, and why.
NOT_RUN = {
    "python3 -m venv": "installs from the network; the continuous integration runs the README's",
    ". ~/cardrecipe/bin/activate": "needs that installation",
    "~/cardrecipe/bin/pip install": "installs from the network",
    "cp -r grammar/editor": "needs the editor, and installs from the network",
}
FILES = {path.name: path.read_text(encoding="utf-8") for path in SAMPLES.glob("*.recipe")}


def _blocks(page: Path, kind: str) -> list[Block]:
    return [each for each in blocks_of(page.read_text(encoding="utf-8")) if each.info.split()[:1] == [kind]]


def _shelf(page: Path) -> str:
    return "".join(each.text for each in _blocks(page, "recipe") if each.info == "recipe shelf")


RECIPES = [(page, each) for page in PAGES if page.name not in (*WALKED, *WRITTEN[:1])
           for each in _blocks(page, "recipe") if each.info == "recipe"]  # fmt: skip
COMMANDS = [(page, each) for page in PAGES if page.name not in WALKED for each in _blocks(page, "sh")]


def _named(page: Path, block: Block) -> str:
    return f"{page.relative_to(ROOT)}-{block.start}"


@pytest.mark.parametrize(("page", "block"), RECIPES, ids=[_named(*each) for each in RECIPES])
def test_each_recipe_in_a_page_compiles(page: Path, block: Block) -> None:
    begins = block.text.startswith(("recipe", "class", "use", "#"))
    found = checked(block.text if begins else _shelf(page) + block.text, FILES)
    assert [str(each) for each in found if each.severity == "error"] == []


@pytest.mark.parametrize(("page", "block"), COMMANDS, ids=[_named(*each) for each in COMMANDS])
def test_each_command_in_a_page_works(page: Path, block: Block, tmp_path: Path) -> None:
    """Commands of an installation of one's own are run as those of this one, beside the samples."""
    folder = tmp_path / "home"
    folder.mkdir()
    (folder / "samples").symlink_to(SAMPLES)
    text = block.text.replace(".venv/bin/cardrecipe", "cardrecipe")
    walked(f"```sh\n{text}```\n", folder, tuple(NOT_RUN))


def test_each_block_of_a_page_is_of_a_kind_that_is_looked_at() -> None:
    known = {"recipe", "recipe shelf", "sh", "text", ""}
    odd = {(page.name, each.info) for page in PAGES if page.name not in (*WALKED, *WRITTEN)
           for each in blocks_of(page.read_text(encoding="utf-8"))
           if each.info not in known and each.info not in _OF_OTHER_PROGRAMS}  # fmt: skip
    assert sorted(odd) == []


_OF_OTHER_PROGRAMS = {"json", "yaml", "lua", "lisp"}  # settings of editors and of other tools


def _anchors(page: Path) -> set[str]:
    """What can follow a `#` in a link to a page: its headings as renderers of Markdown name them."""
    headings = re.findall(r"^#+ (.*)$", re.sub(r"^```.*?^```$", "", page.read_text(encoding="utf-8"),
                                               flags=re.DOTALL | re.MULTILINE), re.MULTILINE)  # fmt: skip
    return {re.sub(r"[^\w -]", "", each.lower()).replace(" ", "-") for each in headings}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_each_link_of_a_page_leads_somewhere(page: Path) -> None:
    text = re.sub(r"^```.*?^```$", "", page.read_text(encoding="utf-8"), flags=re.DOTALL | re.MULTILINE)
    for path, anchor in re.findall(r"\]\((?!https?:)([^)#]*)#?([^)]*)\)", text):
        target = page.parent / path if path else page
        assert target.exists(), path
        assert not anchor or anchor in _anchors(target), (path, anchor)


def test_each_reason_is_needed() -> None:
    blocks = [each.text for page in PAGES for each in _blocks(page, "sh")]
    assert [start for start in NOT_RUN if not any(each.startswith(start) for each in blocks)] == []


@pytest.mark.parametrize("name", WALKED)
def test_a_walk_ends_well_and_shows_what_is_printed(name: str, tmp_path: Path) -> None:
    if shutil.which("git") is None:
        pytest.skip("git is not installed on this machine, and a maker keeps recipes in it here")
    folder = tmp_path / "home"
    folder.mkdir()
    page = (ROOT / "grammar" / name).read_text(encoding="utf-8")
    wrong = [each for each in walked(page, folder, tuple(NOT_RUN)) if not each.agrees]
    again = f"run python -m tests.grammar.walk grammar/{name}"
    assert [(each.block.text, each.real) for each in wrong] == [], again


def test_the_walk_of_the_guide_is_a_new_makers_whole_way() -> None:
    """new → edit → check with two mistakes → repair → build → variant → diff → commit → class."""
    page = (ROOT / "grammar" / "guide.md").read_text(encoding="utf-8")
    way = ["cardrecipe new", " changed\n", "```sh fails\ncardrecipe check", "cardrecipe build", "variant ",
           "cardrecipe diff", "git commit", "git diff", 'class "']  # fmt: skip
    at = -1
    for step in way:
        at = page.index(step, at + 1)
