"""A file that is indented as deeply as it is long is answered like any other."""

from collections.abc import Callable
from pathlib import Path

import pytest

from cardrecipe.checking import checked
from cardrecipe.editor.mending.repairs import repairs
from cardrecipe.editor.names.names import references, rename
from cardrecipe.editor.offering.completing import completions
from cardrecipe.editor.outline.folding import foldings
from cardrecipe.editor.outline.symbols import MOST_DEEP, Symbol, symbols
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.telling.hover import hover
from cardrecipe.editor.telling.values import values
from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.recipes import HEAD, NAME, Texts, run

DEEP = 1_200  # beyond the depth of calls that the interpreter allows
LINES = ('step "a"', "papr", "panel a from ink", "fold single-fold")
AT = len(HEAD) + 3
FEATURES: dict[str, Callable[[Snapshot], object]] = {
    "hover": lambda recipe: hover(recipe, AT),
    "values": values,
    "completions": lambda recipe: completions(recipe, len(recipe.source.text) - 1),
    "references": lambda recipe: references(recipe, HEAD.index("ink")),
    "rename": lambda recipe: rename(recipe, HEAD.index("ink"), "blue") if not recipe.form else None,
    "symbols": symbols,
    "foldings": foldings,
    "repairs": lambda recipe: repairs(recipe, recipe.diagnostics[-1]),
    "format": lambda recipe: formatted(recipe.source),
}


def deep(line: str) -> str:
    return HEAD + "".join(f"{' ' * depth}{line}\n" for depth in range(DEEP))


@pytest.mark.parametrize("line", LINES)
def test_a_check_says_what_is_wrong(tmp_path: Path, line: str) -> None:
    recipe = tmp_path / "a.recipe"
    recipe.write_text(deep(line), encoding="utf-8")
    ran = run("check", str(recipe))
    assert ran.status == 1 and "error[" in ran.err


@pytest.mark.parametrize("feature", FEATURES.values(), ids=FEATURES)
@pytest.mark.parametrize("line", LINES)
def test_a_question_has_its_answer(line: str, feature: Callable[[Snapshot], object]) -> None:
    source, texts = Source(NAME, deep(line)), Texts()
    tree, form = parse(source)
    found = checked(tree, form, source, texts)
    feature(Snapshot(source, tree, tuple(form), found.diagnostics, found.plain, {}, True, texts))


def test_the_outline_ends_at_a_depth() -> None:
    source = Source(NAME, deep("panel a from ink"))
    outline: tuple[Symbol, ...] = symbols(Snapshot(source, parse(source)[0]))[-1:]
    depth = 0
    while outline:
        depth, outline = depth + 1, outline[0].children
    assert depth == MOST_DEEP
