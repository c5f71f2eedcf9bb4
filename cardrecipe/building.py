"""The command `build`: recipes to files. A recipe with errors writes nothing and leaves what is there."""

import argparse
import os
import sys
from collections.abc import Iterator, Sequence
from importlib.util import find_spec
from itertools import count
from typing import NamedTuple

from cardrecipe.class_building import build_class, is_class_file
from cardrecipe.cli import DONE, MISTAKES, WRONG, compiled
from cardrecipe.compile import Compiled, Folding, only_of_variant, solve_and_fold
from cardrecipe.files import CannotRead, write_files
from cardrecipe.fold.card import glued
from cardrecipe.plan.card import CuttingOptions, plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.progress import Progress, progress
from cardrecipe.render.pages import TOGETHER, render, render_variants
from cardrecipe.render.papers import Printing
from cardrecipe.report import as_text
from cardrecipe.solve.other_unit import OTHER, largest_difference_mm, nudges_for
from cardrecipe.sums import with_sums

_PAGE_OF = {"inch": "letter", "mm": "a4"}
ALL, EACH = "all", "each"  # of --variant: one sheet of all cards, and a sheet for each
_OF_ALL = "variants"  # NAME-variants: the one sheet never takes the place of the plain card's


class _Job(NamedTuple):
    """One sheet to write: a recipe, one of its variants or none."""

    path: str
    variant: str | None
    result: Compiled


def build(options: argparse.Namespace) -> int:
    """Write the sheets that `options` asks for; see the exit status in `cardrecipe.cli`."""
    if options.output == "-" and not _makes_one_file(options):
        print("cardrecipe: -o - takes one recipe, one page size and one format of html, pdf, md or json;"
              " json and --variant each write a file for each variant", file=sys.stderr)  # fmt: skip
        return WRONG
    if "dxf" in options.to and find_spec("ezdxf") is None:
        print("cardrecipe: --to dxf needs the package ezdxf, which is not installed; install it with"
              " pip install 'cardrecipe[dxf]'", file=sys.stderr)  # fmt: skip
        return WRONG
    if len(options.files) == 1:
        return _build_file(options.files[0], options)
    status = DONE
    with progress() as told:
        for number, path in enumerate(options.files, 1):
            told.begins(os.path.basename(path), number, len(options.files))
            status = max(status, _build_file(path, options, told))
    return status


def _build_file(path: str, options: argparse.Namespace, told: Progress | None = None) -> int:
    """Build a recipe or a class; a class shows its own progress where there is none of several files."""
    return build_class(path, options, told) if is_class_file(path) else _build(path, options)


def _build(path: str, options: argparse.Namespace) -> int:
    """The sheets of one recipe; the one sheet of all its variants only where all of them can be made."""
    jobs = _jobs(path, options.variant)
    _report(jobs)
    made = [job for job in jobs if job.result.folded is not None]
    if options.variant == ALL and len(made) == len(jobs):
        _build_together(jobs, options)
    elif options.variant != ALL:
        for job in made:
            _put(_rendered(job, options, options.to), _stem(job, options.output), options)
    return DONE if len(made) == len(jobs) else MISTAKES


def _build_together(jobs: Sequence[_Job], options: argparse.Namespace) -> None:
    """The one sheet; what programs read is written for each card, since it speaks of one card."""
    from cardrecipe.plan.variant_sheet import variant_sheet

    first = jobs[0]
    together = [name for name in options.to if name in TOGETHER]
    if together:
        plain, *others = (_sheet(job, options) for job in jobs)
        if not others:
            said = f"{first.path} has no variants; the sheet is that of its one card"
            print(f"cardrecipe: {said}", file=sys.stderr)
        files = render_variants(variant_sheet(plain, others), together, _printings(plain, options))
        _put(files, f"{_stem(first, options.output)}-{_OF_ALL}", options)
    alone = [name for name in options.to if name not in TOGETHER]
    for job in jobs if alone else ():
        _put(_rendered(job, options, alone), _stem(job, options.output), options)


def _report(jobs: Sequence[_Job]) -> None:
    """All that is to be said, each mistake of the plain card once."""
    for job in jobs:
        found = job.result
        if job.variant is not None and len(jobs) > 1:
            found = only_of_variant(found, job.variant, jobs[0].result)
        print(as_text(found.diagnostics, found.sources), end="", file=sys.stderr)


def _rendered(job: _Job, options: argparse.Namespace, formats: Sequence[str]) -> dict[str, bytes]:
    sheet = _sheet(job, options)
    return render(sheet, formats, _printings(sheet, options), job.result.diagnostics)


def _sheet(job: _Job, options: argparse.Namespace) -> Sheet:
    cutting = CuttingOptions(options.stages, options.trimmer)
    return sheet_of(job.result, options.units, options.copies, cutting)


def _printings(sheet: Sheet, options: argparse.Namespace) -> list[Printing]:
    pages = options.page or (_PAGE_OF[sheet.folded.card.unit],)
    return [Printing(page, options.grey, options.large_print) for page in pages]


def _put(files: dict[str, bytes], stem: str, options: argparse.Namespace) -> None:
    """Files to where they are asked for."""
    if options.output == "-":
        sys.stdout.buffer.write(next(iter(files.values())))
    else:
        write_files(files, stem)


def _makes_one_file(options: argparse.Namespace) -> bool:
    one_page = options.to != ("pdf",) or len(options.page or ()) <= 1
    one_format = len(options.to) == 1 and options.to[0] not in ("svg", "dxf")
    one_sheet = options.variant != EACH and (options.variant != ALL or options.to[0] in TOGETHER)
    return one_format and len(options.files) == 1 and one_page and one_sheet


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
        named = f'variant "{result.folded.card.variant}"' if result.folded.card.variant else "this card"
        raise CannotRead(f"{named} cannot be made in {units}: {first.diagnostics[0].message}")
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
    if variant not in (ALL, EACH):
        return [_Job(path, variant, compiled(path, variant))]
    plain = compiled(path)
    return [_Job(path, None, plain),
            *(_Job(path, title, compiled(path, title)) for title in plain.variants)]  # fmt: skip


def _stem(job: _Job, folder: str | None) -> str:
    """The path of a sheet without its ending: NAME, or NAME-variant beside it."""
    name = os.path.splitext(os.path.basename(job.path))[0]
    if job.variant is not None:
        name += "-" + _file_names(job.result.variants)[job.variant]
    return os.path.join(folder if folder is not None else os.path.dirname(job.path), name)


def _file_names(titles: Sequence[str]) -> dict[str, str]:
    """A part of a file's name for each variant; no two are the same, and none is that of the one sheet."""
    found: dict[str, str] = {}
    for title in titles:
        words = "".join(char if char.isalnum() else " " for char in title.lower()).split()
        name = "-".join(words) or "variant"
        taken = {_OF_ALL, *found.values()}
        found[title] = next(each for each in _numbered(name) if each not in taken)
    return found


def _numbered(name: str) -> Iterator[str]:
    yield name
    yield from (f"{name}-{number}" for number in count(2))
