"""The one window of the core to the world outside: texts by name."""

import posixpath
from typing import Protocol


class Texts(Protocol):
    """Gives the text called `name`, or None where there is none or it may not be read."""

    def read(self, name: str) -> str | None: ...


class NoTexts:
    """A world without files: nothing can be used."""

    def read(self, name: str) -> str | None:
        return None


def name_beside(file: str, path: str) -> str | None:
    """What `path`, written in `file`, is called; None where it leaves that file's folder."""
    if not path or path.startswith(("/", "~")) or any(char in path for char in '\\:\0\n'):
        return None
    if ".." in path.split("/"):
        return None
    return posixpath.normpath(posixpath.join(posixpath.dirname(file), path))
