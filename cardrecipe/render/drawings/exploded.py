"""The layers of a card drawn apart, one above the other, each with its name and its paper."""

from collections.abc import Sequence
from typing import NamedTuple

from cardrecipe.fold.outlines import laid
from cardrecipe.fold.stack import Layer
from cardrecipe.plan.layers import Layers
from cardrecipe.plan.words import bought_length, paper_words, spoken
from cardrecipe.render.drawings.colors import INK, PAGE, QUIET_INK
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, fitted, label
from cardrecipe.render.drawings.lines import HIDDEN, LineStyle, dot, stroke
from cardrecipe.render.drawings.marks import Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import painted, pale, paper_look, shadow
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.shapes import piece_path
from cardrecipe.render.drawings.sizes import fitted_marks, listed
from cardrecipe.render.drawings.svg import XY, Drawing, element, line, ring
from cardrecipe.solve.sized import Point, SizedCard

LEAN, LIE = -0.34, 0.5  # how far a mm down the face goes to the right and down in the picture
MOST_FACE = (54.0, 44.0)  # mm, of a face before it is laid down
MOST_APART, LEAST_APART, MOST_RISE = 13.0, 7.0, 62.0  # mm from a level to the next, and all together
MOST_DRAWN = (130.0, 92.0)  # mm on the page
LABEL_ROW = 8.0  # mm from one name to the next
LEAD = 4.5  # mm from the layers to the names
NAME_WIDE = 60.0
PAD, PAD_AT = 0.13, 0.8  # of a piece's width and height: half a pad of foam, and how far down it lies
PAD_HIGH = 1.2  # mm
WITHIN = 0.04  # of the way to the middle: where a lead begins
ALONG_EDGE = (0.5, 0.85, 0.15, 0.95, 0.05)  # parts of the right edge at which that is tried
DROP = HIDDEN._replace(width=0.25, color=QUIET_INK)


class _Named(NamedTuple):
    """What a lead runs from, and the two lines at its end."""

    point: XY
    name: str
    paper: str


def exploded(card: SizedCard, layers: Layers, id_prefix: str = "") -> Drawing:
    """All levels, the sheet at the bottom."""
    outlines = [point for level in layers.levels for layer in level for point in layer.outline]
    wide, high = (max(axis) - min(axis) for axis in zip(*outlines, strict=True))
    scale = min(MOST_FACE[0] / float(wide), MOST_FACE[1] / float(high))
    pattern = f"{id_prefix}{layers.picture}"
    marks = fitted_marks(lambda k: _apart(card, layers, k, pattern), scale, *MOST_DRAWN)
    said = "; ".join(
        listed(_words_of(card, layers, level, layer) for layer in _each_once(level))
        for level in layers.levels
    )
    caption = Caption(layers.picture, layers.caption, f"From the bottom to the top: {said}.", id_prefix)
    return picture(caption, marks)


def _apart(card: SizedCard, layers: Layers, scale: float, pattern: str) -> list[Mark]:
    rise = max(LEAST_APART, min(MOST_APART, MOST_RISE / len(layers.levels)))
    marks: list[Mark] = []
    named: list[_Named] = []  # the lowest level first
    for level, members in enumerate(layers.levels):
        for number, layer in enumerate(members):
            own = f"{pattern}-{level}-{number}"
            marks += _layer(card, layer, scale, level * rise, rise if level else 0.0, own)
        here: list[_Named] = []
        for layer in _each_once(members):
            point = _held_at(layer, scale, level * rise, _above(layers, level, scale, rise))
            here.append(_Named(point, *_two_lines(card, layer, members, level == 0)))
        named += sorted(here, key=lambda each: -each.point[1])
    return [*marks, *_names(named[::-1], room(marks).right + LEAD)]


def _above(layers: Layers, level: int, scale: float, rise: float) -> list[list[XY]]:
    """The frames of all that is drawn above a level."""
    higher = enumerate(layers.levels[level + 1 :], level + 1)
    return [_on_page(layer.outline, scale, at * rise) for at, members in higher for layer in members]


def _layer(card: SizedCard, layer: Layer, scale: float, up: float, rise: float, pattern: str) -> list[Mark]:
    """One layer in its place above the table, the lines that tell where it goes, and the foam under it."""
    piece = layer.piece
    frame = _on_page(layer.outline, scale, up)
    look = paper_look(card, piece.paper)
    if layer.section is None and not layer.is_face_up:
        look = pale(look)._replace(pattern=None)
    path = ring(frame) if layer.section is not None else piece_path(piece, frame, scale)
    path += "".join(ring(_on_page(hole, scale, up)) for hole in layer.holes)
    box = box_of(frame)
    paper = of_piece(painted(path, box, look, pattern, lie=(LEAN, LIE), strong=True), piece.name)
    if layer.section is not None:
        return [paper]
    drops = [_drop(_lowest(frame), rise)]
    foam = layer.foam_mm > 0
    under = [shadow(path, box, float(layer.foam_mm))] if foam else []
    return [*drops, *(_pads(layer, scale, up - rise / 2) if foam else ()), *under, paper]


