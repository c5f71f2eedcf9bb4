"""A question that is answered beside the listening, and that nobody waits for any more."""

import asyncio
import threading
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from cardrecipe.editor.protocol.aside import aside


class Slow:
    """A function that has begun, and ends when it may."""

    def __init__(self) -> None:
        self.has_begun, self.may_end = threading.Event(), threading.Event()
        self.thread: threading.Thread | None = None

    def __call__(self) -> str:
        self.thread = threading.current_thread()
        self.has_begun.set()
        assert self.may_end.wait(20)
        return "answer"

    def ends(self) -> None:
        self.may_end.set()
        assert self.thread is not None
        self.thread.join(20)
        assert not self.thread.is_alive()


@pytest.fixture
def faults(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Any]]:
    """What goes wrong in threads."""
    found: list[Any] = []
    monkeypatch.setattr(threading, "excepthook", found.append)
    yield found


async def begun(function: Slow) -> asyncio.Task[str]:
    asked = asyncio.create_task(aside(function))
    while not function.has_begun.is_set():
        await asyncio.sleep(0.005)
    return asked


def run(main: Callable[[list[Any]], Any]) -> list[Any]:
    """What the loop complains of while `main` runs."""
    complaints: list[Any] = []

    async def heard() -> None:
        asyncio.get_running_loop().set_exception_handler(lambda _, context: complaints.append(context))
        await main(complaints)

    asyncio.run(heard())
    return complaints


def test_an_answer_to_a_question_that_was_taken_back_is_dropped(faults: list[Any]) -> None:
    slow = Slow()

    async def main(_: list[Any]) -> None:
        asked = await begun(slow)
        asked.cancel()
        with pytest.raises(asyncio.CancelledError):
            await asked
        slow.ends()
        assert await aside(lambda: "another") == "another"  # the late answer came before it

    assert run(main) == [] and faults == []


def test_an_answer_that_comes_when_the_loop_has_ended_is_dropped(faults: list[Any]) -> None:
    slow = Slow()

    async def main(_: list[Any]) -> None:
        await begun(slow)

    assert run(main) == []
    slow.ends()
    assert faults == []
