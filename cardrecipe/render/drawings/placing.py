"""Where a piece goes: the piece on its host, seen from that face, with what shows on every edge."""

from collections.abc import Callable, Collection, Sequence
from fractions import Fraction
from itertools import pairwise

from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.placing import foam_under
from cardrecipe.model.lengths import round_near, with_unit, written
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.dimensions import (
    FIRST_ROW,
    Dimension,
    clear_dimension,
    dimension,
)
from cardrecipe.render.drawings.glue_zone import glued_rings, hatching
from cardrecipe.render.drawings.inner_box import inner_box, name_ratio
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    fitted,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import HIDDEN, stroke
from cardrecipe.render.drawings.lying import lying_marks, quiet
from cardrecipe.render.drawings.marks import (
    MARGIN,
    Box,
    Caption,
    Mark,
    box_of,
    is_free,
    picture,
    room,
)
from cardrecipe.render.drawings.named import name_on
from cardrecipe.render.drawings.paint import Look, painted, paper_look, shadow
from cardrecipe.render.drawings.pieces import piece_marks, place_in_section
from cardrecipe.render.drawings.scenes import Scene, scenes_of, whole_border
from cardrecipe.render.drawings.shapes import Frame, piece_path, rectangle, shape_path, turned_frame
from cardrecipe.render.drawings.sizes import (
    COLUMN,
    fits,
    fitted_marks,
    in_words,
    listed,
    scale_to_fit,
    scaled,
)
from cardrecipe.render.drawings.svg import XY, Drawing, ring
from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece

MOST_HOST = (31.0, 27.0)  # mm on the page
BETWEEN = 7.0  # mm from one host to the next
BESIDE = 4.0  # mm from the picture of the whole card
MOST_SCENES = 3
# Draws a small picture whose right edge and middle height are given.
Inset = Callable[[float, float], list[Mark]]


def placing(
    card: SizedCard,
    piece: SizedPiece,
    id_prefix: str = "",
    zones: Sequence[GlueZone] = (),
    done: Collection[str] = (),
    inset: Inset | None = None,
) -> Drawing:
    """How `piece`, which has at least one placement, lies on its hosts, and where it takes glue when
    that is a part of it only. What was there before, the pieces `done`, is quiet; `inset` draws the
    whole card small, on the left."""
    name = f"place-{piece.name}"
    scenes = scenes_of(card, piece, done)
    extents = [_extent(piece, scene) for scene in scenes[:MOST_SCENES]]
    widest, highest = sum((wide for wide, _ in extents), Fraction(0)), max(high for _, high in extents)
    free = MOST_HOST[0] - (min(len(scenes), MOST_SCENES) - 1) * BETWEEN * 2
    scale = scale_to_fit(card, widest, highest, free, MOST_HOST[1])
    pattern = f"{id_prefix}{name}"

    def draw(k: float) -> list[Mark]:
        return _in_rows(card, piece, scenes, k, pattern, zones, done)

    marks = fitted_marks(lambda k: beside(inset, draw(k)), scale, COLUMN)
    if inset is not None and not fits(marks, COLUMN):
        marks = fitted_marks(draw, scale, COLUMN)
    hosts = listed(spoken(host) for scene in scenes for host in scene.names)
    title = f"Where {spoken(piece.name)} goes: {hosts}"
    return picture(Caption(name, title, _described(card, piece, scenes), id_prefix), marks)


def _extent(piece: SizedPiece, scene: Scene) -> tuple[Fraction, Fraction]:
    """Width and height of the host with all that lies on it, for what hangs over may be larger."""
    lying = [(place, piece) for place in scene.copies]
    lying += [(each.place, each.piece) for each in scene.earlier]
    left = min(Fraction(0), *(place.x for place, _ in lying))
    top = min(Fraction(0), *(place.y for place, _ in lying))
    right = max(scene.width, *(place.x + each.width for place, each in lying))
    bottom = max(scene.height, *(place.y + each.height for place, each in lying))
    return right - left, bottom - top