def _held_at(layer: Layer, scale: float, up: float, above: Sequence[Sequence[XY]]) -> XY:
    """Where a lead begins: just inside the right edge, where nothing that lies above hides it."""
    frame = _on_page(layer.outline, scale, up)
    if layer.section is None and layer.piece.outline is None:
        edges = list(zip(frame, [*frame[1:], frame[0]], strict=True))
        upright = [edge for edge in edges if abs(edge[0][1] - edge[1][1]) > 0.01]
        start, end = max(upright, key=lambda edge: edge[0][0] + edge[1][0])
    else:
        start = max(_on_page(_rim(layer), scale, up))
        end = start
    middle = sum(x for x, _ in frame) / len(frame), sum(y for _, y in frame) / len(frame)
    tried = [_between(_between(start, end, share), middle, WITHIN) for share in ALONG_EDGE]
    return next((each for each in tried if not any(_is_inside(each, ring) for ring in above)), tried[0])


def _between(start: XY, end: XY, share: float) -> XY:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _is_inside(point: XY, frame: Sequence[XY]) -> bool:
    x, y = point
    inside = False
    for (ax, ay), (bx, by) in zip(frame, [*frame[1:], frame[0]], strict=True):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def _lowest(frame: Sequence[XY]) -> list[XY]:
    """The two corners that are nearest to the reader."""
    return sorted(frame, key=lambda point: -point[1])[:2]


def _drop(points: Sequence[XY], rise: float) -> Mark:
    """Dotted lines from some points to where they lie on the level below."""
    path = "".join(line(((x, y), (x, y + rise))) for x, y in points)
    markup = element("path", d=path, fill="none", stroke=DROP.color, stroke_width=DROP.width,
                     stroke_dasharray=DROP.dash, stroke_linecap="round")  # fmt: skip
    return Mark(markup, box_of([*points, *((x, y + rise) for x, y in points)]))


def _pads(layer: Layer, scale: float, up: float) -> list[Mark]:
    """Two pads of foam half way down, near the edge that is nearest to the reader."""
    (ax, ay), (bx, by), _, (dx, dy) = _on_page(layer.outline, scale, up)
    shapes = []
    for across in (0.28, 0.72):
        corners = [
            (ax + (bx - ax) * s + (dx - ax) * t, ay + (by - ay) * s + (dy - ay) * t)
            for s, t in ((across - PAD, PAD_AT - PAD), (across + PAD, PAD_AT - PAD),
                         (across + PAD, PAD_AT + PAD), (across - PAD, PAD_AT + PAD))
        ]  # fmt: skip
        (rx, ry), (lx, ly) = corners[2], corners[3]
        shapes += [[(lx, ly), (rx, ry), (rx, ry + PAD_HIGH), (lx, ly + PAD_HIGH)], corners]
    path = "".join(map(ring, shapes))
    markup = element("path", d=path, fill=PAGE, stroke=INK, stroke_width=0.25)
    return [Mark(markup, box_of([point for shape in shapes for point in shape]).grown(0.13))]


def _names(named: Sequence[_Named], left: float) -> list[Mark]:
    """Names in a column on the right, the uppermost layer first, pushed apart where they would touch."""
    marks: list[Mark] = []
    tops: list[float] = []
    for each in named:
        beside = each.point[1] - NORMAL / 2
        tops.append(max(beside, tops[-1] + LABEL_ROW) if tops else beside)
    for (point, name, paper), y in zip(named, tops, strict=True):
        marks += [
            stroke((point, (left - 1.0, y)), LineStyle(0.18, color=QUIET_INK)),
            dot(point, 0.5, INK),
            label(left, y, fitted(name, NAME_WIDE, NORMAL), Lettering(NORMAL, anchor="start")),
            label(left, y + NORMAL * 1.05, fitted(paper, NAME_WIDE, SMALL),
                  Lettering(SMALL, anchor="start", color=QUIET_INK)),
        ]  # fmt: skip
    return marks


def _two_lines(card: SizedCard, layer: Layer, members: Sequence[Layer], is_lowest: bool) -> tuple[str, str]:
    """The name, of sections that are folded over something their own, and the paper."""
    copies = len({each.copy for each in members if each.piece.name == layer.piece.name})
    name = spoken(layer.piece.name)
    if layer.section is not None and not is_lowest:
        sections = (each.section for each in members if each.section and each.piece.name == layer.piece.name)
        name = listed(spoken(section) for section in sections)
    times = f"  × {copies}" if copies > 1 else ""
    paper = paper_words(card.papers[layer.piece.paper]) if layer.piece.paper in card.papers else "any paper"
    return f"{name}{times}", f"{paper}{_foam(card, layer)}"


def _foam(card: SizedCard, layer: Layer) -> str:
    """`, on foam 2 mm thick`, as shops mark it."""
    glue = layer.piece.glue
    if layer.section is not None or not layer.foam_mm:
        return ""
    thick = f" {bought_length(glue.thick, card.unit)} thick" if glue is not None and glue.thick else ""
    return f", on foam{thick}"


def _words_of(card: SizedCard, layers: Layers, level: Sequence[Layer], layer: Layer) -> str:
    name, paper = _two_lines(card, layer, level, level is layers.levels[0])
    return f"{name} of {paper}"


def _each_once(members: Sequence[Layer]) -> list[Layer]:
    """One copy of each piece, the one farthest to the right."""
    last = {layer.piece.name: layer for layer in sorted(members, key=lambda each: max(each.outline))}
    return [last[name] for name in dict.fromkeys(layer.piece.name for layer in members)]


def _rim(layer: Layer) -> Sequence[Point]:
    return layer.outline if layer.section is not None else laid(layer.piece, layer.outline)


def _on_page(points: Sequence[Point], scale: float, up: float) -> list[XY]:
    return [
        (float(x) * scale + float(y) * scale * LEAN, float(y) * scale * LIE - up) for x, y in points
    ]
