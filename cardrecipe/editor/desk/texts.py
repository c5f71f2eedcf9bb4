"""The other files of a recipe as its maker sees them: an open window, else what is on the disk."""

import os
from collections.abc import Mapping

from cardrecipe.files import FolderTexts
from cardrecipe.model.used_names import Refused


class WindowTexts:
    """Gives the core the files in a recipe's folder and below; `windows` are the open texts by `real_name`.

    It remembers what it was asked for, whether it was there or not.
    """

    def __init__(self, recipe_path: str, windows: Mapping[str, str]) -> None:
        self._folder = FolderTexts(recipe_path)
        self._windows = windows
        self.asked: set[str] = set()

    def read(self, name: str) -> str | Refused | None:
        place = self._folder.place(name)
        if place is None:
            return self._folder.read(name)  # which says why not
        place = place.replace(os.sep, "/")
        self.asked.add(place)
        return self._windows[place] if place in self._windows else self._folder.read(name)


class NoFolder:
    """A text that has not been saved yet has no folder: nothing can be used."""

    def __init__(self) -> None:
        self.asked: set[str] = set()

    def read(self, name: str) -> str | None:
        return None


def real_name(name: str) -> str:
    """The one name of a file that may be called by several."""
    return os.path.realpath(name).replace(os.sep, "/")
