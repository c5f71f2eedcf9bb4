"""A recipe's path → the recipes that it could `use` or `make`: those in its folder and the folders there."""

import os
from collections.abc import Iterator

MOST = 200  # more than anybody would look through in a list


def files_beside(path: str) -> tuple[str, ...]:
    """Their names as they are written in the recipe, without its own; none where there is no folder."""
    folder, own = os.path.split(path)
    if not os.path.isabs(path):
        return ()  # a text that has not been saved yet
    return tuple(name for name in sorted(_recipes(folder)) if name != own)[:MOST]


def _recipes(folder: str) -> Iterator[str]:
    for name, is_folder in _entries(folder):
        if is_folder:
            yield from (f"{name}/{each}" for each, below in _entries(os.path.join(folder, name))
                        if not below and each.endswith(".recipe"))  # fmt: skip
        elif name.endswith(".recipe"):
            yield name


def _entries(folder: str) -> list[tuple[str, bool]]:
    """Names with whether they are folders; hidden ones and links are nobody's shelf."""
    try:
        with os.scandir(folder) as entries:
            return [(each.name, each.is_dir()) for each in entries
                    if not each.name.startswith(".") and not each.is_symlink()]  # fmt: skip
    except OSError:
        return []
