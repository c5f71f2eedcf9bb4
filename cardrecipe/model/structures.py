"""`fold NAME`: the lines of a structure, each with the scope its names are read in."""

from collections.abc import Mapping

from cardrecipe.library.folds import fold_names, fold_statement, folds_meant
from cardrecipe.model.card import Scope, Scoped, ScopedLine
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import either, nearest

MAX_STRUCTURE_DEPTH = 16  # a structure that folds a structure; deeper than this is a mistake
MAX_FOLDS = 100  # structures that fold several structures each, sixteen deep, would never end


def unfolded(
    base: str,
    line: tree.Statement,
    fold: tree.Fold,
    outer: Scope,
    own: Mapping[str, tree.Statement],
    poison: frozenset[str],
    scopes: list[Scope],
    diagnostics: list[Diagnostic],
    above: tuple[str, ...] = (),
) -> list[ScopedLine]:
    """The lines that `fold` stands for. `own` are the recipe's own structures, by name.

    The scope of the structure, and of those that it folds itself, are added to `scopes`.
    """
    name = fold.structure.text
    structure = _found(fold.structure, own, above, poison, diagnostics)
    if structure is None:
        return []
    if len(scopes) >= MAX_FOLDS:
        diagnostics.append(error("too-many-folds", fold.structure.span,
                                 f"`{base}` is folded by more than {MAX_FOLDS} structures in all",
                                 "write its scores out"))  # fmt: skip
        return []
    lets = outer.lets if name in own else {}  # a shipped structure stands by itself
    scope = _scope(base, line, fold, structure, outer, lets, len(scopes) + 1, diagnostics)
    scopes.append(scope)
    lines: list[ScopedLine] = []
    for inner in structure.block:
        if isinstance(inner.node, tree.Fold):
            lines += unfolded(base, inner, inner.node, scope, own, poison, scopes, diagnostics,
                              (*above, name))  # fmt: skip
        elif not isinstance(inner.node, tree.Ask):
            lines.append(ScopedLine(inner, scope))
    return lines


def _found(
    name: tree.Word,
    own: Mapping[str, tree.Statement],
    above: tuple[str, ...],
    poison: frozenset[str],
    diagnostics: list[Diagnostic],
) -> tree.Statement | None:
    if name.text not in above and len(above) >= MAX_STRUCTURE_DEPTH:
        diagnostics.append(error("structures-too-deep", name.span,
                                 f"structures fold each other more than {MAX_STRUCTURE_DEPTH} deep",
                                 "write the scores of some of them out"))  # fmt: skip
        return None
    if name.text in above:
        diagnostics.append(error("structure-cycle", name.span,
                                 f"structure `{name.text}` includes itself",
                                 "write its scores out"))  # fmt: skip
        return None
    if name.text in own:
        return own[name.text]
    if name.text in fold_names():
        return fold_statement(name.text)
    if name.text in poison:
        return None
    folds = [*own, *fold_names()]
    meant = either([f"`{each}`" for each in folds_meant(name.text, folds)])
    hint = f"did you mean {meant}?" if meant else f"the folds are {', '.join(folds)}"
    diagnostics.append(error("unknown-name", name.span, f"no fold is called `{name.text}`", hint))
    return None


def _scope(
    base: str,
    line: tree.Statement,
    fold: tree.Fold,
    structure: tree.Statement,
    outer: Scope,
    lets: Mapping[str, Scoped],
    number: int,
    diagnostics: list[Diagnostic],
) -> Scope:
    asked = [each for inner in structure.block if isinstance(inner.node, tree.Ask)
             for each in inner.node.parameters]  # fmt: skip
    names = [each.name.text for each in asked]
    given: dict[str, Scoped] = {}
    is_broken = False
    for argument in fold.arguments:
        name = argument.name
        if name.text not in names:
            is_broken = True
            meant = nearest(name.text, names)
            diagnostics.append(error("unknown-name", name.span,
                                     f"`{fold.structure.text}` does not ask for `{name.text}`",
                                     f"did you mean `{meant}`?" if meant else
                                     f"it asks for {', '.join(names)}"))  # fmt: skip
        elif name.text in given:
            diagnostics.append(error("said-twice", name.span, f"`{name.text}` is given twice",
                                     "keep one of the two"))  # fmt: skip
        elif not isinstance(argument.value, tree.Unknown):
            given[name.text] = Scoped(argument.value, outer, line.span)
    defaults: dict[str, Scoped] = {}
    asked_values = {name: given.get(name) for name in names}
    scope = Scope(lets, base=base, asked=asked_values, defaults=defaults,
                  scalars=_scalars(structure), number=number, is_broken=is_broken)  # fmt: skip
    for each in asked:
        if each.default is not None and each.name.text not in given:
            defaults[each.name.text] = Scoped(each.default, scope, each.name.span)
    return scope


def _scalars(structure: tree.Statement) -> frozenset[str]:
    """The asked names that count scores (`score every L, N times`) and so are no lengths."""
    names: set[str] = set()
    for line in structure.block:
        if isinstance(line.node, tree.LineAcross) and line.node.times is not None:
            names |= names_in(line.node.times)
    return frozenset(names)


def names_in(expression: tree.Expression) -> set[str]:
    """Every name in an expression, dots included."""
    if isinstance(expression, tree.Reference):
        return {expression.text}
    if isinstance(expression, tree.Sum | tree.Product):
        return names_in(expression.left) | names_in(expression.right)
    if isinstance(expression, tree.Negative):
        return names_in(expression.operand)
    if isinstance(expression, tree.Call):
        return set().union(*map(names_in, expression.arguments))
    return set()

