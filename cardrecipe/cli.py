"""The command line: arguments, files, exit codes. Everything else is done elsewhere.

Exit status: 0 done, 1 the recipe has errors, 2 the command is wrong or a file cannot be read or
written, 130 stopped with Ctrl-C.
"""

import argparse
import sys
from collections.abc import Callable, Sequence

from cardrecipe.arguments import parser
from cardrecipe.checking import Checked, checked
from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import CannotRead, FolderTexts, read_source, sentence
from cardrecipe.model.variants import NoVariant
from cardrecipe.report import as_json, as_text, say
from cardrecipe.syntax.diagnostics import has_errors
from cardrecipe.syntax.parse import parse

DONE, MISTAKES, WRONG, STOPPED = 0, 1, 2, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    typed = sys.argv[1:] if arguments is None else arguments
    options = parser(typed[0] if typed else None).parse_args(typed)
    try:
        return _COMMANDS[options.command](options)
    except CannotRead as problem:
        say(str(problem))
    except OSError as problem:
        say(sentence(problem))
    except KeyboardInterrupt:
        print("\ncardrecipe: stopped" if sys.stderr.isatty() else "cardrecipe: stopped", file=sys.stderr)
        return STOPPED
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
    found = [_checked(path) for path in options.files]
    diagnostics = list(dict.fromkeys(each for one in found for each in one.diagnostics))
    sources = {name: source for one in found for name, source in one.sources.items()}
    if options.format == "json":
        print(as_json(diagnostics, sources), end="")
    else:
        print(as_text(diagnostics, sources), end="", file=sys.stderr)
    return MISTAKES if has_errors(diagnostics) else DONE


def _checked(path: str) -> Checked:
    source = read_source(path)
    return checked(*parse(source), source, FolderTexts(path))


def _build(options: argparse.Namespace) -> int:
    from cardrecipe.commands.building import build  # the pages and drawings are loaded only for this command

    return build(options)


def _explain(options: argparse.Namespace) -> int:
    from cardrecipe.commands.asking import explain_size

    return explain_size(options.file, options.size, options.variant)


def _new(options: argparse.Namespace) -> int:
    from cardrecipe.commands.asking import new_recipe

    return new_recipe(options.structure, options.output)


def _structures(options: argparse.Namespace) -> int:
    from cardrecipe.commands.asking import list_structures

    return list_structures()


def _watch(options: argparse.Namespace) -> int:
    from cardrecipe.preview.command import watch  # the server and the pages only for this command

    return watch(options)


def _format(options: argparse.Namespace) -> int:
    from cardrecipe.commands.formatting import format_files

    return format_files(options.files, options.check)


def _diff(options: argparse.Namespace) -> int:
    from cardrecipe.commands.comparing import diff

    return diff(options)


def _facts(options: argparse.Namespace) -> int:
    from cardrecipe.commands.version_control import facts_of_file

    return facts_of_file(options.file)


def _git_diff(options: argparse.Namespace) -> int:
    from cardrecipe.commands.version_control import git_diff

    return git_diff(options.sides)


def _language_server(options: argparse.Namespace) -> int:
    from cardrecipe.editor.command import start

    return start()


def _completion(options: argparse.Namespace) -> int:
    from cardrecipe.commands.completing import print_completion

    return print_completion(options.shell)


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "build": _build, "check": _check, "explain": _explain, "format": _format, "diff": _diff,
    "facts": _facts, "git-diff": _git_diff, "new": _new, "structures": _structures, "watch": _watch,
    "language-server": _language_server, "completion": _completion,
}  # fmt: skip
