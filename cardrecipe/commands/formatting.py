"""The command `format`: recipes to their canonical text, in place, or from standard input to standard output.

A file keeps its line ends (the more frequent kind where they are mixed) and its mode; a link stays a link. A
byte-order mark goes. A file with mistakes of form is left as it is: nobody knows what its lines were meant
to be.
"""

import errno
import os
import stat
import sys
from collections.abc import Iterable

from cardrecipe.cli import DONE, MISTAKES, WRONG
from cardrecipe.files import MAX_BYTES, CannotRead, read_content, sentence, source_of
from cardrecipe.report import as_text, say, show
from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.statements import comments, meaning
from cardrecipe.writing import write_whole

STANDARD = "-"


def format_files(files: Iterable[str], check: bool) -> int:
    """Format each file, or say which would change where `check` is set; returns the exit status.

    What is wrong with one file keeps no other from being formatted.
    """
    return max([_status_of(path, check) for path in files], default=DONE)


def _status_of(path: str, check: bool) -> int:
    try:
        return _format(path, check)
    except CannotRead as problem:
        say(str(problem))
    except OSError as problem:
        say(f"{sentence(problem, path)}; it was left as it is")
    return WRONG


def _format(path: str, check: bool) -> int:
    content = _content(path)
    source = source_of(path, content)
    mistakes = parse(source)[1]
    if mistakes:
        print(as_text(mistakes, {source.name: source}), end="", file=sys.stderr)
        say(f"{path}: left as it is: what cannot be read is not formatted")
        return MISTAKES
    text = formatted(source)
    if not says_the_same(source, text):
        say(f"{path}: left as it is: its canonical text would not be read as the same recipe")
        return MISTAKES
    wanted = _with_line_ends(text, content)
    if check:
        return _checked(path, wanted != content)
    _write(path, content, wanted)
    return DONE


def says_the_same(source: Source, text: str) -> bool:
    """True where `text` is read without mistakes as the recipe and the comments of `source`."""
    again = Source(source.name, text)
    before, (after, mistakes) = parse(source)[0], parse(again)
    same_tree = not mistakes and meaning(before) == meaning(after)
    return same_tree and comments(source, before) == comments(again, after)


# ---- reading and writing -------------------------------------------------------------------------


def _content(path: str) -> bytes:
    return sys.stdin.buffer.read(MAX_BYTES) if path == STANDARD else read_content(path)


def _with_line_ends(text: str, content: bytes) -> bytes:
    """`text` as bytes, with the line ends that most lines of `content` have."""
    all_ends, crlf = content.count(b"\n"), content.count(b"\r\n")
    return text.replace("\n", "\r\n" if crlf > all_ends - crlf else "\n").encode()


def _checked(path: str, would_change: bool) -> int:
    if would_change:
        show(path)
    return MISTAKES if would_change else DONE


def _write(path: str, content: bytes, wanted: bytes) -> None:
    if path == STANDARD:
        sys.stdout.buffer.write(wanted)
        sys.stdout.buffer.flush()
    elif wanted != content:
        if read_content(path) != content:
            raise OSError(errno.EBUSY, "it was changed while it was being formatted", path)
        _replace(path, wanted)
        show(f"formatted {path}")


def _replace(path: str, content: bytes) -> None:
    """The file gets `content` and keeps its mode; a link keeps pointing to it."""
    target = os.path.realpath(path)
    mode = stat.S_IMODE(os.stat(target).st_mode)
    writable = mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH)  # root may write whatever the mode says
    if not writable or not os.access(target, os.W_OK):
        raise PermissionError(0, "it is read-only", path)
    write_whole(target, content, mode)
