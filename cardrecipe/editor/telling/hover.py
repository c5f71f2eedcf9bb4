"""What stands at a place of a recipe → a few words about it: a thing, a size and its sum, a word of the
language.

Where the recipe has mistakes, what is still known is said.
"""

import re
from typing import NamedTuple

from cardrecipe.compile import Compiled
from cardrecipe.editor.names.meanings import Meanings, Name, meanings
from cardrecipe.editor.names.world import Symbol, World
from cardrecipe.editor.places import Place, nodes_at, place_at
from cardrecipe.editor.rules import INNER, RULES
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import compiled_at, variant_at
from cardrecipe.editor.telling import describing
from cardrecipe.editor.telling.envelope_words import envelope
from cardrecipe.editor.telling.markdown import code, listed, paragraphs, plain
from cardrecipe.editor.telling.question_marks import asked_in, asked_size, asked_value, set_size
from cardrecipe.model.lengths import with_unit
from cardrecipe.model.values import Var
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import PLACE_NAMES, forms_of

_WORD = re.compile(r"[a-z]+(?:-[a-z]+)*")


class Hover(NamedTuple):
    """What to say of the words at `span`."""

    span: Span
    markdown: str


def hover(snapshot: Snapshot, offset: int) -> Hover | None:
    """What is known of the word at `offset`."""
    place = place_at(snapshot.tree, offset)
    if place is None:
        return None
    here = _here(snapshot, place, offset)
    name = here.known.at(snapshot.source.name, offset)
    text = _named(name, here) if name is not None else None
    if name is not None and text is not None:
        return Hover(name.span, text)
    return _question_mark(here, offset) or _envelope(here, offset) or _word(here, offset)


class _Here(NamedTuple):
    """A line and the version of the card that it speaks of."""

    snapshot: Snapshot
    place: Place
    known: Meanings
    world: World
    compiled: Compiled | None


def _here(snapshot: Snapshot, place: Place, offset: int) -> _Here:
    """A line of a variant speaks of the variant; what it leaves out is told as the plain card has it."""
    known = meanings(snapshot)
    title = None if isinstance(place.statement.node, tree.Drop) else variant_at(snapshot.tree, offset)
    world = known.worlds.get(title)
    if title is None or world is None:
        return _Here(snapshot, place, known, known.worlds[None], snapshot.compiled)
    return _Here(snapshot, place, known, world, compiled_at(snapshot, offset))


# ---- names ---------------------------------------------------------------------------------------


def _named(name: Name, here: _Here) -> str | None:
    dotted = _dotted(name, here)
    is_set = isinstance(here.place.statement.node, tree.Set)
    if is_set and name.symbols and name.symbols[0].kind == "asked":
        return _thing(name.symbols[0], here)  # `card.width` is here what the fold asks for
    if dotted is not None and dotted.parts[-1] not in ("border", "turned"):
        return describing.size(dotted.text, here.compiled)
    if dotted is not None:
        owner = here.world.owners.get(".".join(dotted.parts[:-1]))
        return describing.piece(owner.symbol.name, owner.header, here.compiled) if owner is not None else None
    if name.symbols:
        return _thing(name.symbols[0], here)
    word = here.snapshot.source.words_at(name.span)
    # An ink that is only named; the four built-in adhesives are words of the language.
    return describing.supply(word, here.compiled) if name.kind == "supply" and word not in INNER else None


def _dotted(name: Name, here: _Here) -> tree.Reference | None:
    """The whole of a dotted size whose last part `name` is."""
    node = here.place.statement.node
    if isinstance(node, tree.PieceHeader | tree.GlueLine | tree.Tip | tree.StepLine | tree.Drop):
        return None
    found = [each for each in nodes_at(node, name.span.start) if isinstance(each, tree.Reference)]
    whole = found[-1] if found else None
    return whole if whole is not None and len(whole.parts) > 1 and whole.span.end == name.span.end else None


def _thing(meant: Symbol, here: _Here) -> str | None:
    source = describing.source_of(meant.span.file, here.known.sources.values())
    world, compiled = here.world, here.compiled
    if meant.kind == "piece":
        owner = world.owners.get(meant.name)
        return describing.piece(meant.name, owner.header if owner is not None else None, compiled)
    if meant.kind == "section":
        return _section(meant, here)
    if meant.kind == "let":
        lets = [each.node for each in world.statements if isinstance(each.node, tree.Let)]
        value = next((each.value for each in lets if each.name.span == meant.span), None)
        return describing.let(meant.name, source, value, compiled)
    if meant.kind in ("paper", "supply"):
        return (describing.paper if meant.kind == "paper" else describing.supply)(meant.name, compiled)
    if meant.kind == "structure":
        statement = world.structure(meant.name)
        return describing.structure(statement, source) if statement is not None else None
    if meant.kind == "asked":
        return _asked(meant, world, compiled)
    return _titled(meant, here)


