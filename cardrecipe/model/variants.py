"""A variant is the same recipe with the named changes: tree to tree."""

from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span

_ADDED = (tree.PieceHeader, tree.PaperLine, tree.SupplyLine, tree.Tip, tree.StepLine)
_SIZE_WORDS = ("width", "length", "overlap", "diameter", "turned")


class NoVariant(ValueError):
    """A recipe has no variant of the title that was asked for; the message says so."""


def variant_titles(recipe: tree.Tree) -> tuple[str, ...]:
    """The titles of a recipe's variants in written order."""
    return tuple(each.node.title.text for each in recipe.statements
                 if isinstance(each.node, tree.Variant))  # fmt: skip


def with_variant(
    recipe: tree.Tree, title: str | None, poison: frozenset[str] = frozenset()
) -> tuple[tree.Tree, list[Diagnostic]]:
    """`recipe` with the changes of its variant `title` made (None: none), and what cannot be made.

    Changes of a thing whose own line could not be read (its name is in `poison`) say nothing.

    NoVariant when there is no such variant.
    """
    plain = tuple(each for each in recipe.statements if not isinstance(each.node, tree.Variant))
    if title is None:
        return recipe.replace(statements=plain), []
    for statement in recipe.statements:
        if isinstance(statement.node, tree.Variant) and statement.node.title.text == title:
            diagnostics: list[Diagnostic] = []
            changed, said = list(plain), dict[str, Span]()
            for change in statement.block:
                what = _what_is_said(change.node, changed)
                if what in said and not isinstance(change.node, tree.PaperLine):  # that has two names
                    diagnostics.append(_said_twice(change, what, said[what]))
                    continue
                said |= {what: change.span} if what else {}
                problem = _apply(change, changed)
                if problem is not None and not _subject(change.node) & poison:
                    diagnostics.append(problem)
            return recipe.replace(statements=tuple(changed)), diagnostics
    meant = nearest(title, variant_titles(recipe))
    hint = f"; did you mean {meant!r}?" if meant else ""
    raise NoVariant(f"no variant is called {title!r}{hint}")


def _apply(change: tree.Statement, statements: list[tree.Statement]) -> Diagnostic | None:
    node = change.node
    if isinstance(node, tree.Drop):
        return _drop(node, statements)
    if isinstance(node, tree.Replace):
        return _replace(change, node, statements)
    if isinstance(node, tree.Set):
        return _set(change, node, statements)
    if isinstance(node, tree.Let):
        return _set_let(change, node, statements)
    if isinstance(node, tree.About):
        _set_about(change, statements)
    elif isinstance(node, _ADDED):
        statements.append(change)
    return None


def _what_is_said(node: tree.Node, statements: list[tree.Statement]) -> str:
    """What only one line of a variant can change, as that line begins; "" for what can be added again."""
    if isinstance(node, tree.About):
        return "about"
    if isinstance(node, tree.Replace):
        return f"replace {node.paper.text}"
    if isinstance(node, tree.PaperLine):
        return f"replace {node.name.text}"
    if isinstance(node, tree.Drop):
        return f"drop {node.name.text}"
    if isinstance(node, tree.Let):
        return f"set {node.name.text}"  # either changes the `let`
    if not isinstance(node, tree.Set):
        return ""
    owner, _, quantity = node.target.text.rpartition(".")
    at = _pieces(statements).get(owner)
    if at is not None and quantity in ("width", "height") and _is_round(statements[at]):
        quantity = "diameter"
    return f"set {owner}.{quantity}" if owner else f"set {quantity}"


def _is_round(piece: tree.Statement) -> bool:
    """True where a piece is as wide as it is high, by one line that says both."""
    return any(isinstance(line.node, tree.Measure) and line.node.word == "diameter" for line in piece.block)


def _said_twice(change: tree.Statement, what: str, first: Span) -> Diagnostic:
    if isinstance(change.node, tree.Let):
        what = f"let {change.node.name.text}"
    return error("said-twice", change.span, f"`{what}` is said twice", "keep one of the two",
                 (Related(first, "here it is said first"),))  # fmt: skip


