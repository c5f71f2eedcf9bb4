"""The folding steps in space: the bare base half way through a fold, and which way the paper swings.

What has been glued on is left out: the folds are what these pictures are about.
"""

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from math import cos, radians, sin
from typing import NamedTuple

from cardrecipe.fold.folded import ClosedBase, FoldAction, FoldedCard, SpacePart
from cardrecipe.fold.space import project, space_view
from cardrecipe.fold.vectors import Vector, dot, minus, plus, times, unit
from cardrecipe.model.lengths import to_mm
from cardrecipe.render.drawings.colors import (
    INK,
    PAGE,
    QUIET_INK,
    edge_on,
    fold_color,
    mixed,
)
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    label,
    text_width,
)
from cardrecipe.render.drawings.lines import (
    DIMENSION,
    EDGE,
    HIDDEN,
    arrow_behind,
    disc,
    fold_line,
    fold_sign,
    motion_arrow,
    stroke,
)
from cardrecipe.render.drawings.marks import Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import inside_of, paper_look
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, listed
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.solve.sized import (
    Point,
    SizedCard,
    SizedPiece,
    SizedScore,
    SizedSection,
)

MOST_SPACE = (74.0, 60.0)  # mm on the page, of the flat base in space
CAUGHT_AT = 62  # degrees at which the paper is caught swinging
LIFT_OFF, LANDING = 6, 152  # degrees at which the arrow begins and ends
ARROW_OUT = 1.04  # the arrow runs this much outside the paper's own edge
ARC_STEPS = 16
DARKEST = 0.34  # how much ink is stirred into a face that turns away from the light
BADGE = 2.3
WORDS = {"valley": "toward you", "mountain": "away from you"}


class Plane(NamedTuple):
    """Where a section's plane lies in space: the images of (0, 0), of the two axes, and its normal
    on the inside."""

    origin: Vector
    right: Vector
    down: Vector
    normal: Vector

    def at(self, point: Point) -> Vector:
        along = plus(times(float(point[0]), self.right), times(float(point[1]), self.down))
        return plus(self.origin, along)


def fold_drawing(
    folded: FoldedCard, closed: ClosedBase, number: int, id_prefix: str = ""
) -> Drawing:
    """The `number`th fold (from 1) of a base, caught half way."""
    action, name = closed.moves[number - 1], f"fold-{closed.base}-{number}"
    base = folded.card.piece(closed.base)
    draw = partial(_half_way, folded, base, action, _angles(closed, number - 1))
    marks = fitted_marks(draw, _scale(folded.card, base), COLUMN)
    title = f"Fold {number} of {base.name}: {_scores_named(action)}, {action.direction}"
    return picture(Caption(name, title, _described(action), id_prefix), marks)


def _scale(card: SizedCard, base: SizedPiece) -> float:
    corners = ((0, 0), (base.width, 0), (base.width, base.height), (0, base.height))
    box = box_of([project((float(x), float(y), 0.0)) for x, y in corners])
    life = float(to_mm(Fraction(1), card.unit))
    return min(life, MOST_SPACE[0] / box.width, MOST_SPACE[1] / box.height)


def _angles(closed: ClosedBase, done: int) -> dict[int, Fraction]:
    """The pose after `done` folds."""
    return dict(closed.moves[done - 1].angles) if done else {}


def _half_way(
    folded: FoldedCard,
    base: SizedPiece,
    action: FoldAction,
    before: dict[int, Fraction],
    scale: float,
) -> list[Mark]:
    card = folded.card._replace(pieces=(base,))
    bare = folded._replace(card=card)
    angles = {**before, **{score: Fraction(CAUGHT_AT) for score in action.scores}}
    caught = space_view(bare, base.name, angles)
    planes = _planes(base, caught)
    acted = [score for score in base.scores if score.number in action.scores]
    paths = [_path(base, action, score, planes, scale) for score in acted]
    is_behind = action.direction == "mountain"
    swinging = [_sides(base, action, score)[0].name for score in acted]
    marks = _ghosts(space_view(bare, base.name, before), swinging, scale)
    for path in paths if is_behind else ():
        marks += motion_arrow(path)
    for part in caught:
        marks += _face(card, base, part, angles, scale)
    for score, path in zip(acted, paths, strict=True):
        marks += _acted_score(card, base, score, planes[_sides(base, action, score)[1].name], scale)
        marks += arrow_behind(path) if is_behind else motion_arrow(path)
    return [*marks, *_words(action, room(marks).left, room(marks).bottom)]


