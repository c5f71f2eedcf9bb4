"""Recipes and their variants → the names of the files that `build` writes, known before any is written."""

import os
from collections.abc import Iterator, Sequence
from itertools import count

from cardrecipe.files import read_source
from cardrecipe.model.variants import variant_titles
from cardrecipe.render.pages import TOGETHER
from cardrecipe.syntax.parse import parse

ALL, EACH = "all", "each"  # of --variant: one sheet of all cards, and a sheet for each
OF_ALL = "variants"  # NAME-variants: the one sheet never takes the place of the plain card's
MOST_BYTES = 60  # of a title in a file's name, which has other parts too


def stem_of(path: str, folder: str | None, variant: str | None = None, titles: Sequence[str] = ()) -> str:
    """The path of a sheet without its ending: NAME, or NAME-variant beside it."""
    name = os.path.splitext(os.path.basename(path))[0]
    if variant is not None:
        name += "-" + names_of_variants(titles)[variant]
    return os.path.join(folder if folder is not None else os.path.dirname(path), name)


def stem_of_all(path: str, folder: str | None) -> str:
    """The path of the one sheet of a card and its variants without its ending."""
    return f"{stem_of(path, folder)}-{OF_ALL}"


def names_of_variants(titles: Sequence[str]) -> dict[str, str]:
    """A part of a file's name for each variant; no two are the same, and none is that of the one sheet."""
    found: dict[str, str] = {}
    for title in titles:
        words = "".join(char if char.isalnum() else " " for char in title.lower()).split()
        name = _cut("-".join(words)) or "variant"
        taken = {OF_ALL, *found.values()}
        found[title] = next(each for each in _numbered(name) if each not in taken)
    return found


def each_once(paths: Sequence[str]) -> list[str]:
    """Files in the order in which they were named, none of them twice."""
    found: dict[str, str] = {}
    for path in paths:
        found.setdefault(_place(path), path)
    return list(found.values())


def clash(paths: Sequence[str], folder: str | None, variant: str | None, formats: Sequence[str]) -> str:
    """Why the files cannot all be written: one would take the place of another, or of a recipe; else ""."""
    taken: dict[str, str] = {}
    inputs = {_place(path): path for path in paths}
    for path in paths:
        for stem in _stems(path, folder, variant, formats):
            place = _place(stem)
            if place in taken:
                both = f"{taken[place]} and {path} would both be written as {stem}"
                return f"{both}; rename one of them, or build them to two folders with -o"
            taken[place] = path
            over = [inputs[f"{place}.{form}"] for form in formats if f"{place}.{form}" in inputs]
            if over:
                return f"a sheet would take the place of {over[0]} itself; name another folder with -o"
    return ""


def _stems(path: str, folder: str | None, variant: str | None, formats: Sequence[str]) -> list[str]:
    """The paths without endings of all that is made of one file; none of a variant that is not there."""
    plain = stem_of(path, folder)
    if variant is None:
        return [plain]
    titles = variant_titles(parse(read_source(path))[0])
    variants = [stem_of(path, folder, title, titles) for title in titles]
    if variant == EACH:
        return [plain, *variants]
    if variant == ALL:
        together = [stem_of_all(path, folder)] if set(formats) & set(TOGETHER) else []
        return [*together, *([plain, *variants] if set(formats) - set(TOGETHER) else [])]
    return [stem_of(path, folder, variant, titles)] if variant in titles else []


def _place(path: str) -> str:
    """The one path of a file, however it is named; a link is a file of its own."""
    return os.path.join(os.path.realpath(os.path.dirname(path)), os.path.basename(path))


def _cut(name: str) -> str:
    """The beginning of a long name: whole letters."""
    return name.encode()[:MOST_BYTES].decode(errors="ignore").rstrip("-")


def _numbered(name: str) -> Iterator[str]:
    yield name
    yield from (f"{name}-{number}" for number in count(2))
