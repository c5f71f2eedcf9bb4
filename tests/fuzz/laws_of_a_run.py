"""What must hold of every run, whatever the text says; a law that is broken is a sentence, not an exception.

`after_parsing` looks at the parser, the printers of diagnostics and the formatter, `after_building` at all
that `check` and `build` do in memory. A text that no maker would write is still owed an answer.
"""

import json
import sys
import traceback
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple

import cardrecipe
from cardrecipe.checking import checked
from cardrecipe.class_compile import CompiledClass
from cardrecipe.cli import DONE, MISTAKES
from cardrecipe.commands.formatting import says_the_same
from cardrecipe.compile import Compiled
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.render.class_pack.pages import render_class
from cardrecipe.render.pages import render
from cardrecipe.report import as_json, as_text, visible
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.diagnostics import Diagnostic, has_errors
from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.recipes import NAME, Files, Texts

PACKAGE = cardrecipe.__path__[0]
# Of so many texts one is looked at in every way: drawn, or formatted. That takes most of a run's time; which
# text it is hangs on the text alone.
WHOLE_EVERY = 8
Sources = Mapping[str, Source]


class Outcome(NamedTuple):
    """What came of a text: the exit status of the command, how far it came, and the laws it broke."""

    status: int
    reached: str  # "parsed" | "checked" | "planned" | "drawn"
    broken: tuple[str, ...]


Run = Callable[[str, Files], Outcome]


def guarded(run: Run, text: str, files: Files) -> Outcome:
    """As `run`, where an exception is a law broken: it is named by where in the package it came from."""
    try:
        return run(text, files)
    except (Exception, RecursionError, MemoryError) as problem:
        return Outcome(-1, "stopped", (_crash(problem),))


def after_parsing(text: str, files: Files) -> Outcome:
    """The parser alone, with the printers and the formatter."""
    source = Source(NAME, text)
    mistakes = parse(source)[1]
    broken = [*_misplaced(mistakes, {NAME: source})]
    if _is_whole(text):
        broken += [*_misprinted(mistakes, {NAME: source}), *_broken_by_format(source, mistakes)]
    return Outcome(_status(mistakes), "parsed", tuple(broken))


def after_building(text: str, files: Files) -> Outcome:
    """What `check` says and, where that is no error, the sheet: planned, and for some texts drawn."""
    source, texts = Source(NAME, text), Texts(files)
    found = checked(*parse(source), source, texts)
    broken = [*_misplaced(found.diagnostics, found.sources), *_misprinted(found.diagnostics, found.sources)]
    status = _status(found.diagnostics)
    if found.pack is not None:
        return _after_class(text, found.pack, status, broken)
    for title, one in {"": found.plain, **found.variants}.items():
        if (one.folded is None) != has_errors(one.diagnostics):
            broken.append(
                f"variant {title!r} has {'no ' * (one.folded is None)}card, and its diagnostics disagree"
            )
        if one.folded is None and status != MISTAKES:
            broken.append(f"variant {title!r} cannot be built, and `check` finds no error")
    if status == MISTAKES or broken:
        return Outcome(status, "checked", tuple(broken))
    reached = "planned"
    for one in (found.plain, *found.variants.values()):
        reached = _build(one, _is_whole(text))
    return Outcome(status, reached, tuple(broken))


def _after_class(text: str, made: CompiledClass, status: int, broken: list[str]) -> Outcome:
    if (made.cards is None) != has_errors(made.diagnostics):
        broken.append("the class has cards or none, and its diagnostics disagree")
    if made.cards is None:
        return Outcome(status, "checked", tuple(broken))
    sheet = plan_class(made.cards)
    formats = ("html", "md", "json") if _is_whole(text) else ("md", "json")
    _read_back(render_class(sheet, formats, diagnostics=made.diagnostics))
    return Outcome(status, "drawn" if "html" in formats else "planned", tuple(broken))


def _build(found: Compiled, is_drawn: bool) -> str:
    formats = ("html", "md", "json", "svg", "dxf") if is_drawn else ("md", "json")
    _read_back(render(sheet_of(found), formats, diagnostics=found.diagnostics))
    return "drawn" if is_drawn else "planned"


def _read_back(files: Mapping[str, bytes]) -> None:
    """The files are text, and the one for programs is JSON; what is not raises here."""
    for name, content in files.items():
        words = content.decode("cp1252" if name.endswith(".dxf") else "utf-8")
        if name.endswith(".json"):
            json.loads(words)


def _is_whole(text: str) -> bool:
    return zlib.crc32(text.encode("utf-8", "surrogatepass")) % WHOLE_EVERY == 0


def _status(diagnostics: Iterable[Diagnostic]) -> int:
    return MISTAKES if has_errors(list(diagnostics)) else DONE


# ---- diagnostics ---------------------------------------------------------------------------------


def _misplaced(diagnostics: Iterable[Diagnostic], sources: Sources) -> Iterator[str]:
    """Places outside their file, words that are missing."""
    for each in diagnostics:
        for span in (each.span, *(related.span for related in each.related)):
            if span.file not in sources:
                yield f"{each.code} points into {span.file}, whose text nobody has"
            elif not 0 <= span.start <= span.end <= len(sources[span.file].text):
                yield f"{each.code} points outside its file"
        if not each.message or each.severity not in ("error", "warning"):
            yield f"{each.code} has no message, or is neither error nor warning"


def _misprinted(diagnostics: Iterable[Diagnostic], sources: Sources) -> Iterator[str]:
    """Printers that do not print, or print what nobody may."""
    listed = list(diagnostics)
    rows = json.loads(as_json(listed, sources))
    if len(rows) != len(listed) or any(row["line"] < 1 or row["column"] < 1 for row in rows):
        yield "the JSON of the diagnostics has another number of them, or a place before the first"
    words = as_text(listed, sources)
    if bool(words) != bool(listed) or visible(words.replace("\n", "")) != words.replace("\n", ""):
        yield "the diagnostics in print are missing, or hold what a terminal would obey"


# ---- the formatter -------------------------------------------------------------------------------


def _broken_by_format(source: Source, mistakes: list[Diagnostic]) -> Iterator[str]:
    """The canonical text is that of itself, and says the same; a text with mistakes `format` leaves alone."""
    if mistakes:
        return
    once = formatted(source)
    if formatted(Source(source.name, once)) != once:
        yield "formatting the formatted text changes it"
    if not says_the_same(source, once):
        yield "a text without mistakes cannot be formatted"


# ---- exceptions ----------------------------------------------------------------------------------


def _crash(problem: BaseException) -> str:
    """`ZeroDivisionError in plan/cuts.py, line 12 (of): …`: the last place in the package."""
    frames = [
        each for each in traceback.extract_tb(problem.__traceback__) if each.filename.startswith(PACKAGE)
    ]
    if not frames:
        frames = traceback.extract_tb(problem.__traceback__)[-1:]
    last = frames[-1]
    place = last.filename.removeprefix(PACKAGE).lstrip("/\\")
    return f"{type(problem).__name__} in {place}, line {last.lineno} ({last.name}): {str(problem)[:120]}"


def most_memory_mb() -> float:
    """The most memory that this process has had, in MB; 0 where the system does not tell."""
    try:
        import resource
    except ImportError:  # Windows
        return 0.0
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return used / (1024 * 1024 if sys.platform == "darwin" else 1024)
