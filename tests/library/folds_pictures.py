"""Two pictures of a base: laid flat with its scores and slits, and folded shut. A window is seen through."""

from collections.abc import Iterator, Sequence

from cardrecipe.fold.closed import FlatFold, closed_pose, flat_fold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.geometry import Motion, signed_area
from cardrecipe.fold.motions import moved
from cardrecipe.render.drawings.colors import edge_on, ink_on
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, label, label_box
from cardrecipe.render.drawings.lines import EDGE, fold_line
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture
from cardrecipe.render.drawings.paint import inside_of, paper_look
from cardrecipe.render.drawings.sizes import scale_to_fit, scaled
from cardrecipe.render.drawings.svg import XY, element, ring
from cardrecipe.solve.sized import Point, SizedSection

MOST = (150.0, 100.0)  # mm that the flat sheet may take; the closed card has its scale
Outline = tuple[Point, ...]


def flat_picture(folded: FoldedCard, name: str) -> str:
    """The sheet inside up, with names or numbers of its sections, its scores and its slits."""
    flat, scale, fill = _flat(folded), _scale(folded), _fill(folded, "inside")
    marks = [_paper(flat, at, Motion.shift(0, 0), scale, fill, is_plain=True) for at in _places(flat)]
    for joint in flat.joints:
        marks.append(_line(joint.start, joint.end, joint.score.direction, scale, fill))
    for score in flat.piece.scores:
        if score.direction == "slit":
            marks.append(_line(score.start, score.end, "slit", scale, fill))
    areas = [(at, section.outline) for at, section in enumerate(flat.sections)]
    marks += _names(flat, areas, scale, fill, _holes(flat))
    caption = Caption(f"{name}-open", f"{name}, laid flat", "The inside is up.", "")
    return picture(caption, marks).svg


def closed_picture(folded: FoldedCard, name: str) -> str:
    """The card folded shut, from the front: what shows its outside is in the full colour."""
    flat, scale = _flat(folded), _scale(folded)
    fills = [_fill(folded, "outside" if flat.is_flipped(at) else "inside") for at in _places(flat)]
    order = sorted(_places(flat), key=lambda at: (flat.levels[at], -at))
    marks = [_paper(flat, at, flat.motions[at], scale, fills[at]) for at in order]
    holes = [moved(flat.motions[at], hole) for at in _places(flat) for hole in _holes_of(flat, at)]
    names = [section.name for section in flat.sections]
    for view, section, _, areas in folded.closed[0].visible:
        if view == "closed-front":
            at = names.index(section)
            largest = max(areas, key=lambda area: abs(signed_area(area)))
            marks += _names(flat, [(at, largest)], scale, fills[at], holes)
    caption = Caption(f"{name}-closed", f"{name}, closed", "The front of the closed card.", "")
    return picture(caption, marks).svg


def _flat(folded: FoldedCard) -> FlatFold:
    flat = flat_fold(folded.card.bases[0], closed_pose(folded.card))
    assert isinstance(flat, FlatFold)
    return flat


def _places(flat: FlatFold) -> range:
    return range(len(flat.sections))


def _scale(folded: FoldedCard) -> float:
    base = folded.card.bases[0]
    return scale_to_fit(folded.card, base.width, base.height, *MOST)


def _fill(folded: FoldedCard, side: str) -> str:
    look = paper_look(folded.card, folded.card.bases[0].paper)
    return look.fill if side == "outside" else inside_of(look).fill


def _holes(flat: FlatFold) -> list[Outline]:
    return [hole for at in _places(flat) for hole in _holes_of(flat, at)]


def _holes_of(flat: FlatFold, at: int) -> list[Outline]:
    """The windows that lie whole within a section; those at an edge are in its outline."""
    section = flat.sections[at]
    return [window for window in flat.piece.windows if all(_within(point, section) for point in window)]


def _within(point: Point, section: SizedSection) -> bool:
    x, y = point
    return (
        section.x < x < section.x + section.width
        and section.y < y < section.y + section.height
        and _holds([(float(a), float(b)) for a, b in section.outline], (float(x), float(y)))
    )


def _holds(outline: Sequence[XY], point: XY) -> bool:
    """True where a point lies in a ring: a line to its right crosses it an odd number of times."""
    x, y = point
    crossings = 0
    for number, (bx, by) in enumerate(outline):
        ax, ay = outline[number - 1]
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            crossings += 1
    return crossings % 2 == 1


def _paper(
    flat: FlatFold, at: int, motion: Motion, scale: float, fill: str, is_plain: bool = False
) -> Mark:
    rings = [flat.sections[at].outline, *_holes_of(flat, at)]
    points = [scaled(moved(motion, each), scale) for each in rings]
    markup = element(
        "path",
        d="".join(map(ring, points)),
        fill=fill,
        fill_rule="evenodd",
        stroke=edge_on(fill),
        stroke_width=0.12 if is_plain else EDGE.width,
        stroke_linejoin="round",
    )
    return Mark(markup, box_of(points[0]).grown(EDGE.width / 2))


def _line(start: Point, end: Point, direction: str, scale: float, fill: str) -> Mark:
    first, last = scaled((start, end), scale)
    return fold_line(first, last, direction, fill)


def _names(
    flat: FlatFold,
    areas: Sequence[tuple[int, Outline]],
    scale: float,
    fill: str,
    holes: Sequence[Outline],
) -> list[Mark]:
    """The name of each section where it has room, else its number; nothing where not even that fits."""
    blocked = [box_of(scaled(hole, scale)) for hole in holes]
    marks: list[Mark] = []
    for at, area in areas:
        outline = scaled(area, scale)
        for text, look in _texts(flat.sections[at].name, at + 1, ink_on(fill)):
            spot = _spot(outline, text, look, blocked)
            if spot is not None:
                marks.append(label(*spot, text, look))
                break
    return marks


def _texts(name: str, number: int, color: str) -> Iterator[tuple[str, Lettering]]:
    for size in (NORMAL, SMALL):
        for turned in (0, -90):
            yield name, Lettering(size, color=color, turned=turned)
    yield str(number), Lettering(SMALL, bold=True, color=color)


def _spot(outline: Sequence[XY], text: str, look: Lettering, blocked: Sequence[Box]) -> XY | None:
    """The place nearest to the middle of an area where a text lies within it, by a grid of places."""
    box = box_of(outline)
    x, y = box.middle
    shares = sorted((n / 20 for n in range(-10, 11)), key=abs)
    places = [(x + across * box.width, y + down * box.height) for across in shares for down in shares]
    for place in sorted(places, key=lambda each: abs(each[0] - x) + abs(each[1] - y)):
        here = label_box(*place, text, look).grown(0.6)
        corners = [(here.left, here.top), (here.right, here.top), (here.left, here.bottom)]
        corners += [(here.right, here.bottom), here.middle]
        free = all(_holds(outline, corner) for corner in corners)
        free = free and not any(here.meets(Box(*point, *point)) for point in outline)
        if free and not any(here.meets(hole) for hole in blocked):
            return place
    return None
