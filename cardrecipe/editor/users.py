"""A recipe → the recipes that `use` it or share a file with it, and the classes that make it: a name can
stand there too. Those that are open, and those on the disk near it."""

import os
from collections.abc import Iterable, Iterator
from pathlib import PurePosixPath

from cardrecipe.editor.desk import Desk, OpenRecipe
from cardrecipe.editor.meanings import made_recipe
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.texts import WindowTexts, real_name
from cardrecipe.files import CannotRead, read_source
from cardrecipe.model.uses import used_by
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.tree import Make

MOST_READ = 500  # recipes in the folders above: more is no maker's shelf, and nobody waits for it


def users_of(desk: Desk, recipe: OpenRecipe, roots: Iterable[str]) -> tuple[Snapshot, ...]:
    """Every known recipe with a file in common with `recipe`; on the disk up to the workspace's `roots`."""
    here = recipe.real_name
    shared = {here, *recipe.asked}
    others = [each for each in desk.recipes.values() if each is not recipe]
    found = [desk.snapshot(each.uri) for each in others if not shared.isdisjoint(each.asked)]
    windows = {each.real_name: each.document.source.text for each in desk.recipes.values()}
    near = [path for path in _near(here, set(map(real_name, roots))) if path not in windows]
    for path in near[:MOST_READ]:
        user = _as_user(path, shared, windows)
        found += [user] if user is not None else []
    return tuple(found)


def _near(here: str, roots: set[str]) -> Iterator[str]:
    """The recipes in the file's folder and in those above it, as far as the workspace goes."""
    folders = PurePosixPath(here).parents
    inside = [str(each) for each in folders if any(each.is_relative_to(root) for root in roots)]
    for folder in inside or [str(folders[0])]:
        try:
            names = sorted(os.listdir(folder))
        except OSError:
            continue
        yield from (f"{folder}/{name}" for name in names if name.endswith(".recipe"))


def _as_user(path: str, shared: set[str], windows: dict[str, str]) -> Snapshot | None:
    try:
        source = read_source(path)
    except CannotRead:
        return None
    if "use" not in source.text and "make" not in source.text:
        return None
    tree, form = parse(source)
    texts = WindowTexts(path, windows)
    used_by(tree, texts)
    for line in (line for each in tree.statements for line in each.block):
        if isinstance(line.node, Make):
            made_recipe(line.node, source.name, texts)  # the texts remember that it was asked for
    is_user = not shared.isdisjoint(texts.asked)
    return Snapshot(source, tree, tuple(form), tuple(form), texts=texts) if is_user else None
