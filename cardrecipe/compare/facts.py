"""A solved card as lines, one fact a line in a steady order: a line diff of two reads as a maker's diff.

Papers and pieces stand by name and steps without numbers: what only stands elsewhere in the text, or comes
later by one, is no difference.
"""

from collections.abc import Iterator

from cardrecipe.compare.of_papers import paper_told
from cardrecipe.compare.of_scores import scores_told, sections_told, windows_told
from cardrecipe.compare.of_things import envelopes_told, supplies_told
from cardrecipe.compare.pairs import used_papers
from cardrecipe.compare.piece_words import (
    edges_told,
    fixing_told,
    place_told,
    seen_edges,
    what_told,
    works_told,
)
from cardrecipe.model.lengths import FRACTION_SLASH, NARROW_SPACE, TIMES, size_written
from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.plan.post_lines import post_lines
from cardrecipe.plan.sheet import Sheet
from cardrecipe.solve.sized import SizedCard, SizedPiece

# Every sign of a size as it is typed in a recipe, since these lines go through pagers and mails.
_TYPED = {NARROW_SPACE: " ", "\u00a0": " ", FRACTION_SLASH: "/", TIMES: "x", "\u201c": '"', "\u201d": '"'}


def facts_of(sheet: Sheet) -> tuple[str, ...]:
    """The facts of a card that its maker would notice, one a line."""
    table = str.maketrans(_TYPED)
    return tuple(" ".join(line.translate(table).split()) for line in _facts(sheet))


def _facts(sheet: Sheet) -> Iterator[str]:
    card = sheet.folded.card
    yield f"title: {card.title}"
    yield from _card(sheet)
    for name, paper in sorted(used_papers(card).items()):
        yield f"paper {name}: {paper_told(paper, card.unit)}"
    for piece in sorted(card.pieces, key=lambda each: (each.kind != "base", each.name)):
        yield from _piece(card, piece)
    for step in sheet.steps:
        yield f"step: {step.title}"
    yield from (
        f"get: {name}{', ' if amount else ''}{amount}"
        for name, amount in sorted(supplies_told(sheet).items())
    )
    yield from (f"envelope: {name}; {note}" for name, note in envelopes_told(sheet).items())
    yield from (f"post: {line.title}" for line in post_lines(sheet.post, card.unit))


def _card(sheet: Sheet) -> Iterator[str]:
    card, size = sheet.folded.card, closed_size(sheet.folded)
    if size is not None:
        yield f"closed: {size_written(*size, card.unit)}"
    yield f"makes: {sheet.copies} {one_copy(card)}{'' if sheet.copies == 1 else 's'}"
    yield from (f"about: {line}" for line in card.about.split("\n") if line.strip())


def _piece(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    name = piece.name
    yield f"{name}: {what_told(card, piece)}"
    if piece.placements or piece.around:
        yield f"{name}: {place_told(card, piece)}"
    if piece.placements:
        border = edges_told(seen_edges(card, piece.placements[0]), card.unit)
        yield f"{name}: border {border}"
    yield from (f"{name}: {word} {told}" for word, told in (
        ("scores", scores_told(card, piece)), ("sections", sections_told(card, piece)),
        ("windows", windows_told(card, piece))) if told)  # fmt: skip
    if piece.works:
        yield from (f"{name}: {work}" for work in works_told(card, piece).split("; "))
    if piece.placements or piece.around or piece.joins:
        yield f"{name}: fixed with {fixing_told(card, piece)}"
    yield from (f"{name}: tip: {tip}" for tip in (*piece.tips, *piece.tips_on))
