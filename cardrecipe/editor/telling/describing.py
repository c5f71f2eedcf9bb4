"""A thing that a recipe names → what it is, in a maker's words: its kind, its sizes in both systems, sums."""

from collections.abc import Iterable, Iterator

from cardrecipe.compile import Compiled
from cardrecipe.editor.names.world import Symbol, asked_words
from cardrecipe.editor.solved import in_both, in_other_unit, rectangles_in_both, value_of, why
from cardrecipe.editor.telling.markdown import code, listed, paragraphs, plain, sums
from cardrecipe.library.folds import fold_names, fold_source
from cardrecipe.model.card import Piece
from cardrecipe.model.lengths import ABBREVIATION, convert, size_written, with_unit, written
from cardrecipe.model.papers import Paper
from cardrecipe.model.values import Var
from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source

_OPEN = "Its size is not known yet."


def piece(name: str, header: tree.PieceHeader | None, compiled: Compiled | None) -> str:
    """A piece: what it is cut from, where it goes, how large it comes out and why."""
    known = _piece(name, compiled)
    kind = header.kind if header is not None else known.kind if known is not None else "piece"
    return paragraphs((_title(name, kind, header, compiled), *_sizes(name, kind, compiled)))


def section(name: str, owner: str, compiled: Compiled | None) -> str:
    """A section of a piece with its size."""
    head = f"**section** {code(name)} of {code(owner)}"
    solution = compiled.solution if compiled is not None else None
    unknown = solution.parts.sections.get((owner, name)) if solution is not None else None
    if compiled is None or unknown is None:
        return head
    return paragraphs((head, *_both_sides(compiled, unknown)))


def size(name: str, compiled: Compiled | None) -> str:
    """A dotted size, such as `back.width`."""
    solution = compiled.solution if compiled is not None else None
    var = solution.names.unknowns.get(name) if solution is not None else None
    head = f"**size** {code(name)}"
    if compiled is None or var is None:
        return head
    return unknown(head, var, compiled)


def unknown(head: str, var: Var, compiled: Compiled) -> str:
    """An unknown of the card with its value in both unit systems and the sum behind it."""
    solution = compiled.solution
    said = in_both(compiled, var)
    if solution is None or said is None:
        return paragraphs((head, _closed(var, compiled) or _OPEN))
    return paragraphs((f"{head} = {said}", sums(why(solution, var))))


def let(name: str, source: Source | None, value: tree.Expression | None, compiled: Compiled | None) -> str:
    head = f"**let** {code(name)}"
    if source is not None and value is not None:
        head += f" = {code(source.words_at(value.span))}"
    solution = compiled.solution if compiled is not None else None
    amount = value_of(solution, name) if solution is not None else None
    if compiled is None or amount is None:
        return head
    other = in_other_unit(compiled)
    twin = value_of(other, name) if other is not None and not amount[-1].isdigit() else None
    return paragraphs((head, f"It comes to {amount}" + (f" · {twin}." if twin is not None else ".")))


# ---- papers and supplies -------------------------------------------------------------------------


def paper(name: str, compiled: Compiled | None) -> str:
    known = compiled.solution.card.papers.get(name) if compiled is not None and compiled.solution else None
    if known is None or compiled is None or compiled.solution is None:
        return f"**paper** {code(name)}"
    card = compiled.solution.card
    facts = list(_facts(known, card.head.unit))
    users = [each.name for each in card.pieces if each.paper == name]
    used = f"For {_names(users)}." if users else "No piece is cut from it."
    return paragraphs(
        (f"**paper** {code(name)}: {known.kind} *{plain(known.title)}*", ", ".join(facts), used)
    )


def supply(name: str, compiled: Compiled | None) -> str:
    solution = compiled.solution if compiled is not None else None
    known = solution.card.supplies.get(name) if solution is not None else None
    if known is None:
        return f"**supply** {code(name)}, which no line declares; the sheet lists it by this name"
    return f"**{known.kind}** {code(name)}: *{plain(known.title)}*"


def _facts(known: Paper, unit: str) -> Iterator[str]:
    for sheet in known.sheets:
        yield size_written(sheet.width, sheet.height, unit) + (
            f" at {float(sheet.price):.2f}" if sheet.price is not None else ""
        )
    if known.weight is not None:
        yield f"{float(known.weight.amount):g} {known.weight.unit} {known.weight.basis or ''}".strip()
    if known.thick is not None:
        yield f"{with_unit(known.thick, unit)} thick"
    if known.grain is not None:
        yield f"grain {known.grain}"
    if known.one_way:
        yield "one-way"
    if known.color is not None:
        yield plain(known.color)
    if known.pack is not None:
        yield f"pack of {known.pack}"


# ---- files, variants, structures -------------------------------------------------------------------


def file(path: str, source: Source | None) -> str:
    """A used file, with what it gives."""
    if source is None:
        return f"**file** {code(path)}"
    given: dict[str, list[str]] = {"paper": [], "supply": [], "let": [], "structure": []}
    for statement in parse(source)[0].statements:
        if isinstance(statement.node, tree.PaperLine | tree.SupplyLine | tree.Let | tree.Structure):
            given[statement.word].append(statement.node.name.text)
    lines = [f"{kind}: {_names(names)}" for kind, names in given.items() if names]
    return paragraphs((f"**file** {code(path)}", listed(lines)))


