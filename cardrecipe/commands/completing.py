"""What may come next on a command line: commands, options, recipes, folds, variants and sizes.

A shell that was told so by `cardrecipe completion SHELL` runs the program with `_ARGCOMPLETE` set whenever
the Tab key is pressed; the program then answers with words instead of doing its work.
"""

import argparse
import os
from collections.abc import Callable, Iterable

import argcomplete
from argcomplete.completers import SuppressCompleter
from argcomplete.shell_integration import shellcode

from cardrecipe.arguments import FORMATS, PAGES, parser
from cardrecipe.cli import DONE
from cardrecipe.compile import compile_recipe
from cardrecipe.files import CannotRead, FolderTexts, read_source
from cardrecipe.library.folds import fold_names
from cardrecipe.model.variants import NoVariant
from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse

PROGRAM = "cardrecipe"
_Completer = Callable[..., Iterable[str]]


def print_completion(shell: str) -> int:
    """Print what makes `shell` complete; returns the exit status."""
    print(shellcode([PROGRAM], use_defaults=False, shell=shell))
    return DONE


def complete() -> None:
    """Answer the shell that asks what may come next, and end the process."""
    argcomplete.autocomplete(
        _with_completers(parser()), always_complete_options=False, default_completer=SuppressCompleter()
    )


def _with_completers(typed: argparse.ArgumentParser) -> argparse.ArgumentParser:
    for action in typed._actions:
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                _with_completers(command)
        elif action.dest in _COMPLETERS and action.choices is None:
            action.completer = _COMPLETERS[action.dest]  # type: ignore[attr-defined]
    return typed


# ---- files ---------------------------------------------------------------------------------------


def recipes(prefix: str, **_: object) -> list[str]:
    """Recipes, and the folders that may hold some."""
    return _entries(prefix, lambda entry: entry.is_dir() or entry.name.endswith(".recipe"))


def _any_file(prefix: str, **_: object) -> list[str]:
    return _entries(prefix, lambda entry: True)


def _entries(prefix: str, wanted: Callable[[os.DirEntry[str]], bool]) -> list[str]:
    """What begins with `prefix`; a folder with a slash after it. Hidden entries only where a dot is typed."""
    folder, start = os.path.split(os.path.expanduser(prefix))
    typed = prefix[: len(prefix) - len(start)]
    try:
        with os.scandir(folder or ".") as found:
            entries = [each for each in found if each.name.startswith(start) and wanted(each)]
    except OSError:
        return []
    entries = [each for each in entries if each.name.isprintable()]  # a shell takes other names apart
    shown = [each for each in entries if start.startswith(".") or not each.name.startswith(".")]
    return sorted(f"{typed}{each.name}{'/' if each.is_dir() else ''}" for each in shown)


# ---- names ---------------------------------------------------------------------------------------


def _structures(**_: object) -> list[str]:
    return list(fold_names())


def _variants(parsed_args: argparse.Namespace, action: argparse.Action, **_: object) -> list[str]:
    """The variants of the recipes that are typed before; `build` has two words more for all of them."""
    found = [title for path in _files_for(action.dest, parsed_args) for title in _titles(path)]
    more = ["all", "each"] if vars(parsed_args).get("command") == "build" else []
    return list(dict.fromkeys([*found, *more]))


def _files_for(option: str, typed: argparse.Namespace) -> list[str]:
    """The files that an option of this name speaks of, as far as they are typed."""
    said: dict[str, object] = vars(typed)
    if option == "old_variant":
        named = [said.get("old")]
    elif option == "new_variant":
        named = [said.get("new") or said.get("old")]
    else:
        files = said.get("files")
        named = [said.get("file"), *(files if isinstance(files, list) else [])]
    return [each for each in named if isinstance(each, str)]


def _titles(path: str) -> list[str]:
    try:
        found, _ = parse(read_source(path))
    except CannotRead:
        return []
    return [each.node.title.text for each in found.statements if isinstance(each.node, tree.Variant)]


def _sizes(parsed_args: argparse.Namespace, **_: object) -> list[str]:
    """`plate.width` and all the others that `explain` knows of the recipe that is typed before."""
    try:
        source, texts = read_source(parsed_args.file), FolderTexts(parsed_args.file)
        solution = compile_recipe(source, texts, vars(parsed_args).get("variant")).solution
    except (CannotRead, NoVariant):
        return []
    return list(solution.names.unknowns) if solution is not None else []


def _listed(known: tuple[str, ...]) -> _Completer:
    """A list with commas: what may be added to it."""

    def completer(prefix: str, **_: object) -> list[str]:
        before = prefix[: prefix.rfind(",") + 1]
        return [before + each for each in known if each not in before.split(",")]

    return completer


_COMPLETERS: dict[str, _Completer] = {
    "files": recipes, "file": recipes, "old": recipes, "new": recipes,
    "sides": _any_file, "output": _any_file,
    "structure": _structures, "variant": _variants, "old_variant": _variants, "new_variant": _variants,
    "size": _sizes, "to": _listed(FORMATS), "page": _listed(PAGES),
}  # fmt: skip
