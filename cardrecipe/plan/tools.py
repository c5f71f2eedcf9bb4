"""The tools that a card implies without anybody writing them down."""

from __future__ import annotations

from collections.abc import Iterator

from cardrecipe.plan.entries import SupplyLine
from cardrecipe.solve.sized import SizedCard, SizedPiece

KNIFE = ("Craft knife", "Metal ruler", "Cutting mat")
OUTLINED = ("circle", "oval", "tag", "banner")


def tools(card: SizedCard, by_knife: frozenset[str] = frozenset()) -> tuple[SupplyLine, ...]:
    """Each tool once, with the pieces it is for, in the order of the work.

    Papers in `by_knife` have cuts that are longer than the trimmer.
    """
    used: dict[str, list[str]] = {}
    for piece in card.pieces:
        needed = [*tools_for(piece), *(KNIFE if piece.paper in by_knife else ())]
        for tool in dict.fromkeys(needed):
            used.setdefault(tool, []).append(piece.name)
    if "Metal ruler" in used:  # it measures as well
        measured = [name for name in used.pop("Ruler", []) if name not in used["Metal ruler"]]
        used["Metal ruler"] += measured
    rank = {tool: index for index, tool in enumerate(ORDER)}
    return tuple(
        SupplyLine("tool", tool, "", tuple(used[tool]))
        for tool in sorted(used, key=lambda tool: rank[tool])
    )


ORDER = (
    "Paper trimmer",
    *KNIFE,
    "Ruler",
    "Pencil",
    "Small scissors",
    "Corner rounder",
    "Die-cutting machine",
    "Scoring board",
    "Bone folder",
)


def tools_for(piece: SizedPiece) -> Iterator[str]:
    """The tools that one piece needs."""
    verbs = {work.verb for work in piece.works}
    yield "Paper trimmer"
    if any(score.direction != "slit" for score in piece.scores):
        yield "Scoring board"
        yield "Bone folder"
    if any(score.direction == "slit" for score in piece.scores):
        yield from KNIFE
    if piece.kind == "cutout" or "trim" in verbs:
        yield from ("Craft knife", "Cutting mat", "Pencil", "Small scissors")
    elif piece.kind in OUTLINED and not verbs & {"die", "punch"}:
        yield from ("Pencil", "Small scissors")
    elif any(work.long for work in piece.works):
        yield "Small scissors"
    if piece.outline is not None or piece.windows:
        yield from ("Pencil", *KNIFE)
    if piece.placements or piece.around:
        yield "Ruler"
    if piece.around or any(work.middle for work in piece.works):
        yield "Pencil"
    if piece.corner_radius:
        yield "Corner rounder"
    if verbs & {"die", "emboss"}:
        yield "Die-cutting machine"