def _subject(node: tree.Node) -> frozenset[str]:
    """The names of what a change is about."""
    if isinstance(node, tree.Drop):
        return frozenset(node.name.parts)
    if isinstance(node, tree.Replace):
        return frozenset((node.paper.text,))
    return frozenset(node.target.parts) if isinstance(node, tree.Set) else frozenset()


def _pieces(statements: list[tree.Statement]) -> dict[str, int]:
    return {each.node.name.text: at for at, each in enumerate(statements)
            if isinstance(each.node, tree.PieceHeader)}  # fmt: skip


def _drop(node: tree.Drop, statements: list[tree.Statement]) -> Diagnostic | None:
    pieces = _pieces(statements)
    name = node.name.text
    if name not in pieces:
        return _no_piece(node.name, pieces)
    del statements[pieces[name]]
    statements[:] = [_without(each, name) for each in statements if not _speaks_of(each.node, name)]
    return None


def _speaks_of(node: tree.Node, name: str) -> bool:
    """Tips and steps of a dropped piece go with it, and its scores in poses."""
    if isinstance(node, tree.Tip):
        return node.on is not None and node.on.text == name
    if isinstance(node, tree.FoldPose):
        return node.base is not None and node.base.text == name
    return isinstance(node, tree.StepLine) and node.piece.text == name


def _without(statement: tree.Statement, name: str) -> tree.Statement:
    """The same pose without what it says of a piece; any other statement as it is."""
    if not isinstance(statement.node, tree.PoseLine):
        return statement
    return statement.replace(
        block=tuple(line for line in statement.block if not _speaks_of(line.node, name))
    )


def _replace(
    change: tree.Statement, node: tree.Replace, statements: list[tree.Statement]
) -> Diagnostic | None:
    papers = {each.node.name.text: at for at, each in enumerate(statements)
              if isinstance(each.node, tree.PaperLine)}  # fmt: skip
    line = change.replace(word="paper", node=tree.PaperLine(node.paper, node.facts))
    if node.paper.text in papers:
        statements[papers[node.paper.text]] = line
    elif any(isinstance(each.node, tree.Use) for each in statements):
        statements.append(line)  # a paper of a used file: the recipe's own wins
    else:
        meant = nearest(node.paper.text, papers)
        return error("unknown-name", node.paper.span, f"no paper is called `{node.paper.text}`",
                     f"did you mean `{meant}`?" if meant else "declare it with `paper`")  # fmt: skip
    return None


def _set(
    change: tree.Statement, node: tree.Set, statements: list[tree.Statement]
) -> Diagnostic | None:
    *owner, quantity = node.target.parts
    if not owner:
        return _set_word(change, node, statements)
    pieces = _pieces(statements)
    name = ".".join(owner)
    if name not in pieces:
        return _no_piece(node.target.replace(parts=tuple(owner)), pieces)
    at = pieces[name]
    block = _with_size(statements[at], quantity, change, node)
    if block is None:
        return error("cannot-set", node.target.span, f"`{node.target.text}` cannot be set",
                     "set a width, height, length, overlap, diameter, border or turned of a piece, or "
                     "an asked size of its fold")  # fmt: skip
    statements[at] = statements[at].replace(block=block)
    return None


def _with_size(
    piece: tree.Statement, quantity: str, change: tree.Statement, node: tree.Set
) -> tuple[tree.Statement, ...] | None:
    """The piece's block with one size changed, or None where it has no such size."""
    fold = _folded_with(piece, quantity, node, change)
    if fold is not None:
        return fold
    header = piece.node
    assert isinstance(header, tree.PieceHeader)
    if quantity == "border":
        entry = tree.BorderEntry(node.value.span, node.value, ())
        kept = [each for each in piece.block if not isinstance(each.node, tree.Border)]
        return (*kept, change.replace(word="border", node=tree.Border((entry,))))
    if quantity in ("width", "height") and header.kind != "band":
        return _with_side(piece, quantity, change, node)
    if quantity in _SIZE_WORDS:
        line = change.replace(word=quantity, node=tree.Measure(quantity, node.value))
        kept = [each for each in piece.block
                if not (isinstance(each.node, tree.Measure) and each.node.word == quantity)]  # fmt: skip
        return (*kept, line)
    return None


