"""A pose of the recipe as a picture: the card with all that is on it, standing, in light and shade."""

from collections.abc import Collection, Sequence

from cardrecipe.fold.folded import FoldedCard, SpacePart
from cardrecipe.fold.space import project
from cardrecipe.fold.stance import Standing, standing
from cardrecipe.fold.vectors import Vector
from cardrecipe.model.lengths import MM_PER
from cardrecipe.plan.poses import PosedBase
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import INK, SHADOW, mixed
from cardrecipe.render.drawings.marks import Caption, Mark, box_of, picture
from cardrecipe.render.drawings.paint import Look, painted, pale, paper_look
from cardrecipe.render.drawings.shapes import frame_turn, piece_path
from cardrecipe.render.drawings.sizes import listed
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.solve.sized import SizedCard

MOST_POSED = (56.0, 36.0)  # mm on the page
SMALL_POSED = (22.0, 22.0)  # beside the picture of a step
DARKEST = 0.3  # how much ink is stirred into a face that turns away from the light
EDGE_ON = 0.02  # mm²: a face that shows less is seen on edge


def pose_drawing(folded: FoldedCard, posed: PosedBase, id_prefix: str = "") -> Drawing:
    """The card in a pose, back to front, on the table."""
    found = standing(folded, posed.base, posed.pose)
    scale = _scale(folded.card, found)
    marks = [_shadow(found, scale)]
    for number, part in enumerate(found.parts):
        marks += _face(folded.card, part, scale, f"{id_prefix}{posed.picture}-{number}")
    title = f"The pose {spoken(posed.pose.name)} of {spoken(posed.base)}"
    return picture(Caption(posed.picture, title, _described(posed, found.parts), id_prefix), marks)


def standing_small(
    folded: FoldedCard, posed: PosedBase, done: Collection[str], pattern: str, edge: XY
) -> list[Mark]:
    """The base in a pose with the pieces `done`, small, its right edge and its middle height at `edge`."""
    pieces = tuple(each for each in folded.card.pieces if each.name == posed.base or each.name in done)
    found = standing(folded._replace(card=folded.card._replace(pieces=pieces)), posed.base, posed.pose)
    scale = _scale(folded.card, found, SMALL_POSED)
    rings = [*(part.ring for part in found.parts), *found.shadows]
    box = box_of([project(point) for ring in rings for point in ring])
    at = edge[0] - box.right * scale, edge[1] - box.middle[1] * scale
    faces = (
        _face(folded.card, part, scale, f"{pattern}-{number}", at) for number, part in enumerate(found.parts)
    )
    return [_shadow(found, scale, at), *(mark for face in faces for mark in face)]


def _scale(card: SizedCard, found: Standing, most: XY = MOST_POSED) -> float:
    box = box_of([project(point) for part in found.parts for point in part.ring])
    life = float(MM_PER[card.unit])
    return min(life, most[0] / box.width, most[1] / box.height)


def _shadow(found: Standing, scale: float, at: XY = (0.0, 0.0)) -> Mark:
    """One shadow of all parts: rings that turn one way join where they overlap."""
    rings = [_one_way(_on_page(each, scale, at)) for each in found.shadows]
    path = "".join(map(ring, rings))
    markup = element("path", d=path, fill=SHADOW, fill_opacity=0.16)
    return Mark(markup, box_of([point for each in rings for point in each]))


def _face(
    card: SizedCard, part: SpacePart, scale: float, pattern: str, at: XY = (0.0, 0.0)
) -> list[Mark]:
    """One section or piece in its paper, darker where it turns away from the light."""
    points = _on_page(part.ring, scale, at)
    if abs(_area(points)) < EDGE_ON:
        return []
    piece = card.piece(part.piece)
    path = ring(points)
    if part.section is None:
        path = piece_path(piece, points, scale)
    path += "".join(ring(_on_page(hole, scale, at)) for hole in part.holes)
    look = _lit(paper_look(card, piece.paper), part)
    turn = frame_turn(points) if part.section is None else 0.0
    return [painted(path, box_of(points), look, pattern, turn)]


def _lit(look: Look, part: SpacePart) -> Look:
    """A paper in the light that falls on a part; of a piece's back its colour is not known for sure."""
    if part.section is None and part.side == "outside":
        look = pale(look)._replace(pattern=None)
    return look._replace(fill=mixed(look.fill, INK, (1 - part.shade) * DARKEST))


def _described(posed: PosedBase, parts: Sequence[SpacePart]) -> str:
    sections = dict.fromkeys(part.section for part in parts if part.section is not None)
    pieces = dict.fromkeys(part.piece for part in parts if part.section is None)
    said = [f"The card is held with {posed.told}."]
    said.append(f"Its sections, the farthest first: {listed(map(spoken, sections))}.")
    if pieces:
        said.append(f"On it: {listed(map(spoken, pieces))}.")
    return " ".join(said)


def _one_way(points: list[XY]) -> list[XY]:
    return points if _area(points) >= 0 else points[::-1]


def _area(points: Sequence[XY]) -> float:
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return sum(x * end_y - end_x * y for (x, y), (end_x, end_y) in pairs) / 2


def _on_page(corners: Sequence[Vector], scale: float, at: XY = (0.0, 0.0)) -> list[XY]:
    return [(at[0] + x * scale, at[1] + y * scale) for x, y in map(project, corners)]
