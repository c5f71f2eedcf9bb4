"""Outsides of sections that slanted folds turn: how they, and pieces with their outline, lie in the end."""

from cardrecipe.fold.closed import CannotFold, closed_pose, flat_fold
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Motion
from cardrecipe.fold.motions import mirrored
from cardrecipe.fold.placing import face_motion
from cardrecipe.solve.sized import Edges, Placement, SizedCard, SizedPiece, SizedSection


def lies_turned(host: SizedPiece, place: Placement) -> bool:
    """True for the outside of a section that slanted folds may have turned."""
    is_slanted = any(score.axis == "slanted" and score.direction != "slit" for score in host.scores)
    return is_slanted and host.kind == "base" and place.side == "outside"


def seen_outside(card: SizedCard, host: SizedPiece, section: SizedSection) -> Motion:
    """From the flat piece to a section's outside as one looks at it on the closed card."""
    flat = flat_fold(host, closed_pose(card))
    assert not isinstance(flat, CannotFold)  # nothing is drawn of a card that cannot be folded
    at = next(index for index, each in enumerate(flat.sections) if each.name == section.name)
    return face_motion(flat, at, "outside")


def turned_way(card: SizedCard, piece: SizedPiece, place: Placement) -> Motion | None:
    """From a section's outside, turned over like a page, to how it lies; None where that is the same."""
    if piece.outline is None or not place.is_section:
        return None
    host = card.piece(place.host_piece)
    if not lies_turned(host, place):
        return None
    section = next(each for each in host.sections if each.name == place.host)
    back = Motion.shift(section.x, section.y).after(mirrored(section.width))
    way = seen_outside(card, host, section).after(back)
    return way if way.xx != 1 or way.yy != 1 else None


def turned_edges(way: Motion, border: Edges) -> Edges:
    """What shows on the left where the left edge has come to lie, and so on; quarter turns only."""
    if way.xx:
        across = (border.left, border.right) if way.xx > 0 else (border.right, border.left)
        down = (border.top, border.bottom) if way.yy > 0 else (border.bottom, border.top)
    else:
        across = (border.top, border.bottom) if way.xy > 0 else (border.bottom, border.top)
        down = (border.left, border.right) if way.yx > 0 else (border.right, border.left)
    return Edges(*across, *down)


def corners_of(piece: SizedPiece, place: Placement) -> Outline:
    left, top = place.x, place.y
    right, bottom = left + piece.width, top + piece.height
    return (left, top), (right, top), (right, bottom), (left, bottom)
