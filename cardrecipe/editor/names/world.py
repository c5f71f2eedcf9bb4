"""What every name means in one version of a card (plain, or one of its variants), by the rules of the model.

The model forgets where a name was declared; here each name keeps the place of its word.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from cardrecipe.library.folds import fold_names, fold_statement
from cardrecipe.model.build import model
from cardrecipe.model.card import Card, Piece
from cardrecipe.model.structures import MAX_FOLDS, MAX_STRUCTURE_DEPTH, names_in
from cardrecipe.model.texts import Texts
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span

CLOSED_SIZES = ("finished-width", "finished-height", "thickness")


class Symbol(NamedTuple):
    """A thing with a name: `span` is the word that declares it.

    A section that nobody named has the place before its piece's name, an empty span.
    """

    kind: str  # piece, section, asked, let, paper, supply, structure, pose, variant, file
    name: str
    span: Span


class Scope(NamedTuple):
    """What single names mean in the lines of a text: the sizes that a structure asks for, and the lets."""

    asked: Mapping[str, Symbol]
    lets: Mapping[str, Symbol]


class Line(NamedTuple):
    """A line under a piece, its own or one of a structure, and the scope its names are read in."""

    statement: tree.Statement
    scope: Scope


class Owner(NamedTuple):
    """A piece with what can be named of it; `home` is the base whose structure brings it."""

    symbol: Symbol
    header: tree.PieceHeader
    home: str | None
    sections: Mapping[str, Symbol]
    asked: Mapping[str, Symbol]
    lines: tuple[Line, ...]


class World(NamedTuple):
    """One version of a card. `owners` are its pieces by name, `scope` is that of the recipe's own lines."""

    statements: tuple[tree.Statement, ...]  # of the recipe, then of the files it uses
    card: Card
    scope: Scope
    papers: Mapping[str, Symbol]
    supplies: Mapping[str, Symbol]
    structures: Mapping[str, tree.Statement]
    owners: Mapping[str, Owner]
    poses: Mapping[str, tuple[Symbol, ...]]

    @property
    def bases(self) -> list[str]:
        return [name for name, owner in self.owners.items() if owner.header.kind == "base"]

    def owners_of_section(self, section: str) -> list[str]:
        return [name for name, owner in self.owners.items() if section in owner.sections]

    def structure(self, name: str) -> tree.Statement | None:
        """The recipe's own structure of that name, else the shipped one."""
        if name in self.structures:
            return self.structures[name]
        return fold_statement(name) if name in fold_names() else None


def world(recipe: tree.Tree, used: tuple[tree.Statement, ...], texts: Texts) -> World:
    """The version of a card that `recipe` (its variants taken out or applied) tells with what it uses."""
    card = model(recipe, texts).card
    found = _declared(used, recipe.statements)
    structures = {each.node.name.text: each for each in (*used[::-1], *recipe.statements[::-1])
                  if isinstance(each.node, tree.Structure)}  # fmt: skip
    plain = World((*recipe.statements, *used), card, Scope({}, found["let"]), found["paper"], found["supply"],
                  structures, {}, {})  # fmt: skip
    owners: dict[str, Owner] = {}
    known = {piece.name: piece for piece in card.pieces}
    for statement in recipe.statements:
        if isinstance(statement.node, tree.PieceHeader) and statement.node.name.text not in owners:
            owner = _owner(statement, plain.scope, plain, known)
            owners[owner.symbol.name] = owner
            for line in owner.lines:
                if isinstance(line.statement.node, tree.PieceHeader):
                    brought = _owner(line.statement, line.scope, plain, known)
                    owners.setdefault(brought.symbol.name, brought._replace(home=owner.symbol.name))
    return plain._replace(owners=owners, poses=_poses(recipe, owners))


def symbol(kind: str, name: tree.Word) -> Symbol:
    """What a word declares."""
    return Symbol(kind, name.text, name.span)


def asked_of(structure: tree.Statement) -> dict[str, Symbol]:
    """The sizes that a structure asks for, in its order."""
    return {each.name.text: symbol("asked", each.name) for each in asked_words(structure)}


