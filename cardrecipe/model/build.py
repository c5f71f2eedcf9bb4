"""Tree to card: declarations, names, and every piece with its lines; sizes stay open."""

from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.model.blocks import Shelf, piece_with_block
from cardrecipe.model.card import Card, Piece, Scope, Scoped
from cardrecipe.model.head import head_of
from cardrecipe.model.hosts import Places, with_section_names
from cardrecipe.model.materials import paper_of, supply_of
from cardrecipe.model.notes import poses_of, steps_of, with_tips
from cardrecipe.model.papers import Paper, Supply
from cardrecipe.model.texts import Texts
from cardrecipe.model.uses import borrowed_names, used_by
from cardrecipe.model.variants import with_variant
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.statements import in_order

MAX_PIECES = 2_000  # an album, not a card, has more


class Modelled(NamedTuple):
    """A card, what is wrong with its text, and the sources of the files it uses, by name."""

    card: Card
    diagnostics: list[Diagnostic]
    sources: dict[str, Source]
    poison: frozenset[str]  # names that nobody may judge, since a line that may declare them is broken


def model(recipe: tree.Tree, texts: Texts, variant: str | None = None) -> Modelled:
    """The card that `recipe` describes, with the changes of `variant`.

    Names that cannot be resolved leave their piece `broken`, so that later stages draw no wrong
    conclusions from it. NoVariant when there is no such variant.
    """
    used = used_by(recipe, texts)
    poison = broken_words((*recipe.statements, *used.statements))
    if used.lost:
        poison |= borrowed_names(recipe.statements)
    titles = [each.node.title for each in recipe.statements if isinstance(each.node, tree.Variant)]
    recipe, diagnostics = with_variant(recipe, variant, poison)
    diagnostics += used.diagnostics
    for each in (titles, _pose_names(recipe)):
        _report_doubled(each, diagnostics)
    head = head_of(recipe, diagnostics)
    scope, shelf = _declarations(recipe, used.statements, head.unit, poison, diagnostics)
    pieces, lost = _pieces(recipe, scope, shelf, diagnostics)
    card = Card(
        head=head, scope=scope, papers=shelf.papers, supplies=shelf.supplies, pieces=pieces,
        poses=poses_of(recipe, scope, pieces, poison, diagnostics),
        steps=steps_of(recipe, pieces, poison, diagnostics), variant=variant,
    )  # fmt: skip
    return Modelled(card, diagnostics, used.sources, poison | lost)


def broken_words(statements: tuple[tree.Statement, ...]) -> frozenset[str]:
    """Every name that a line which could not be read may have declared, or those under it."""
    words: set[str] = set()
    outermost: int | None = None  # the depth of the first such line that is open here
    for depth, statement in in_order(statements):
        if outermost is not None and depth > outermost:
            words |= borrowed_names(statement.node)  # sections, asked names
        else:
            outermost = depth if isinstance(statement.node, tree.Broken) else None
        if isinstance(statement.node, tree.Broken):
            words |= statement.node.words
    return frozenset(words)


# ---- declarations --------------------------------------------------------------------------------


def _declarations(
    recipe: tree.Tree,
    used: tuple[tree.Statement, ...],
    unit: str,
    poison: frozenset[str],
    diagnostics: list[Diagnostic],
) -> tuple[Scope, Shelf]:
    """Papers, supplies, lets and structures; the recipe's own win over those of used files."""
    lets: dict[str, Scoped] = {}
    scope = Scope(lets)
    papers: dict[str, Paper] = {}
    supplies: dict[str, Supply] = {}
    structures: dict[str, tree.Statement] = {}
    for statements in (used, recipe.statements):
        first: dict[tuple[str, str], Span] = {}
        for statement in statements:
            node = statement.node
            if isinstance(node, tree.PaperLine):
                if _first(first, "paper", node.name, diagnostics):
                    papers[node.name.text] = paper_of(statement.span, node.name, node.facts, scope,
                                                      unit, diagnostics)  # fmt: skip
            elif isinstance(node, tree.SupplyLine):
                if _first(first, "supply", node.name, diagnostics):
                    supplies[node.name.text] = supply_of(statement.span, node, diagnostics)
            elif isinstance(node, tree.Let):
                if _first(first, "let", node.name, diagnostics):
                    lets[node.name.text] = Scoped(node.value, scope, statement.span)
            elif isinstance(node, tree.Structure) and _first(
                first, "structure", node.name, diagnostics
            ):
                structures[node.name.text] = statement
    return scope, Shelf(unit, papers, supplies, structures, poison)


