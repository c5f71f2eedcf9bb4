"""The command line: arguments, files, exit codes. Everything else is done elsewhere.

Exit status: 0 done, 1 the recipe has errors, 2 the command is wrong or a file cannot be read or
written.
"""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from cardrecipe.arguments import parser
from cardrecipe.compile import Compiled, compile_recipe, only_of_variant
from cardrecipe.files import CannotRead, FolderTexts, read_source
from cardrecipe.model.variants import NoVariant
from cardrecipe.report import as_json, as_text
from cardrecipe.syntax.diagnostics import has_errors

if TYPE_CHECKING:
    from cardrecipe.class_compile import CompiledClass

DONE, MISTAKES, WRONG = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit status."""
    typed = sys.argv[1:] if arguments is None else arguments
    options = parser(typed[0] if typed else None).parse_args(typed)
    try:
        return _COMMANDS[options.command](options)
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


def _with_variants(path: str) -> Sequence["Compiled | CompiledClass"]:
    plain = compiled(path)
    if plain.is_class:
        from cardrecipe.class_compile import compile_class  # most files are recipes

        return [compile_class(read_source(path), FolderTexts(path))]
    return [plain, *(only_of_variant(compiled(path, title), title, plain) for title in plain.variants)]


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


def _format(options: argparse.Namespace) -> int:
    from cardrecipe.formatting import format_files

    return format_files(options.files, options.check)


def _diff(options: argparse.Namespace) -> int:
    from cardrecipe.comparing import diff

    return diff(options)


def _facts(options: argparse.Namespace) -> int:
    from cardrecipe.version_control import facts_of_file

    return facts_of_file(options.file)


def _git_diff(options: argparse.Namespace) -> int:
    from cardrecipe.version_control import git_diff

    return git_diff(options.sides)


def _language_server(options: argparse.Namespace) -> int:
    from cardrecipe.editor.command import start

    return start()


def _completion(options: argparse.Namespace) -> int:
    from cardrecipe.completing import print_completion

    return print_completion(options.shell)


_COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "build": _build, "check": _check, "explain": _explain, "format": _format, "diff": _diff,
    "facts": _facts, "git-diff": _git_diff, "new": _new, "structures": _structures, "watch": _watch,
    "language-server": _language_server, "completion": _completion,
}  # fmt: skip
