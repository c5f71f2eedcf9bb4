"""Work in the background: after a pause, the latest only, one at a time, and never stuck for good."""

import asyncio
import threading
import time
from collections.abc import Callable
from typing import Any

import pytest

from cardrecipe.editor.desk import background
from cardrecipe.editor.desk.background import Background
from cardrecipe.editor.protocol.aside import aside


class Heard:
    """What came of the work."""

    def __init__(self) -> None:
        self.results: list[Any] = []

    def __call__(self, result: Any, problem: Exception | None) -> None:
        self.results.append(result if problem is None else problem)


def giving(result: str, did: list[str]) -> Callable[[Callable[[], bool]], str]:
    def work(is_outdated: Callable[[], bool]) -> str:
        did.append(result)
        return result

    return work


def test_only_the_latest_work_is_done_and_after_the_pause() -> None:
    did: list[str] = []

    async def main() -> Heard:
        heard, desk = Heard(), Background(pause=0.05)
        for number in range(5):
            desk.ask("a", giving(str(number), did), heard)
        desk.ask("b", giving("other", did), heard)
        assert did == []
        assert await desk.settled("a", 5) and await desk.settled("b", 5)
        return heard

    assert asyncio.run(main()).results == did == ["4", "other"]


def test_what_is_outdated_while_it_runs_is_not_heard_of() -> None:
    async def main() -> list[Any]:
        heard, desk, begun = Heard(), Background(pause=0), threading.Event()
        asked: list[bool] = []

        def long(is_outdated: Callable[[], bool]) -> str:
            begun.set()
            while not is_outdated():
                time.sleep(0.005)
            asked.append(True)
            return "old"

        desk.ask("a", long, heard)
        await asyncio.to_thread(begun.wait, 5)
        desk.ask("a", giving("new", []), heard)
        assert await desk.settled("a", 5)
        return [*heard.results, *asked]

    assert asyncio.run(main()) == ["new", True]


def test_a_fault_is_heard_of_and_the_next_work_is_done() -> None:
    async def main() -> Heard:
        heard, desk = Heard(), Background(pause=0)

        def wrong(is_outdated: Callable[[], bool]) -> str:
            raise ValueError("wrong")

        desk.ask("a", wrong, heard)
        await desk.settled("a", 5)
        desk.ask("a", giving("right", []), heard)
        await desk.settled("a", 5)
        return heard

    first, second = asyncio.run(main()).results
    assert isinstance(first, ValueError) and second == "right"


def test_work_that_is_dropped_is_never_begun() -> None:
    did: list[str] = []

    async def main() -> None:
        desk = Background(pause=0.02)
        desk.ask("a", giving("a", did), Heard())
        desk.drop("a")
        assert await desk.settled("a", 0)
        await asyncio.sleep(0.06)

    asyncio.run(main())
    assert did == []


def test_who_waits_too_long_is_told() -> None:
    async def main() -> bool:
        desk = Background(pause=5)
        desk.ask("a", giving("a", []), Heard())
        return await desk.settled("a", 0.02)

    assert asyncio.run(main()) is False


def test_work_that_never_ends_does_not_hold_up_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(background, "OVERLONG", 0.1)
    release = threading.Event()

    async def main() -> Heard:
        heard, desk = Heard(), Background(pause=0)
        desk.ask("a", lambda is_outdated: release.wait(20), heard)
        await asyncio.sleep(0.05)
        desk.ask("a", giving("next", []), heard)
        assert await desk.settled("a", 5)
        return heard

    assert asyncio.run(main()).results == ["next"]
    release.set()


def test_stuck_work_does_not_keep_the_process() -> None:
    """The threads are daemons: what runs in one when the loop ends is left behind."""
    release = threading.Event()

    async def main() -> None:
        Background(pause=0).ask("a", lambda is_outdated: release.wait(20), Heard())
        await asyncio.sleep(0.05)

    asyncio.run(main())
    assert all(each.daemon for each in threading.enumerate() if each is not threading.main_thread())
    release.set()


def test_aside_gives_what_the_function_gives_or_raises() -> None:
    async def main() -> list[Any]:
        found: list[Any] = [await aside(divmod, 7, 2)]
        try:
            await aside(divmod, 7, 0)
        except ZeroDivisionError as problem:
            found.append(type(problem))
        return found

    assert asyncio.run(main()) == [(3, 1), ZeroDivisionError]
