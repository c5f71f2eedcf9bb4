"""What may be typed after `cardrecipe`: the commands and their options; `cardrecipe.cli` runs them."""

import argparse
import os
import re
import sys
from collections.abc import Callable
from fractions import Fraction
from typing import Any, NoReturn

from cardrecipe.model.counts import MAX_COPIES
from cardrecipe.report import visible

FORMATS = ("html", "pdf", "md", "json", "svg", "dxf")
PAGES = ("letter", "a4")
DIFF_FORMATS = ("text", "md", "json", "html")


def parser(wanted: str | None = None) -> argparse.ArgumentParser:
    """The parser of the command line; `command` of its result is the name of the command.

    Where `wanted` is a command's name only that one is made ready, which takes a third of the time.
    """
    typed = _Parser(
        prog="cardrecipe", description="A recipe for a folded card in, a sheet to make it from out.",
        formatter_class=_Help,
    )  # fmt: skip
    commands = typed.add_subparsers(required=True, metavar="COMMAND")
    for name, (help_text, add_arguments) in _COMMANDS.items():
        if wanted not in _COMMANDS or name == wanted:
            command = commands.add_parser(name, help=help_text, formatter_class=_Help)
            add_arguments(command)
            command.set_defaults(command=name)
    return typed


class _Parser(argparse.ArgumentParser):
    """Words that it does not know are told so that they cannot rewrite a terminal."""

    def error(self, message: str) -> NoReturn:
        super().error(visible(message))


