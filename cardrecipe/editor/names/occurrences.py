"""The lines of one version of a card → every name in them, with its place and what it means there."""

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from cardrecipe.editor.names.meant import Meant, around_meant, host_meant, size_meant
from cardrecipe.editor.names.world import Line, Owner, Scope, Symbol, World, asked_of, symbol
from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_NO_NAMES = Scope({}, {})  # the head knows no lets
_SIZE = "size"


class Found(NamedTuple):
    """A name at one place. `kind` is what stands there; `symbols` is empty where nothing is called so."""

    kind: str
    symbols: tuple[Symbol, ...]
    is_declaration: bool
    is_alias: bool


class Occurrences:
    """Collects what is found, place by place; a place that is read in several versions means all of them."""

    def __init__(self, sources: Mapping[str, Source]) -> None:
        self.sources = sources
        self.found: dict[Span, Found] = {}

    def add(self, span: Span, name: str, kind: str, meant: Iterable[Symbol], *, declares: bool = False,
            alias: bool = False) -> None:  # fmt: skip
        """Note one name. What a variant made up, or a shipped structure holds, has no place here."""
        source = self.sources.get(span.file)
        if source is None or source.words_at(span) != name:
            return
        before = self.found.get(span, Found(kind, (), False, alias))
        symbols = tuple(dict.fromkeys((*before.symbols, *meant)))
        self.found[span] = Found(kind, symbols, before.is_declaration or declares, before.is_alias and alias)

    def declared(self, kind: str, name: tree.Word, *others: Symbol) -> None:
        self.add(name.span, name.text, kind, (symbol(kind, name), *others), declares=True)

    def dotted(self, name: tree.Reference, meant: Meant, kind: str) -> None:
        """Each part of a dotted name that means something by itself."""
        source = self.sources.get(name.span.file)
        if source is None:
            return
        spans = [Span(name.span.file, each.start(), each.end())
                 for each in _NAME.finditer(source.text, name.span.start, name.span.end)]  # fmt: skip
        last = len(name.parts) - 1
        for at, (span, part) in enumerate(zip(spans, name.parts, strict=False)):
            if at < len(meant.parts):
                what = meant.parts[at]
                self.add(span, part, what.kind, (what,), alias=meant.is_alias)
            elif at == last and last > 0 and kind == _SIZE:
                self.add(span, part, _SIZE, ())
            else:
                self.add(span, part, "piece" if last > 0 else kind, ())


def read_world(world: World, occurrences: Occurrences) -> None:
    """Note every name in the statements of one version of a card."""
    reading = _Reading(world, occurrences)
    for statement in world.statements:
        reading.top(statement)
    for owner in world.owners.values():
        for line in owner.lines:
            reading.under(line, owner)


