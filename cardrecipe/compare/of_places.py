"""What happened to the place of a piece: another host, another spot on it, another border round it."""

from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.compare.aspects import Measure
from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.compare.piece_words import edges_told, place_told, seen_edges
from cardrecipe.model.lengths import with_unit
from cardrecipe.plan.places import mat_of
from cardrecipe.solve.sized import Edges, SizedCard, SizedPiece
from cardrecipe.syntax import tree


def piece_change(
    kind: str,
    old: SizedPiece,
    new: SizedPiece,
    before: str,
    after: str,
    because: tuple[Cause, ...],
    note: str = "",
) -> Change:
    """A change of a piece that is in both cards."""
    return Change("pieces", kind, new.name, before, after, note, because, old.name, new.name)


def place_changes(both: Both, old: SizedPiece, new: SizedPiece, other: set[str]) -> Iterator[Change]:
    """Where it goes, else how much shows round it."""
    if not other & {"hosts", "places", "borders"}:
        return
    said = place_told(both.old_card, old) or "nowhere", place_told(both.new_card, new) or "nowhere"
    if "hosts" in other or (said[0] != said[1] and both.is_of_one_unit):
        yield piece_change("moved", old, new, *said, _why_moved(both, old, new, "hosts" in other))
        return
    because = both.causes.of_sizes(old, new, *_BORDERS)
    told = _borders(both, old, new)
    if "borders" in other and told[0] != told[1]:
        yield piece_change("border", old, new, *told, because)
    elif "size" not in other and not _on_another_band(both, old, new):
        yield piece_change(
            "moved", old, new, _corners(both.old_card, old), _corners(both.new_card, new), because
        )


_BORDERS = tuple(f"{edge} border" for edge in Edges._fields)


def _why_moved(both: Both, old: SizedPiece, new: SizedPiece, to_another_host: bool) -> tuple[Cause, ...]:
    mats = mat_of(both.old_card, old), mat_of(both.new_card, new)
    if (mats[0] is None) != (mats[1] is None):  # it lies on a mat that came, or no more on one that went
        return both.causes.of_lines(*mats, tree.PieceHeader, tree.Drop)
    if to_another_host:
        return both.causes.of_lines(old, new, tree.PieceHeader, tree.Place)
    return both.causes.of_sizes(old, new, *_BORDERS)


def _borders(both: Both, old: SizedPiece, new: SizedPiece) -> tuple[str, str]:
    """What shows round the first copy that shows another border; on a band only across it."""
    scaled = zip(old.placements, new.placements, strict=True)
    at = next((at for at, (one, two) in enumerate(scaled)
               if both.pairs.old.lengths(one.border) != both.pairs.new.lengths(two.border)), 0)  # fmt: skip
    one, two = (
        seen_edges(card, piece.placements[at]) for card, piece in ((both.old_card, old), (both.new_card, new))
    )
    return edges_told(one, both.old_card.unit), edges_told(two, both.new_card.unit)


def _on_another_band(both: Both, old: SizedPiece, new: SizedPiece) -> bool:
    """True where it lies on a band of another length: then its place along the strip says nothing."""
    for before, after in zip(old.placements, new.placements, strict=True):
        one, two = both.old_card.piece(before.host_piece), both.new_card.piece(after.host_piece)
        if one.around and two.around and _size_in(both.pairs.old, one) != _size_in(both.pairs.new, two):
            return True
    return False


def _size_in(by: Measure, piece: SizedPiece) -> tuple[Fraction, ...]:
    return by.lengths((piece.width, piece.height))


def _corners(card: SizedCard, piece: SizedPiece) -> str:
    """The left and top of each copy on its host."""
    return "; ".join(
        f"{with_unit(each.x, card.unit)} from the left, {with_unit(each.y, card.unit)} from the top"
        for each in piece.placements
    )
