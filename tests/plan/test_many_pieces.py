"""The steps of cards of many pieces: what their order costs is counted in calls."""

from cardrecipe.plan.order import Task, ordered, tasks_of
from tests.counted import calls
from tests.recipes import HEAD, compile_text


def _tasks(number: int) -> tuple[Task, ...]:
    """A row of tasks, each after the one that is written behind it, and after one that is not there."""
    waits = ((("place", str(at + 1)), ("work", "nothing")) for at in range(number))
    return tuple(Task("place", str(at), 0, at, after) for at, after in enumerate(waits))


def _rising(number: int) -> str:
    """A loose piece that carries a tower of others."""
    storeys = "".join(
        f"panel tile-{at} from ink on tile-{at - 1}\n  border 1/64\n" for at in range(1, number)
    )
    return f"{HEAD}rectangle tile-0 from ink\n  size 8 x 8\n  loose\n{storeys}"


def test_each_task_is_looked_at_once_for_each_that_waits_for_it() -> None:
    few, many = _tasks(50), _tasks(400)
    assert [task.name for task in ordered(many)] == [str(at) for at in reversed(range(400))]
    assert calls(lambda: ordered(many)) < 10 * calls(lambda: ordered(few))  # 8 times as many tasks


def test_the_order_is_found_once_for_a_card() -> None:
    folded = compile_text(_rising(8)).folded
    assert folded is not None
    order = tasks_of(folded.card)
    assert [task.name for task in order if task.what == "place"] == [f"tile-{at}" for at in range(1, 8)]
    assert calls(lambda: tasks_of(folded.card)) < 10


def test_what_a_loose_piece_carries_is_gathered_only_as_often_as_it_grows() -> None:
    tiles = "".join(f"panel tile-{at} from ink on tray\n  size 1/4 x 1/4\n" for at in range(40))
    folded = compile_text(f"{HEAD}rectangle tray from ink\n  size 8 x 8\n  loose\n{tiles}").folded
    assert folded is not None
    card = folded.card._replace()  # a card that was not asked about before
    assert calls(lambda: tasks_of(card)) < 10_000
