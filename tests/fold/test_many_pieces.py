"""Cards of hundreds of pieces: what they cost grows as they do. It is counted in calls."""

from collections.abc import Callable

import pytest

from cardrecipe.fold import assembly, layers
from cardrecipe.fold.card import fold, what_glue_locks
from cardrecipe.fold.folded import FoldedCard
from tests.counted import calls
from tests.recipes import HEAD, compile_text

BASE = f"{HEAD}base card from ink\n  flat 12 x 8\n  score 6 from left\n  sections front, back\n"


def _side_by_side(number: int, line: str = "") -> str:
    return BASE + "".join(
        f"panel tile-{at} from ink on back\n  size 1/8 x 1/8\n"
        f"  place {at % 20 + 1}/5 from left, {at // 20 + 1}/5 from top\n{line}"
        for at in range(number)
    )


def _tower(number: int) -> str:
    """Panels on each other, each reaching a little beyond the one beneath."""
    storeys = "".join(
        f"panel tile-{at} from ink on tile-{at - 1}\n  size 4 x 4\n  place 1/4096 from left, 0 from top\n"
        for at in range(1, number)
    )
    return f"{BASE}panel tile-0 from ink on back\n  size 4 x 4\n{storeys}"


def _folded(text: str) -> FoldedCard:
    folded = compile_text(text).folded
    assert folded is not None
    return folded


@pytest.mark.parametrize("make", [
    _side_by_side,
    lambda number: _side_by_side(number, "  turned 30\n"),
    lambda number: _side_by_side(number, "  glue all over\n"),
    _tower,
], ids=["side by side", "turned", "glued all over", "tower"])  # fmt: skip
def test_four_times_as_many_pieces_cost_little_more_than_four_times(make) -> None:  # type: ignore[no-untyped-def]
    """Were each held against each, it would be five or six times as much here, and more beyond."""
    few, many = (_folded(make(number)) for number in (60, 240))
    assert calls(lambda: fold(many.card)) < 4.5 * calls(lambda: fold(few.card))
    assert calls(lambda: what_glue_locks(many)) < 4.5 * calls(lambda: what_glue_locks(few))


def test_a_tower_may_be_as_high_as_a_card_has_pieces() -> None:
    """Higher than Python's calls may be deep."""
    height = 1_100
    folded = _folded(_tower(height))
    views = {view.name: view for view in folded.views}
    assert len(views["open-inside"].parts) == height + 2


def test_why_a_panel_cannot_fold_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is asked for the card that folds as its base does alone, and then for any: of the first nobody
    asks why it has no order, and the circles of layers are the same for both."""
    asked: list[str] = []
    for module, name in ((layers, "_collision"), (layers, "circles_of"), (assembly, "circles_of")):
        monkeypatch.setattr(module, name, _counted(asked, name, getattr(module, name)))
    grid = "panel map from ink on back\n  size 2 x 2\n  score every 1/2, 3 times from left\n"
    found = compile_text(f"{BASE}{grid}  score every 1/2, 3 times from top\n").diagnostics
    assert [each.code for each in found] == ["cannot-fold"]
    assert asked == ["circles_of", "_collision"]


def _counted(asked: list[str], name: str, work: Callable[..., object]) -> Callable[..., object]:
    def counted(*given: object) -> object:
        asked.append(name)
        return work(*given)

    return counted
