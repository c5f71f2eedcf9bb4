"""What one sees of a card from each side: the parts that are seen, bottom first, and the scores."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.fold.area import passes_through, region
from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.cover import as_rectangle, hidden
from cardrecipe.fold.folded import Outline, SeenPart, View
from cardrecipe.fold.geometry import STAY, Box, Motion, bounding_box
from cardrecipe.fold.motions import mirrored, moved
from cardrecipe.fold.outlines import laid
from cardrecipe.fold.stack import Layer, hides
from cardrecipe.model.papers import Paper
from cardrecipe.solve.sized import Point

OTHER = {"valley": "mountain", "mountain": "valley"}
Fold = tuple[Point, Point, str, int]


def views(
    card: Assembly, closed: Sequence[Layer], opened: Sequence[Layer], papers: dict[str, Paper]
) -> tuple[View, View, View, View]:
    """Give closed-front, closed-back, open-inside and open-outside of the piles of a closed card
    and an open sheet.

    The two of a pair are one pile seen from above and from below, the card turned like a page.
    Parts that are wholly hidden are left out. A piece's side is "inside" where its own face is
    seen, and "outside" where it reaches beyond its host and is seen from behind. Closed views
    show only those scores that stay flat in the closed card.
    """
    piles = {"closed": closed, "open": opened}
    front, back, inside, outside = (
        seen_of(name, card, piles[name.partition("-")[0]], papers)
        for name in ("closed-front", "closed-back", "open-inside", "open-outside")
    )
    return front, back, inside, outside


def seen_of(name: str, card: Assembly, pile: Sequence[Layer], papers: dict[str, Paper]) -> View:
    """Give one view of a pile, the closed card's or the open sheet's as its name says; some layers may have
    been left out of the pile."""
    flat = card.flat
    base, width = flat.piece.name, flat.piece.width
    if name == "closed-front":
        return _from_above(name, base, pile, tuple(_unfolded(card, 1)), papers)
    if name == "closed-back":
        return _from_below(name, base, pile, tuple(_unfolded(card, -1)), papers, flat.width)
    scores = tuple(
        (joint.start, joint.end, joint.score.direction, joint.score.number) for joint in flat.joints
    )
    if name == "open-inside":
        return _from_above(name, base, pile, scores, papers)
    return _from_below(name, base, pile, scores, papers, width)


def _from_above(
    name: str, base: str, pile: Sequence[Layer], folds: Sequence[Fold], papers: dict[str, Paper]
) -> View:
    shown = _shown(pile, papers)
    parts = [_seen(layer, layer.is_face_up, STAY) for layer in shown]
    return _view(name, base, parts, folds, bounding_box(_corners(shown, STAY)))


def _from_below(
    name: str,
    base: str,
    pile: Sequence[Layer],
    folds: Sequence[Fold],
    papers: dict[str, Paper],
    width: Fraction,
) -> View:
    """Give the view from behind: the pile upside down, left and right swapped, and every valley a
    mountain."""
    page = mirrored(width)
    shown = _shown(pile[::-1], papers)
    turned = [_seen(layer, not layer.is_face_up, page) for layer in shown]
    swapped = [
        (page.apply(start), page.apply(end), OTHER[direction], number)
        for start, end, direction, number in folds
    ]
    return _view(name, base, turned, swapped, bounding_box(_corners(shown, page)))


def _seen(layer: Layer, is_face_seen: bool, page: Motion) -> SeenPart:
    side = "inside" if is_face_seen else "outside"
    outline, holes = moved(page, layer.outline), _all_moved(page, layer.holes)
    return SeenPart(layer.piece.name, layer.section, side, outline, layer.copy, layer.lift_mm, holes)


def _rim(layer: Layer) -> Outline:
    """Give what a layer fills: a piece with an outline of its own fills less than its frame."""
    return layer.outline if layer.section is not None else laid(layer.piece, layer.outline)


def _corners(pile: Sequence[Layer], page: Motion) -> list[Point]:
    return [point for layer in pile for point in moved(page, _rim(layer))]


def _all_moved(page: Motion, rings: tuple[Outline, ...]) -> tuple[Outline, ...]:
    return tuple(moved(page, ring) for ring in rings)


def _shown(pile: Sequence[Layer], papers: dict[str, Paper]) -> list[Layer]:
    """Leave out the layers that later ones hide altogether."""
    outlines = [_rim(layer) for layer in pile]
    does_hide = [hides(layer, papers) for layer in pile]
    is_hidden = hidden(outlines, does_hide, [layer.holes for layer in pile])
    return [layer for layer, gone in zip(pile, is_hidden, strict=True) if not gone]


def _unfolded(card: Assembly, sign: int) -> Iterator[Fold]:
    """Give the scores that stay flat in the closed card where they are seen, from the front (1) or
    from behind (-1), as they run and fold seen from the front."""
    for at, joint in enumerate(card.flat.joints):
        if at in card.folded:
            continue
        motion = card.motions[joint.first]
        start, end = motion.apply(joint.start), motion.apply(joint.end)
        covers = [
            other
            for other in range(len(card.sections))
            if card.order.above(*(other, joint.first)[::sign])
        ]
        if not any(_covers_line(card, cover, start, end) for cover in covers):
            direction = joint.score.direction
            if motion.is_flipped():
                direction = OTHER[direction]
            yield (start, end, direction, joint.score.number)


def _covers_line(card: Assembly, facet: int, start: Point, end: Point) -> bool:
    """Tell whether a section of the closed card hides a line; through a window of it some is seen."""
    box = as_rectangle(card.order.facets[facet].outline)
    is_within = box is not None and all(
        box[0] <= x <= box[2] and box[1] <= y <= box[3] for x, y in (start, end)
    )
    holes = _all_moved(card.motions[facet], card.windows_in(facet))
    return is_within and not any(passes_through(start, end, region(hole)) for hole in holes)


def _view(name: str, base: str, parts: Sequence[SeenPart], folds: Sequence[Fold], box: Box) -> View:
    """Shift parts and scores so that the box round all that is seen starts at (0, 0)."""
    shift = Motion.shift(-box.left, -box.top)
    if box.left or box.top:
        parts = [
            part._replace(outline=moved(shift, part.outline), holes=_all_moved(shift, part.holes))
            for part in parts
        ]
        folds = [
            (shift.apply(start), shift.apply(end), direction, number)
            for start, end, direction, number in folds
        ]
    width, height = Fraction(box.right - box.left), Fraction(box.bottom - box.top)
    return View(name, base, width, height, tuple(parts), tuple(folds))
