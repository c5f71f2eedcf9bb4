"""Tips, extra steps and poses: what a recipe says of pieces outside their own blocks."""

from collections.abc import Iterable, Iterator

from cardrecipe.model.card import Piece, PoseOn, Scope, Scoped, ScopedLine, StepOn
from cardrecipe.model.materials import whole
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import nearest


def with_tips(
    recipe: tree.Tree, pieces: tuple[Piece, ...], poison: frozenset[str], diagnostics: list[Diagnostic]
) -> tuple[Piece, ...]:
    tips: dict[str, list[str]] = {piece.name: [] for piece in pieces}
    for statement in recipe.statements:
        node = statement.node
        if isinstance(node, tree.Tip) and node.on is not None:
            if node.on.text in tips:
                tips[node.on.text].append(node.text.text)
            else:
                _no_piece(node.on, tips, poison, diagnostics)
    return tuple(piece.replace(tips_on=tuple(tips[piece.name])) for piece in pieces)


def steps_of(
    recipe: tree.Tree, pieces: tuple[Piece, ...], poison: frozenset[str], diagnostics: list[Diagnostic]
) -> tuple[StepOn, ...]:
    names = [piece.name for piece in pieces]
    steps = []
    for statement in recipe.statements:
        node = statement.node
        if isinstance(node, tree.StepLine):
            if node.piece.text in names:
                steps.append(StepOn(node.place, node.piece.text, node.text.text, statement.span))
            else:
                _no_piece(node.piece, names, poison, diagnostics)
    return tuple(steps)


def _no_piece(
    name: tree.Reference, known: Iterable[str], poison: frozenset[str], diagnostics: list[Diagnostic]
) -> None:
    if name.text in poison:
        return
    meant = nearest(name.text, known)
    diagnostics.append(error("unknown-name", name.span, f"no piece is called `{name.text}`",
                             f"did you mean `{meant}`?" if meant else
                             f"the pieces are {', '.join(known)}"))  # fmt: skip


def poses_of(
    recipe: tree.Tree, scope: Scope, pieces: tuple[Piece, ...], diagnostics: list[Diagnostic]
) -> tuple[PoseOn, ...]:
    """The poses of the recipe, and those of the structures in it that the recipe does not tell anew."""
    bases = [piece.name for piece in pieces if piece.kind == "base"]
    own = {each.name: each for each in _poses_in(
        [ScopedLine(statement, scope) for statement in recipe.statements], (bases or [""])[0], diagnostics
    )}  # fmt: skip
    brought = [each for piece in pieces for each in _poses_in(piece.brings, piece.name, diagnostics)]
    return (*own.values(), *(each for each in brought if each.name not in own))


def _poses_in(
    lines: Iterable[ScopedLine], base: str, diagnostics: list[Diagnostic]
) -> Iterator[PoseOn]:
    for statement, scope in lines:
        if isinstance(statement.node, tree.PoseLine):
            folds = []
            for line in statement.block:
                if isinstance(line.node, tree.FoldPose):
                    of = line.node.base.text if line.node.base is not None else base
                    number = whole(line.node.number, diagnostics, 1_000)
                    folds.append((of, number, Scoped(line.node.degrees, scope, line.span)))
            yield PoseOn(statement.node.name.text, tuple(folds), statement.span)
