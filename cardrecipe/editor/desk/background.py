"""Long work beside the editing: begun when the maker pauses, dropped when the text has changed again."""

import asyncio
import threading
import time
from collections.abc import Callable
from typing import Any

PAUSE = 0.2  # seconds without an edit before the solver is asked: shorter, and it runs between two letters
OVERLONG = 3.0  # seconds after which work that nobody waits for is left to itself, and other work begins
MOST_THREADS = 4  # work that is left to itself cannot be stopped; so much of it may run

Work = Callable[[Callable[[], bool]], Any]  # is given `is_outdated`, to ask now and then
Done = Callable[[Any, Exception | None], None]


class Ticket:
    """One piece of work that was asked for; `done` is set when it has ended, whether well or not."""

    timer: asyncio.TimerHandle  # what begins it after the pause

    def __init__(self, key: str, work: Work, then: Done) -> None:
        self.key, self.work, self.then = key, work, then
        self.is_outdated = False
        self.began: float | None = None
        self.done = asyncio.Event()

    def result(self) -> tuple[Any, Exception | None]:
        """Do the work, if anybody waits for it."""
        try:
            return (None if self.is_outdated else self.work(lambda: self.is_outdated)), None
        except Exception as problem:
            return None, problem


class Background:
    """Does at most one piece of work for each key, the latest; used from one event loop."""

    def __init__(self, pause: float = PAUSE) -> None:
        self._pause = pause
        self._tickets: dict[str, Ticket] = {}
        self._waiting: list[Ticket] = []
        self._running: list[Ticket] = []
        self._changed = threading.Condition()
        self._threads = 0

    def ask(self, key: str, work: Work, then: Done) -> None:
        """Do `work` after a pause; then, in the event loop, `then` with its result or its exception.

        Earlier work for the same key is outdated, and its `then` is not called.
        """
        self.drop(key)
        ticket = self._tickets[key] = Ticket(key, work, then)
        loop = asyncio.get_running_loop()
        ticket.timer = loop.call_later(self._pause, self._begin, ticket, loop)

    def drop(self, key: str) -> None:
        """Forget the work for `key`."""
        ticket = self._tickets.pop(key, None)
        if ticket is not None:
            ticket.is_outdated = True
            ticket.done.set()
            ticket.timer.cancel()

    async def settled(self, key: str, seconds: float) -> bool:
        """True when there is nothing (more) to do for `key`; False where that takes longer than `seconds`."""
        end = time.monotonic() + seconds
        while (ticket := self._tickets.get(key)) is not None:
            try:
                await asyncio.wait_for(ticket.done.wait(), max(0.0, end - time.monotonic()))
            except TimeoutError:
                return False
        return True

    def _begin(self, ticket: Ticket, loop: asyncio.AbstractEventLoop) -> None:
        with self._changed:
            self._waiting = [*(each for each in self._waiting if not each.is_outdated), ticket]
            self._changed.notify()
        self._hire(loop)

    def _hire(self, loop: asyncio.AbstractEventLoop) -> None:
        """See to it that somebody does the waiting work, now or when those who work have become overlong."""
        with self._changed:
            if not self._waiting or self._threads > len(self._running):
                return
            if not self._threads or (self._all_are_stuck() and self._threads < MOST_THREADS):
                self._threads += 1
                threading.Thread(target=self._work, args=(loop,), daemon=True).start()
            else:
                loop.call_later(OVERLONG / 2, self._hire, loop)

    def _all_are_stuck(self) -> bool:
        now = time.monotonic()
        return all(each.is_outdated and each.began is not None and now - each.began > OVERLONG
                   for each in self._running)  # fmt: skip

    def _work(self, loop: asyncio.AbstractEventLoop) -> None:
        """One thread's life: it does not keep the process alive."""
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._waiting)
                ticket = self._waiting.pop(0)
                ticket.began = time.monotonic()
                self._running.append(ticket)
            result, problem = ticket.result()
            with self._changed:
                self._running.remove(ticket)
            try:
                loop.call_soon_threadsafe(self._end, ticket, result, problem)
            except RuntimeError:
                return  # the loop has ended: so has the program

    def _end(self, ticket: Ticket, result: Any, problem: Exception | None) -> None:
        if ticket.is_outdated:
            return
        del self._tickets[ticket.key]
        try:
            ticket.then(result, problem)
        finally:
            ticket.done.set()
