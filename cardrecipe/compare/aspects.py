"""A piece of a sized card → what it is like, part by part, so that two of them can be held side by side.

Every length is exact, in mm where the two cards are in different units; no value holds a place in a text.
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.papers import Paper
from cardrecipe.model.work import Glue, Work
from cardrecipe.solve.sized import Join, Placement, SizedCard, SizedPiece

Value = object


class Measure(NamedTuple):
    """How lengths of a card are taken: so many times, and what its names are called on the other side."""

    scale: Fraction
    names: Mapping[str, str]

    def length(self, value: Fraction | None) -> Fraction | None:
        return None if value is None else value * self.scale

    def lengths(self, values: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
        return tuple(value * self.scale for value in values)

    def name(self, name: str) -> str:
        return self.names.get(name, name)


def aspects(card: SizedCard, piece: SizedPiece, by: Measure) -> dict[str, Value]:
    """What `piece` is like, without its name."""
    return {
        "kind": piece.kind,
        "paper": by.name(f"paper {piece.paper}") if piece.paper else "",
        "size": by.lengths((piece.width, piece.height)),
        "count": piece.count,
        "hosts": tuple(_host(each, by) for each in piece.placements),
        "places": tuple(_places(card, piece, by)),
        "borders": tuple(by.lengths(each.border) for each in piece.placements),
        "under": by.name(piece.under) if piece.under else "",
        "around": (by.name(piece.around.base), piece.around.downward) if piece.around else (),
        "along": by.lengths((piece.around.at,)) if piece.around else (),
        "overlap": by.lengths((piece.around.wrap, piece.around.overlap)) if piece.around else (),
        "scores": tuple(
            (each.axis, by.lengths((each.at,)), each.direction, by.lengths(each.start), by.lengths(each.end))
            for each in piece.scores
        ),
        "sections": tuple(
            (
                by.name(f"{piece.name}/{each.name}").rpartition("/")[2],
                by.lengths((each.x, each.y, each.width, each.height)),
                _ring(each.outline, by),
            )
            for each in piece.sections
        ),
        "windows": tuple(_ring(each, by) for each in piece.windows),
        "outline": _ring(piece.outline, by) if piece.outline else (),
        "corners": by.length(piece.corner_radius),
        "turned": piece.turned,
        "works": tuple(work_of(each, by) for each in piece.works),
        "glue": _glue(piece.glue, by),
        "loose": piece.loose,
        "overhangs": piece.overhangs,
        "joins": tuple(_join(piece, each, by) for each in piece.joins),
        "tips": (piece.tips, piece.tips_on),
    }


def paper_facts(paper: Paper, scale: Fraction) -> tuple[Value, ...]:
    """All that is known of a paper but the name it has in its recipe."""
    sheets = tuple((each.width * scale, each.height * scale, each.price) for each in paper.sheets)
    thick = None if paper.thick is None else paper.thick * scale
    return (paper.title, paper.kind, paper.color, sheets, paper.weight, thick, paper.grain, paper.one_way,
            paper.pack)  # fmt: skip


def work_of(work: Work, by: Measure) -> Value:
    """One operation, without its place in the text."""
    return work.verb, work.text, work.using, by.length(work.middle), work.item, by.length(work.long)


def _glue(glue: Glue | None, by: Measure) -> Value:
    if glue is None:
        return ()
    only_on = by.name(glue.only_on) if glue.only_on else None
    return glue.adhesive, by.length(glue.thick), only_on, glue.all_over, glue.along


def _host(placement: Placement, by: Measure) -> Value:
    host = by.name(placement.host_piece)
    section = by.name(f"{placement.host_piece}/{placement.host}").rpartition("/")[2]
    return host, section if placement.is_section else "", placement.host_copy, placement.side


def _places(card: SizedCard, piece: SizedPiece, by: Measure) -> Iterator[Value]:
    """Left and top of each copy; on a band from the middle of its front, as its ends are behind the card."""
    for each in piece.placements:
        host, x, y = card.piece(each.host_piece), each.x, each.y
        if host.around is not None and host.around.downward:
            y -= host.height / 2
        elif host.around is not None:
            x -= host.width / 2
        yield by.lengths((x, y))


def _join(piece: SizedPiece, join: Join, by: Measure) -> Value:
    """A glued section; what it is glued to without its name where that is the piece itself."""
    own = by.name(f"{piece.name}/{join.section}").rpartition("/")[2]
    host = "" if join.host_piece == piece.name else by.name(join.host_piece)
    if join.host == join.host_piece:  # it has no sections
        return own, host, ""
    return own, host, by.name(f"{join.host_piece}/{join.host}").rpartition("/")[2]


def _ring(ring: tuple[tuple[Fraction, Fraction], ...], by: Measure) -> Value:
    return tuple(by.lengths(point) for point in ring)
