"""The command `build`: recipes to files. A recipe with errors writes nothing and leaves what is there."""

import argparse
import os
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from typing import NamedTuple

from cardrecipe.cli import DONE, MISTAKES, WRONG, compiled
from cardrecipe.commands.class_building import build_class, is_class_file
from cardrecipe.commands.output_names import ALL, EACH, clash, each_once, stem_of, stem_of_all
from cardrecipe.commands.progress import Progress, progress
from cardrecipe.compile import Compiled, only_of_variant
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import TOGETHER, render, render_variants
from cardrecipe.render.papers import Printing
from cardrecipe.report import as_text, say
from cardrecipe.sheets import PAGE_OF, sheet_of
from cardrecipe.writing import write_files


class _Job(NamedTuple):
    """One sheet to write: a recipe, one of its variants or none."""

    path: str
    variant: str | None
    result: Compiled


def build(options: argparse.Namespace) -> int:
    """Write the sheets that `options` asks for; see the exit status in `cardrecipe.cli`."""
    if options.output == "-" and not _makes_one_file(options):
        say("-o - takes one recipe, one page size and one format of html, pdf, md or json;"
            " json and --variant each write a file for each variant")  # fmt: skip
        return WRONG
    if "dxf" in options.to and find_spec("ezdxf") is None:
        say("--to dxf needs the package ezdxf, which is not installed; install it with"
            " pip install 'cardrecipe[dxf]'")  # fmt: skip
        return WRONG
    paths = each_once(options.files)
    refused = clash(paths, options.output, options.variant, options.to) if options.output != "-" else ""
    if refused:
        say(refused)
        return WRONG
    earlier: set[str] = set()
    if len(paths) == 1:
        return _build_file(paths[0], options, earlier)
    status = DONE
    with progress() as told:
        for number, path in enumerate(paths, 1):
            told.begins(os.path.basename(path), number, len(paths))
            status = max(status, _build_file(path, options, earlier, told))
    return status


def _build_file(
    path: str, options: argparse.Namespace, earlier: set[str], told: Progress | None = None
) -> int:
    """Build a recipe or a class; a class shows its own progress where there is none of several files."""
    if is_class_file(path):
        return build_class(path, options, earlier, told)
    if options.by_setting:
        say(f"{path}: --by-setting is for a class; a card's papers are cut one by one")
        return WRONG
    return _build(path, options, earlier)


def _build(path: str, options: argparse.Namespace, earlier: set[str]) -> int:
    """The sheets of one recipe; the one sheet of all its variants only where all of them can be made."""
    jobs = _jobs(path, options.variant)
    _report(jobs)
    if jobs[0].result.is_shelf:
        say(f"{path} is a shelf of papers without a card; nothing is written for it")
        return WRONG if len(options.files) == 1 else DONE
    made = [job for job in jobs if job.result.folded is not None]
    if options.variant == ALL and len(made) == len(jobs):
        _build_together(jobs, options, earlier)
    elif options.variant != ALL:
        for job in made:
            _put(_rendered(job, options, options.to), _stem(job, options.output), options, earlier)
    return DONE if len(made) == len(jobs) else MISTAKES


def _build_together(jobs: Sequence[_Job], options: argparse.Namespace, earlier: set[str]) -> None:
    """The one sheet; what programs read is written for each card, since it speaks of one card."""
    from cardrecipe.plan.variant_sheet import variant_sheet

    first = jobs[0]
    together = [name for name in options.to if name in TOGETHER]
    if together:
        plain, *others = (_sheet(job, options) for job in jobs)
        if not others:
            say(f"{first.path} has no variants; the sheet is that of its one card")
        files = render_variants(variant_sheet(plain, others), together, _printings(plain, options))
        _put(files, stem_of_all(first.path, options.output), options, earlier)
    alone = [name for name in options.to if name not in TOGETHER]
    for job in jobs if alone else ():
        _put(_rendered(job, options, alone), _stem(job, options.output), options, earlier)


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
    pages = options.page or (PAGE_OF[sheet.folded.card.unit],)
    return [Printing(page, options.grey, options.large_print) for page in pages]


def _put(files: dict[str, bytes], stem: str, options: argparse.Namespace, earlier: set[str]) -> None:
    """Files to where they are asked for; `earlier` are those of other sheets."""
    if options.output == "-":
        sys.stdout.buffer.write(next(iter(files.values())))
    else:
        write_files(files, stem, earlier)


def _makes_one_file(options: argparse.Namespace) -> bool:
    one_page = options.to != ("pdf",) or len(options.page or ()) <= 1
    one_format = len(options.to) == 1 and options.to[0] not in ("svg", "dxf")
    one_sheet = options.variant != EACH and (options.variant != ALL or options.to[0] in TOGETHER)
    return one_format and len(options.files) == 1 and one_page and one_sheet


def _jobs(path: str, variant: str | None) -> list[_Job]:
    if variant not in (ALL, EACH):
        return [_Job(path, variant, compiled(path, variant))]
    plain = compiled(path)
    return [_Job(path, None, plain),
            *(_Job(path, title, compiled(path, title)) for title in plain.variants)]  # fmt: skip


def _stem(job: _Job, folder: str | None) -> str:
    return stem_of(job.path, folder, job.variant, job.result.variants)
