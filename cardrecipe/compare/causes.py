"""Why something changed: the changed lines of the two texts among those that it came from."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from cardrecipe.compare.changes import Cause
from cardrecipe.compare.pairs import Pairs
from cardrecipe.compare.statements import Line, Statements
from cardrecipe.compare.version import Version
from cardrecipe.model.lengths import to_mm
from cardrecipe.model.values import Var
from cardrecipe.solve.sized import SizedPiece
from cardrecipe.syntax import tree

_SIZES = (tree.SizeLine, tree.Flat, tree.Measure)
CLOSED = ("finished-width", "finished-height", "thickness")
MOST = 6  # more lines than this behind one change are told by the first of them
# What a stack's thickness comes from.
_THICK = (tree.PaperLine, tree.GlueLine, tree.PieceHeader, tree.Drop, tree.Repeat, tree.Flag, tree.Amount)


class Causes:
    """Finds the changed lines behind a change. A line of one side is changed where no line of the same owner
    says the same on the other."""

    def __init__(self, old: Version, new: Version, pairs: Pairs) -> None:
        self.pairs = pairs
        self.old, self.new = Statements(old), Statements(new)

    def of_sizes(self, old: SizedPiece, new: SizedPiece, *quantities: str) -> tuple[Cause, ...]:
        """Why sizes (or borders: "left border") of a piece are others: through all that they follow from."""
        found = self._told(self._behind(self.old, self.new, old, quantities),
                           self._behind(self.new, self.old, new, quantities))  # fmt: skip
        return found or self.of_blocks(old, new)

    def gives_size(self, cause: Cause, piece: SizedPiece) -> bool:
        """True where a cause is a size that is written in the piece's own block."""
        side = self.old if cause.side == "old" else self.new
        return any(isinstance(line.statement.node, _SIZES) and cause in side.causes(line, cause.side)
                   for line in side.of(owner_of(side.version, piece)))  # fmt: skip

    def of_lines(
        self, old: SizedPiece | None, new: SizedPiece | None, *kinds: type[tree.Node]
    ) -> tuple[Cause, ...]:
        """The changed lines of some kinds in the blocks of a piece; else any of its lines."""
        before, after = self._of(self.old, self.new, old), self._of(self.new, self.old, new)
        if old is None or new is None:  # what a variant drops
            before += self._dropped(self.old, new)
            after += self._dropped(self.new, old)

        def among(lines: Sequence[Line]) -> list[Line]:
            return [line for line in lines if isinstance(line.statement.node, kinds)]

        return self._told(among(before), among(after)) or self._told(before, after)

    def of_blocks(self, old: SizedPiece, new: SizedPiece) -> tuple[Cause, ...]:
        """The changed lines of a piece's block; else of what it stands on, and what that stands on."""
        before, after = [old], [new]
        while before or after:
            found = self._told(
                [line for one in before for line in self._of(self.old, self.new, one)],
                [line for one in after for line in self._of(self.new, self.old, one)],
            )
            if found:
                return found
            before, after = _beneath(self.old, before), _beneath(self.new, after)
        return ()

    def of_owner(self, old: str, new: str) -> tuple[Cause, ...]:
        """The changed lines of a paper, a let or the head, by the owners' names ("paper ink")."""
        before, after = self.old.of(old) if old else (), self.new.of(new) if new else ()
        return self._told([each for each in before if self._is_changed(self.old, each)],
                          [each for each in after if self._is_changed(self.new, each)])  # fmt: skip

    def of_users(self, old: str, new: str) -> tuple[Cause, ...]:
        """The changed headers of pieces that are, or were, cut from a paper."""
        return self._told(*([line for line in side.lines if isinstance(line.statement.node, tree.PieceHeader)
                             and line.statement.node.paper is not None
                             and line.statement.node.paper.text == paper and self._is_changed(side, line)]
                            for side, paper in ((self.old, old), (self.new, new))))  # fmt: skip

    def of_owners(self, old: Iterable[str], new: Iterable[str], *kinds: type[tree.Node]) -> tuple[Cause, ...]:
        """The changed lines of some kinds that belong to any of the pieces named."""
        return self._told(*([line for name in names for line in side.of(name)
                             if isinstance(line.statement.node, kinds) and self._is_changed(side, line)]
                            for side, names in ((self.old, old), (self.new, new))))  # fmt: skip

    def of_supplies(self, is_meant: Callable[[str], bool]) -> tuple[Cause, ...]:
        """The changed lines of the supplies with a title that is meant, on either side."""
        owners = dict.fromkeys(line.owner for side in (self.old, self.new) for line in side.lines
                               if isinstance(line.statement.node, tree.SupplyLine)
                               and is_meant(line.statement.node.title.text))  # fmt: skip
        return self.of_owners(owners, owners, tree.SupplyLine)

    def of_closed(self) -> tuple[Cause, ...]:
        """Why the closed card has another size."""
        bases = [version.sheet.folded.card.bases[:1] for version in (self.old.version, self.new.version)]
        found = [
            self.of_sizes(old, new, "finished-width", "finished-height")
            for old, new in zip(*bases, strict=False)
        ]
        return found[0] if found else ()

    def of_head(self, word: str) -> tuple[Cause, ...]:
        """The changed lines of the head that begin with `word`."""
        return self._told([each for each in self.old.of("recipe") if each.statement.word == word
                           and self._is_changed(self.old, each)],
                          [each for each in self.new.of("recipe") if each.statement.word == word
                           and self._is_changed(self.new, each)])  # fmt: skip

    # ---- lines -----------------------------------------------------------------------------------

    def _told(self, old: Iterable[Line], new: Iterable[Line]) -> tuple[Cause, ...]:
        before = dict.fromkeys(cause for line in old for cause in self.old.causes(line, "old"))
        after = dict.fromkeys(cause for line in new for cause in self.new.causes(line, "new"))
        return (*_in_order(before)[:MOST], *_in_order(after)[:MOST])

    def _is_changed(self, side: Statements, line: Line) -> bool:
        other = self.new if side is self.old else self.old
        return line.key not in other.keys

    def _of(self, side: Statements, other: Statements, piece: SizedPiece | None) -> list[Line]:
        """The changed lines of a piece; lets and supplies that they use among them."""
        if piece is None:
            return []
        found = []
        for line in side.of(owner_of(side.version, piece)):
            if self._is_changed(side, line):
                found.append(line)
            named = (*side.named_in(line), *side.supplies_in(line))
            found += [each for each in named if self._is_changed(side, each)]
        return found

    def _dropped(self, side: Statements, piece: SizedPiece | None) -> list[Line]:
        """The `drop` lines of one side for a piece of the other."""
        return [line for line in side.lines if piece is not None
                and isinstance(line.statement.node, tree.Drop) and line.owner == piece.name]  # fmt: skip

    # ---- what a size follows from -----------------------------------------------------------------

    def _behind(
        self, side: Statements, other: Statements, piece: SizedPiece, quantities: Iterable[str]
    ) -> list[Line]:
        """The changed lines behind some sizes of a piece: only sizes that changed themselves are followed."""
        asked = [(owner, quantity) for owner in owners_of(side.version, piece) for quantity in quantities]
        waiting = [var for var in asked if _differs(side.version, other.version, var)] or asked
        seen, found = set(waiting), []
        while waiting:
            var = waiting.pop()
            for line in self._lines_of(side, other, var):
                found += [each for each in (line, *side.named_in(line)) if self._is_changed(side, each)]
            for other_var in _terms(side, var):
                if other_var not in seen and _differs(side.version, other.version, other_var):
                    seen.add(other_var)
                    waiting.append(other_var)
        return found

    def _lines_of(self, side: Statements, other: Statements, var: Var) -> Iterator[Line]:
        for equation in side.derivations.get(var, ()):
            line = side.at(equation.origin.span)
            if line is not None:
                yield line
        if var[1] in ("stack", "thickness"):
            yield from (line for line in side.lines if isinstance(line.statement.node, _THICK))
        if side.version.solution.grid != other.version.solution.grid:
            yield from (line for line in side.of("recipe") if line.statement.word == "units")


