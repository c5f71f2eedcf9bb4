"""The shapes that are cut out before a class → pages with their outlines at true size, to trace."""

from collections.abc import Iterator
from itertools import groupby

from cardrecipe.plan.classes.piece_prep import is_cut_out_before
from cardrecipe.plan.classes.sheet import ClassSheet, Kit
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.papers import Paper
from cardrecipe.render.true_scale.templates import Data, templates
from cardrecipe.render.true_scale.wanted import is_by_the_way, wants_template
from cardrecipe.solve.sized import SizedPiece


def outline_pages(sheet: ClassSheet, paper: Paper, is_large: bool = False) -> list[Data]:
    """The pages, as `templates.typ` draws them; kits in inches and in millimetres have pages of their own."""
    kits = sorted(sheet.kits, key=_unit)
    return [
        page
        for _, group in groupby(kits, _unit)
        for page in _pages(sheet.title, list(group), paper, is_large)
    ]


def outlined(kit: Kit) -> list[SizedPiece]:
    """The pieces of a card that are traced: shapes, and what has windows or slanted sides."""
    return [
        piece for piece in kit.sheet.folded.card.pieces
        if (is_cut_out_before(piece) or piece.windows or piece.outline is not None)
        and wants_template(piece) and not is_by_the_way(piece)
    ]  # fmt: skip


def _unit(kit: Kit) -> str:
    return kit.sheet.folded.card.unit


def _pages(title: str, kits: list[Kit], paper: Paper, is_large: bool) -> list[Data]:
    pieces = tuple(_each_once(kits))
    if not pieces:
        return []
    first: Sheet = kits[0].sheet
    card = first.folded.card._replace(pieces=pieces)
    return templates(
        first._replace(title=title, folded=first.folded._replace(card=card), copies=1), paper, is_large
    )


def _each_once(kits: list[Kit]) -> Iterator[SizedPiece]:
    """A shape that several kits share is drawn once, called after all of them."""
    alike: dict[tuple[object, ...], list[tuple[Kit, SizedPiece]]] = {}
    for kit in kits:
        for piece in outlined(kit):
            like = (
                *(piece.name, piece.kind, piece.width, piece.height, piece.corner_radius),
                *(piece.outline, piece.windows, piece.scores),
            )
            alike.setdefault(like, []).append((kit, piece))
    for group in alike.values():
        letters = "+".join(kit.letter for kit, _ in group)
        count = sum(piece.count * kit.kits for kit, piece in group)
        _, piece = group[0]
        yield piece._replace(name=f"{letters} {piece.name}", count=count)
