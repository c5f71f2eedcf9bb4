"""`use`: papers, supplies, structures and lets from other files, each read once."""

from typing import NamedTuple

from cardrecipe.model.texts import Texts, name_beside
from cardrecipe.model.used_names import not_given, problem_of_name
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source

MAX_USED_FILES = 50  # a maker's shelf of papers is one or two files
MAX_USE_DEPTH = 16  # a file that uses a file; deeper than this is a mistake

_SHARED = (tree.PaperLine, tree.SupplyLine, tree.Let, tree.Structure, tree.Use)


class Used(NamedTuple):
    """What the used files give: their statements that may be shared, and their sources by name."""

    statements: tuple[tree.Statement, ...]
    sources: dict[str, Source]
    diagnostics: list[Diagnostic]
    lost: list[tree.Use]  # what could not be read


def used_by(recipe: tree.Tree, texts: Texts) -> Used:
    """Everything that `recipe` uses, files in the order of their first use, each once."""
    used = Used((), {}, [], [])
    found: list[tree.Statement] = []
    _gather(recipe, texts, (recipe.file,), found, used)
    return used._replace(statements=tuple(found))


def borrowed_names(value: object) -> frozenset[str]:
    """Every name in statements that a used file could give: of papers, supplies, structures and lets."""
    names, waiting = set[str](), [value]  # blocks may be as deep as the file is long
    while waiting:
        each = waiting.pop()
        if isinstance(each, tree.Reference):
            names.update(each.parts if len(each.parts) == 1 else ())
        elif isinstance(each, tree.Word):
            names.add(each.text)
        elif isinstance(each, tuple):
            waiting += each
        elif isinstance(each, tree.PieceHeader):
            waiting.append(each.paper)
        elif isinstance(each, Record):
            waiting += (getattr(each, name) for name in each._fields)
    return frozenset(names)


def _gather(
    file: tree.Tree, texts: Texts, above: tuple[str, ...], found: list[tree.Statement], used: Used
) -> None:
    for statement in file.statements:
        if isinstance(statement.node, tree.Use):
            other = _read(statement.node, file.file, texts, above, used)
            if other is not None:
                _gather(other, texts, (*above, other.file), found, used)
                given = (*_SHARED[:-1], tree.Broken)
                found += [each for each in other.statements if isinstance(each.node, given)]


def _read(
    use: tree.Use, file: str, texts: Texts, above: tuple[str, ...], used: Used
) -> tree.Tree | None:
    name, problem = name_beside(file, use.path.text), problem_of_name(use.path, "recipe")
    span = use.path.span
    if problem is None and name in above:
        problem = error("use-cycle", span, f'"{use.path.text}" uses itself in the end',
                        "take the `use` out of one of the files")  # fmt: skip
    elif problem is None and len(above) > MAX_USE_DEPTH:
        problem = error("use-too-deep", span, f"files use each other more than {MAX_USE_DEPTH} deep",
                        "join some of them")  # fmt: skip
    elif problem is None and _asked(used) >= MAX_USED_FILES:
        problem = error("use-too-many", span, f"more than {MAX_USED_FILES} files are used",
                        "join some of them")  # fmt: skip
    if problem or name is None:
        used.diagnostics.extend([problem] if problem else [])
        used.lost.extend([] if name in above else [use])
        return None
    if name in used.sources:
        return None
    text = texts.read(name)
    if not isinstance(text, str):
        used.lost.append(use)
        used.diagnostics.append(not_given(use.path, text, "recipe"))
        return None
    used.sources[name] = Source(name, text)
    other, diagnostics = parse(used.sources[name])
    used.diagnostics.extend(diagnostics)
    used.diagnostics.extend(_unshared(other))
    return other


def _asked(used: Used) -> int:
    """How often something was looked for; a name that is not there, or cannot be read, counts each time."""
    return len(used.sources) + len(used.lost)


def _unshared(other: tree.Tree) -> list[Diagnostic]:
    """A whole recipe may be used for its papers; a stray piece in a file without `recipe` is a mistake."""
    if any(isinstance(each.node, tree.Recipe) for each in other.statements):
        return []
    return [error("use-piece", each.span, f"a used file gives no `{each.word}`",
                  "it gives papers, supplies, structures and lets")
            for each in other.statements
            if not isinstance(each.node, (*_SHARED, tree.Broken))]  # fmt: skip
