"""Loose pieces under glued ones → whether each can be drawn out: pockets that are closed on every side,
what is raised and would catch, and what was glued in where it should slide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from cardrecipe.fold.area import overlap, region
from cardrecipe.fold.bodies import Body
from cardrecipe.fold.clip import within
from cardrecipe.fold.contact import Copy, Pile
from cardrecipe.fold.geometry import Number, Ring, bounding_box
from cardrecipe.fold.glue import Gluing, meets
from cardrecipe.fold.glue_reach import glued_area
from cardrecipe.model.lengths import with_unit
from cardrecipe.solve.sized import SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error, warning
from cardrecipe.syntax.record import Record

EDGES = ("left", "right", "top", "bottom")
POCKET_EDGES = 3  # glued along fewer it is a belt, under which something may well be glued
Parts = Sequence[Ring]


def sliding_mistakes(card: SizedCard, glued: Sequence[Gluing]) -> Iterator[Diagnostic]:
    """Say what keeps loose pieces from sliding, and what lies in a pocket but does not slide."""
    for pile in {id(each.pile): each.pile for each in glued}.values():
        over = [each for each in glued if each.pile is pile]
        for name, copy in pile.places:
            if card.piece(name).loose:
                slide = Slide(pile, (name, copy), tuple(over))
                yield from _shut_in(card, slide)
                yield from _raised(card, slide)
    yield from _glued_in(card, glued)


class Way(NamedTuple):
    """A way out of where a loose piece lies: the area that it passes over, and what glue is across it."""

    edge: str
    area: tuple[Ring, ...]
    blockers: tuple[Gluing, ...]


class Slide(Record):
    """A loose copy in a pile, and what is glued over it there."""

    pile: Pile
    copy: Copy
    over: tuple[Gluing, ...]

    @cached_property
    def place(self) -> int:
        return self.pile.places[self.copy]

    @cached_property
    def body(self) -> Body:
        return self.pile.surfaces[self.place][0].ride.body

    @cached_property
    def above(self) -> tuple[Gluing, ...]:
        """What is glued over it in the pile and does not ride with it, nearest first."""
        found = [each for each in self.over if self.pile.places[each.copy] > self.place
                 and not any(part.ride.body == self.body for part in each.parts)]  # fmt: skip
        return tuple(sorted(found, key=lambda each: self.pile.places[each.copy]))

    @cached_property
    def shape(self) -> tuple[Ring, ...]:
        """The piece with all that it carries."""
        return tuple(
            part
            for surfaces in self.pile.surfaces
            for surface in surfaces
            if surface.ride.body == self.body
            for part in surface.widest.parts
        )

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """The ways beyond its own four edges."""
        if not any(_meet(_shape(self.pile, each), self.shape) for each in self.above):
            return ()  # nothing lies on it
        return tuple(self._way(edge) for edge in EDGES)

    def swept(self, parts: Parts, edge: str) -> tuple[Ring, ...]:
        """Give what parts of it pass over when it is drawn out beyond one of its edges."""
        by = _far(self.pile, self.place, edge)
        return tuple(_hull([*part, *((x + by[0], y + by[1]) for x, y in part)]) for part in parts)

    def _way(self, edge: str) -> Way:
        area = self.swept(self.shape, edge)
        covers, blockers = list(self.shape), []
        for each in self.above:
            shape = _shape(self.pile, each)
            if not _meet(_common(shape, area), covers):
                continue
            covers += shape
            if _meet(_held_beneath(each, self.pile, self.place), area):
                blockers.append(each)
        return Way(edge, area, tuple(blockers))


def _shut_in(card: SizedCard, slide: Slide) -> Iterator[Diagnostic]:
    """A loose piece can be drawn out past some edge of what is glued over it."""
    ways, slider = slide.ways, card.piece(slide.copy[0])
    if not ways or not all(way.blockers for way in ways):
        return
    copies = [each.copy for way in ways for each in way.blockers]
    count = {copy: copies.count(copy) for copy in copies}
    every = {each.copy: each for way in ways for each in way.blockers}
    culprit = every[min(count, key=lambda copy: (count[copy], -slide.pile.places[copy]))]
    pocket = every[max(count, key=lambda copy: (count[copy], -slide.pile.places[copy]))]
    if culprit.copy == pocket.copy:
        yield _closed_all_round(culprit.piece, slider)
    else:
        yield _closed_by(card, culprit, pocket.piece, slider)


def _closed_all_round(cover: SizedPiece, slider: SizedPiece) -> Diagnostic:
    return error(
        "slider-shut-in",
        cover.glue_span,
        f"`{cover.name}` is glued down all round `{slider.name}`: that could not slide out",
        f"write `glue along left, bottom, right` under `{cover.name}`: the top stays open",
        (Related(slider.span, f"{slider.name} is loose"),),
    )


def _closed_by(card: SizedCard, culprit: Gluing, pocket: SizedPiece, slider: SizedPiece) -> Diagnostic:
    piece = culprit.piece
    wide = with_unit(slider.width, card.unit)
    return error(
        "slider-shut-in",
        piece.glue_span,
        f"`{piece.name}` is glued across the open edge of `{pocket.name}`: `{slider.name}`, {wide} wide,"
        " could not slide out",
        f"place `{piece.name}` beside the way of `{slider.name}`, or write `glue with tape only on"
        f" {pocket.name}`",
        (Related(pocket.span, f"{pocket.name} is glued round the other edges"),
         Related(slider.span, f"{slider.name} is loose")),
    )  # fmt: skip


def _raised(card: SizedCard, slide: Slide) -> Iterator[Diagnostic]:
    """What is on foam on a loose piece does not have to pass under a pocket's edge."""
    free = [way.edge for way in slide.ways if not way.blockers]
    for layer, surfaces in zip(slide.pile.layers, slide.pile.surfaces, strict=True):
        is_on_it = surfaces and surfaces[0].ride.body == slide.body and layer.piece.name != slide.copy[0]
        if not is_on_it or not layer.foam_mm or not free:
            continue
        parts = [part for surface in surfaces for part in surface.widest.parts]
        caught = {edge: _first_over(slide, slide.swept(parts, edge)) for edge in free}
        pocket = next((each for each in caught.values() if each), None)
        if pocket is None or not all(caught.values()):
            continue
        piece = layer.piece
        high = with_unit(Fraction(layer.foam_mm), "mm")
        yield warning(
            "slider-catches",
            piece.glue_span,
            f"`{piece.name}` stands {high} high on `{slide.copy[0]}` and would catch on `{pocket.piece.name}`"
            " when that is drawn out",
            f"write `glue with tape` under `{piece.name}`, or place it where `{pocket.piece.name}` ends",
            (Related(pocket.piece.span, f"{pocket.piece.name} lies flat over it"),),
        )


