"""The command `diff`: two recipes, or two variants of one, to what changed for the maker."""

import argparse
import os
import sys
from collections.abc import Callable
from typing import NamedTuple

from cardrecipe.cli import DONE, MISTAKES, WRONG
from cardrecipe.compare.changes import Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.compare.of_pages import with_pages
from cardrecipe.compare.version import Version
from cardrecipe.compile import Compiled, compile_tree
from cardrecipe.files import CannotRead, FolderTexts, read_source
from cardrecipe.fold.card import glued
from cardrecipe.model.texts import Texts
from cardrecipe.model.uses import used_by
from cardrecipe.model.variants import NoVariant, with_variant
from cardrecipe.plan.card import plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.diff_text import render_diff_text
from cardrecipe.report import as_text, say, show, visible
from cardrecipe.sheets import PAGE_OF, sheet_of
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Broken, ClassHead, Drop, PieceHeader, Recipe, Tree, Variant
from cardrecipe.writing import write_whole


class Read(NamedTuple):
    """A recipe's file that was read: its tree, the mistakes of its form, and where its files are found."""

    file: str
    source: Source
    tree: Tree
    mistakes: list[Diagnostic]
    texts: Texts

    @property
    def is_other(self) -> str:
        """What it is where it is no card: "a class", or "a shelf" of papers that recipes use; else ""."""
        nodes = [type(each.node) for each in self.tree.statements]
        if ClassHead in nodes:
            return "a class"
        if not nodes or not {Recipe, PieceHeader, Broken}.isdisjoint(nodes):
            return ""  # or a card with mistakes, which are told
        return "a shelf of papers without a card"


class Made(NamedTuple):
    """A card of a file that was read; `version` is None where an error stands in the way."""

    version: Version | None
    compiled: Compiled


def diff(options: argparse.Namespace) -> int:
    """Write what changed from OLD to NEW; see the exit status in `cardrecipe.cli`."""
    if options.new is None and options.old_variant == options.new_variant:
        hint = "name a second recipe, or a variant of this one with --new-variant NAME"
        say(hint)
        return WRONG
    if _would_replace_a_recipe(options):
        say(f"{options.output} is a recipe; name another file for what changed")
        return WRONG
    old = read(options.old)
    new = read(options.new) if options.new is not None else old
    for side in (old, new):
        if side.is_other:
            raise CannotRead(f"{side.file} is {side.is_other}; diff compares the cards of two recipes")
    made = made_from(old, options.old_variant), made_from(new, options.new_variant)
    if made[0].version is None or made[1].version is None:
        told = dict.fromkeys(as_text(each.compiled.diagnostics, each.compiled.sources)
                             for each in made if each.version is None)  # fmt: skip
        print(*told, sep="\n", end="", file=sys.stderr)
        return MISTAKES
    comparison = compare(made[0].version, made[1].version)
    sheets = sheet_of(made[0].compiled), sheet_of(made[1].compiled)
    if options.to == "html":
        from cardrecipe.render.side_by_side import render_side_by_side

        text = render_side_by_side(*sheets, _with_pages(comparison, *sheets))
    else:
        text = _PRINTERS[options.to](_with_pages(comparison, *sheets))
    _write(text, options.output)
    return DONE


def read(path: str) -> Read:
    """The recipe at `path`."""
    return read_text(read_source(path), FolderTexts(path))


def read_text(source: Source, texts: Texts) -> Read:
    """A recipe whose text is known."""
    return Read(source.name, source, *parse(source), texts)


def made_from(side: Read, variant: str | None) -> Made:
    """The plain card of a file, or one of its variants; CannotRead where there is no such variant."""
    try:
        result = compile_tree(side.tree, side.mistakes, side.source, side.texts, variant)
    except NoVariant as problem:
        raise CannotRead(f"{side.file}: {problem}") from problem
    if result.folded is None or result.solution is None:
        return Made(None, result)
    sheet, _ = plan(glued(result.folded)[0], warnings=result.diagnostics)
    return Made(_version(side, sheet, result, variant), result)


def _version(side: Read, sheet: Sheet, result: Compiled, variant: str | None) -> Version:
    """The sheet in the recipe's own unit with the statements that made it."""
    assert result.solution is not None
    recipe = side.tree
    variants = {line.node.title.text: line for line in recipe.statements if isinstance(line.node, Variant)}
    dropped = (
        [line for line in variants[variant].block if isinstance(line.node, Drop)]
        if variant is not None
        else []
    )
    used = used_by(recipe, side.texts).statements
    statements = (*used, *with_variant(recipe, variant)[0].statements, *dropped)
    return Version(side.file, sheet, result.solution, result.sources, statements, variants)


# ---- writing -------------------------------------------------------------------------------------


def _with_pages(comparison: Comparison, old: Sheet, new: Sheet) -> Comparison:
    """The comparison with the printed pages that hold no more, each set as `build` sets it."""
    from cardrecipe.render.pages import pictures_of
    from cardrecipe.render.papers import Printing
    from cardrecipe.render.printed.page_contents import page_contents

    before, after = (
        page_contents(sheet, pictures_of(sheet), Printing(PAGE_OF[sheet.folded.card.unit]))
        for sheet in (old, new)
    )
    return with_pages(comparison, before, after)


def as_plain_text(comparison: Comparison) -> str:
    """The comparison for a terminal: no text of a recipe can rewrite it."""
    return "".join(f"{visible(line)}\n" for line in render_diff_text(comparison)[:-1].split("\n"))


def _markdown(comparison: Comparison) -> str:
    from cardrecipe.render.diff_markdown import render_diff_markdown

    return render_diff_markdown(comparison)


def _json(comparison: Comparison) -> str:
    from cardrecipe.render.diff_json import render_diff_json

    return render_diff_json(comparison)


_PRINTERS: dict[str, Callable[[Comparison], str]] = {"text": as_plain_text, "md": _markdown, "json": _json}


def _would_replace_a_recipe(options: argparse.Namespace) -> bool:
    """True where -o names one of the two files, or what looks like a third."""
    if options.output is None or options.output == "-":
        return False
    inputs = {os.path.realpath(each) for each in (options.old, options.new) if each is not None}
    place = os.path.realpath(options.output)
    return place in inputs or place.endswith(".recipe") or options.output.endswith(".recipe")


def _write(text: str, output: str | None) -> None:
    if output is not None and output != "-":
        write_whole(output, text.encode())
        show(output)
        return
    sys.stdout.buffer.write(text.encode())
