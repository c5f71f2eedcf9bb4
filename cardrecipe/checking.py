"""A parsed file → all that `cardrecipe check` says of it: a card with its variants, or a class."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.compile import Compiled, compile_tree, only_of_variant
from cardrecipe.model.texts import Texts
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Tree

if TYPE_CHECKING:
    from cardrecipe.class_compile import CompiledClass


class Checked(NamedTuple):
    """What came of one text. `sources` holds every text that a diagnostic points into, by name;
    `pack` is what came of a class."""

    source: Source
    plain: Compiled
    variants: Mapping[str, Compiled]
    diagnostics: tuple[Diagnostic, ...]
    sources: Mapping[str, Source]
    pack: CompiledClass | None = None


class Outdated(Exception):
    """Nobody waits for the answer any more."""


def checked(
    recipe: Tree,
    mistakes: Sequence[Diagnostic],
    source: Source,
    texts: Texts,
    is_outdated: Callable[[], bool] = lambda: False,
) -> Checked:
    """What `check` says; `recipe` and `mistakes` are what `parse` gives for `source`.

    Outdated, between one variant and the next, when `is_outdated` becomes true.
    """
    plain = compile_tree(recipe, list(mistakes), source, texts)
    if plain.is_class:
        from cardrecipe.class_compile import compile_class  # most files are recipes

        whole = compile_class(source, texts)
        return Checked(source, plain, {}, tuple(dict.fromkeys(whole.diagnostics)), whole.sources, whole)
    variants, found = dict[str, Compiled](), [plain]
    for title in plain.variants:
        if is_outdated():
            raise Outdated
        variants[title] = compile_tree(recipe, list(mistakes), source, texts, title)
        found.append(only_of_variant(variants[title], title, plain))
    diagnostics = tuple(dict.fromkeys(each for one in found for each in one.diagnostics))
    sources = {name: text for one in found for name, text in one.sources.items()}
    return Checked(source, plain, variants, diagnostics, sources)