def _titled(meant: Symbol, here: _Here) -> str:
    """Poses, variants and files."""
    if meant.kind == "file":
        return describing.file(meant.name, here.known.sources.get(meant.span.file))
    for statement in here.snapshot.tree.statements:
        if isinstance(statement.node, tree.Variant) and statement.node.title.text == meant.name:
            return describing.variant(statement, here.snapshot.source)
    return f"**{meant.kind}** {plain(meant.name) if meant.kind == 'variant' else code(meant.name)}"


def _section(meant: Symbol, here: _Here) -> str:
    owners = [name for name, owner in here.world.owners.items() if owner.sections.get(meant.name) == meant]
    if not owners:
        return f"**section** {code(meant.name)}"
    own = here.place.piece.name.text if here.place.piece is not None else None
    return describing.section(meant.name, own if own in owners else owners[0], here.compiled)


def _asked(meant: Symbol, world: World, compiled: Compiled | None) -> str:
    """The size for each piece that is folded by a structure that asks for it."""
    found: dict[str, Var] = {}
    structure = meant.span.file.removeprefix("library:")
    for name, owner in world.owners.items():
        for line in owner.lines:
            node = line.statement.node
            statement = world.structure(node.structure.text) if isinstance(node, tree.Fold) else None
            if isinstance(node, tree.Fold) and statement is not None and _asks(statement, meant):
                structure = node.structure.text
                var = (asked_size(compiled.solution, name, node, meant.name)
                       if compiled is not None and compiled.solution is not None else None)  # fmt: skip
                if var is not None:
                    found.setdefault(name, var)
    return describing.asked(meant, structure, found.items(), compiled)


def _asks(statement: tree.Statement, meant: Symbol) -> bool:
    return statement.span.file == meant.span.file and any(
        isinstance(line.node, tree.Ask) and line.span.start <= meant.span.start <= line.span.end
        for line in statement.block
    )


# ---- `?`, envelopes and words --------------------------------------------------------------------


def _question_mark(here: _Here, offset: int) -> Hover | None:
    place, compiled = here.place, here.compiled
    marks = [each.span for each in nodes_at(place.statement.node, offset) if isinstance(each, tree.Unknown)]
    if not marks:
        return None
    solution = compiled.solution if compiled is not None else None
    if compiled is not None and solution is not None and place.piece is not None:
        for asked in asked_in(place.statement, place.piece.name.text, solution):
            if asked.span == marks[0]:
                value = asked_value(solution, asked)
                if value is not None and asked.of is not None:  # its unknown is counted from the other edge
                    return Hover(marks[0], f"{code('?')} = {with_unit(value, solution.unit)}")
                return Hover(marks[0], describing.unknown(code("?"), asked.var, compiled))
    if compiled is not None and solution is not None and isinstance(place.statement.node, tree.Set):
        var = set_size(solution, place.statement.node.target)
        if var is not None:
            return Hover(marks[0], describing.unknown(code("?"), var, compiled))
    return Hover(marks[0], f"{code('?')}: work it out. It is not known yet.")


def _envelope(here: _Here, offset: int) -> Hover | None:
    node = here.place.statement.node
    if isinstance(node, tree.EnvelopeWanted) and node.name.span.start <= offset <= node.name.span.end:
        return Hover(node.name.span, envelope(node.name.text, here.compiled))
    return None


def _word(here: _Here, offset: int) -> Hover | None:
    """A word of the language: what it is for and how its line is written."""
    text, line = here.snapshot.source.text, here.place.statement.span
    for match in _WORD.finditer(text, line.start, line.end):
        if match.start() <= offset <= match.end() and not _is_quoted(text, line.start, match.start()):
            span, word = Span(line.file, match.start(), match.end()), match.group()
            if match.start() == line.start and word in RULES:
                return Hover(span, keyword(word))
            if word in INNER:
                return Hover(span, f"{code(word)} — {INNER[word]}")
    return None


def _is_quoted(text: str, start: int, at: int) -> bool:
    return text.count('"', start, at) % 2 == 1


def keyword(word: str) -> str:
    """The rule of a line's first word, its forms and where they stand."""
    forms = forms_of(word)
    places = dict.fromkeys(PLACE_NAMES[each] for form in forms for each in form.places)
    return paragraphs((f"**{word}** — {RULES[word]}", listed(code(form.example) for form in forms),
                       f"It stands {', '.join(places)}."))  # fmt: skip
