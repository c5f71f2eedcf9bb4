"""A function that may take long → its result, while the server goes on listening."""

import asyncio
import threading
from collections.abc import Callable
from typing import ParamSpec, TypeVar

_P = ParamSpec("_P")
_T = TypeVar("_T")


async def aside(function: Callable[_P, _T], *arguments: _P.args, **named: _P.kwargs) -> _T:
    """What `function` gives, or raises, in a thread of its own that does not keep the process alive."""
    loop = asyncio.get_running_loop()
    answer: asyncio.Future[_T] = loop.create_future()

    def tell(result: _T | None, problem: Exception | None) -> None:
        if answer.done():
            return  # the client has taken its question back
        if problem is not None:
            answer.set_exception(problem)
        else:
            answer.set_result(result)  # type: ignore[arg-type]

    def run() -> None:
        result, problem = None, None
        try:
            result = function(*arguments, **named)
        except Exception as raised:
            problem = raised
        try:
            loop.call_soon_threadsafe(tell, result, problem)
        except RuntimeError:
            return  # the loop has ended: so has the program

    threading.Thread(target=run, daemon=True).start()
    return await answer
