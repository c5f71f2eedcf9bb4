"""The system's own record of what a command opened, listed, looked at or asked of the network.

`python -m tests.trust.trace check|build FILE` prints the places that a run touched, and why each is allowed.
"""

import os
import re
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

from tests.recipes import ROOT

CALLS = "%file,%network,getdents64,mknod,mknodat,execve"
_LINE = re.compile(r"^\d+ +(?:<\.\.\. )?(\w+)(.*)$")
_TEXT = re.compile(r'"((?:[^"\\]|\\.)*)"')
_DESCRIPTOR = re.compile(r"\b(?:AT_FDCWD|\d+)<([^>]*)>")
_NETWORK = ("socket", "socketpair", "connect", "bind", "listen", "accept", "accept4", "sendto", "sendmsg",
            "recvfrom", "recvmsg", "getpeername", "getsockname")  # fmt: skip

# Places of the system that an interpreter and its libraries look at by themselves, and why they do.
ALLOWED: dict[str, str] = {
    r"/etc/ld\.so\.(cache|preload|nohwcap)": "the loader: where shared libraries are",
    r"(/usr)?/lib(32|64|x32)?(/[^/]+)?/[^/]+\.so[.0-9]*": "shared libraries",
    r"(/usr)?/lib(64)?(/[^/]+)?(/glibc-hwcaps.*)?": "the loader, on its way to them",
    r"(/usr/lib/locale|/usr/share/locale|/etc/locale\.alias)(/.*)?": "the C library: the locale",
    r"/usr/lib/[^/]+/gconv/gconv-modules(\.cache|\.d)?(/.*)?": "the C library: encodings",
    r"/etc/localtime|/usr/share/zoneinfo(/.*)?": "libraries that ask for the time zone; no page has a time",
    r"/proc/(self|\d+)/(cgroup|maps|mountinfo|stat|status)": "how many threads may run, and the stack's end",
    r"/proc/sys/vm/overcommit_memory": "the C library: memory",
    r"/sys/fs/cgroup(/.*)?|/sys/devices/system/cpu(/.*)?": "how many threads may run",
    r"/(usr/lib|etc)/ssl(/openssl\.cnf)?": "settings of OpenSSL, for `hashlib`",
    r"/dev/(null|urandom)": "what a stream is when nobody listens, and chance for the names of files",
}  # fmt: skip


class Touched(NamedTuple):
    """One call: what it is called, the absolute path, and whether there was such a place."""

    call: str
    path: str
    was_there: bool


class Trace(NamedTuple):
    """What one run did."""

    status: int
    touched: tuple[Touched, ...]
    network: tuple[str, ...]
    started: tuple[str, ...]


def traced(folder: Path, *arguments: str) -> Trace:
    """What `cardrecipe` did with these arguments in `folder`."""
    return _traced(folder, ["-m", "cardrecipe", *arguments])


@cache
def beginning(folder: Path) -> Trace:
    """What this machine's Python does before any program begins, a packager's additions to it among that."""
    return _traced(folder, ["-c", "pass"])


def _traced(folder: Path, arguments: list[str]) -> Trace:
    """A run under strace, without a home and without a user's own packages."""
    python = {"PYTHONPATH": str(ROOT), "PYTHONNOUSERSITE": "1", "HOME": "/nonexistent"}
    with TemporaryDirectory() as place:
        log = os.path.join(place, "log")
        strace = ["strace", "-f", "-y", "-s", "4096", "-e", f"trace={CALLS}", "-o", log, "--"]
        ran = subprocess.run([*strace, sys.executable, *arguments], cwd=folder, capture_output=True,
                             check=False, env={"PATH": os.defpath, "LANG": "C.UTF-8", **python})  # fmt: skip
        lines = Path(log).read_text("utf-8", "replace").splitlines()
    calls = [match.groups() for match in map(_LINE.match, lines) if match]
    network = tuple(f"{name}{rest}" for name, rest in calls if name in _NETWORK)
    started = tuple(text[1] for name, rest in calls if name == "execve" and (text := _TEXT.search(rest)))
    touched = tuple(each for name, rest in calls for each in _touched(name, rest, folder))
    return Trace(ran.returncode, touched, network, started)