def beside(inset: Inset | None, marks: list[Mark]) -> list[Mark]:
    """Another picture with a small one on its left, at half its height."""
    if inset is None:
        return marks
    words = [mark for mark in marks if mark.is_label]
    first = min((mark.box.top for mark in words if mark.box.top >= words[-1].box.top - 0.1), default=0.0)
    above = room([mark for mark in marks if mark.box.bottom <= first] or marks)
    small = inset(above.left - BESIDE, above.middle[1])
    if is_free(room(small), words):
        return [*marks, *small]
    large = room(marks)
    return [*marks, *inset(large.left - BESIDE, large.middle[1])]


def _in_rows(
    card: SizedCard,
    piece: SizedPiece,
    scenes: Sequence[Scene],
    scale: float,
    pattern: str,
    zones: Sequence[GlueZone],
    done: Collection[str],
) -> list[Mark]:
    """Scenes side by side, on a new row where the column is full."""
    if len(scenes) == 1:
        return _one_scene(card, piece, scenes[0], scale, pattern, (0.0, 0.0), zones, done)
    marks: list[Mark] = []
    x = top = bottom = 0.0
    for place, scene in enumerate(scenes[:MOST_SCENES]):
        own = f"{pattern}-{place}"
        space = room(_one_scene(card, piece, scene, scale, own, (0.0, 0.0), zones, done))
        if marks and x + space.width > COLUMN - 2 * MARGIN:
            x, top = 0.0, bottom + BETWEEN
        at = (x - space.left, top - space.top)
        marks += _one_scene(card, piece, scene, scale, own, at, zones, done)
        x += space.width + BETWEEN
        bottom = max(bottom, top + space.height)
    return marks


def _one_scene(
    card: SizedCard,
    piece: SizedPiece,
    scene: Scene,
    scale: float,
    pattern: str,
    at: XY,
    zones: Sequence[GlueZone],
    done: Collection[str],
) -> list[Mark]:
    left, top = at
    wide, high = float(scene.width) * scale, float(scene.height) * scale
    host = Box(left, top, left + wide, top + high)
    marks = [_host(card, scene, scale, host), *_before(card, scene, scale, host, done)]
    frames: list[Frame] = [scaled(frame, scale, host.left, host.top) for frame in scene.frames]
    frames = frames or [_frame(piece, place, host, scale) for place in scene.copies]
    look = paper_look(card, piece.paper)
    is_part = False
    for number, frame in enumerate(frames):
        turned = turned_frame(frame, float(piece.turned))
        lift = float(foam_under(piece, card.unit))
        if lift:
            marks.append(shadow(piece_path(piece, turned, scale), box_of(turned), lift))
        marks += piece_marks(piece, turned, look, f"{pattern}-{number}", scale)
        glued = glued_rings(piece, scene, number, zones)
        if glued is not None:
            marks += hatching(piece, glued, turned, ink_on(look.fill))
            is_part = True
    marks += _edge_of_host_beneath(scene, host, frames)
    there = (room(marks).right, room(marks).bottom)  # sizes stand beyond all that lies there
    sizes = (
        _to_center(card, piece, host, frames, scene, there)
        if piece.turned
        else (_borders(card, piece, host, frames, scene, there))
    )
    is_plain = len(frames) == 1 and not is_part and not scene.frames
    named = _named(card, piece, frames[0], look, scale) if is_plain else []
    marks += [*sizes, *named]
    return [*marks, *_words(piece, scene, host, room(marks).bottom, is_part=is_part)]


def _host(card: SizedCard, scene: Scene, scale: float, host: Box) -> Mark:
    look = quiet(paper_look(card, scene.paper))
    if scene.outline:
        path = ring(scaled(scene.outline, scale, host.left, host.top))
    else:
        path = shape_path(scene.kind, rectangle(host.left, host.top, host.width, host.height))
    path += "".join(ring(scaled(hole, scale, host.left, host.top)) for hole in scene.holes)
    return painted(path, host, look, "")


