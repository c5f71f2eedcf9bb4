"""The command line: arguments, files, exit codes. Everything else is done elsewhere.

Exit status: 0 done, 1 the recipe has errors, 2 the command is wrong or a file cannot be read or
written.
"""

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from fractions import Fraction

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import CannotRead, FolderTexts, read_source
from cardrecipe.model.variants import NoVariant
from cardrecipe.report import as_json, as_text
from cardrecipe.syntax.diagnostics import has_errors

DONE, MISTAKES, WRONG = 0, 1, 2
_FORMATS = ("html", "pdf", "md", "json", "svg", "dxf")
_PAGES = ("letter", "a4")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    options = _parser().parse_args(arguments)
    command: Callable[[argparse.Namespace], int] = options.command
    try:
        return command(options)
    except CannotRead as problem:
        print(f"cardrecipe: {problem}", file=sys.stderr)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as problem:
        name = f"{problem.filename}: " if problem.filename else ""
        print(f"cardrecipe: {name}{problem.strerror or problem}", file=sys.stderr)
    return WRONG


def compiled(path: str, variant: str | None = None) -> Compiled:
    """The recipe at `path`, with one of its variants; CannotRead where there is no such variant."""
    source = read_source(path)
    try:
        return compile_recipe(source, FolderTexts(path), variant)
    except NoVariant as problem:
        raise CannotRead(f"{path}: {problem}") from problem


# ---- commands ------------------------------------------------------------------------------------


def _check(options: argparse.Namespace) -> int:
    found = [each for path in options.files for each in _with_variants(path)]
    diagnostics = list(dict.fromkeys(each for one in found for each in one.diagnostics))
    sources = {name: source for one in found for name, source in one.sources.items()}
    if options.format == "json":
        print(as_json(diagnostics, sources), end="")
    else:
        print(as_text(diagnostics, sources), end="", file=sys.stderr)
    return MISTAKES if has_errors(diagnostics) else DONE


def _with_variants(path: str) -> list[Compiled]:
    plain = compiled(path)
    return [plain, *(_only_of_variant(compiled(path, title), title, plain) for title in plain.variants)]


def _only_of_variant(found: Compiled, title: str, plain: Compiled) -> Compiled:
    """What the plain card does not say already, with the name of the variant."""
    own = [each._replace(message=f'in variant "{title}": {each.message}')
           for each in found.diagnostics if each not in plain.diagnostics]  # fmt: skip
    return found._replace(diagnostics=own)


def _build(options: argparse.Namespace) -> int:
    from cardrecipe.building import build  # the pages and drawings are loaded only for this command

    return build(options)


def _explain(options: argparse.Namespace) -> int:
    from cardrecipe.asking import explain_size

    return explain_size(options.file, options.size, options.variant)


def _new(options: argparse.Namespace) -> int:
    from cardrecipe.asking import new_recipe

    return new_recipe(options.structure, options.output)


def _structures(options: argparse.Namespace) -> int:
    from cardrecipe.asking import list_structures

    return list_structures()


def _watch(options: argparse.Namespace) -> int:
    from cardrecipe.preview.command import watch  # the server and the pages only for this command

    return watch(options)


# ---- arguments -----------------------------------------------------------------------------------


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="cardrecipe", description="A recipe for a folded card in, a sheet to make it from out."
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    _build_arguments(commands.add_parser("build", help="write the sheet of a recipe"))
    check = commands.add_parser("check", help="say what is wrong with a recipe, and write nothing")
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--format", choices=("text", "json"), default="text")
    check.set_defaults(command=_check)
    explain = commands.add_parser("explain", help="show the sum behind a size")
    explain.add_argument("file", metavar="FILE")
    explain.add_argument("size", metavar="NAME.SIZE")
    explain.add_argument("--variant", metavar="NAME")
    explain.set_defaults(command=_explain)
    new = commands.add_parser("new", help="write a recipe to start from")
    new.add_argument("structure", metavar="STRUCTURE")
    new.add_argument("-o", "--output", metavar="FILE", help="write to FILE, which must not exist yet")
    new.set_defaults(command=_new)
    structures = commands.add_parser("structures", help="list the folds that are shipped")
    structures.set_defaults(command=_structures)
    _watch_arguments(commands.add_parser("watch", help="show the sheet in the browser and follow every save"))
    return parser


