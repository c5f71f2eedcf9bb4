"""What must come before what, and that the order never depends on chance."""

import random

import pytest

from cardrecipe.plan.order import CUT, Task, ordered, tasks_of
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import double_gate, placed, sheet, side_fold
from tests.plan.cards import FRONT, every_card, matted, pocketed, twin_hosts
from tests.recipes import HEAD, compile_text, sized


def keys(card: SizedCard) -> list[str]:
    return [f"{task.what} {task.name}" for task in tasks_of(card)]


def test_the_double_gate_is_made_from_the_inside_out() -> None:
    assert keys(double_gate()) == [
        "cut ink",
        "cut glow",
        "cut white",
        "score card",
        "fold card",
        "work message",
        "work sash",
        "work plate",
        "work boats-card",
        "place flap-paper",
        "place message",
        "place door-paper",
        "band sash",
        "place plate",
        "place pennant",
        "place boats-card",
    ]


def test_a_mat_goes_on_before_what_lies_on_it() -> None:
    found = keys(matted())
    assert found.index("place mat") < found.index("place message")


BANDED = HEAD + (
    "base card from ink\n  fold side-fold, width 4, height 5\n"
    "band sash from ink around card\n  width 1 1/2\n"
    "panel plate from ink on sash\n  size 3 x 1\n"
    "circle dot from ink on plate\n  diameter 1/2\n"
    "panel mat from ink under plate\n  border 1/16\n"
)


def banded(more: str = "") -> list[str]:
    folded = compile_text(BANDED + more).folded
    assert folded is not None
    return [each for each in keys(folded.card) if each.partition(" ")[0] in ("place", "band")]


def test_a_mat_on_a_band_goes_on_after_the_band_and_before_what_lies_on_it() -> None:
    assert banded() == ["band sash", "place mat", "place plate", "place dot"]
    mats = ["band sash", "place lowest", "place mat", "place plate", "place dot"]
    assert banded("panel lowest from ink under mat\n  border 1/16\n") == mats


def test_what_lies_on_a_loose_mat_goes_on_before_the_mat_is_laid() -> None:
    assert banded("  loose\n") == ["band sash", "place plate", "place dot", "place mat"]


def test_a_host_goes_on_before_its_pieces_though_written_later() -> None:
    found = keys(twin_hosts())
    assert found.index("place door-paper") < found.index("place leaf")


def test_a_gem_goes_on_last() -> None:
    assert keys(pocketed())[-1] == "finish pocket"


@pytest.mark.parametrize("card", every_card(), ids=lambda card: card.title)
def test_nothing_comes_before_what_it_depends_on(card: SizedCard) -> None:
    tasks = tasks_of(card)
    places = {task.key: index for index, task in enumerate(tasks)}
    assert len(places) == len(tasks)
    for index, task in enumerate(tasks):
        assert all(places.get(before, -1) < index for before in task.after)


def test_the_given_order_of_the_tasks_does_not_matter() -> None:
    tasks = list(tasks_of(double_gate()))
    for seed in range(20):
        shuffled = list(tasks)
        random.Random(seed).shuffle(shuffled)
        assert list(ordered(shuffled)) == tasks


def test_a_ring_is_refused_by_name() -> None:
    one = Task("place", "one", CUT, 0, (("place", "two"),))
    two = Task("place", "two", CUT, 1, (("place", "one"),))
    with pytest.raises(ValueError, match="place one, place two"):
        ordered([one, two])


def test_a_gem_waits_for_what_lies_on_its_piece() -> None:
    (finish,) = (task for task in tasks_of(pocketed()) if task.key == ("finish", "pocket"))
    assert ("place", "ticket") in finish.after


def test_only_a_base_is_folded_by_itself() -> None:
    """The scores of a panel are creased when it is scored; it folds with the card."""
    wing = sheet("wing", [2, 2], "V", ["tab", "rest"], 2, placed("back", FRONT, (4, 2)))
    found = keys(side_fold(wing))
    assert "score wing" in found and "fold card" in found
    assert "fold wing" not in found


def test_a_loose_piece_is_laid_when_what_lies_on_it_has_its_gem() -> None:
    """It is worked on flat on the table; a gem on a piece that is glued to the card itself comes last."""
    flag = '  size 1 x 1\n  add gem "Moon"\n'
    text = HEAD + (
        "base card from ink\n  fold side-fold, width 4, height 5\n"
        "panel letter from ink on back\n  loose\n"
        f"square flag from ink on letter\n{flag}square star from ink on front outside\n{flag}"
    )
    found = keys(sized(text))
    assert found.index("place flag") < found.index("finish flag") < found.index("place letter")
    assert found[-1] == "finish star"