def _before(
    card: SizedCard, scene: Scene, scale: float, host: Box, done: Collection[str]
) -> list[Mark]:
    """What lies on the host already, and on that, without patterns."""
    marks: list[Mark] = []
    for each in scene.earlier:
        turned = scaled(each.frame, scale, host.left, host.top)
        marks += lying_marks(card, each, turned or _frame(each.piece, each.place, host, scale), scale, done)
    return marks


def _frame(piece: SizedPiece, place: Placement, host: Box, scale: float) -> Frame:
    left, top = host.left + float(place.x) * scale, host.top + float(place.y) * scale
    return rectangle(left, top, float(piece.width) * scale, float(piece.height) * scale)


def _edge_of_host_beneath(scene: Scene, host: Box, frames: Sequence[Frame]) -> list[Mark]:
    """Where a piece covers its host's edge, that edge dotted."""
    marks: list[Mark] = []
    for frame in frames:
        box = box_of(frame)
        if scene.kind in ("circle", "oval") or (scene.outline and not scene.is_section):
            continue
        left, right = max(box.left, host.left), min(box.right, host.right)
        top, bottom = max(box.top, host.top), min(box.bottom, host.bottom)
        for y in (host.top, host.bottom):
            if box.top < y < box.bottom and left < right:
                marks.append(stroke(((left, y), (right, y)), HIDDEN))
        for x in (host.left, host.right):
            if box.left < x < box.right and top < bottom:
                marks.append(stroke(((x, top), (x, bottom)), HIDDEN))
    return marks


def _borders(
    card: SizedCard, piece: SizedPiece, host: Box, frames: Sequence[Frame], scene: Scene, there: XY
) -> list[Mark]:
    """What shows of the host on each edge; where the piece overhangs, by how much."""
    whole = box_of([point for frame in frames for point in frame])
    border = whole_border(scene)
    reach_right, reach_down = there
    low, far = reach_down + FIRST_ROW, reach_right + FIRST_ROW
    marks: list[Mark] = []
    sides = (
        ("x", host.left, whole.left, border[0], low, reach_down, "end"),
        ("x", whole.right, host.right, border[1], low, reach_down, "end"),
        ("y", host.top, whole.top, border[2], far, reach_right, "beside"),
        ("y", whole.bottom, host.bottom, border[3], far, reach_right, "beside"),
    )
    for place, (axis, start, end, length, at, reach, outside) in enumerate(sides):
        if length == 0:
            continue
        over = " over" if length < 0 else ""
        text = written(abs(length), card.unit) + over
        if axis == "x":
            outside = "start" if place == 0 else "end"
        first, last = min(start, end), max(start, end)
        line = Dimension(axis, first, last, at, reach, text, outside=outside, bold=True)
        marks += clear_dimension(line, marks)
    return [*marks, *_gaps(card, piece, frames, scene, low, marks)]


def _gaps(
    card: SizedCard,
    piece: SizedPiece,
    frames: Sequence[Frame],
    scene: Scene,
    low: float,
    marks: Sequence[Mark],
) -> list[Mark]:
    """The first gap between two copies that stand side by side."""
    pairs = zip(pairwise(scene.copies), pairwise(frames), strict=True)
    for (one, other), (first, second) in pairs:
        gap = other.x - one.x - piece.width
        if one.y == other.y and gap > 0:
            text = written(gap, card.unit)
            start, end = first[1][0], second[0][0]
            line = Dimension("x", start, end, low, first[2][1], text, bold=True)
            return clear_dimension(line, marks)
    return []


def _to_center(
    card: SizedCard, piece: SizedPiece, host: Box, frames: Sequence[Frame], scene: Scene, there: XY
) -> list[Mark]:
    """A turned piece is measured to its middle: from the left and from the top of the host."""
    place, box = scene.copies[0], box_of(frames[0])
    x, y = box.middle
    low, far = there[1] + FIRST_ROW, there[0] + FIRST_ROW
    across, down = place.x + piece.width / 2, place.y + piece.height / 2
    if scene.kind == "band":
        across, down = round_near(across, card.nearest), round_near(down, card.nearest)
    from_left = written(across, card.unit)
    from_top = written(down, card.unit)
    marks = [
        *_cross(x, y),
        *dimension(Dimension("x", host.left, x, low, host.bottom, from_left, bold=True)),
        *dimension(Dimension("y", host.top, y, far, host.right, from_top, bold=True)),
    ]
    return [*marks, *_next_center(card, frames, scene, (low, host.bottom), marks)]