class _Help(argparse.HelpFormatter):
    """As wide as the terminal. It is made for every option, help or not: its base would load a module that a
    `check` does without."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    written = os.environ.get("COLUMNS", "")
    if written.isdecimal() and int(written):
        return int(written)
    try:
        return os.get_terminal_size(sys.__stdout__.fileno()).columns or 80 if sys.__stdout__ else 80
    except (OSError, ValueError):  # no terminal
        return 80


def _build_arguments(build: argparse.ArgumentParser) -> None:
    build.add_argument("files", nargs="+", metavar="FILE")
    build.add_argument("-o", "--output", metavar="DIR", help="folder to write to; - for standard output")
    build.add_argument("--to", metavar="FORMATS", default="html,pdf", type=_formats, action=_Gathered,
                       help=f"one or more of {','.join(FORMATS)}")  # fmt: skip
    build.add_argument("--variant", metavar="NAME",
                       help="a variant's name; all: one sheet of all; each: a sheet of each")  # fmt: skip
    build.add_argument("--units", choices=("inch", "mm"), help="the unit system that comes first")
    build.add_argument("--page", type=_pages, action=_Gathered, metavar="PAGES",
                       help="the paper to print on: letter, a4, or both with a comma")  # fmt: skip
    build.add_argument("--grey", action="store_true", help="a PDF for a printer without colour")
    build.add_argument("--large-print", action="store_true", help="a PDF in large print")
    build.add_argument("--copies", type=_copies, metavar="N", help="how many cards to make")
    build.add_argument("--stages", type=int, choices=(2, 3), metavar="N",
                       help="cut in at most 2 or 3 directions, one after the other")  # fmt: skip
    build.add_argument("--by-setting", action="store_true",
                       help="of a class: cut all papers together, each setting once")  # fmt: skip
    build.add_argument("--trimmer", type=_length, metavar="LENGTH",
                       help="the longest cut of your trimmer, as 12in or 310mm (the default)")  # fmt: skip


def _diff_arguments(diff: argparse.ArgumentParser) -> None:
    diff.add_argument("old", metavar="OLD")
    diff.add_argument("new", nargs="?", metavar="NEW", help="OLD again where it is left out")
    diff.add_argument("--old-variant", metavar="NAME", help="a variant of OLD instead of the plain card")
    diff.add_argument("--new-variant", metavar="NAME", help="a variant of NEW instead of the plain card")
    diff.add_argument("--to", choices=DIFF_FORMATS, default="text")
    diff.add_argument("-o", "--output", metavar="FILE", help="write to FILE instead of standard output")


def _watch_arguments(watch: argparse.ArgumentParser) -> None:
    watch.add_argument("file", metavar="FILE")
    watch.add_argument("--variant", metavar="NAME", help="a variant's name")
    watch.add_argument("--units", choices=("inch", "mm"), help="the unit system that comes first")
    watch.add_argument("--copies", type=_copies, metavar="N", help="how many cards to make")
    watch.add_argument("--page", choices=PAGES, help="the paper that the page is printed on")
    watch.add_argument("--port", type=_port, default=0, metavar="N",
                       help="the port on this machine; 0 (the default) for any free one")  # fmt: skip
    watch.add_argument("--open", action="store_true", help="open the browser")
    watch.add_argument("--editor-link", metavar="ADDRESS",
                       help="what opens your editor at a place, with {file}, {line} and {column} in it; "
                       "also from CARDRECIPE_EDITOR_LINK")  # fmt: skip


def _check_arguments(check: argparse.ArgumentParser) -> None:
    check.add_argument("files", nargs="+", metavar="FILE")
    check.add_argument("--format", choices=("text", "json"), default="text")


def _explain_arguments(explain: argparse.ArgumentParser) -> None:
    explain.add_argument("file", metavar="FILE")
    explain.add_argument("size", metavar="NAME.SIZE")
    explain.add_argument("--variant", metavar="NAME")


def _format_arguments(formatted: argparse.ArgumentParser) -> None:
    formatted.add_argument("files", nargs="+", metavar="FILE", help="- for standard input and output")
    formatted.add_argument("--check", action="store_true",
                           help="write nothing; exit 1 where a file would change")  # fmt: skip


def _facts_arguments(facts: argparse.ArgumentParser) -> None:
    facts.add_argument("file", metavar="FILE")


def _git_diff_arguments(git_diff: argparse.ArgumentParser) -> None:
    git_diff.add_argument("sides", nargs="+", metavar="ARGUMENT", help="what git gives a diff driver")


def _new_arguments(new: argparse.ArgumentParser) -> None:
    new.add_argument("structure", metavar="STRUCTURE")
    new.add_argument("-o", "--output", metavar="FILE", help="write to FILE, which must not exist yet")


def _completion_arguments(completion: argparse.ArgumentParser) -> None:
    completion.add_argument("shell", choices=("bash", "zsh", "fish"))


def _no_arguments(_: argparse.ArgumentParser) -> None:
    """A command that is told nothing."""


_COMMANDS: dict[str, tuple[str, Callable[[argparse.ArgumentParser], None]]] = {
    "build": ("write the sheet of a recipe", _build_arguments),
    "check": ("say what is wrong with a recipe, and write nothing", _check_arguments),
    "explain": ("show the sum behind a size", _explain_arguments),
    "format": ("write recipes in their canonical form", _format_arguments),
    "diff": ("say what changed for the maker", _diff_arguments),
    "facts": ("list a card's facts one a line, as git's textconv", _facts_arguments),
    "git-diff": ("say what changed, as git's diff driver", _git_diff_arguments),
    "new": ("write a recipe to start from", _new_arguments),
    "structures": ("list the folds that are shipped", _no_arguments),
    "watch": ("show the sheet in the browser and follow every save", _watch_arguments),
    "language-server": ("serve an editor over standard input and output", _no_arguments),
    "completion": ("print what lets a shell complete names", _completion_arguments),
}


# ---- values ---------------------------------------------------------------------------------------


class _Gathered(argparse.Action):
    """An option of a list that is given twice asks for what both lists name."""

    def __call__(
        self, parser: argparse.ArgumentParser, namespace: argparse.Namespace, values: Any,
        option_string: str | None = None,
    ) -> None:  # fmt: skip
        earlier = getattr(namespace, self.dest)
        both = values if earlier is self.default else (*earlier, *values)
        setattr(namespace, self.dest, tuple(dict.fromkeys(both)))


def _formats(text: str) -> tuple[str, ...]:
    return _some_of(text, FORMATS, "formats")


def _pages(text: str) -> tuple[str, ...]:
    return _some_of(text, PAGES, "page sizes")


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
    return _number(text, 1, MAX_COPIES)


def _port(text: str) -> int:
    return _number(text, 0, 65_535)


def _number(text: str, least: int, most: int) -> int:
    digits = text.lstrip("0")[:6]  # one digit more than any of them may have
    if not text.isascii() or not text.isdigit() or not least <= int(digits or "0") <= most:
        raise argparse.ArgumentTypeError(f"{text!r} is not a number from {least} to {most}")
    return int(digits or "0")