def owners_of(version: Version, piece: SizedPiece) -> tuple[str, ...]:
    """Who owns the sizes of a piece among the unknowns; a sized piece may be called `mat-on-door`."""
    parts = version.solution.parts.ordered
    own = [part.owner for part in parts if part.piece.name == piece.name]
    split = [part.owner for part in parts
             if part.host is not None and f"{part.piece.name}-on-{part.host.name}" == piece.name]  # fmt: skip
    return tuple(own or split or [piece.name])


def owner_of(version: Version, piece: SizedPiece) -> str:
    """The name that a sized piece has in the recipe."""
    owner = owners_of(version, piece)[0]
    return next(
        (part.piece.name for part in version.solution.parts.ordered if part.owner == owner), piece.name
    )


def in_mm(version: Version, var: Var) -> object:
    """A solved size in mm; None where it is open."""
    value = version.solution.values.get(var)
    return None if value is None else to_mm(value, version.solution.unit)


def _terms(side: Statements, var: Var) -> Iterator[Var]:
    """The sizes that one is settled by; those of a closed card come from its sections."""
    for equation in side.derivations.get(var, ()):
        yield from equation.terms
    if var[1] in CLOSED:
        sections = side.version.solution.parts.sections
        owners = [var[0], *(owner for (piece, _), owner in sections.items() if piece == var[0])]
        yield from ((owner, quantity) for owner in owners for quantity in ("width", "height"))


def _differs(one: Version, other: Version, var: Var) -> bool:
    return in_mm(one, var) != in_mm(other, var)


def _beneath(side: Statements, pieces: Sequence[SizedPiece]) -> list[SizedPiece]:
    card = side.version.sheet.folded.card
    names = dict.fromkeys(
        name
        for piece in pieces
        for name in (
            *(each.host_piece for each in piece.placements),
            piece.around.base if piece.around else "",
        )
        if name
    )
    return [card.piece(name) for name in names]


def _in_order(causes: Iterable[Cause]) -> list[Cause]:
    return sorted(causes, key=lambda cause: (cause.file, cause.line))
