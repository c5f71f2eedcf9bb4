"""The one window of the core to the world outside: texts by name."""

import posixpath
from typing import Protocol

from cardrecipe.model.used_names import Refused, differs_by_system, leaves_folder


class Texts(Protocol):
    """Gives the text called `name`; None where there is none, and why where it may not be read."""

    def read(self, name: str) -> str | Refused | None: ...


class NoTexts:
    """A world without files: nothing can be used."""

    def read(self, name: str) -> str | None:
        return None


def text_at(texts: Texts, name: str | None) -> str | None:
    """The text called `name`, or None for whatever reason."""
    found = texts.read(name) if name is not None else None
    return found if isinstance(found, str) else None


def name_beside(file: str, path: str) -> str | None:
    """What `path`, written in `file`, is called; None where it may not be asked for."""
    if leaves_folder(path) or differs_by_system(path) is not None:
        return None
    return posixpath.normpath(posixpath.join(posixpath.dirname(file), path))
