"""What lies on a face already, quiet: pieces with all that is on them, each where it was put."""

from collections.abc import Collection

from cardrecipe.fold.placing import foam_under
from cardrecipe.render.drawings.marks import Mark, box_of
from cardrecipe.render.drawings.paint import Look, painted, pale, paper_look, shadow
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.scenes import Earlier, lying_on
from cardrecipe.render.drawings.shapes import Frame, in_frame, piece_path, turned_frame
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece


def quiet(look: Look) -> Look:
    """How paper looks that a picture is not about."""
    return pale(look)._replace(pattern=None)


def lying_marks(
    card: SizedCard, each: Earlier, frame: Frame, scale: float, done: Collection[str] = ()
) -> list[Mark]:
    """One copy in its upright `frame`, and what lies on it of the pieces `done`."""
    piece = each.piece
    turned = turned_frame(frame, float(piece.turned)) if piece.turned else frame
    path, box = piece_path(piece, turned, scale), box_of(turned)
    marks = [of_piece(painted(path, box, quiet(paper_look(card, piece.paper)), ""), piece.name)]
    lift = float(foam_under(piece, card.unit))
    if lift:
        marks.insert(0, shadow(path, box, lift, is_soft=False))
    for above in lying_on(card, piece, each.copy, done):
        marks += lying_marks(card, above, _within(turned, piece, above.piece, above.place), scale, done)
    return marks


def _within(frame: Frame, host: SizedPiece, piece: SizedPiece, place: Placement) -> Frame:
    """The frame of a piece on a host that may be turned."""
    left, top = place.x, place.y
    for section in host.sections if place.is_section else ():
        if section.name == place.host:
            left, top = left + section.x, top + section.y
    right, bottom = left + piece.width, top + piece.height
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return tuple(in_frame(corner, host, frame) for corner in corners)
