"""A folder with a recipe in it, a secret beside it, and the ways to make the recipe read the secret."""

import os
import socket
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from tests.recipes import HEAD

SECRET = "Ivory from the drawer"
SHELF = 'paper ink is cardstock "Ink" 12 x 12\n'
HIDDEN = f'paper ink is cardstock "{SECRET}" 12 x 12\n'
CARD = (
    HEAD.replace('paper ink is cardstock "Ink" 12 x 12\n', "{use}\n")
    + "base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
)
PLAIN = CARD.format(use=SHELF.strip())


class Trap(NamedTuple):
    """What is laid into the folder, the name that a `use` line asks for, and what is to be said of it."""

    lay: Callable[[Path], None]
    used: str
    code: str
    said: str


def prepared(place: Path, trap: Trap) -> Path:
    """The recipe's folder, with the trap in it and the secret outside."""
    folder = place / "mine"
    (place / "outside").mkdir(parents=True)
    (place / "outside" / "papers.recipe").write_text(HIDDEN)
    folder.mkdir()
    (folder / "a.recipe").write_text(CARD.format(use=f'use "{trap.used}"'))
    (folder / "plain.recipe").write_text(PLAIN)
    (folder / "bench.recipe").write_text(f'class "Bench"\n  make 2 of "{trap.used}"\n')
    trap.lay(folder)
    return folder


# ---- what is laid ----------------------------------------------------------------------------------


def _nothing(folder: Path) -> None:
    """The name alone is the trap."""


def _link(to: str, name: str = "papers.recipe") -> Callable[[Path], None]:
    return lambda folder: (folder / name).symlink_to(to)


def _whole_link(folder: Path) -> None:
    (folder / "papers.recipe").symlink_to(folder.parent / "outside" / "papers.recipe")


def _neighbour(folder: Path) -> None:
    """A folder whose path begins as ours does."""
    other = folder.with_name("mine-too")
    other.mkdir()
    (other / "papers.recipe").write_text(HIDDEN)
    (folder / "papers.recipe").symlink_to(other / "papers.recipe")


def _links_in_a_row(folder: Path) -> None:
    (folder / "papers.recipe").symlink_to("shelf/second.recipe")
    (folder / "shelf").mkdir()
    (folder / "shelf" / "second.recipe").symlink_to("../third.recipe")
    (folder / "third.recipe").symlink_to("../outside/papers.recipe")


def _through_a_linked_folder(folder: Path) -> None:
    """`..` after a link is the folder above what the link leads to."""
    (folder / "shelf").symlink_to("../outside")
    (folder / "papers.recipe").symlink_to("shelf/../outside/papers.recipe")


def _circle(folder: Path) -> None:
    (folder / "papers.recipe").symlink_to("other.recipe")
    (folder / "other.recipe").symlink_to("papers.recipe")


def _pipe(folder: Path) -> None:
    os.mkfifo(folder / "papers.recipe")


def _socket(folder: Path) -> None:
    here = os.getcwd()
    os.chdir(folder)  # a socket's path may have a hundred letters
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("papers.recipe")
    os.chdir(here)


def _folder(folder: Path) -> None:
    (folder / "papers.recipe").mkdir()


def _bytes(content: bytes) -> Callable[[Path], None]:
    return lambda folder: (folder / "papers.recipe").write_bytes(content) and None


def _other_case(folder: Path) -> None:
    (folder / "Shelf").mkdir()
    (folder / "Shelf" / "Papers.recipe").write_text(HIDDEN)


def _other_accents(folder: Path) -> None:
    (folder / "pa\u0301pers.recipe").write_text(HIDDEN)


_NAME = "papers.recipe"
_OUT = "is not in this folder or below it"
_A_LINK = "is a link to a place that is not in this folder or below it"
_KIND = "is a pipe or a device, not a file"

TRAPS: dict[str, Trap] = {
    "a path from the root": Trap(_nothing, "/etc/hostname", "use-outside", _OUT),
    "the folder above": Trap(_nothing, "../outside/papers.recipe", "use-outside", _OUT),
    "down and up": Trap(_nothing, "shelf/../../outside/papers.recipe", "use-outside", _OUT),
    "an address": Trap(_nothing, "https://cards.example/papers.recipe", "use-outside", _OUT),
    "an address of a file": Trap(_nothing, "file:///etc/hostname", "use-outside", _OUT),
    "a drive": Trap(_nothing, "C:/papers.recipe", "use-outside", _OUT),
    "a share": Trap(_nothing, "\\\\shelf\\papers.recipe", "use-outside", _OUT),
    "a home folder": Trap(_nothing, "~/papers.recipe", "use-outside", _OUT),
    "a backslash": Trap(_nothing, "shelf\\papers.recipe", "use-name", "`\\` parts folders on one system"),
    "a space at the end": Trap(_link("../outside/papers.recipe", "papers.recipe "), "papers.recipe ",
                               "use-name", "ends with a space"),
    "a device's name": Trap(_link("../outside/papers.recipe", "con"), "con", "use-name", "of a device"),
    "a long name": Trap(_nothing, "n" * 256, "use-name", "more than 255 bytes"),
    "a long way": Trap(_nothing, "/".join(["n"] * 2000), "use-missing", "there is no file"),
    "a link": Trap(_link("../outside/papers.recipe"), _NAME, "use-outside", _A_LINK),
    "a whole link": Trap(_whole_link, _NAME, "use-outside", _A_LINK),
    "a link to what is not there": Trap(_link("../outside/none"), _NAME, "use-outside", _A_LINK),
    "a link to a folder": Trap(_link("../outside", "shelf"), "shelf/papers.recipe", "use-outside", _A_LINK),
    "a link to the folder above": Trap(_link("..", "up"), "up/outside/papers.recipe", "use-outside", _A_LINK),
    "a link to a neighbour": Trap(_neighbour, _NAME, "use-outside", _A_LINK),
    "links in a row": Trap(_links_in_a_row, _NAME, "use-outside", _A_LINK),
    "a link by a linked folder": Trap(_through_a_linked_folder, _NAME, "use-outside", _A_LINK),
    "a link to a device": Trap(_link("/dev/zero"), _NAME, "use-outside", _A_LINK),
    "a link to our own memory": Trap(_link("/proc/self/environ"), _NAME, "use-outside", _A_LINK),
    "a circle of links": Trap(_circle, _NAME, "use-missing", "a link that leads back to itself"),
    "a pipe": Trap(_pipe, _NAME, "use-missing", _KIND),
    "a socket": Trap(_socket, _NAME, "use-missing", _KIND),
    "a folder": Trap(_folder, _NAME, "use-missing", "is a folder"),
    "a file in a file": Trap(_nothing, "plain.recipe/papers.recipe", "use-missing", "there is no file"),
    "no text": Trap(_bytes(HIDDEN.encode("utf-16")), _NAME, "use-missing", "is not UTF-8 text"),
    "other letters": Trap(_other_case, "shelf/papers.recipe", "use-missing",
                          'is called "Shelf/Papers.recipe" on the disk'),
    "other accents": Trap(_other_accents, "p\u00e1pers.recipe", "use-missing", "on the disk"),
}  # fmt: skip
