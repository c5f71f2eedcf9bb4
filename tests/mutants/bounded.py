"""Work in a forked child, with a limit to its time and memory → what it said, or that it ran for ever."""

from __future__ import annotations

import contextlib
import os
import resource
import signal
from collections.abc import Callable

MEMORY = 8 << 30


def in_child(work: Callable[[Callable[[str], None]], bool], seconds: float) -> tuple[bool, str] | None:
    """Give whether `work` said that all is well and the last thing that it told; None where it never ended.

    The limit is counted in seconds of the processor, so that a busy machine kills nobody; eight times the
    time that the tests take unchanged, and half a minute more.
    """
    limit = int(30 + 8 * seconds)
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read)
        _limit(limit)
        try:
            is_well = work(lambda word: _put(write, word))
        except BaseException as found:  # a change may break anything, the test runner too
            _put(write, repr(found))
            is_well = False
        os._exit(0 if is_well else 1)
    os.close(write)
    with os.fdopen(read, "rb") as pipe:
        words = pipe.read().decode(errors="replace").split("\0")
    _, status = os.waitpid(child, 0)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)  # what a test started and left
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL, signal.SIGALRM):
        return None
    return os.WIFEXITED(status) and os.WEXITSTATUS(status) == 0, ([w for w in words if w] or [""])[-1]


def _put(pipe: int, word: str) -> None:
    os.write(pipe, word.encode(errors="replace")[:500] + b"\0")


def _limit(seconds: int) -> None:
    os.setpgid(0, 0)
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    signal.alarm(seconds * 20)  # for a test that waits rather than counts
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)
