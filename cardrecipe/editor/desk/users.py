"""A recipe → the recipes that `use` it or share a file with it, and the classes that make it: a name can
stand there too. Those that are open, and those on the disk near it."""

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import PurePosixPath
from typing import NamedTuple

from cardrecipe.editor.desk.desk import Desk, OpenRecipe
from cardrecipe.editor.desk.texts import WindowTexts, real_name
from cardrecipe.editor.names.meanings import made_recipe
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.files import FolderTexts
from cardrecipe.model.texts import text_at
from cardrecipe.model.uses import used_by
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Make

MOST_READ = 500  # recipes in the folders above: more is no maker's shelf, and nobody waits for it


class Shelf(NamedTuple):
    """Where to look for the users of a recipe on the disk, and what is known already."""

    here: str  # the recipe's own real name
    shared: frozenset[str]  # its file and those that it uses
    windows: Mapping[str, str]  # the open texts by their real names
    roots: frozenset[str]  # the workspace


def users_open(desk: Desk, recipe: OpenRecipe) -> tuple[Snapshot, ...]:
    """Every open recipe with a file in common with `recipe`."""
    shared = {recipe.real_name, *recipe.asked}
    others = [each for each in desk.recipes.values() if each is not recipe]
    return tuple(desk.snapshot(each.uri) for each in others if not shared.isdisjoint(each.asked))


def shelf_of(desk: Desk, recipe: OpenRecipe, roots: Iterable[str]) -> Shelf:
    """Where the others may lie; it may be looked through in a thread, while the desk goes on."""
    windows = {each.real_name: each.document.source.text for each in desk.recipes.values()}
    shared = frozenset((recipe.real_name, *recipe.asked))
    return Shelf(recipe.real_name, shared, windows, frozenset(map(real_name, roots)))


def users_on(shelf: Shelf) -> tuple[Snapshot, ...]:
    """Every recipe on the disk, and in no window, with a file in common; up to the workspace's roots."""
    near = [path for path in _near(shelf.here, shelf.roots) if path not in shelf.windows]
    found = (_as_user(path, shelf) for path in near[:MOST_READ])
    return tuple(each for each in found if each is not None)


def _near(here: str, roots: Iterable[str]) -> Iterator[str]:
    """The recipes in the file's folder and in those above it, as far as the workspace goes."""
    folders = PurePosixPath(here).parents
    inside = [str(each) for each in folders if any(each.is_relative_to(root) for root in roots)]
    for folder in inside or [str(folders[0])]:
        try:
            names = sorted(os.listdir(folder))
        except OSError:
            continue
        yield from (f"{folder}/{name}" for name in names if name.endswith(".recipe"))


def _as_user(path: str, shelf: Shelf) -> Snapshot | None:
    text = text_at(FolderTexts(path), path)  # a link that leads out of its folder is nobody's recipe here
    if text is None or ("use" not in text and "make" not in text):
        return None
    source = Source(path, text)
    tree, form = parse(source)
    texts = WindowTexts(path, shelf.windows)
    used_by(tree, texts)
    for line in (line for each in tree.statements for line in each.block):
        if isinstance(line.node, Make):
            made = made_recipe(line.node, source.name, texts)  # the texts remember what was asked for
            if made is not None:
                used_by(made[0], texts)  # a class may `have` a paper of any file that its recipes use
    is_user = not shelf.shared.isdisjoint(texts.asked)
    return Snapshot(source, tree, tuple(form), tuple(form), texts=texts) if is_user else None