def _with_side(
    piece: tree.Statement, side: str, change: tree.Statement, node: tree.Set
) -> tuple[tree.Statement, ...]:
    """`size W x H` (or `flat`, or none yet) with its width or height replaced."""
    block = list(piece.block)
    for at, line in enumerate(block):
        if isinstance(line.node, tree.SizeLine | tree.Flat):
            size = line.node.size.replace(**{side: node.value})
            block[at] = change.replace(word=line.word, node=line.node.replace(size=size))
            return tuple(block)
        if isinstance(line.node, tree.Measure) and line.node.word == "diameter":
            block[at] = change.replace(word="diameter", node=tree.Measure("diameter", node.value))
            return tuple(block)
    unknown = tree.Unknown(node.value.span)
    size = tree.SizeOf(node.value.span, unknown, unknown).replace(**{side: node.value})
    return (*block, change.replace(word="size", node=tree.SizeLine(size)))


def _folded_with(
    piece: tree.Statement, quantity: str, node: tree.Set, change: tree.Statement
) -> tuple[tree.Statement, ...] | None:
    """`set card.flap 1`: an asked size of the fold that a base is folded by, given or not yet."""
    for at, line in enumerate(piece.block):
        if isinstance(line.node, tree.Fold):
            word = tree.Word(node.target.span, quantity)
            kept = [each for each in line.node.arguments if each.name.text != quantity]
            fold = line.node.replace(arguments=(*kept, tree.Argument(word, node.value)))
            # The span stays the fold's: its other arguments are not the variant's.
            return (*piece.block[:at], line.replace(node=fold), *piece.block[at + 1 :])
    return None


def _set_word(
    change: tree.Statement, node: tree.Set, statements: list[tree.Statement]
) -> Diagnostic | None:
    name = node.target.text
    if name in ("border", "makes"):
        return _set_head(change, node, statements)
    return _set_let(change, tree.Let(tree.Word(node.target.span, name), node.value), statements)


def _set_head(
    change: tree.Statement, node: tree.Set, statements: list[tree.Statement]
) -> Diagnostic | None:
    name = node.target.text
    value: tree.Node
    if name == "makes":
        if not isinstance(node.value, tree.Number):
            return error("not-a-number", node.value.span, "the number of copies is a whole number",
                         "set makes 2")  # fmt: skip
        value = tree.Amount("makes", node.value)
    else:
        value = tree.Border((tree.BorderEntry(node.value.span, node.value, ()),))
    _change_head(statements, name, change.replace(word=name, node=value))
    return None


def _set_about(change: tree.Statement, statements: list[tree.Statement]) -> None:
    _change_head(statements, "about", change)


def _change_head(statements: list[tree.Statement], word: str, line: tree.Statement) -> None:
    for at, head in enumerate(statements):
        if isinstance(head.node, tree.Recipe):
            kept = [each for each in head.block if each.word != word]
            statements[at] = head.replace(block=(*kept, line))


def _set_let(
    change: tree.Statement, node: tree.Let, statements: list[tree.Statement]
) -> Diagnostic | None:
    lets = {each.node.name.text: at for at, each in enumerate(statements)
            if isinstance(each.node, tree.Let)}  # fmt: skip
    line = change.replace(word="let", node=node)
    if node.name.text in lets:
        statements[lets[node.name.text]] = line
    elif isinstance(change.node, tree.Let) or any(isinstance(s.node, tree.Use) for s in statements):
        statements.append(line)
    else:
        meant = nearest(node.name.text, lets)
        return error("unknown-name", node.name.span, f"no `let` is called `{node.name.text}`",
                     f"did you mean `{meant}`?" if meant else "set a size, such as plate.width")  # fmt: skip
    return None


def _no_piece(name: tree.Reference, pieces: dict[str, int]) -> Diagnostic:
    meant = nearest(name.text, pieces)
    return error("unknown-name", name.span, f"no piece is called `{name.text}`",
                 f"did you mean `{meant}`?" if meant else f"the pieces are {', '.join(pieces)}")  # fmt: skip
