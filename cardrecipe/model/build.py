"""Tree to card: declarations, names, and every piece with its lines; sizes stay open."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.library.envelopes import find_envelope, meanings
from cardrecipe.model.blocks import Shelf, piece_with_block
from cardrecipe.model.card import Card, Head, HostRef, Piece, PoseOn, Scope, Scoped, StepOn
from cardrecipe.model.materials import paper_of, supply_of, whole
from cardrecipe.model.papers import Paper, Supply
from cardrecipe.model.texts import Texts
from cardrecipe.model.uses import borrowed_names, used_by
from cardrecipe.model.variants import with_variant
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import UNITS

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
    head = _head(recipe, diagnostics)
    scope, shelf = _declarations(recipe, used.statements, head.unit, poison, diagnostics)
    pieces, lost = _pieces(recipe, scope, shelf, diagnostics)
    card = Card(
        head=head, scope=scope, papers=shelf.papers, supplies=shelf.supplies, pieces=pieces,
        poses=_poses(recipe, scope, pieces, diagnostics),
        steps=_steps(recipe, pieces, poison, diagnostics), variant=variant,
    )  # fmt: skip
    return Modelled(card, diagnostics, used.sources, poison | lost)


def broken_words(statements: Iterable[tree.Statement]) -> frozenset[str]:
    """Every name that a line which could not be read may have declared."""
    words: frozenset[str] = frozenset()
    for statement in statements:
        if isinstance(statement.node, tree.Broken):
            words |= statement.node.words | borrowed_names(statement.block)  # sections, asked names
        words |= broken_words(statement.block)
    return words


# ---- head and declarations -----------------------------------------------------------------------


def _head(recipe: tree.Tree, diagnostics: list[Diagnostic]) -> Head:
    heads = [each for each in recipe.statements if isinstance(each.node, tree.Recipe)]
    start = Span(recipe.file, 0, 0)
    if not heads:
        kinds = {type(each.node) for each in recipe.statements}
        # Without pieces it is a shelf of papers for other recipes; a broken line may be the `recipe` line.
        if tree.Broken not in kinds and (tree.PieceHeader in kinds or not kinds):
            diagnostics.append(error("no-recipe", start, "this file does not say which card it is for",
                                     'begin it with: recipe "Name of the card"'))  # fmt: skip
        return Head("", "inch", None, None, 1, None, None, "", start)
    for other in heads[1:]:
        diagnostics.append(error("said-twice", other.span, "a file holds one recipe",
                                 "put the second one in a file of its own",
                                 (Related(heads[0].span, "the first one"),)))  # fmt: skip
    found: dict[str, tree.Statement] = {}
    for line in heads[0].block:
        if line.word in found and not isinstance(line.node, tree.Broken):
            diagnostics.append(error("said-twice", line.span, f"`{line.word}` is said twice",
                                     "keep one of the two",
                                     (Related(found[line.word].span, "here it is said first"),)))  # fmt: skip
        found[line.word] = line
    return _head_of(heads[0], found, diagnostics)


def _head_of(
    statement: tree.Statement, found: Mapping[str, tree.Statement], diagnostics: list[Diagnostic]
) -> Head:
    assert isinstance(statement.node, tree.Recipe)
    unit, nearest_given, border, makes, about = "inch", None, None, 1, ""
    envelope = envelope_span = None
    scope = Scope({})
    for line in found.values():
        node = line.node
        if isinstance(node, tree.Units):
            unit = _unit(node.unit, diagnostics)
            nearest_given = Scoped(node.nearest, scope, line.span) if node.nearest else None
        elif isinstance(node, tree.Border):
            border = _default_border(line, node, scope, diagnostics)
        elif isinstance(node, tree.Amount):
            makes = whole(node.number, diagnostics)
        elif isinstance(node, tree.EnvelopeWanted):
            envelope, envelope_span = _envelope(node.name, diagnostics), node.name.span
        elif isinstance(node, tree.About):
            about = node.text.text
    return Head(statement.node.title.text, unit, nearest_given, border, makes, envelope, envelope_span,
                about, statement.span)  # fmt: skip


def _unit(word: tree.Word, diagnostics: list[Diagnostic]) -> str:
    if word.text in UNITS:
        return word.text
    diagnostics.append(error("unknown-kind", word.span, f"a recipe is in inch or mm, not `{word.text}`",
                             "write `units inch nearest 1/16` or `units mm nearest 1`"))  # fmt: skip
    return "mm" if word.text in ("cm", "metric", "millimetre", "millimeter") else "inch"


def _default_border(
    line: tree.Statement, node: tree.Border, scope: Scope, diagnostics: list[Diagnostic]
) -> Scoped | None:
    entry = node.entries[0]
    if len(node.entries) > 1 or entry.edges:
        diagnostics.append(error("border-one", line.span, "the default border is one length for all edges",
                                 "write `border 1/8` here and the exceptions in the pieces"))  # fmt: skip
        return None
    return Scoped(entry.value, scope, line.span)


def _envelope(word: tree.Word, diagnostics: list[Diagnostic]) -> str | None:
    if find_envelope(word.text) is not None:
        return word.text
    near = meanings(word.text)
    hint = f"it may be {'; or '.join(near)}" if near else "names are such as us-a2, iso-c6, square-6in"
    diagnostics.append(error("unknown-envelope", word.span, f"no envelope is called `{word.text}`", hint))
    return None


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
        over = list(headers.values())[MAX_PIECES]
        diagnostics.append(error("too-many-pieces", over.span, f"a card has at most {MAX_PIECES:,} pieces",
                                 "use `count` for pieces that are alike"))  # fmt: skip
        headers = dict(list(headers.items())[:MAX_PIECES])
    blocks = {name: piece_with_block(_started(statement, shelf, diagnostics), statement, scope, shelf,
                                     diagnostics)
              for name, statement in headers.items()}  # fmt: skip
    named = {name: _with_section_names(piece, diagnostics) for name, piece in blocks.items()}
    places = _Places(named, shelf.poison, diagnostics)
    pieces = tuple(places.hosted(piece, headers[piece.name]) for piece in named.values())
    return _with_tips(recipe, pieces, shelf.poison, diagnostics), frozenset(places.lost)


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


def _with_section_names(piece: Piece, diagnostics: list[Diagnostic]) -> Piece:
    """The names of the parts between the lines that run right across, made up where not written."""
    if piece.kind != "base" and not piece.lines:
        return piece
    whole_lines = [line for line in piece.lines if line.between is None]
    across = sum(line.edge in ("left", "right") for line in whole_lines) + 1
    down = len(whole_lines) - across + 2
    number = across * down
    names = piece.sections
    if len(names) > number and not piece.broken and not piece.slanted:
        span = piece.sections_span or piece.span
        diagnostics.append(error("section-count", span,
                                 f"`{piece.name}` has {number} section{'s' if number > 1 else ''} but "
                                 f"{len(names)} names", "add a score or take a name away"))  # fmt: skip
        names = names[:number]
    made_up = tuple(f"section-{at + 1}" for at in range(len(names), number))
    return piece._replace(sections=(*names, *made_up))


class _Places:
    """Resolves `on`, `under` and `around`: what is called so, and which piece it belongs to."""

    def __init__(
        self, pieces: Mapping[str, Piece], poison: frozenset[str], diagnostics: list[Diagnostic]
    ) -> None:
        self.pieces = pieces
        self.poison = poison
        self.diagnostics = diagnostics
        self.owners: dict[str, list[str]] = {}
        self.lost: set[str] = set()  # may be sections of a piece whose sections are not known
        for piece in pieces.values():
            for section in piece.sections:
                self.owners.setdefault(section, []).append(piece.name)

    def hosted(self, piece: Piece, statement: tree.Statement) -> Piece:
        node = statement.node
        assert isinstance(node, tree.PieceHeader)
        hosts = [self._host(host) for host in node.hosts]
        broken = piece.broken or None in hosts
        under = around = None
        if node.under is not None:
            under = self._piece_named(node.under)
            broken |= under is None
        if piece.kind == "band":
            around = self._base_around(piece, node)
            broken |= around is None
        found = tuple(host for host in hosts if host is not None)
        return piece._replace(hosts=found, under=under, around=around, downward=node.downward,
                              broken=broken)  # fmt: skip

    def _base_around(self, piece: Piece, node: tree.PieceHeader) -> str | None:
        bases = [each.name for each in self.pieces.values() if each.kind == "base"]
        if node.around is None:
            if len(bases) == 1:
                return bases[0]
            self.diagnostics.append(error("band-around", piece.span,
                                          f"`{piece.name}` does not say what it goes round",
                                          f"band {piece.name} around {(bases or ['card'])[0]}"))  # fmt: skip
            return None
        name = node.around.text
        if name in bases:
            return name
        if name == "card" and len(bases) == 1:
            return bases[0]
        self._unknown(node.around, bases, "base")
        return None

    def _piece_named(self, name: tree.Reference) -> str | None:
        if name.text in self.pieces:
            return name.text
        self._unknown(name, list(self.pieces), "piece")
        return None

    def _host(self, host: tree.Host) -> HostRef | None:
        *owner, last = host.name.parts
        owners = self.owners.get(last, [])
        if owner:
            owners = [name for name in owners if name == ".".join(owner)]
        elif last in self.pieces:
            return HostRef(last, None, host.side or "inside", host.name.span)
        if len(owners) == 1:
            return HostRef(owners[0], last, host.side or "inside", host.name.span)
        if owners:
            choices = " or ".join(f"{name}.{last}" for name in owners)
            self.diagnostics.append(error("two-sections", host.name.span,
                                          f"`{last}` is a section of {len(owners)} pieces",
                                          f"write {choices}"))  # fmt: skip
            return None
        if any(piece.sections_lost for piece in self.pieces.values()):
            self.lost.update(host.name.parts)
            return None
        self._unknown(host.name, [*self.owners, *self.pieces], "section or piece")
        return None

    def _unknown(self, name: tree.Reference, known: list[str], what: str) -> None:
        if any(part in self.poison for part in name.parts):
            return
        meant = nearest(name.text, known)
        hint = f"did you mean `{meant}`?" if meant else f"there is {', '.join(known) or 'none yet'}"
        self.diagnostics.append(error("unknown-name", name.span, f"no {what} is called `{name.text}`", hint))


# ---- notes and poses -----------------------------------------------------------------------------


def _with_tips(
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
    return tuple(piece._replace(tips_on=tuple(tips[piece.name])) for piece in pieces)


def _steps(
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


def _poses(
    recipe: tree.Tree, scope: Scope, pieces: tuple[Piece, ...], diagnostics: list[Diagnostic]
) -> tuple[PoseOn, ...]:
    bases = [piece.name for piece in pieces if piece.kind == "base"]
    poses = []
    for statement in recipe.statements:
        if isinstance(statement.node, tree.PoseLine):
            folds = []
            for line in statement.block:
                if isinstance(line.node, tree.FoldPose):
                    base = line.node.base.text if line.node.base is not None else (bases or [""])[0]
                    number = whole(line.node.number, diagnostics, 1_000)
                    folds.append((base, number, Scoped(line.node.degrees, scope, line.span)))
            poses.append(PoseOn(statement.node.name.text, tuple(folds), statement.span))
    return tuple(poses)
