"""The command `build`: recipes to files. A recipe with errors writes nothing and leaves what is there."""

import argparse
import os
import sys
from importlib.util import find_spec
from typing import NamedTuple

from cardrecipe.cli import DONE, MISTAKES, WRONG, compiled
from cardrecipe.compile import Compiled, Folding, solve_and_fold
from cardrecipe.files import CannotRead, write_whole
from cardrecipe.fold.card import glued
from cardrecipe.plan.card import CuttingOptions, plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
from cardrecipe.report import as_text
from cardrecipe.solve.other_unit import OTHER, largest_difference_mm, nudges_for
from cardrecipe.sums import with_sums

_PAGE_OF = {"inch": "letter", "mm": "a4"}


class _Job(NamedTuple):
    """One sheet to write: a recipe, one of its variants or none."""

    path: str
    variant: str | None
    result: Compiled


def build(options: argparse.Namespace) -> int:
    """Write the sheets that `options` asks for; see the exit status in `cardrecipe.cli`."""
    to_output = options.output == "-"
    if to_output and not _makes_one_file(options):
        print("cardrecipe: -o - takes one recipe, one page size and one format of html, pdf, md or json",
              file=sys.stderr)  # fmt: skip
        return WRONG
    if "dxf" in options.to and find_spec("ezdxf") is None:
        print("cardrecipe: --to dxf needs the package ezdxf, which is not installed; install it with"
              " pip install 'cardrecipe[dxf]'", file=sys.stderr)  # fmt: skip
        return WRONG
    cutting = CuttingOptions(options.stages, options.trimmer)
    status = DONE
    for path in options.files:
        for job in _jobs(path, options.variant):
            print(as_text(job.result.diagnostics, job.result.sources), end="", file=sys.stderr)
            if job.result.folded is None:
                status = MISTAKES
                continue
            sheet = sheet_of(job.result, options.units, options.copies, cutting)
            pages = options.page or (_PAGE_OF[sheet.folded.card.unit],)
            printings = [Printing(page, options.grey, options.large_print) for page in pages]
            files = render(sheet, options.to, printings, job.result.diagnostics)
            if to_output:
                sys.stdout.buffer.write(next(iter(files.values())))
            else:
                _write(files, _stem(job, options.output))
    return status


def _makes_one_file(options: argparse.Namespace) -> bool:
    one_page = options.to != ("pdf",) or len(options.page or ()) <= 1
    one_format = len(options.to) == 1 and options.to[0] not in ("svg", "dxf")
    return one_format and len(options.files) == 1 and one_page


def sheet_of(
    result: Compiled,
    units: str | None = None,
    copies: int | None = None,
    cutting: CuttingOptions | None = None,
) -> Sheet:
    """The sheet of a compiled recipe in both unit systems, `units` first (default: the recipe's own)."""
    first, second = both_versions(result, units, copies)
    assert first.folded is not None
    twin = glued(second.folded)[0] if second.folded is not None else None
    sheet, _ = plan(glued(first.folded)[0], copies, twin, first.diagnostics, cutting)
    return with_sums(sheet, first.solution, second.solution, result.sources)


def both_versions(result: Compiled, units: str | None, copies: int | None) -> tuple[Folding, Folding]:
    """A compiled recipe folded in both unit systems, `units` first; the second may be impossible."""
    assert result.folded is not None and result.solution is not None
    own = Folding(result.folded, result.solution, result.diagnostics)
    other = _in_other_unit(own)
    first, second = (other, own) if units == other.solution.unit else (own, other)
    if first.folded is None:
        raise CannotRead(f"this card cannot be made in {units}: {first.diagnostics[0].message}")
    card = first.folded.card
    if second.folded is not None:
        card = card._replace(metric_differs=largest_difference_mm(card, second.folded.card))
    if copies is not None:
        card = card._replace(makes=copies)
    return first._replace(folded=first.folded._replace(card=card)), second


def _in_other_unit(own: Folding) -> Folding:
    card, unit = own.solution.card, OTHER[own.solution.unit]
    return solve_and_fold(card, unit, nudges_for(card, own.solution, unit))


def _jobs(path: str, variant: str | None) -> list[_Job]:
    if variant != "all":
        return [_Job(path, variant, compiled(path, variant))]
    plain = compiled(path)
    return [_Job(path, None, plain),
            *(_Job(path, title, compiled(path, title)) for title in plain.variants)]  # fmt: skip


def _stem(job: _Job, folder: str | None) -> str:
    """The path of a sheet without its ending: NAME, or NAME-variant beside it."""
    name = os.path.splitext(os.path.basename(job.path))[0]
    if job.variant is not None:
        name += "-" + _file_name(job.variant)
    return os.path.join(folder if folder is not None else os.path.dirname(job.path), name)


def _file_name(title: str) -> str:
    words = "".join(char if char.isalnum() else " " for char in title.lower()).split()
    return "-".join(words) or "variant"


def _write(files: dict[str, bytes], stem: str) -> None:
    folder = os.path.dirname(stem)
    if folder:
        os.makedirs(folder, exist_ok=True)
    for ending, content in files.items():
        write_whole(stem + ending, content)
        print(stem + ending)
