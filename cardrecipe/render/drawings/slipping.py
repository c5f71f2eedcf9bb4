"""A loose piece that is slipped into a pocket: half way in, with the way it goes."""

from collections.abc import Collection

from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label
from cardrecipe.render.drawings.lines import HIDDEN, motion_arrow, stroke
from cardrecipe.render.drawings.lying import lying_marks, quiet
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture, room
from cardrecipe.render.drawings.paint import painted, paper_look
from cardrecipe.render.drawings.pieces import piece_marks
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.scenes import lying_on
from cardrecipe.render.drawings.shapes import piece_path, rectangle
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, scale_to_fit
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_POCKET = (34.0, 22.0)  # mm on the page
OPEN_FROM = ("top", "right", "left", "bottom")  # the first that is open is where a hand comes from
IN_BY = 0.4  # of the piece's own length: how far in it is drawn


def slips_in(card: SizedCard, piece: SizedPiece) -> bool:
    """True for a loose piece on one that is glued along its edges, with a side left open."""
    return piece.loose and bool(piece.placements) and _open_side(card, piece) != ""


def slipping(card: SizedCard, piece: SizedPiece, id_prefix: str = "", done: Collection[str] = ()) -> Drawing:
    """The piece between its pocket and what the pocket is glued to."""
    name, host = f"place-{piece.name}", card.piece(piece.placements[0].host_piece)
    side = _open_side(card, piece)
    scale = scale_to_fit(card, host.width, host.height, *MOST_POCKET)
    pattern = f"{id_prefix}{name}"
    marks = fitted_marks(lambda k: _half_in(card, piece, host, side, k, pattern, done), scale, COLUMN)
    title = f"{spoken(piece.name)} slips into {spoken(host.name)}"
    said = f"{title.capitalize()} from the {side}, between the pocket and what it is glued to."
    return picture(Caption(name, title, said, id_prefix), marks)


def _open_side(card: SizedCard, piece: SizedPiece) -> str:
    glue = card.piece(piece.placements[0].host_piece).glue
    if glue is None or not glue.along:
        return ""
    return next((side for side in OPEN_FROM if side not in glue.along), "")


def _half_in(
    card: SizedCard, piece: SizedPiece, host: SizedPiece, side: str, scale: float, pattern: str,
    done: Collection[str],
) -> list[Mark]:  # fmt: skip
    pocket = Box(0, 0, float(host.width) * scale, float(host.height) * scale)
    slid = _beside(piece, pocket, side, scale)
    frame = rectangle(slid.left, slid.top, slid.width, slid.height)
    paper, *scores = piece_marks(piece, frame, paper_look(card, piece.paper), f"{pattern}-0", scale)
    marks = [of_piece(paper, piece.name), *scores]
    for above in lying_on(card, piece, 0, done):
        left, top = slid.left + float(above.place.x) * scale, slid.top + float(above.place.y) * scale
        size = float(above.piece.width) * scale, float(above.piece.height) * scale
        marks += lying_marks(card, above, rectangle(left, top, *size), scale, done)
    ring = rectangle(0, 0, pocket.right, pocket.bottom)
    path = piece_path(host, ring, scale)
    marks.append(of_piece(painted(path, pocket, quiet(paper_look(card, host.paper)), ""), host.name))
    marks += _hidden_edges(slid, pocket)
    marks += _arrow(slid, pocket, side)
    text = f"into {spoken(host.name)}, from the {side}"
    return [*marks, label(pocket.middle[0], room(marks).bottom + SMALL * 1.3, text, Lettering(SMALL))]


def _beside(piece: SizedPiece, pocket: Box, side: str, scale: float) -> Box:
    """The piece with a part of it in the pocket and the rest beyond the open side."""
    wide, high = float(piece.width) * scale, float(piece.height) * scale
    x, y = pocket.middle[0] - wide / 2, pocket.middle[1] - high / 2
    if side in ("top", "bottom"):
        inside = min(high * IN_BY, pocket.height * 0.7)
        y = pocket.top + inside - high if side == "top" else pocket.bottom - inside
    else:
        inside = min(wide * IN_BY, pocket.width * 0.7)
        x = pocket.left + inside - wide if side == "left" else pocket.right - inside
    return Box(x, y, x + wide, y + high)


def _hidden_edges(slid: Box, pocket: Box) -> list[Mark]:
    """What of the piece is in the pocket, dotted."""
    box = Box(max(slid.left, pocket.left), max(slid.top, pocket.top), min(slid.right, pocket.right),
              min(slid.bottom, pocket.bottom))  # fmt: skip
    ring = [*rectangle(box.left, box.top, box.width, box.height)]
    return [stroke([*ring, ring[0]], HIDDEN)]


def _arrow(slid: Box, pocket: Box, side: str) -> list[Mark]:
    """The way in, over the part that is still outside."""
    x, y = pocket.middle
    if side == "top":
        ends = ((x, slid.top + 1.5), (x, pocket.top + 2.0))
    elif side == "bottom":
        ends = ((x, slid.bottom - 1.5), (x, pocket.bottom - 2.0))
    elif side == "right":
        ends = ((slid.right - 1.5, y), (pocket.right - 2.0, y))
    else:
        ends = ((slid.left + 1.5, y), (pocket.left + 2.0, y))
    return motion_arrow(ends)
