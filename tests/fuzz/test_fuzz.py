"""The laws of a run on texts with fixed seeds, and on every text that once broke one."""

import subprocess
import sys
from itertools import islice
from pathlib import Path

import pytest

from cardrecipe.cli import DONE, MISTAKES
from cardrecipe.syntax import tree
from cardrecipe.syntax.statements import meaning
from tests.fuzz import guided, laws_of_a_run
from tests.fuzz.__main__ import changed_lines
from tests.fuzz.first_texts import samples
from tests.fuzz.laws_of_a_run import Run, after_building, after_parsing, guarded
from tests.fuzz.odd_cards import card_text
from tests.fuzz.trees import FILES, statements, tree_text
from tests.fuzz.watchdog import watched
from tests.recipes import ROOT, parsed, run

CHUNKS = range(4)  # so that the suite's workers share them
TREES, CHANGED, CARDS = 150, 40, 30  # for each chunk
LINES_SEED = 2026
CASES = sorted((Path(__file__).parent / "cases").glob("*.recipe"))
# What a tree may say and a recipe may not; a text with characters that turn the direction is refused, too.
READ_OTHERWISE = {"wrong-place", "number-too-long", "sum-too-long", "unseen-sign"}


def broken(which: Run, text: str) -> tuple[str, ...]:
    with watched():
        return guarded(which, text, {**samples(), **FILES}).broken


@pytest.fixture
def _all_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(laws_of_a_run, "WHOLE_EVERY", 1)


@pytest.mark.usefixtures("_all_are_drawn")
@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_what_once_broke_a_law_keeps_them_all(path: Path) -> None:
    text = guided.text_of(path.read_bytes())
    assert text is not None
    assert broken(after_parsing, text) == broken(after_building, text) == ()


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_command_ends_with_1_just_where_it_tells_an_error(path: Path) -> None:
    found = run("check", str(path))
    assert found.status in (DONE, MISTAKES)
    assert (found.status == MISTAKES) == ("error[" in found.err)


@pytest.mark.parametrize("chunk", CHUNKS)
def test_recipes_from_trees_keep_the_laws(chunk: int) -> None:
    for seed in range(chunk * TREES, (chunk + 1) * TREES):
        assert broken(after_building, tree_text(seed)) == (), seed


@pytest.mark.parametrize("chunk", CHUNKS)
def test_recipes_with_changed_lines_keep_the_laws(chunk: int) -> None:
    for number, text in enumerate(islice(changed_lines(LINES_SEED + chunk), CHANGED)):
        assert broken(after_building, text) == (), (LINES_SEED + chunk, number)


@pytest.mark.usefixtures("_all_are_drawn")
@pytest.mark.parametrize("chunk", CHUNKS)
def test_odd_cards_keep_the_laws_and_half_of_them_are_drawn(chunk: int) -> None:
    reached = []
    for seed in range(chunk * CARDS, (chunk + 1) * CARDS):
        with watched():
            outcome = guarded(after_building, card_text(seed), samples())
        assert outcome.broken == (), seed
        reached.append(outcome.reached)
    assert CARDS / 4 < reached.count("drawn") < CARDS * 3 / 4


def test_a_tree_is_read_back_as_it_was_printed() -> None:
    compared = 0
    for seed in range(400):
        made, text = statements(seed), tree_text(seed)
        read, mistakes = parsed(text)
        assert {each.code for each in mistakes} <= READ_OTHERWISE, (seed, mistakes)
        if not mistakes:
            assert nodes_of(read) == nodes_of(tree.Tree("tree", made)), seed
            compared += 1
    assert compared > 200


def nodes_of(found: tree.Tree) -> list[tuple[int, object]]:
    """Each line's depth and node, without the places of its words."""
    return [(depth, node) for depth, _, node in meaning(found)]


def test_trees_become_cards_and_mistakes() -> None:
    """Not only what can be made, which tries no message, nor only what cannot, which tries no plan."""
    statuses = [guarded(after_building, tree_text(seed), FILES).status for seed in range(120)]
    assert 5 < statuses.count(DONE) < 100


@pytest.mark.skipif(not guided.is_there(), reason="the extra `fuzz` is not installed (Linux only)")
@pytest.mark.parametrize("target", ["parser", "pipeline"])
def test_the_guided_fuzzer_finds_nothing_in_a_short_run(target: str, tmp_path: Path) -> None:
    folders = ["--found", str(tmp_path / "found"), "--corpus", str(tmp_path / "corpus")]
    command = [sys.executable, "-m", "tests.fuzz", target, "--runs", "400", "--seed", "1", *folders]
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "400 runs" in ran.stdout
    assert list((tmp_path / "found").glob("*.recipe")) == []
