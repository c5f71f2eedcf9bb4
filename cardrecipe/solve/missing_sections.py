"""Names of sections that a piece turns out not to have, once its lines have places.

How many parts slits, windows and slanted scores make is known only then; until then every name is believed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.model.card import Card, Piece
from cardrecipe.model.hosts import no_section, too_many_names
from cardrecipe.solve.sections import Solved, has_dangling_score, sections_of
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span


def missing_sections(solution: Solution) -> Iterator[Diagnostic]:
    """More names than sections, and places on sections that are not there."""
    used = _used(solution.card)
    known = solution.placed()
    for piece in solution.card.pieces:
        if piece.has_plain_sections or piece.broken or piece.name in solution.parts.skipped:
            continue
        named = [each for at, each in enumerate(piece.sections) if each != f"section-{at + 1}"]
        on_it = used.get(piece.name, ())
        if named or on_it:
            yield from _missing(piece, named, on_it, known)


def _used(card: Card) -> dict[str, list[tuple[str, Span]]]:
    """The sections of each piece that something is put on or glued by, and where that is said."""
    found: dict[str, list[tuple[str, Span]]] = {}
    for piece in card.pieces:
        for host in (*piece.hosts, *(join.host for join in piece.joins)):
            if host.section:
                found.setdefault(host.piece, []).append((host.section, host.span))
    for piece in card.pieces:
        if piece.glue is not None:
            joined = {join.section for join in piece.joins}
            words = [glued.section for glued in piece.glue.line.sections if glued.section.text in joined]
            found.setdefault(piece.name, []).extend((word.text, word.span) for word in words)
    return found


def _missing(
    piece: Piece, named: Sequence[str], used: Sequence[tuple[str, Span]], known: Solved
) -> Iterator[Diagnostic]:
    """Nothing where the sections are not known yet, or a score stops too soon: that is the mistake then."""
    there = [each.name for each in sections_of(piece, known)]
    is_short = any(each not in there for each in named)
    lost = [(name, span) for name, span in used if name not in there]
    if not there or not (is_short or lost) or has_dangling_score(piece, known):
        return
    if is_short:
        yield too_many_names(piece, len(there), max(piece.sections.index(each) for each in named) + 1)
    for name, span in lost:
        yield no_section(piece, name, span, there)