def _ghosts(parts: Sequence[SpacePart], swinging: Sequence[str], scale: float) -> list[Mark]:
    """Where the sections that swing at these scores were before, dotted."""
    style = HIDDEN._replace(color=QUIET_INK)
    marks: list[Mark] = []
    for part in parts:
        if part.section in swinging:
            points = _on_page(part.ring, scale)
            marks.append(stroke([*points, points[0]], style))
    return marks


def _face(
    card: SizedCard,
    base: SizedPiece,
    part: SpacePart,
    angles: dict[int, Fraction],
    scale: float,
) -> list[Mark]:
    """One section: its outside in the paper's colour, its inside paler, shaded by the light."""
    look = paper_look(card, base.paper)
    fill = (look if part.side == "outside" else inside_of(look)).fill
    shaded = mixed(fill, INK, (1 - part.shade) * DARKEST)
    points = _on_page(part.ring, scale)
    markup = element("path", d=ring(points), fill=shaded, stroke=shaded, stroke_width=0.1)
    section = next(each for each in base.sections if each.name == part.section)
    edges = []
    for place, start in enumerate(points):
        end, after = points[(place + 1) % len(points)], (place + 1) % len(points)
        score = _score_on(base, section.outline[place], section.outline[after])
        if score is not None and not angles.get(score.number):
            seen = _seen_direction(score.direction, part.side)
            edges.append(fold_line(start, end, seen, shaded, width=DIMENSION.width))
            continue
        style = EDGE._replace(color=edge_on(shaded))
        edges.append(stroke((start, end), style))
    return [Mark(markup, box_of(points)), *edges]


def _score_on(base: SizedPiece, start: Point, end: Point) -> SizedScore | None:
    """The score along which an edge of a section runs."""
    for score in base.scores:
        axis = 0 if score.axis == "x" else 1
        if score.direction != "slit" and start[axis] == end[axis] == score.at:
            return score
    return None


def _seen_direction(direction: str, side: str) -> str:
    other = {"valley": "mountain", "mountain": "valley"}
    return direction if side == "inside" else other[direction]


def _planes(base: SizedPiece, parts: Sequence[SpacePart]) -> dict[str, Plane]:
    outlines = {section.name: section.outline for section in base.sections}
    return {
        part.section: _plane(outlines[part.section], part.ring)
        for part in parts
        if part.section is not None
    }


def _plane(outline: Sequence[Point], corners: Sequence[Vector]) -> Plane:
    """The rigid motion that takes the flat `outline` to its `corners`, from three of them."""
    (ax, ay), (bx, by) = outline[0], outline[1]
    third = next(
        place
        for place, (x, y) in enumerate(outline)
        if (bx - ax) * (y - ay) != (by - ay) * (x - ax)
    )
    cx, cy = outline[third]
    p, q, r, s = (float(each) for each in (bx - ax, by - ay, cx - ax, cy - ay))
    first, second = minus(corners[1], corners[0]), minus(corners[third], corners[0])
    area = p * s - q * r
    right = times(1 / area, minus(times(s, first), times(q, second)))
    down = times(1 / area, minus(times(p, second), times(r, first)))
    along = plus(times(float(ax), right), times(float(ay), down))
    return Plane(minus(corners[0], along), right, down, _cross(right, down))


def _acted_score(
    card: SizedCard, base: SizedPiece, score: SizedScore, plane: Plane, scale: float
) -> list[Mark]:
    """The score of this step drawn bold, with its number."""
    first, last = _on_page([plane.at(score.start), plane.at(score.end)], scale)
    fill = inside_of(paper_look(card, base.paper)).fill
    bold = fold_line(first, last, score.direction, fill, emphasised=True)
    return [bold, *_badge(first, last, score)]


