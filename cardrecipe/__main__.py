"""The program as a process: `cardrecipe`, or `python -m cardrecipe`."""

import codecs
import errno
import gc
import io
import os
import sys
from typing import Any, TextIO

# What stands for a sign that a terminal's encoding does not have.
_PLAIN = str.maketrans({"\u00a0": " ", "\u202f": " ", "⁄": "/", "×": "x", "−": "-", "…": "...", "→": "->"})


def run() -> int:
    """Run one command; returns the exit status.

    The process lives for a fraction of a second, so collecting garbage is waste; frozen objects are
    not looked through when Python ends, which saves a tenth of a `check`.
    """
    gc.disable()
    try:
        if "_ARGCOMPLETE" in os.environ:  # a shell asks what may come next
            from cardrecipe.commands.completing import complete

            complete()
        codecs.register_error("plain", _plainly)
        sys.stdout, sys.stderr = streams = _outward(sys.stdout), _outward(sys.stderr)
        from cardrecipe.cli import main  # after that, since most of what is made is made by importing

        status = main()
        lost = [each for each in map(_loss, streams) if each is not None]
    except KeyboardInterrupt:  # outside of the command, which says so itself
        return 130
    gc.freeze()
    return 2 if lost else status


class _Outward(io.FileIO):
    """Standard output or error. What cannot be written is lost, and no work is broken off for it."""

    problem: OSError | None = None

    def write(self, data: Any, /) -> int:
        if self.problem is None:
            try:
                return super().write(data)
            except OSError as problem:
                self.problem = problem
        return memoryview(data).nbytes


def _outward(stream: TextIO | None) -> TextIO:
    """A standard stream that never fails: not for a letter that it does not know, nor without a reader."""
    if stream is None:  # closed by whoever started us
        return open(os.devnull, "w", encoding="utf-8")
    if not isinstance(stream, io.TextIOWrapper):
        return stream
    usual = ("strict", "backslashreplace", "surrogateescape")
    errors = "plain" if stream.errors in usual else stream.errors
    if stream.isatty():
        stream.reconfigure(errors=errors)
        return stream
    file = io.BufferedWriter(_Outward(stream.fileno(), "wb", closefd=False))
    by_line = stream.line_buffering or stream.write_through  # where nothing is to wait, no line does
    return io.TextIOWrapper(file, stream.encoding, errors, None, by_line)


def _plainly(problem: UnicodeError) -> tuple[bytes, int]:
    """What is written for letters that an encoding does not have."""
    assert isinstance(problem, UnicodeEncodeError)  # nothing is read with it
    return b"".join(map(_plain, problem.object[problem.start : problem.end])), problem.end


def _plain(char: str) -> bytes:
    if "\udc80" <= char <= "\udcff":  # a byte of a file's name that is no letter
        return bytes([ord(char) - 0xDC00])
    return char.translate(_PLAIN).encode("ascii", "backslashreplace")


def _loss(stream: TextIO) -> OSError | None:
    """Why something of a stream was lost, which is said; a reader that went away has what it wanted."""
    stream.flush()
    file = getattr(getattr(stream, "buffer", None), "raw", None)
    problem = file.problem if isinstance(file, _Outward) else None
    if problem is None or problem.errno == errno.EPIPE:
        return None
    print(f"cardrecipe: what is printed cannot be written: {problem.strerror}", file=sys.stderr)
    return problem


if __name__ == "__main__":
    sys.exit(run())
