"""The names of used files: which mean the same file on every system, and what is said of the others.

Nothing here looks at a disk: a name that is refused here is never asked for.
"""

from typing import NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error

MAX_NAME = 255  # bytes of a file's name, of the common file systems
_FORBIDDEN = '<>|?*"'  # in names of some systems
_SAME = "name it with letters, digits, `-` and `.`, and folders with `/`"
# Some systems have no files of these names, whatever the ending.
_PORTS = (f"{port}{number}" for port in ("com", "lpt") for number in "123456789")
_DEVICES = frozenset(["aux", "con", "nul", "prn", *_PORTS])


class Refused(NamedTuple):
    """Why the text of a used file is not given, said after its name, and the repair."""

    reason: str
    repair: str
    is_outside: bool = False


def problem_of_name(path: tree.Text, beside: str) -> Diagnostic | None:
    """What is wrong with the name itself, whatever is on the disk; `beside` is "recipe" or "class"."""
    if leaves_folder(path.text):
        return error("use-outside", path.span, f'"{path.text}" is not in this folder or below it',
                     f"move the file beside the {beside} and name it without `/` or `..`")  # fmt: skip
    problem = differs_by_system(path.text)
    return error("use-name", path.span, problem.reason, problem.repair) if problem is not None else None


def not_given(path: tree.Text, why: Refused | None, beside: str) -> Diagnostic:
    """What is said of a name whose file is not there, or may not be read."""
    if why is None:
        return error("use-missing", path.span, f'there is no file "{path.text}" here',
                     f"check its name; it is looked for beside the {beside}")  # fmt: skip
    message = f'"{path.text}" {why.reason}'
    if why.is_outside:
        return error("use-outside", path.span, message, why.repair)
    return error("use-missing", path.span, message, why.repair)


def leaves_folder(path: str) -> bool:
    """True for a path from a root, a home or a drive, an address, and a step to the folder above."""
    drive_or_address = ":" in path.split("/")[0]
    steps_up = ".." in path.replace("\\", "/").split("/")
    return path.startswith(("/", "\\", "~")) or drive_or_address or steps_up


def differs_by_system(path: str) -> Refused | None:
    """Why a name inside the folder is not the same file, or no file, on some system."""
    if not path.strip("./ "):
        return Refused("this names no file", "name the file to use, as in `use \"papers.recipe\"`")
    if "\\" in path:
        with_slashes = "/".join(filter(None, path.split("\\")))
        return Refused("`\\` parts folders on one system only", f'write "{with_slashes}"')
    if not path.isprintable():
        return Refused("this name has a sign in it that cannot be seen", _SAME)
    for sign in (*_FORBIDDEN, ":"):
        if sign in path:
            return Refused(f"no file's name may have `{sign}` in it on every system", _SAME)
    return next((found for part in path.split("/") if (found := _part_differs(part)) is not None), None)


def _part_differs(part: str) -> Refused | None:
    """Why one part of a path, a folder or the file, is not the same everywhere."""
    if part != part.strip(" ") or (part.endswith(".") and part != "."):
        return Refused(f'"{part}" begins or ends with a space, or ends with a dot, which some systems drop',
                       f'rename it to "{part.strip(" .")}"')  # fmt: skip
    if part.split(".")[0].rstrip().casefold() in _DEVICES:
        return Refused(f'"{part}" is the name of a device on some systems', "give the file another name")
    if len(part.encode()) > MAX_NAME:
        return Refused(f"this name has more than {MAX_NAME} bytes", "shorten it")
    return None
