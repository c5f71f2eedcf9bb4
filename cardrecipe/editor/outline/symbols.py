"""A recipe's tree → its outline: what it declares, pieces with their sections, what stands under what."""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import end_of
from cardrecipe.syntax import tree
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import SHAPES

MOST_DEEP = 50  # blocks in blocks, which may be as deep as the file is long; a card needs four
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
_KINDS = {
    "paper": "paper", "supply": "supply", "let": "let", "base": "piece", "panel": "piece", "band": "piece",
    **dict.fromkeys(SHAPES, "piece"), "pose": "pose", "structure": "structure", "variant": "variant",
    "recipe": "recipe", "class": "class",
}  # fmt: skip


class Symbol(NamedTuple):
    """A line of the outline. `span` holds the statement with its block, `name_span` its name within."""

    name: str
    kind: str
    detail: str
    span: Span
    name_span: Span
    children: tuple["Symbol", ...] = ()


def symbols(snapshot: Snapshot) -> tuple[Symbol, ...]:
    """The outline in the order of the text; lines that cannot be read stand in it by the name they have."""
    return tuple(_outlined(snapshot.tree.statements, snapshot.source))


def _outlined(statements: Iterable[tree.Statement], source: Source, depth: int = 0) -> Iterator[Symbol]:
    for statement in statements if depth < MOST_DEEP else ():
        inner = tuple(_outlined(statement.block, source, depth + 1))
        named = _named(statement, source)
        if named is not None:
            name, kind, detail, span = named
            whole = Span(source.name, statement.span.start, max(end_of(statement), span.end))
            yield Symbol(name, kind, detail, whole, span, inner)
        elif isinstance(statement.node, tree.Sections):
            yield from _sections(statement.node)
        elif isinstance(statement.node, tree.Ask):
            for asked in statement.node.parameters:
                yield _word(asked.name, "size", "asked for")
        else:
            yield from inner


_Named = tuple[str, str, str, Span]


def _named(statement: tree.Statement, source: Source) -> _Named | None:
    """What the statement declares: its name, its kind, a few words about it, the place of its name."""
    node = statement.node
    if isinstance(node, tree.PieceHeader):
        return node.name.text, "piece", _piece_detail(node), node.name.span
    if isinstance(node, tree.PaperLine):
        return node.name.text, "paper", f"{node.facts.kind.text} {node.facts.title.text}", node.name.span
    if isinstance(node, tree.SupplyLine):
        return node.name.text, "supply", f"{node.kind.text} {node.title.text}", node.name.span
    if isinstance(node, tree.Let):
        return node.name.text, "let", source.words_at(node.value.span), node.name.span
    if isinstance(node, tree.PoseLine | tree.Structure):
        return node.name.text, _KINDS[statement.word], statement.word, node.name.span
    if isinstance(node, tree.Recipe | tree.Variant | tree.ClassHead):
        return node.title.text or statement.word, _KINDS[statement.word], statement.word, node.title.span
    if isinstance(node, tree.Make):
        return node.path.text or "make", "file", _make_detail(node), node.path.span
    return _broken(statement, source) if isinstance(node, tree.Broken) else None


def _broken(statement: tree.Statement, source: Source) -> _Named | None:
    """A declaration that is being written: the outline keeps it meanwhile."""
    if statement.word not in _KINDS:
        return None
    start = statement.span.start + len(statement.word)
    match = _NAME.search(source.text, start, statement.span.end)
    span = Span(source.name, *match.span()) if match else statement.span
    return source.words_at(span) if match else statement.word, _KINDS[statement.word], statement.word, span


def _piece_detail(header: tree.PieceHeader) -> str:
    parts = [header.kind]
    if header.hosts:
        parts.append("on " + ", ".join(host.name.text for host in header.hosts))
    if header.under is not None:
        parts.append(f"under {header.under.text}")
    if header.paper is not None:
        parts.append(f"from {header.paper.text}")
    return " ".join(parts)


def _make_detail(node: tree.Make) -> str:
    variant = f", {node.variant.text}" if node.variant is not None else ""
    return f"{node.number.value} cards{variant}"


def _sections(node: tree.Sections) -> Iterator[Symbol]:
    for name in node.names:
        yield _word(name, "section", "section")


def _word(name: tree.Word, kind: str, detail: str) -> Symbol:
    return Symbol(name.text, kind, detail, name.span, name.span)
