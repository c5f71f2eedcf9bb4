"""A piece in a few words each: what it is, where it goes, what is done to it, how it is fixed."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from cardrecipe.model.lengths import round_near, size_written, with_unit
from cardrecipe.model.work import Glue, Work
from cardrecipe.plan.glue import fixing
from cardrecipe.plan.places import degrees, where
from cardrecipe.plan.words import listed, number, paper_words, plural, quoted, spoken
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece


def piece_told(card: SizedCard, piece: SizedPiece) -> str:
    """A piece in a line: `one panel of 4 × 5 1⁄4 in from Moss cardstock, on the inside of the back, …`."""
    return ", ".join(part for part in (what_told(card, piece), place_told(card, piece)) if part)


def what_told(card: SizedCard, piece: SizedPiece) -> str:
    """How many of what, how large and from which paper."""
    kind = piece.kind if piece.count == 1 else plural(piece.kind)
    return f"{number(piece.count)} {kind} of {size_of(card, piece)} from {paper_of(card, piece)}"


def place_told(card: SizedCard, piece: SizedPiece) -> str:
    """Where it goes; "" for a base and for what is loose."""
    return where(card, piece) if piece.placements else around_told(card, piece) if piece.around else ""


def paper_of(card: SizedCard, piece: SizedPiece) -> str:
    """A piece's paper as one asks for it."""
    paper = card.papers.get(piece.paper or "")
    return paper_words(paper) if paper else piece.paper or "any paper"


def size_of(card: SizedCard, piece: SizedPiece) -> str:
    return size_written(piece.width, piece.height, card.unit)


def edges_told(edges: Mapping[str, Fraction], unit: str) -> str:
    """A border by its edges: `1⁄8 in all round`, `1⁄4 in left and right, 1⁄8 in top and bottom`; what a piece
    reaches over is negative."""
    by_width: dict[Fraction, list[str]] = {}
    for side, width in edges.items():
        by_width.setdefault(width, []).append(side)
    if len(edges) == 4 and len(by_width) == 1:
        return f"{with_unit(edges['left'], unit)} all round"
    return ", ".join(f"{_edge(width, unit)} {listed(sides)}" for width, sides in by_width.items())


def _edge(width: Fraction, unit: str) -> str:
    return with_unit(width, unit) if width >= 0 else f"{with_unit(-width, unit)} over the edge"


def seen_edges(card: SizedCard, placement: Placement) -> dict[str, Fraction]:
    around = card.piece(placement.host_piece).around
    edges = placement.border._asdict()
    if around is None:
        return edges
    return {side: edges[side] for side in (("left", "right") if around.downward else ("top", "bottom"))}


def works_told(card: SizedCard, piece: SizedPiece) -> str:
    return "; ".join(_work(card, work) for work in piece.works) or "nothing"


def _work(card: SizedCard, work: Work) -> str:
    """One operation in a few words, near those of the recipe."""
    verb = {"ink-edges": "ink the edges", "color": "colour", "trim": "trim by hand"}.get(work.verb, work.verb)
    parts = [verb, work.item or "", quoted(work.text) if work.text else ""]
    if work.using:
        link = {"stamp": "in", "add": "of"}.get(work.verb, "with")
        parts.append(f"{link} {listed(work.using)}")
    if work.middle is not None:
        parts.append(f"on the middle {with_unit(work.middle, card.unit)}")
    if work.long is not None:
        parts.append(f"{with_unit(work.long, card.unit)} long")
    return " ".join(part for part in parts if part)


def fixing_told(card: SizedCard, piece: SizedPiece) -> str:
    if piece.loose:
        return "loose"
    own = fixing(card, piece)
    parts = [own.adhesive or "not glued", *_glue(piece.glue)]
    parts += [f"{spoken(each.section)} to {spoken(each.host)}" for each in piece.joins]
    return ", ".join(parts)


def _glue(glue: Glue | None) -> Iterator[str]:
    if glue is None:
        return
    if glue.all_over:
        yield "all over"
    if glue.along:
        yield f"along {listed(glue.along)}"
    if glue.only_on:
        yield f"only on {spoken(glue.only_on)}"


def count_told(card: SizedCard, piece: SizedPiece) -> str:
    return str(piece.count)


def kind_told(card: SizedCard, piece: SizedPiece) -> str:
    return piece.kind


def turn_told(card: SizedCard, piece: SizedPiece) -> str:
    return f"turned {degrees(piece.turned)} clockwise" if piece.turned else "upright"


def under_told(card: SizedCard, piece: SizedPiece) -> str:
    return f"under {spoken(piece.under)}" if piece.under else "under nothing"


def around_told(card: SizedCard, piece: SizedPiece) -> str:
    if piece.around is None:
        return "not a band"
    way = "top to bottom" if piece.around.downward else "left to right"
    return f"round the {spoken(piece.around.base)}, {way}"


def along_told(card: SizedCard, piece: SizedPiece) -> str:
    if piece.around is None:
        return ""
    edge = "left" if piece.around.downward else "top"
    return f"{with_unit(piece.around.at, card.unit)} from the {edge} of the card"


def overlap_told(card: SizedCard, piece: SizedPiece) -> str:
    if piece.around is None:
        return ""
    overlap = round_near(piece.around.overlap, card.nearest)
    return f"its ends overlap by about {with_unit(overlap, card.unit)}"


def overhang_told(card: SizedCard, piece: SizedPiece) -> str:
    return "may overhang" if piece.overhangs else "may not overhang"


def tips_told(card: SizedCard, piece: SizedPiece) -> str:
    return listed(quoted(tip) for tip in (*piece.tips, *piece.tips_on)) or "no tip"
