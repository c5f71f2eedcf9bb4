"""The second drawer: the same pictures, and no harm when it breaks."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from cardrecipe.cli import compiled
from cardrecipe.preview.drawing_aside import Aside, Task, twin_of
from cardrecipe.preview.rebuilding import Wanted, rebuild
from cardrecipe.render.pages import pictures_of
from cardrecipe.sheets import both_versions, sheet_of
from tests.recipes import SAMPLES


@pytest.fixture(scope="module")
def aside() -> Iterator[Aside]:
    with Aside() as found:
        yield found


@pytest.fixture(scope="module")
def task() -> Task:
    return of_sample("first-frost")


def of_sample(name: str, copies: int | None = None) -> Task:
    first, second = both_versions(compiled(str(SAMPLES / f"{name}.recipe")), None, copies)
    assert first.folded is not None and second.folded is not None
    return Task(second.folded, first.folded, copies)


def process(aside: Aside):  # type: ignore[no-untyped-def]
    assert aside._process is not None
    return aside._process


def test_it_makes_the_same(aside: Aside, task: Task) -> None:
    made = aside.begin(task)()
    assert made == twin_of(task)
    assert process(aside).poll() is None  # and it was not drawn here


def test_it_is_the_twin_of_the_whole_sheet(task: Task) -> None:
    whole = sheet_of(compiled(str(SAMPLES / "first-frost.recipe"))).other
    made = twin_of(task)
    assert whole is not None and made.sheet == whole._replace(sums=())
    assert made.pictures == pictures_of(whole, "other-")


@pytest.mark.parametrize("name", ["first-frost", "harbour-morning", "market-tags", "night-market"])
def test_a_page_is_the_same_with_it(aside: Aside, name: str) -> None:
    wanted = Wanted(str(SAMPLES / f"{name}.recipe"))
    assert rebuild(wanted, aside).html == rebuild(wanted).html


def test_an_answer_that_nobody_waited_for_is_not_taken_for_another(aside: Aside, task: Task) -> None:
    aside.begin(of_sample("market-tags"))
    assert aside.begin(task)() == twin_of(task)


def test_it_may_end_at_any_time(task: Task) -> None:
    for moment in ("before", "meanwhile"):
        with Aside() as aside:
            if moment == "before":
                process(aside).kill()
                process(aside).wait()
            made = aside.begin(task)
            if moment == "meanwhile":
                process(aside).kill()
            assert made() == twin_of(task)
            assert aside.begin(task)() == twin_of(task)


@pytest.mark.parametrize("python", ["", "/nothing/here", "/bin/echo", "/bin/cat", "/bin/true"])
def test_where_there_is_no_second_process_it_is_made_here(task: Task, python: str) -> None:
    with Aside(python) as aside:
        assert aside.begin(task)() == twin_of(task)


def test_nothing_in_the_makers_folder_is_run(
    task: Task, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("pickle", "gc", "contextlib", "cardrecipe", "jinja2", "typst"):
        (tmp_path / f"{name}.py").write_text('open("was-run", "w").close()\n')
    monkeypatch.chdir(tmp_path)
    with Aside() as aside:
        assert aside.begin(task)() == twin_of(task)
        assert process(aside).poll() is None
    assert not (tmp_path / "was-run").exists()


def test_it_ends_with_its_input(task: Task) -> None:
    with Aside() as aside:
        aside.begin(task)()
        found = process(aside)
        found.stdin.close()
        assert found.wait(20) == 0


# On a ruler of sixteenths of an inch nothing is left between these borders.
SPECK = """recipe "Speck"
  units mm nearest 1/10
paper white is cardstock "White" 210 x 297
base card from white
  fold side-fold, width 10, height 10
panel speck from white on back
  border 4.8
"""


def test_a_card_that_is_in_one_unit_system_only(aside: Aside, tmp_path: Path) -> None:
    path = tmp_path / "a.recipe"
    path.write_text(SPECK)
    assert sheet_of(compiled(str(path))).other is None
    page = rebuild(Wanted(str(path)), aside).html
    assert page is not None and page == rebuild(Wanted(str(path))).html
    refused = rebuild(Wanted(str(path), units="inch"), aside)
    assert refused.html is None and refused.problem == ""
    assert "cannot be made in inch" in refused.notes[0].message
    assert "cannot be made in inch" in refused.said
