"""Names of sections that a piece turns out not to have, once its lines have places.

How many parts slits, windows and slanted scores make is known only then; until then every name is believed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.model.card import Card, Piece
from cardrecipe.model.values import Reader
from cardrecipe.solve.sections import Solved, has_dangling_score, sections_of
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span


def missing_sections(solution: Solution) -> Iterator[Diagnostic]:
    """More names than sections, and places on sections that are not there."""
    card = solution.card
    for piece in card.pieces:
        if piece.has_plain_sections or piece.broken or piece.name in solution.parts.skipped:
            continue
        own = [each for each in piece.sections if not _is_made_up(each, piece)]
        used = list(_used(card, piece))
        if own or used:
            yield from _missing(piece, own, used, _names(piece, solution))


def _is_made_up(name: str, piece: Piece) -> bool:
    return name == f"section-{piece.sections.index(name) + 1}"


def _used(card: Card, piece: Piece) -> Iterator[tuple[str, Span]]:
    """The sections of a piece that something is put on or glued by, and where that is said."""
    for each in card.pieces:
        hosts = [*each.hosts, *(join.host for join in each.joins)]
        yield from ((host.section, host.span) for host in hosts if host.section and host.piece == piece.name)
    if piece.glue is not None:
        joined = {join.section for join in piece.joins}
        words = [glued.section for glued in piece.glue.line.sections]
        yield from ((word.text, word.span) for word in words if word.text in joined)


def _names(piece: Piece, solution: Solution) -> Sequence[str]:
    """The names of the sections that there are; none where they are not known yet, or not for good: a score
    that stops too soon is the mistake then."""
    reader = Reader(solution.card.head.unit, solution.unit, solution.names, solution.values)
    known = Solved(solution.values, solution.draft.lines, reader)
    sections = sections_of(piece, known)
    return [each.name for each in sections] if sections and not has_dangling_score(piece, known) else ()


def _missing(
    piece: Piece, own: Sequence[str], used: Sequence[tuple[str, Span]], names: Sequence[str]
) -> Iterator[Diagnostic]:
    if not names:
        return
    if any(each not in names for each in own):
        number = max(piece.sections.index(each) for each in own) + 1
        yield error("section-count", piece.sections_span or piece.span,
                    f"`{piece.name}` has {len(names)} section{'s' if len(names) > 1 else ''} but "
                    f"{number} names", "add a score or take a name away")  # fmt: skip
    for name, span in used:
        if name not in names:
            meant = nearest(name, names)
            hint = f"did you mean `{meant}`?" if meant else f"its sections are {', '.join(names)}"
            yield error("unknown-name", span, f"`{piece.name}` has no section called `{name}`", hint)
