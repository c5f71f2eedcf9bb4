"""A page as a script: its commands are run in a folder one after the other, and what they print is compared.

In a page, `sh` blocks are run, `sh fails` blocks must end with status 1; a `text` block that follows shows
what they print, and may end with a line `…` where there is more. `recipe FILE` blocks are written to that
file; `recipe FILE changed` blocks are the blocks of the file that somebody has retyped, or new ones at its
end. Run `python -m tests.grammar.walk PAGE` to write into a page what its commands print now.
"""

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
MORE = "…"
_BLOCK = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)


class Block(NamedTuple):
    """A fenced block of a page: the words after its fence, and its text with where that begins and ends."""

    info: str
    text: str
    start: int
    end: int


class Printed(NamedTuple):
    """A block that shows what the commands before it print, and what they do print."""

    block: Block
    real: str

    @property
    def agrees(self) -> bool:
        shown = self.block.text
        if shown.endswith(f"{MORE}\n"):
            return self.real.startswith(shown.removesuffix(f"{MORE}\n"))
        return shown == self.real


def blocks_of(page: str) -> list[Block]:
    return [Block(m[1].strip(), m[2], *m.span(2)) for m in _BLOCK.finditer(page)]


def walked(page: str, folder: Path, not_run: tuple[str, ...] = ()) -> list[Printed]:
    """Do what a page says, in `folder`; AssertionError where a command ends otherwise than the page says.

    Blocks whose first line begins with one of `not_run` are passed over.
    """
    printed: list[Printed] = []
    said, place = None, folder
    for block in blocks_of(page):
        kind, *rest = block.info.split()
        if kind == "sh":
            said = None
            if not block.text.startswith(not_run):
                said, place = _run(block, place, folder, "fails" in rest)
        elif kind == "text" and said is not None:
            printed.append(Printed(block, said))
            said = None
        elif kind == "recipe" and rest and rest[0].endswith(".recipe"):
            _write(place / rest[0], block.text, "changed" in rest)
    return printed


def _run(block: Block, place: Path, home: Path, fails: bool) -> tuple[str, Path]:
    """What the commands of a block print, run in the folder `place`, and the folder that they end in."""
    end = home.parent / f"{home.name}-place"
    script = f"trap 'pwd > \"{end}\"' EXIT\nset -e\n{block.text}\n"
    ran = subprocess.run(
        ["bash", "-c", script], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=_surroundings(home),
        text=True, check=False, cwd=place, timeout=120,
    )  # fmt: skip
    assert ran.returncode == (1 if fails else 0), f"{block.text}\n{ran.stdout}"
    shown = "".join(f"{line.rstrip()}\n" for line in ran.stdout.splitlines())
    return shown, Path(end.read_text(encoding="utf-8").strip())


def _surroundings(folder: Path) -> dict[str, str]:
    """`cardrecipe` as a command, and a git that knows nothing of this machine's settings."""
    commands = folder.parent / f"{folder.name}-commands"
    commands.mkdir(exist_ok=True)
    command = commands / "cardrecipe"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m cardrecipe "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    return {
        **os.environ, "PATH": f"{commands}:{os.environ['PATH']}", "HOME": str(commands),
        "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", "LC_ALL": "C.UTF-8",
        "GIT_CONFIG_NOSYSTEM": "1", "GIT_PAGER": "cat",
    }  # fmt: skip


# ---- what somebody types into a file --------------------------------------------------------------


def _write(path: Path, text: str, changed: bool) -> None:
    old = path.read_text(encoding="utf-8") if changed else ""
    path.write_text(_retyped(old, text) if changed else text, encoding="utf-8")


def _retyped(old: str, new: str) -> str:
    """`old` with the blocks of `new` in the place of those that begin with the same two words."""
    parts = list(_parts(old))
    for part in _parts(new):
        at = next((n for n, each in enumerate(parts) if _name(each) == _name(part)), None)
        if at is None:
            parts.append(part)
        else:
            parts[at] = part
    return "\n".join(each.rstrip("\n") + "\n" for each in _grouped(parts))


def _parts(text: str) -> Iterator[str]:
    """The lines at the left edge, each with what is indented under it."""
    for part in re.split(r"^(?=\S)", text, flags=re.M):
        if part.strip():
            yield part


def _name(part: str) -> tuple[str, ...]:
    first = part.split("\n")[0].split()
    return tuple(first[:1]) if first[0] == "recipe" else tuple(first[:2])


def _grouped(parts: list[str]) -> list[str]:
    """Papers stand together without blank lines between them."""
    grouped: list[str] = []
    shelf = ("paper ", "supply ")
    for part in parts:
        if grouped and part.startswith(shelf) and grouped[-1].startswith(shelf):
            grouped[-1] = grouped[-1].rstrip("\n") + "\n" + part
        else:
            grouped.append(part)
    return grouped


def main(path: Path) -> None:
    """Write into a page what its commands print; a block that ends with `…` keeps its length."""
    page = path.read_text(encoding="utf-8")
    from tests.grammar.test_pages import NOT_RUN  # which knows this module

    with tempfile.TemporaryDirectory() as folder:
        inner = Path(folder) / "cards"
        inner.mkdir()
        for block, real in reversed(walked(page, inner, tuple(NOT_RUN))):
            page = page[: block.start] + _shown(block.text, real) + page[block.end :]
    path.write_text(page, encoding="utf-8")


def _shown(old: str, real: str) -> str:
    length = old.count("\n") - 1
    if not old.endswith(f"{MORE}\n") or real.count("\n") <= length:
        return real
    return "".join(line + "\n" for line in real.split("\n")[:length]) + f"{MORE}\n"


if __name__ == "__main__":
    main(Path(sys.argv[1]))
