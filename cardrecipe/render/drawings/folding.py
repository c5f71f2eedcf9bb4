"""The folding steps in space: the bare base half way through a fold, and which way the paper swings.

What has been glued on is left out: the folds are what these pictures are about.
"""

from collections.abc import Sequence
from fractions import Fraction
from functools import partial

from cardrecipe.fold.folded import ClosedBase, FoldAction, FoldedCard, SpacePart
from cardrecipe.fold.space import eye, project, space_view
from cardrecipe.fold.vectors import Vector, dot
from cardrecipe.model.lengths import to_mm
from cardrecipe.plan.words import spoken
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
from cardrecipe.render.drawings.swing import Swing, planes_of, swings_of
from cardrecipe.solve.sized import (
    Point,
    SizedCard,
    SizedPiece,
    SizedScore,
)

MOST_SPACE = (54.0, 34.0)  # mm on the page, of the flat base in space
CAUGHT_AT = 62  # degrees at which the paper is caught swinging
DARKEST = 0.34  # how much ink is stirred into a face that turns away from the light
BADGE = 2.3
FAN_AT = 100  # degrees at which every fold of a fan is shown


def fold_drawing(
    folded: FoldedCard, closed: ClosedBase, number: int, id_prefix: str = ""
) -> Drawing:
    """The `number`th fold (from 1) of a base, caught half way."""
    action, name = closed.moves[number - 1], f"fold-{closed.base}-{number}"
    base = folded.card.piece(closed.base)
    draw = partial(_half_way, folded, base, action, _angles(closed, number - 1))
    marks = fitted_marks(draw, _scale(folded.card, base), COLUMN)
    title = f"Fold {number} of {spoken(base.name)}: {_scores_named(action)}, {action.direction}"
    return picture(Caption(name, title, _described(action), id_prefix), marks)


def fan_drawing(folded: FoldedCard, closed: ClosedBase, id_prefix: str = "") -> Drawing:
    """Every fold of a base at once, half way, for a base that is folded like a fan."""
    base, name = folded.card.piece(closed.base), f"fold-{closed.base}-fan"
    numbers = [score for action in closed.moves for score in action.scores]
    marks = fitted_marks(
        partial(_fanned, folded, base, dict.fromkeys(numbers, Fraction(FAN_AT))),
        _scale(folded.card, base) * 1.6,
        COLUMN,
    )
    said = f"The {spoken(base.name)} with all its {len(numbers)} scores folded half way."
    return picture(Caption(name, f"All folds of {spoken(base.name)}", said, id_prefix), marks)


def _fanned(
    folded: FoldedCard, base: SizedPiece, angles: dict[int, Fraction], scale: float
) -> list[Mark]:
    card = folded.card._replace(pieces=(base,))
    caught = space_view(folded._replace(card=card), base.name, angles)
    planes = planes_of(base, caught)
    marks = [mark for part in caught for mark in _face(card, base, part, angles, scale)]
    for score in base.scores:
        beside = next((s for s in base.sections if score.start in s.outline), None)
        if score.number in angles and beside is not None:
            plane = planes[beside.name]
            first, last = _on_page([plane.at(score.start), plane.at(score.end)], scale)
            marks += _badge(first, last, score)
    return marks


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
    planes = planes_of(base, caught)
    swings = swings_of(base, action, planes)
    paths = [_on_page(swing.path(), scale) for swing in swings]
    is_behind = goes_behind(action, swings)
    marks = _ghosts(space_view(bare, base.name, before), swings, scale)
    for path in paths if is_behind else ():
        marks += motion_arrow(path)
    for part in caught:
        marks += _face(card, base, part, angles, scale)
    for swing, path in zip(swings, paths, strict=True):
        marks += _acted_score(card, base, swing, scale)
        marks += arrow_behind(path) if is_behind else motion_arrow(path)
    return [*marks, *_words(action, room(marks).left, room(marks).bottom)]


def goes_behind(action: FoldAction, swings: Sequence[Swing]) -> bool:
    """True where the paper swings away from the viewer: a valley does on paper that lies face down."""
    face_down = bool(swings) and dot(swings[0].still.normal, eye()) < 0
    return (action.direction == "mountain") != face_down


def _ghosts(parts: Sequence[SpacePart], swings: Sequence[Swing], scale: float) -> list[Mark]:
    """Where the sections that swing at these scores were before, dotted."""
    style = HIDDEN._replace(color=QUIET_INK)
    marks: list[Mark] = []
    swinging = [swing.moving.name for swing in swings]
    for part in parts:
        if part.section in swinging:
            for each in (part.ring, *part.holes):
                points = _on_page(each, scale)
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
    holes = [_on_page(hole, scale) for hole in part.holes]
    path = "".join(ring(each) for each in (points, *holes))
    markup = element("path", d=path, fill=shaded, fill_rule="evenodd", stroke=shaded, stroke_width=0.1)
    section = next(each for each in base.sections if each.name == part.section)
    rim = EDGE._replace(color=edge_on(shaded))
    edges = [stroke([*hole, hole[0]], rim) for hole in holes]
    for place, start in enumerate(points):
        end, after = points[(place + 1) % len(points)], (place + 1) % len(points)
        score = _score_on(base, section.outline[place], section.outline[after])
        if score is not None and not angles.get(score.number):
            seen = _seen_direction(score.direction, part.side)
            edges.append(fold_line(start, end, seen, shaded, width=DIMENSION.width))
            continue
        edges.append(stroke((start, end), rim))
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


def _acted_score(
    card: SizedCard, base: SizedPiece, swing: Swing, scale: float
) -> list[Mark]:
    """The score of this step drawn bold, with its number."""
    score, plane = swing.score, swing.still
    first, last = _on_page([plane.at(score.start), plane.at(score.end)], scale)
    fill = inside_of(paper_look(card, base.paper)).fill
    bold = fold_line(first, last, score.direction, fill, emphasised=True)
    return [bold, *_badge(first, last, score)]


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
    told = _scores_named(action)
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
        f"{listed(map(spoken, action.moves)).capitalize()} swing{plural} at {_scores_named(action)}, "
        f"a {action.direction} fold, onto {listed(map(spoken, action.onto))}."
    )


def _on_page(corners: Sequence[Vector], scale: float) -> list[XY]:
    return [(x * scale, y * scale) for x, y in map(project, corners)]