def variant(statement: tree.Statement, source: Source) -> str:
    """A variant: what it is about and its changes, as they are written."""
    assert isinstance(statement.node, tree.Variant)
    about = next((line.node.text.text for line in statement.block if isinstance(line.node, tree.About)), "")
    changes = [
        source.words_at(line.span) for line in statement.block if not isinstance(line.node, tree.About)
    ]
    more = [f"… and {len(changes) - 8} more"] if len(changes) > 8 else []
    return paragraphs((f"**variant** {plain(statement.node.title.text)}", plain(about),
                       listed([*map(code, changes[:8]), *more])))  # fmt: skip


def structure(statement: tree.Statement, source: Source | None) -> str:
    """What a fold is and what it asks for; the comment above it says what it looks like."""
    assert isinstance(statement.node, tree.Structure)
    name = statement.node.name.text
    asks = [_asked(each, source) for each in asked_words(statement)]
    shipped = "a shipped fold" if statement.span.file.startswith("library:") else "a structure"
    said = plain(_comment(statement, source)) if source is not None else ""
    asked = "It asks for " + ", ".join(asks) + "." if asks else "It asks for nothing."
    return paragraphs((f"**fold** {code(name)}, {shipped}", said, asked))


def asked(known: Symbol, structure: str, sizes: Iterable[tuple[str, Var]], compiled: Compiled | None) -> str:
    """A size that a structure asks for, with what it is for each piece that is folded so."""
    head = f"{code(known.name)}, asked for by the fold {code(structure)}"
    if compiled is None:
        return head
    return paragraphs((head, *(unknown(f"For {code(piece)}: {code(known.name)}", var, compiled)
                               for piece, var in sizes)))  # fmt: skip


def source_of(file: str, sources: Iterable[Source]) -> Source | None:
    """The text of a file that is known, a shipped structure's too."""
    for each in sources:
        if each.name == file:
            return each
    name = file.removeprefix("library:")
    return fold_source(name) if file.startswith("library:") and name in fold_names() else None


def _asked(each: tree.Asked, source: Source | None) -> str:
    if each.default is None:
        return code(each.name.text)
    usual = f" (else {code(source.words_at(each.default.span))})" if source is not None else ""
    return code(each.name.text) + usual


def _comment(statement: tree.Statement, source: Source) -> str:
    """The comment that stands right above a statement."""
    above = source.text[: statement.span.start].split("\n")[:-1]
    lines: list[str] = []
    while above and above[-1].lstrip().startswith("#"):
        lines.insert(0, above.pop().lstrip().removeprefix("#").strip())
    return " ".join(lines)


# ---- details -------------------------------------------------------------------------------------


def _piece(name: str, compiled: Compiled | None) -> Piece | None:
    solution = compiled.solution if compiled is not None else None
    return (
        next((each for each in solution.card.pieces if each.name == name), None)
        if solution is not None
        else None
    )


def _title(name: str, kind: str, header: tree.PieceHeader | None, compiled: Compiled | None) -> str:
    parts = [f"**{kind}** {code(name)}"]
    known = compiled.solution.card.papers if compiled is not None and compiled.solution is not None else {}
    if header is not None and header.paper is not None:
        word = header.paper.text
        parts.append(f"from *{plain(known[word].title)}*" if word in known else f"from {code(word)}")
    if header is not None and header.hosts:
        parts.append("on " + ", ".join(code(f"{host.name.text} {host.side or ''}") for host in header.hosts))
    if header is not None and header.under is not None:
        parts.append(f"under {code(header.under.text)}")
    if kind == "band":
        parts.append("round the closed card")
    return " ".join(parts)


def _sizes(name: str, kind: str, compiled: Compiled | None) -> Iterator[str]:
    if compiled is None or compiled.solution is None:
        return
    if compiled.solution.parts.of_piece(name) == ():
        yield "A line of it, or of what it lies on, cannot be read yet."
        return
    sizes = rectangles_in_both(compiled, name)
    for where, said in sizes:
        place = f" on {' and '.join(where)}" if len(sizes) > 1 and all(where) else ""
        yield f"{said}{place}" + (", long and wide" if kind == "band" else "")
    if not sizes:
        yield _OPEN
    if kind == "base" and compiled.folded is not None:
        yield from _shut(name, compiled)
    for quantity in ("width", "height") if kind != "band" else ("width",):
        yield sums(why(compiled.solution, (name, quantity)))


def _shut(name: str, compiled: Compiled) -> Iterator[str]:
    folded = compiled.folded
    for closed in folded.closed if folded is not None else ():
        if closed.base == name and folded is not None:
            yield f"Folded shut it is {size_written(closed.width, closed.height, folded.card.unit)}."


def _both_sides(compiled: Compiled, owner: str) -> Iterator[str]:
    """Width and height of a section, one under the other, each with its sum."""
    for quantity in ("width", "height"):
        said = in_both(compiled, (owner, quantity))
        if said is not None and compiled.solution is not None:
            yield f"{quantity} {said}"
            yield sums(why(compiled.solution, (owner, quantity)), 4)


def _closed(var: Var, compiled: Compiled) -> str | None:
    """A size of the closed card that nothing in the recipe asks for."""
    folded = compiled.folded
    if folded is None:
        return None
    for closed in folded.closed:
        sizes = {"finished-width": closed.width, "finished-height": closed.height}
        if closed.base == var[0] and var[1] in sizes:
            return f"{with_unit(sizes[var[1]], folded.card.unit)}, as {code(var[0])} comes out folded shut"
    if var[1] == "thickness" and folded.thickness is not None:
        unit = folded.card.unit
        return f"{written(convert(folded.thickness.likely_mm, 'mm', unit), unit)} {ABBREVIATION[unit]}"
    return None


def _names(names: list[str]) -> str:
    shown = [code(each) for each in names[:6]]
    more = f" and {len(names) - 6} more" if len(names) > 6 else ""
    return ", ".join(shown) + more