def asked_words(structure: tree.Statement) -> Iterator[tree.Asked]:
    for line in structure.block:
        if isinstance(line.node, tree.Ask):
            yield from line.node.parameters


# ---- declarations --------------------------------------------------------------------------------


def _declared(*groups: Iterable[tree.Statement]) -> dict[str, dict[str, Symbol]]:
    """Papers, supplies and lets: the first of a name in a group; a later group's win (the recipe's own)."""
    found: dict[str, dict[str, Symbol]] = {"paper": {}, "supply": {}, "let": {}}
    kinds = {tree.PaperLine: "paper", tree.SupplyLine: "supply", tree.Let: "let"}
    for statements in groups:
        first: dict[str, dict[str, Symbol]] = {kind: {} for kind in found}
        for statement in statements:
            node = statement.node
            if isinstance(node, tree.PaperLine | tree.SupplyLine | tree.Let):
                kind = kinds[type(node)]
                first[kind].setdefault(node.name.text, symbol(kind, node.name))
        for kind in found:
            found[kind] |= first[kind]
    return found


def _poses(recipe: tree.Tree, owners: Mapping[str, Owner]) -> dict[str, tuple[Symbol, ...]]:
    """Every pose by its name: the recipe's own, then those of the structures that it tells anew."""
    lines = [*recipe.statements, *(line.statement for owner in owners.values() for line in owner.lines)]
    poses: dict[str, tuple[Symbol, ...]] = {}
    for line in lines:
        if isinstance(line.node, tree.PoseLine):
            name = line.node.name
            poses[name.text] = (*poses.get(name.text, ()), symbol("pose", name))
    return poses


# ---- pieces --------------------------------------------------------------------------------------


def _owner(statement: tree.Statement, scope: Scope, world: World, known: Mapping[str, Piece]) -> Owner:
    header = statement.node
    assert isinstance(header, tree.PieceHeader)
    asked: dict[str, Symbol] = {}
    lines = tuple(_unfolded(statement.block, scope, world, asked, [], ()))
    own = symbol("piece", header.name)
    piece = known.get(header.name.text)
    return Owner(
        own, header, piece.home if piece is not None else None, _sections(own, piece, lines), asked, lines
    )


def _sections(own: Symbol, piece: Piece | None, lines: tuple[Line, ...]) -> dict[str, Symbol]:
    """The piece's sections: those of the line that names them, and those that nobody named."""
    named = [line.statement for line in lines if isinstance(line.statement.node, tree.Sections)]
    if piece is not None and piece.sections_span is not None:
        named = [each for each in named if each.span == piece.sections_span] or named
    place = own.span._replace(end=own.span.start)
    made_up = piece.sections if piece is not None else ()
    found = {name: Symbol("section", name, place) for name in made_up}
    for line in named[-1:]:
        assert isinstance(line.node, tree.Sections)
        found |= {word.text: symbol("section", word) for word in line.node.names}
    return found


def _unfolded(
    block: Iterable[tree.Statement],
    scope: Scope,
    world: World,
    asked: dict[str, Symbol],
    folds: list[str],
    above: tuple[str, ...],
) -> Iterator[Line]:
    """The lines of a piece and, after each `fold`, those of its structure; `asked` learns their sizes."""
    for statement in block:
        yield Line(statement, scope)
        node = statement.node
        if not isinstance(node, tree.Fold):
            continue
        name = node.structure.text
        structure = world.structure(name)
        if structure is None or name in above or len(above) >= MAX_STRUCTURE_DEPTH or len(folds) >= MAX_FOLDS:
            continue
        folds.append(name)
        asks = asked_of(structure)
        scalars = _scalars(structure)
        for each, meant in asks.items():
            if each not in scalars:
                asked.setdefault(each, meant)
        inner = Scope(asks, scope.lets if name in world.structures else {})
        yield from _unfolded(structure.block, inner, world, asked, folds, (*above, name))


def _scalars(structure: tree.Statement) -> set[str]:
    """The asked names that count something, so that they are no sizes."""
    times = [line.node.times for line in structure.block
             if isinstance(line.node, tree.LineAcross) and line.node.times is not None]  # fmt: skip
    return set().union(*map(names_in, times))