def _next_center(
    card: SizedCard,
    frames: Sequence[Frame],
    scene: Scene,
    line: tuple[float, float],
    marks: Sequence[Mark],
) -> list[Mark]:
    """From the middle of the first copy to that of the second beside it."""
    if len(frames) < 2 or scene.copies[0].y != scene.copies[1].y:
        return []
    (x, y), (next_x, _) = box_of(frames[0]).middle, box_of(frames[1]).middle
    text = written(abs(scene.copies[1].x - scene.copies[0].x), card.unit)
    apart = Dimension("x", x, next_x, line[0], line[1], text, bold=True)
    return [*_cross(next_x, y), *clear_dimension(apart, marks)]


def _cross(x: float, y: float) -> list[Mark]:
    arm = 1.4
    style = HIDDEN._replace(dash=None, width=0.25)
    return [
        stroke(((x - arm, y), (x + arm, y)), style),
        stroke(((x, y - arm), (x, y + arm)), style),
    ]


def _named(card: SizedCard, piece: SizedPiece, frame: Frame, look: Look, scale: float) -> list[Mark]:
    if piece.turned:
        return []
    box = inner_box(piece, box_of(frame), name_ratio(spoken(piece.name)))
    x, y = box.middle
    inside = 0.66 if piece.kind in ("circle", "oval", "tag", "banner", "cutout") else 1.0
    long = text_width(spoken(piece.name), NORMAL)
    if piece.sections:
        middle = place_in_section(card, piece, scale, look, (long, NORMAL))
        if middle is None:
            return []
        at = frame[0][0] + middle[0], frame[0][1] + middle[1]
        return name_on(look, *at, spoken(piece.name), Lettering(NORMAL))
    if long <= inside * box.width - 2 and box.height > NORMAL + 1:
        return name_on(look, x, y, spoken(piece.name), Lettering(NORMAL))
    if long <= inside * box.height - 2 and box.width > NORMAL + 1:
        return name_on(look, x, y, spoken(piece.name), Lettering(NORMAL, turned=-90))
    return []


def _words(
    piece: SizedPiece, scene: Scene, host: Box, bottom: float, *, is_part: bool
) -> list[Mark]:
    """Under each scene: on which hosts, on which face, how it is turned, and where its glue goes."""
    face = f", {scene.side}" if scene.is_section else ""
    lines = [f"on {listed(map(spoken, scene.names))}{face}"]
    if piece.turned:
        lines.append(f"turned {written(piece.turned, 'mm')}°")
    if piece.under:
        lines.append(f"under {spoken(piece.under)}")
    if is_part:
        lines.append("glue behind the hatched part only")
    middle, y = host.middle[0], bottom + SMALL * 1.3
    marks = []
    for text in lines:
        most = COLUMN - 3.0
        marks.append(label(middle, y, fitted(text, most, SMALL), Lettering(SMALL)))
        y += SMALL * 1.35
    return marks


def _described(card: SizedCard, piece: SizedPiece, scenes: Sequence[Scene]) -> str:
    size = in_words(piece.width, piece.height, card.unit)
    said = [f"{spoken(piece.name)}, {size}."]
    for scene in scenes:
        face = f"the {scene.side} of " if scene.is_section else ""
        left, right, top, bottom = whole_border(scene)
        where = f"On {face}{listed(map(spoken, scene.names))}"
        if piece.turned:
            said.append(f"{where}, turned {written(piece.turned, 'mm')} degrees.")
        elif left == right == top == bottom and left > 0:
            said.append(f"{where}: {with_unit(left, card.unit)} shows on all four sides.")
        else:
            edges = zip((left, right, top, bottom), ("left", "right", "top", "bottom"), strict=True)
            shown = listed(f"{with_unit(length, card.unit)} {edge}" for length, edge in edges)
            said.append(f"{where}, border {shown}.")
    return " ".join(said)
