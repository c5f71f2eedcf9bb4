"""Tips, extra steps and poses: what a recipe says of pieces outside their own blocks."""

from collections.abc import Iterable, Iterator

from cardrecipe.model.card import Piece, PoseOn, Scope, Scoped, ScopedLine, StepOn
from cardrecipe.model.counts import MAX_SCORE
from cardrecipe.model.materials import whole
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span


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
    name: tree.Reference | tree.Word,
    known: Iterable[str],
    poison: frozenset[str],
    diagnostics: list[Diagnostic],
    kind: str = "",
) -> None:
    if name.text in poison:
        return
    meant = nearest(name.text, known)
    piece = f"piece {kind}".strip()
    diagnostics.append(error("unknown-name", name.span, f"no {piece} is called `{name.text}`",
                             f"did you mean `{meant}`?" if meant else
                             f"the pieces are {', '.join(known)}"))  # fmt: skip


def poses_of(
    recipe: tree.Tree,
    scope: Scope,
    pieces: tuple[Piece, ...],
    poison: frozenset[str],
    diagnostics: list[Diagnostic],
) -> tuple[PoseOn, ...]:
    """The poses of the recipe, and those of the structures in it that the recipe does not tell anew."""
    bases = [piece.name for piece in pieces if piece.kind == "base"]
    names = [each.name for each in pieces if each.kind == "base" or each.lines or each.slanted or each.broken]
    reading = _PoseReading(names, poison, diagnostics)
    written = [ScopedLine(statement, scope) for statement in recipe.statements]
    own = {each.name: each for each in reading.poses(written, (bases or [""])[0])}
    brought = [each for piece in pieces for each in reading.poses(piece.brings, piece.name)]
    return (*own.values(), *(each for each in brought if each.name not in own))


class _PoseReading:
    """Reads poses; `names` are the pieces that can have scores."""

    def __init__(self, names: list[str], poison: frozenset[str], diagnostics: list[Diagnostic]) -> None:
        self.names = names
        self.poison = poison
        self.diagnostics = diagnostics

    def poses(self, lines: Iterable[ScopedLine], base: str) -> Iterator[PoseOn]:
        for statement, scope in lines:
            if isinstance(statement.node, tree.PoseLine):
                folds = tuple(self._folds(statement.block, scope, base))
                yield PoseOn(statement.node.name.text, folds, statement.span)

    def _folds(
        self, block: Iterable[tree.Statement], scope: Scope, base: str
    ) -> Iterator[tuple[str, int, Scoped]]:
        first: dict[tuple[str, int], Span] = {}
        for line in block:
            if not isinstance(line.node, tree.FoldPose):
                continue
            number = whole(line.node.number, self.diagnostics, MAX_SCORE)
            name = line.node.base.text if line.node.base is not None else base
            if line.node.base is not None and name not in self.names:
                _no_piece(line.node.base, self.names, self.poison, self.diagnostics, "with scores")
            elif (name, number) in first:
                self.diagnostics.append(error(
                    "said-twice", line.span, f"score {number} of `{name}` is held twice in one pose",
                    "keep one of the two", (Related(first[name, number], "here it is said first"),),
                ))  # fmt: skip
            else:
                first[name, number] = line.span
                yield name, number, Scoped(line.node.degrees, scope, line.span)