def _first(
    first: dict[tuple[str, str], Span], what: str, name: tree.Word, diagnostics: list[Diagnostic]
) -> bool:
    key = (what, name.text)
    if key in first:
        diagnostics.append(_doubled(name, first[key]))
        return False
    first[key] = name.span
    return True


def _pose_names(recipe: tree.Tree) -> list[tree.Word]:
    return [each.node.name for each in recipe.statements if isinstance(each.node, tree.PoseLine)]


def _report_doubled(
    names: Sequence[tree.Word | tree.Text], diagnostics: list[Diagnostic]
) -> None:
    first: dict[str, Span] = {}
    for name in names:
        if name.text in first:
            diagnostics.append(_doubled(name, first[name.text]))
        first.setdefault(name.text, name.span)


def _doubled(name: tree.Word | tree.Text, first: Span) -> Diagnostic:
    return error("doubled-name", name.span, f"`{name.text}` is the name of two things",
                 "give one of them another name", (Related(first, "the first one"),))  # fmt: skip


# ---- pieces --------------------------------------------------------------------------------------


def _pieces(
    recipe: tree.Tree, scope: Scope, shelf: Shelf, diagnostics: list[Diagnostic]
) -> tuple[tuple[Piece, ...], frozenset[str]]:
    """The pieces, and names that may be those of sections that could not be read."""
    headers: dict[str, tree.Statement] = {}
    for statement in recipe.statements:
        if isinstance(statement.node, tree.PieceHeader):
            name = statement.node.name
            if name.text in headers:
                other = headers[name.text].node
                assert isinstance(other, tree.PieceHeader)
                diagnostics.append(_doubled(name, other.name.span))
            else:
                headers[name.text] = statement
    if len(headers) > MAX_PIECES:
        diagnostics.append(_too_many(list(headers.values())[MAX_PIECES]))
        headers = dict(list(headers.items())[:MAX_PIECES])
    blocks: dict[str, Piece] = {}
    for statement in list(headers.values()):
        piece = _started(statement, shelf, diagnostics)
        piece = piece_with_block(piece, statement, scope, shelf, diagnostics)
        blocks |= {piece.name: piece, **_brought(piece, headers, shelf, diagnostics)}
    named = {name: with_section_names(piece, diagnostics) for name, piece in blocks.items()}
    places = Places(named, shelf.poison, diagnostics)
    pieces = tuple(places.hosted(piece, headers[piece.name]) for piece in named.values())
    return with_tips(recipe, pieces, shelf.poison, diagnostics), frozenset(places.lost)


def _too_many(over: tree.Statement) -> Diagnostic:
    return error("too-many-pieces", over.span, f"a card has at most {MAX_PIECES:,} pieces",
                 "use `count` for pieces that are alike")  # fmt: skip


def _brought(
    base: Piece, headers: dict[str, tree.Statement], shelf: Shelf, diagnostics: list[Diagnostic]
) -> dict[str, Piece]:
    """The panels of the structures that a base is folded by; `headers` learns their lines."""
    pieces: dict[str, Piece] = {}
    for line in base.brings:
        node = line.statement.node
        if not isinstance(node, tree.PieceHeader):
            continue
        if node.name.text in headers:
            other = headers[node.name.text].node
            assert isinstance(other, tree.PieceHeader)
            diagnostics.append(_doubled(other.name, node.name.span))
            continue
        if len(headers) >= MAX_PIECES:
            diagnostics.append(_too_many(line.statement))
            break
        headers[node.name.text] = line.statement
        piece = _started(line.statement, shelf, diagnostics).replace(home=base.name)
        if node.paper is None:
            piece = piece.replace(paper=base.paper)
        pieces[piece.name] = piece_with_block(piece, line.statement, line.scope, shelf, diagnostics)
    return pieces


def _started(
    statement: tree.Statement, shelf: Shelf, diagnostics: list[Diagnostic]
) -> Piece:
    """The piece that a header begins, with its paper."""
    node = statement.node
    assert isinstance(node, tree.PieceHeader)
    paper = node.paper.text if node.paper is not None else None
    broken = False
    if node.paper is not None and paper not in shelf.papers:
        if paper not in shelf.poison:
            meant = nearest(node.paper.text, shelf.papers)
            diagnostics.append(error("unknown-name", node.paper.span, f"no paper is called `{paper}`",
                                     f"did you mean `{meant}`?" if meant else
                                     f'declare it: paper {paper} is cardstock "…"'))  # fmt: skip
        paper = None
    return Piece(node.name.text, node.kind, node.name.span, paper, broken=broken)