class _Reading:
    """One version of a card, and where what it names is noted."""

    def __init__(self, world: World, occurrences: Occurrences) -> None:
        self.world = world
        self.note = occurrences

    # ---- statements at the left edge -------------------------------------------------------------

    def top(self, statement: tree.Statement) -> None:
        node, scope = statement.node, self.world.scope
        if isinstance(node, tree.PieceHeader):
            self.header(node)
        elif isinstance(node, tree.PaperLine | tree.SupplyLine | tree.Let):
            self.declaration(node)
        elif isinstance(node, tree.Structure):
            self.note.declared("structure", node.name)
            self.asked(statement)
        elif isinstance(node, tree.Tip | tree.StepLine):
            self.told_of(node)
        elif isinstance(node, tree.PoseLine):
            self.pose(statement, scope)
        elif isinstance(node, tree.Recipe):
            for line in statement.block:
                self.expressions(line.node, _NO_NAMES)

    def declaration(self, node: tree.PaperLine | tree.SupplyLine | tree.Let) -> None:
        kinds = {
            tree.PaperLine: ("paper", self.world.papers),
            tree.SupplyLine: ("supply", self.world.supplies),
            tree.Let: ("let", self.world.scope.lets),
        }
        kind, known = kinds[type(node)]
        # A second declaration of a name (a mistake, or a recipe's own beside a used file's) is another thing.
        same = known.get(node.name.text)
        also = (same,) if same is not None and same.span.file == node.name.span.file else ()
        self.note.declared(kind, node.name, *also)
        self.expressions(node, self.world.scope)

    def header(self, node: tree.PieceHeader) -> None:
        """The first line of a piece, with the names of what it lies on."""
        owner = self.world.owners.get(node.name.text)
        if owner is None:
            return
        self.note.declared("piece", node.name, owner.symbol)
        if node.paper is not None:
            self.named(node.paper, "paper", self.world.papers)
        for host in node.hosts:
            self.note.dotted(host.name, host_meant(host.name, owner, self.world), "host")
        if node.under is not None:
            self.piece_named(node.under)
        if node.around is not None:
            self.note.dotted(node.around, around_meant(node.around, self.world), "piece")

    def told_of(self, node: tree.Tip | tree.StepLine | tree.Drop) -> None:
        """Tips, steps and drops name a whole piece."""
        if isinstance(node, tree.Tip):
            assert node.on is not None  # a tip that names no piece stands under one
            self.piece_named(node.on)
        else:
            self.piece_named(node.piece if isinstance(node, tree.StepLine) else node.name)

    def pose(self, statement: tree.Statement, scope: Scope) -> None:
        assert isinstance(statement.node, tree.PoseLine)
        name = statement.node.name
        self.note.declared("pose", name, *self.world.poses.get(name.text, ()))
        for line in statement.block:
            if isinstance(line.node, tree.FoldPose):
                if line.node.base is not None:
                    owner = self.world.owners.get(line.node.base.text)
                    meant = (owner.symbol,) if owner is not None else ()
                    self.note.add(line.node.base.span, line.node.base.text, "piece", meant)
                self.expressions(line.node, scope)

    # ---- lines under a piece ---------------------------------------------------------------------

    def under(self, line: Line, owner: Owner) -> None:
        node, scope = line.statement.node, line.scope
        if isinstance(node, tree.PieceHeader):
            self.header(node)
        elif isinstance(node, tree.Sections):
            for word in node.names:
                self.note.declared("section", word)
        elif isinstance(node, tree.PoseLine):
            self.pose(line.statement, scope)
        elif isinstance(node, tree.Fold):
            self.fold(node, scope)
        elif isinstance(node, tree.WorkLine):
            for word in node.using:
                self.named(word, "supply", self.world.supplies)
            self.expressions(node, scope)
        elif isinstance(node, tree.GlueLine):
            self.glue(node, owner, scope)
        elif isinstance(node, tree.Ask):
            for asked in node.parameters:
                self.note.declared("asked", asked.name)
            self.expressions(node, scope)
        else:
            self.expressions(node, scope)

    def fold(self, node: tree.Fold, scope: Scope) -> None:
        structure = self.world.structure(node.structure.text)
        found = isinstance(structure, tree.Statement) and isinstance(structure.node, tree.Structure)
        asks: Mapping[str, Symbol] = {}
        meant: tuple[Symbol, ...] = ()
        if found and structure is not None and isinstance(structure.node, tree.Structure):
            asks, meant = asked_of(structure), (symbol("structure", structure.node.name),)
        self.note.add(node.structure.span, node.structure.text, "structure", meant)
        for argument in node.arguments:
            self.named(argument.name, "asked", asks)
        self.expressions(node, scope)

    def asked(self, structure: tree.Statement) -> None:
        """What a structure asks for; its other lines are read where a base is folded by it."""
        for line in structure.block:
            if isinstance(line.node, tree.Ask):
                for asked in line.node.parameters:
                    self.note.declared("asked", asked.name)

    def glue(self, node: tree.GlueLine, owner: Owner, scope: Scope) -> None:
        if node.adhesive is not None:
            self.named(node.adhesive, "supply", self.world.supplies)
        for glued in node.sections:
            self.named(glued.section, "section", owner.sections)
            self.note.dotted(glued.host, host_meant(glued.host, owner, self.world), "host")
        if node.only_on is not None:
            self.note.dotted(node.only_on, self._only_on(node.only_on, owner), "host")
        self.expressions(node, scope)

    def _only_on(self, name: tree.Reference, owner: Owner) -> Meant:
        """One of the things that the piece is put on, if it is one of them."""
        for host in owner.header.hosts:
            meant = host_meant(host.name, owner, self.world)
            if host.name.parts[-1] == name.text and meant.parts and not meant.is_alias:
                return Meant(meant.parts[-1:])
        return host_meant(name, owner, self.world)

    # ---- names by themselves ---------------------------------------------------------------------

    def named(self, word: tree.Word, kind: str, known: Mapping[str, Symbol]) -> None:
        meant = (known[word.text],) if word.text in known else ()
        self.note.add(word.span, word.text, kind, meant)

    def piece_named(self, name: tree.Reference) -> None:
        owner = self.world.owners.get(name.text)
        self.note.dotted(name, Meant((owner.symbol,) if owner is not None else ()), "piece")

    def expressions(self, node: object, scope: Scope) -> None:
        """Every name in the sums of a line."""
        for each in sums_in(node):
            self.note.dotted(each, size_meant(each, scope, self.world), _SIZE)

    # ---- the changes of a variant ----------------------------------------------------------------

    def change(self, node: tree.Node) -> None:
        """`drop`, `set` and `replace` name what the plain card has, or what the variant adds."""
        if isinstance(node, tree.Drop):
            self.told_of(node)
        elif isinstance(node, tree.Replace):
            self.named(node.paper, "paper", self.world.papers)
            self.expressions(node, self.world.scope)
        elif isinstance(node, tree.Let):
            self.named(node.name, "let", self.world.scope.lets)
        elif isinstance(node, tree.Set):
            self.note.dotted(node.target, self._target(node.target), _SIZE)
            self.expressions(tree.Let(tree.Word(node.target.span, ""), node.value), self.world.scope)

    def _target(self, target: tree.Reference) -> Meant:
        *owner, quantity = target.parts
        if not owner:
            known = self.world.scope.lets
            return Meant(
                (known[quantity],) if quantity in known and quantity not in ("border", "makes") else ()
            )
        piece = self.world.owners.get(".".join(owner))
        if piece is None:
            return Meant(())
        for line in piece.lines:
            if isinstance(line.statement.node, tree.Fold):
                structure = self.world.structure(line.statement.node.structure.text)
                asks = asked_of(structure) if structure is not None else {}
                return Meant((piece.symbol, asks[quantity]) if quantity in asks else (piece.symbol,))
        return Meant((piece.symbol,))


def read_changes(world: World, block: Iterable[tree.Statement], occurrences: Occurrences) -> None:
    """Note the names in the lines of a variant, as `world` understands them."""
    reading = _Reading(world, occurrences)
    for line in block:
        reading.change(line.node)


_APART = (tree.PieceHeader, tree.Glued)  # their references are hosts


def sums_in(value: object) -> list[tree.Reference]:
    """Every reference in the expressions of a node; an explicit stack, since sums may be deep."""
    found: list[tree.Reference] = []
    waiting: list[object] = [value]
    while waiting:
        each = waiting.pop()
        if isinstance(each, tree.Reference):
            found.append(each)
        elif isinstance(each, tuple) and not isinstance(each, Span):
            waiting += each
        elif isinstance(each, tree.GlueLine):
            waiting.append(each.thick)
        elif isinstance(each, Record) and not isinstance(each, (*_APART, tree.Statement)):
            waiting += [getattr(each, name) for name in each._fields]
    return found
