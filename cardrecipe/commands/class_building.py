"""The command `build` for a class file: many cards at once to one pack of lists, plans and labels."""

import argparse
import sys
from contextlib import nullcontext
from typing import TYPE_CHECKING

from cardrecipe.cli import DONE, MISTAKES, WRONG
from cardrecipe.commands.output_names import stem_of
from cardrecipe.commands.progress import Progress, progress
from cardrecipe.files import FolderTexts, read_source
from cardrecipe.report import as_text, say
from cardrecipe.sheets import PAGE_OF
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.writing import write_files

if TYPE_CHECKING:
    from cardrecipe.class_compile import CompiledClass

_RECIPES_ONLY = {  # options by their names, and why they do not go with a class
    "variant": "a class names the variant of each card itself",
    "copies": "a class says itself how many cards are made",
    "units": "a class is cut once, in its own unit: write units inch or units mm in it",
}


def is_class_file(path: str) -> bool:
    """Tell whether the file at `path` holds a class; CannotRead where it is no text."""
    return holds_class(read_source(path))


def holds_class(source: Source) -> bool:
    """Tell whether a text is that of a class; most are not, and are not parsed for it."""
    if "class" not in source.text:
        return False
    from cardrecipe.class_compile import is_class

    return is_class(parse(source)[0])


def build_class(
    path: str, options: argparse.Namespace, earlier: set[str], told: Progress | None = None
) -> int:
    """Write the pack of a class; see the exit status in `cardrecipe.cli`. `told` shows a bar already,
    `earlier` are the files of other sheets."""
    refused = _refused(path, options)
    if refused:
        say(refused)
        return WRONG
    from cardrecipe.class_compile import compile_class

    found = compile_class(read_source(path), FolderTexts(path))
    print(as_text(found.diagnostics, found.sources), end="", file=sys.stderr)
    if found.cards is None:
        return MISTAKES
    with progress() if told is None else nullcontext(Progress()) as parts:
        files = _files(found, options, parts)
    if options.output == "-":
        sys.stdout.buffer.write(next(iter(files.values())))
    else:
        write_files(files, stem_of(path, options.output), earlier)
    return DONE


def only_for_recipes(path: str, options: object) -> str:
    """Which of the options does not go with a class, and why; "" where all do."""
    for name, reason in _RECIPES_ONLY.items():
        if getattr(options, name) is not None:
            return f"{path}: --{name} is for a recipe; {reason}"
    return ""


def _refused(path: str, options: argparse.Namespace) -> str:
    if refused := only_for_recipes(path, options):
        return refused
    if "dxf" in options.to:
        return f"{path}: --to dxf is for a recipe; build the recipes that this class makes"
    return ""


def _files(found: "CompiledClass", options: argparse.Namespace, told: Progress) -> dict[str, bytes]:
    """Every file that is asked for; planning takes as many parts as it says, and each file is one more."""
    from cardrecipe.plan.card import CuttingOptions
    from cardrecipe.plan.classes.plan import plan_class
    from cardrecipe.render.class_pack.pages import parts_of, render_class
    from cardrecipe.render.papers import Printing

    assert found.cards is not None
    pages = options.page or (PAGE_OF[found.cards.unit],)
    printings = [Printing(page, options.grey, options.large_print) for page in pages]
    still = parts_of(options.to, printings)
    planned = 0

    def planning(number: int, of: int, what: str) -> None:
        nonlocal planned
        planned = of
        told.begins(what, number, of + len(still))

    cutting = CuttingOptions(options.stages, options.trimmer, options.by_setting)
    sheet = plan_class(found.cards, cutting, planning)

    def rendering(what: str) -> None:
        told.begins(what, planned + still.index(what) + 1, planned + len(still))

    return render_class(sheet, options.to, printings, found.diagnostics, rendering)