def _path(
    base: SizedPiece,
    action: FoldAction,
    score: SizedScore,
    planes: dict[str, Plane],
    scale: float,
) -> list[XY]:
    """The arrow along which the far edge of the swinging section travels."""
    child, parent = _sides(base, action, score)
    arc = _arc(planes[parent.name], score, _far_middle(child, score), action.direction)
    return _on_page(arc, scale)


def _sides(
    base: SizedPiece, action: FoldAction, score: SizedScore
) -> tuple[SizedSection, SizedSection]:
    """The section that swings at a score and the one that it swings against."""
    beside = [section for section in base.sections if score.at in _stretch(section, score.axis)]
    moving = next(each for each in beside if each.name in action.moves)
    return moving, next(each for each in beside if each is not moving)


def _stretch(section: SizedSection, axis: str) -> tuple[Fraction, Fraction]:
    if axis == "x":
        return section.x, section.x + section.width
    return section.y, section.y + section.height


def _far_middle(section: SizedSection, score: SizedScore) -> Point:
    """The middle of the edge that lies farthest from the score."""
    first, last = _stretch(section, score.axis)
    far = first if last == score.at else last
    if score.axis == "x":
        return far, section.y + section.height / 2
    return section.x + section.width / 2, far


def _arc(plane: Plane, score: SizedScore, point: Point, direction: str) -> list[Vector]:
    """The way of a point of the swinging section, from lying flat to nearly folded."""
    start, end, flat = plane.at(score.start), plane.at(score.end), plane.at(point)
    along = unit(minus(end, start))
    foot = plus(start, times(dot(minus(flat, start), along), along))
    reach = times(ARROW_OUT, minus(flat, foot))
    length = dot(reach, reach) ** 0.5
    rise = times(length if direction == "valley" else -length, plane.normal)
    span = LANDING - LIFT_OFF
    turns = [radians(LIFT_OFF + span * step / ARC_STEPS) for step in range(ARC_STEPS + 1)]
    return [plus(foot, plus(times(cos(turn), reach), times(sin(turn), rise))) for turn in turns]


def _badge(first: XY, last: XY, score: SizedScore) -> list[Mark]:
    """The score's number just beyond its nearer end."""
    (ax, ay), (bx, by) = (first, last) if last[1] >= first[1] else (last, first)
    long = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
    out = (BADGE + 0.6) / long
    center = (bx + (bx - ax) * out, by + (by - ay) * out)
    color = fold_color(score.direction, PAGE)
    number = label(*center, str(score.number), Lettering(NORMAL, True, color=color))
    return [disc(center, BADGE, color), number]


def _words(action: FoldAction, left: float, bottom: float) -> list[Mark]:
    """Under the picture: the sign and the words of the fold."""
    y = bottom + 3.6
    color = fold_color(action.direction, PAGE)
    look = Lettering(NORMAL, True, anchor="start", color=color)
    word = f"{action.direction} fold"
    rest = left + 6.2 + text_width(word, NORMAL, True) + 1.4
    told = f"{WORDS[action.direction]}, {_scores_named(action)}"
    return [
        *fold_sign((left + 2.4, y), action.direction),
        label(left + 6.2, y, word, look),
        label(rest, y, told, Lettering(SMALL, anchor="start")),
    ]


def _scores_named(action: FoldAction) -> str:
    word = "score" if len(action.scores) == 1 else "scores"
    return f"{word} {listed(str(number) for number in action.scores)}"


def _described(action: FoldAction) -> str:
    plural = "s" if len(action.moves) == 1 else ""
    return (
        f"{listed(action.moves).capitalize()} swing{plural} {WORDS[action.direction]} at "
        f"{_scores_named(action)}, a {action.direction} fold, onto {listed(action.onto)}."
    )


def _on_page(corners: Sequence[Vector], scale: float) -> list[XY]:
    return [(x * scale, y * scale) for x, y in map(project, corners)]


def _cross(one: Vector, two: Vector) -> Vector:
    return (
        one[1] * two[2] - one[2] * two[1],
        one[2] * two[0] - one[0] * two[2],
        one[0] * two[1] - one[1] * two[0],
    )