def _first_over(slide: Slide, area: Parts) -> Gluing | None:
    return next((each for each in slide.above if _meet(_shape(slide.pile, each), area)), None)


def _glued_in(card: SizedCard, glued: Sequence[Gluing]) -> Iterator[Diagnostic]:
    """A pocket holds something loose; what lies in it, clear of its glue, was meant to slide."""
    for pocket in glued:
        edges = pocket.piece.glue.along if pocket.piece.glue else ()
        if not POCKET_EDGES <= len(edges) < len(EDGES) or _holds_something(card, pocket):
            continue
        pile, seams = pocket.pile, _held_beneath(pocket, pocket.pile, None)
        for inner in glued:
            if inner.pile is not pile or pile.places[inner.copy] >= pile.places[pocket.copy]:
                continue
            if inner.host_body != pocket.host_body or inner.placement.side != pocket.placement.side:
                continue
            shape = _shape(pile, inner)
            if _meet(shape, _shape(pile, pocket)) and not _meet(shape, seams):
                yield _not_loose(inner.piece, pocket.piece)


def _not_loose(inner: SizedPiece, pocket: SizedPiece) -> Diagnostic:
    return warning(
        "slider-glued",
        inner.glue_span,
        f"`{inner.name}` lies in the pocket `{pocket.name}`, clear of its glue, but is glued: nothing in the"
        " pocket slides",
        f"write `loose` under `{inner.name}`",
        (Related(pocket.glue_span, f"{pocket.name} is a pocket"),),
    )


def _holds_something(card: SizedCard, pocket: Gluing) -> bool:
    pile = pocket.pile
    return any(
        card.piece(name).loose
        and at < pile.places[pocket.copy]
        and _meet([part for each in pile.surfaces[at] for part in each.widest.parts], _shape(pile, pocket))
        for (name, _), at in pile.places.items()
    )


def _held_beneath(gluing: Gluing, pile: Pile, place: int | None) -> list[Ring]:
    """Give where a piece is glued to what moves with it; with a place, to what lies below that."""
    glue = gluing.piece.glue
    edges: Sequence[str | None] = glue.along if glue and glue.along else (None,)
    heights = _heights(pile)
    return [
        touch.part
        for part in gluing.parts
        if not part.swings
        for edge in edges
        for touch in meets(gluing, pile, part, glued_area(gluing, pile, part, edge), is_cautious=True).own
        if place is None or heights[id(touch.surface)] < place
    ]


def _heights(pile: Pile) -> Mapping[int, int]:
    return {id(surface): at for at, surfaces in enumerate(pile.surfaces) for surface in surfaces}


def _shape(pile: Pile, gluing: Gluing) -> list[Ring]:
    return [part for each in pile.surfaces[pile.places[gluing.copy]] for part in each.widest.parts]


def _common(parts: Parts, covers: Parts) -> list[Ring]:
    return [inner for cover in covers for inner in within(parts, cover)]


def _meet(parts: Parts, others: Parts) -> bool:
    return any(overlap(region(part), region(other)) for part in parts for other in others)


def _far(pile: Pile, place: int, edge: str) -> tuple[Number, Number]:
    """Give a way, on the pile's scale, that leads a piece past everything beyond one of its edges."""
    corners = [(x * pile.scale, y * pile.scale) for x, y in pile.layers[place].outline]
    left_top, right_top, _, left_bottom = corners
    start, end = {"left": (right_top, left_top), "right": (left_top, right_top),
                  "top": (left_bottom, left_top), "bottom": (left_top, left_bottom)}[edge]  # fmt: skip
    step = end[0] - start[0], end[1] - start[1]
    box = bounding_box([point for layer in pile.layers for point in layer.outline])
    reach = (box.right - box.left + box.bottom - box.top) * pile.scale
    times = int(reach / max(abs(step[0]), abs(step[1]))) + 1
    return step[0] * times, step[1] * times


def _hull(points: Sequence[tuple[Number, Number]]) -> Ring:
    """Give the convex outline round some points, inside on the left (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    return (*_chain(ordered)[:-1], *_chain(ordered[::-1])[:-1])


def _chain(ordered: Sequence[tuple[Number, Number]]) -> list[tuple[Number, Number]]:
    chain: list[tuple[Number, Number]] = []
    for x, y in ordered:
        while len(chain) > 1:
            (ax, ay), (bx, by) = chain[-2:]
            if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0:
                break
            chain.pop()
        chain.append((x, y))
    return chain