def _build_arguments(build: argparse.ArgumentParser) -> None:
    build.add_argument("files", nargs="+", metavar="FILE")
    build.add_argument("-o", "--output", metavar="DIR", help="folder to write to; - for standard output")
    build.add_argument("--to", metavar="FORMATS", default="html,pdf", type=_formats,
                       help=f"one or more of {','.join(_FORMATS)}")  # fmt: skip
    build.add_argument("--variant", metavar="NAME", help="a variant's name, or all")
    build.add_argument("--units", choices=("inch", "mm"), help="the unit system that comes first")
    build.add_argument("--page", type=_pages, metavar="PAGES",
                       help="the paper to print on: letter, a4, or both with a comma")  # fmt: skip
    build.add_argument("--grey", action="store_true", help="a PDF for a printer without colour")
    build.add_argument("--large-print", action="store_true", help="a PDF in large print")
    build.add_argument("--copies", type=_copies, metavar="N", help="how many cards to make")
    build.add_argument("--stages", type=int, choices=(2, 3), metavar="N",
                       help="cut in at most 2 or 3 directions, one after the other")  # fmt: skip
    build.add_argument("--trimmer", type=_length, metavar="LENGTH",
                       help="the longest cut of your trimmer, as 12in or 310mm (the default)")  # fmt: skip
    build.set_defaults(command=_build)


def _watch_arguments(watch: argparse.ArgumentParser) -> None:
    watch.add_argument("file", metavar="FILE")
    watch.add_argument("--variant", metavar="NAME", help="a variant's name")
    watch.add_argument("--units", choices=("inch", "mm"), help="the unit system that comes first")
    watch.add_argument("--copies", type=_copies, metavar="N", help="how many cards to make")
    watch.add_argument("--page", choices=_PAGES, help="the paper that the page is printed on")
    watch.add_argument("--port", type=_port, default=0, metavar="N",
                       help="the port on this machine; 0 (the default) for any free one")  # fmt: skip
    watch.add_argument("--open", action="store_true", help="open the browser")
    watch.add_argument("--editor-link", metavar="ADDRESS",
                       help="what opens your editor at a place, with {file}, {line} and {column} in it; "
                       "also from CARDRECIPE_EDITOR_LINK")  # fmt: skip
    watch.set_defaults(command=_watch)


def _formats(text: str) -> tuple[str, ...]:
    return _some_of(text, _FORMATS, "formats")


def _pages(text: str) -> tuple[str, ...]:
    return _some_of(text, _PAGES, "page sizes")


def _some_of(text: str, known: tuple[str, ...], what: str) -> tuple[str, ...]:
    """The names of a list with commas, each once."""
    wanted = tuple(dict.fromkeys(part.strip() for part in text.split(",") if part.strip()))
    if not wanted or not set(wanted) <= set(known):
        raise argparse.ArgumentTypeError(f"{text!r}: the {what} are {', '.join(known)}")
    return wanted


def _length(text: str) -> tuple[Fraction, str]:
    """A length with its unit, which may stand close to it: `12in`, `310 mm`."""
    found = re.fullmatch(r"([0-9]{1,4}(?:\.[0-9]{1,3})?) *(in|mm|cm)", text.strip(), re.ASCII)
    if found is None or not float(found[1]):
        raise argparse.ArgumentTypeError(f"{text!r} is no length with a unit; write 12in or 310mm")
    number = Fraction(found[1])
    return {"in": (number, "inch"), "mm": (number, "mm"), "cm": (number * 10, "mm")}[found[2]]


def _copies(text: str) -> int:
    return _number(text, 1, 10_000)


def _port(text: str) -> int:
    return _number(text, 0, 65_535)


def _number(text: str, least: int, most: int) -> int:
    digits = text.lstrip("0")[:6]  # one digit more than any of them may have
    if not text.isascii() or not text.isdigit() or not least <= int(digits or "0") <= most:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from {least} to {most}")
    return int(digits or "0")