def is_possible() -> bool:
    """Whether strace is here and may follow a process."""
    if shutil.which("strace") is None:
        return False
    tried = subprocess.run(["strace", "-o", os.devnull, "true"], capture_output=True, check=False)
    return tried.returncode == 0


def _touched(call: str, rest: str, folder: Path) -> Iterator[Touched]:
    """The paths that a call names, from the folder that it names them in; else the open file."""
    if call in ("execve", "getcwd"):
        return
    arguments, _, result = rest.rpartition(" = ") if " = " in rest else (rest, "", "")
    named = [_unescaped(text) for text in _TEXT.findall(arguments) if text]
    places = _DESCRIPTOR.findall(arguments)
    for text in named[:1] if call.startswith("readlink") else named:  # its second is what was found there
        path = os.path.normpath(os.path.join(folder, *places[:1], text))
        yield Touched(call, path, not result.startswith("-1 "))
    if not named:
        yield from (Touched(call, place, True) for place in places if place.startswith("/"))


def _unescaped(text: str) -> str:
    """A path as it is called; strace writes bytes of other letters as octal numbers."""
    raw = text.encode("latin1", "replace").decode("unicode_escape").encode("latin1")
    return raw.decode("utf-8", "replace")


# ---- what is allowed -------------------------------------------------------------------------------


def own_places() -> dict[str, str]:
    """The interpreter, its packages, and the program itself; what lies above them is looked at on the way."""
    paths = sysconfig.get_paths()
    interpreter = {sys.prefix, sys.base_prefix, sys.exec_prefix, os.path.dirname(sys.executable),
                   os.path.dirname(os.path.realpath(sys.executable)), *paths.values()}  # fmt: skip
    own = {str(ROOT / "cardrecipe"): "the program", str(ROOT / "grammar" / "recipe.lark"): "the grammar"}
    return {**dict.fromkeys(sorted(map(os.path.realpath, interpreter)), "the interpreter and its packages"),
            **dict.fromkeys(sorted(interpreter), "the interpreter and its packages"), **own}  # fmt: skip


def reason(path: str, folder: Path) -> str | None:
    """Why a place may be touched; None where it may not."""
    if _is_in(path, str(folder)):
        return "the recipe's folder"
    places = own_places()
    for place, why in places.items():
        if _is_in(path, place):
            return why
    for pattern, why in ALLOWED.items():
        if re.fullmatch(pattern, path):
            return why
    above = [*places, str(folder), sys.executable]
    return "a folder on the way" if any(_is_in(place, path) for place in above) else None


def strangers(trace: Trace, folder: Path) -> list[Touched]:
    """What was touched and may not be."""
    own = {each.path for each in beginning(folder).touched}
    others = (each for each in dict.fromkeys(trace.touched) if each.path not in own)
    return [each for each in others if reason(each.path, folder) is None]


def _is_in(path: str, folder: str) -> bool:
    return path == folder or path.startswith(folder.rstrip("/") + "/")


def main() -> int:
    command, file = sys.argv[1:3]
    with TemporaryDirectory() as copied:
        place = Path(copied).resolve() / "recipes"
        shutil.copytree(Path(file).resolve().parent, place)
        trace = traced(place, command, os.path.basename(file), *sys.argv[3:])
        own = {each.path: "Python before the program begins" for each in beginning(place).touched}
        paths = {each.path for each in trace.touched}
        why = {path: reason(path, place) or own.get(path, "NOT ALLOWED") for path in paths}
        wrong = strangers(trace, place)
    for each in sorted(set(why.values())):
        named = sorted(path for path, word in why.items() if word == each)
        print(f"{each}: {len(named)} places", *(named if len(named) < 40 else []), sep="\n  ")
    print(f"status {trace.status}, calls to the network: {len(trace.network)}, programs started:"
          f" {len(trace.started) - 1}, not allowed: {[*map(tuple, wrong)]}")  # fmt: skip
    return 1 if wrong or trace.network else 0


if __name__ == "__main__":
    sys.exit(main())
