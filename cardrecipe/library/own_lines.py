"""Mistakes found inside a shipped fold, moved to the recipe's own `fold` line: that one can be edited."""

from collections.abc import Iterator
from typing import NamedTuple

from cardrecipe.library.folds import fold_names, fold_statement
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.statements import in_order

_LIBRARY = "library:"


class FoldLine(NamedTuple):
    """A `fold` line of the recipe, the shipped folds behind it, and the piece it stands in."""

    span: Span
    shipped: frozenset[str]
    piece: str


def on_own_lines(diagnostics: list[Diagnostic], recipe: tree.Tree) -> list[Diagnostic]:
    """The same mistakes; the line of the shipped fold becomes the first related place."""
    own = frozenset(each.node.name.text for each in recipe.statements
                    if isinstance(each.node, tree.Structure))  # fmt: skip
    lines = list(_fold_lines(recipe.statements, own))
    return [_moved(each, lines) for each in diagnostics]


def _moved(diagnostic: Diagnostic, lines: list[FoldLine]) -> Diagnostic:
    file = diagnostic.span.file
    name = file.removeprefix(_LIBRARY)
    behind = [line for line in lines if name in line.shipped] if file.startswith(_LIBRARY) else []
    if not behind:
        return diagnostic
    # Two bases may be folded alike: where the message does not say which it is about, both are shown.
    first, *others = [line for line in behind if f"`{line.piece}`" in diagnostic.message] or behind
    inside = Related(diagnostic.span, f"in the fold `{name}`")
    alike = [Related(line.span, f"or here, where {line.piece or 'a piece'} is folded alike")
             for line in others]  # fmt: skip
    return diagnostic._replace(span=first.span, related=(inside, *alike, *diagnostic.related))


def _fold_lines(statements: tuple[tree.Statement, ...], own: frozenset[str]) -> Iterator[FoldLine]:
    pieces = [""]  # that a line belongs to, for each depth that is open here
    for depth, each in in_order(statements):
        del pieces[depth + 1 :]
        if isinstance(each.node, tree.Fold):
            name = each.node.structure.text
            shipped = _behind(name) if name in fold_names() and name not in own else frozenset()
            yield FoldLine(each.span, shipped, pieces[depth])
        pieces.append(each.node.name.text if isinstance(each.node, tree.PieceHeader) else pieces[depth])


def _behind(name: str) -> frozenset[str]:
    """A shipped fold and those that it folds itself; none of them folds those that fold it."""
    inner = [line.node.structure.text for line in fold_statement(name).block
             if isinstance(line.node, tree.Fold)]  # fmt: skip
    return frozenset({name}).union(*map(_behind, inner))
