"""Where glue goes, in words, for a piece that may not be glued all over its back."""

from __future__ import annotations

from collections.abc import Sequence

from cardrecipe.fold.folded import FoldedCard, GlueZone
from cardrecipe.fold.zone_words import part_in_words
from cardrecipe.plan.words import listed, the
from cardrecipe.solve.sized import SizedCard, SizedPiece


def zones_of(folded: FoldedCard, piece: SizedPiece) -> tuple[GlueZone, ...]:
    """The glue zones of a piece's copies; () where they are not known."""
    return tuple(zone for zone in folded.zones if zone.piece == piece.name)


def is_partial(zones: Sequence[GlueZone]) -> bool:
    """True where some copy may be glued on a part of its back only."""
    return any(not zone.is_whole for zone in zones)


def zone_hosts(zones: Sequence[GlueZone]) -> str:
    """What the glue may touch: `the left door and the right door`."""
    return listed(dict.fromkeys(the(zone.host_body) for zone in zones))


def swings(piece: SizedPiece, zones: Sequence[GlueZone]) -> bool:
    """True for a piece with scores of its own, all of whose back lies on what it is glued to."""
    return len(piece.sections) > 1 and not any(zone.others for zone in zones)


def part_to_glue(card: SizedCard, piece: SizedPiece, zones: Sequence[GlueZone]) -> str:
    """Which part that is, told for each host where they differ; "" where no few words can say it."""
    said = {the(zone.host_body): part_in_words(card, piece, zone) for zone in zones}
    parts = list(dict.fromkeys(said.values()))
    if "" in parts:
        return ""
    if len(parts) > 1:
        parts = [f"on {host} {part}" for host, part in said.items()]
    turned_over = any(side in part for part in parts for side in (" left", " right", "left ", "right "))
    return ", ".join(parts) + (", as you look at its face" if turned_over else "")
