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
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, is_free, picture, room
from cardrecipe.render.drawings.paint import inside_of, paper_look
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, listed
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.render.drawings.swing import Swing, acted_parts, planes_of, swings_of
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
LINE_OF_WORDS = 4.6  # mm from one line beneath a picture to the next
MOST_OUT = 6  # places for a number beyond each end of its score
FAN_AT = 100  # degrees at which every fold of a fan is shown


def fold_drawing(
    folded: FoldedCard, closed: ClosedBase, number: int, id_prefix: str = ""
) -> Drawing:
    """The `number`th fold (from 1) of a base, caught half way."""
    action, name = closed.moves[number - 1], f"fold-{closed.base}-{number}"
    base = folded.card.piece(closed.base)
    draw = partial(_half_way, folded, base, action, _angles(closed, number - 1))
    marks = fitted_marks(draw, _scale(folded.card, base), COLUMN)
    ways = listed(f"{_scores_named(scores)}, {way}" for way, scores in _ways(base, action).items())
    title = f"Fold {number} of {spoken(base.name)}: {ways}"
    return picture(Caption(name, title, _described(base, action), id_prefix), marks)


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
            marks += _badge(first, last, score, marks)
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
    if action.is_linked:  # the ring follows: the large movement tells how it goes
        swings = [swing for swing in swings if swing.score.direction == action.direction] or swings
    paths = [_on_page(swing.path(), scale) for swing in swings]
    behind = [goes_behind(action, [swing]) for swing in swings]
    marks = _ghosts(space_view(bare, base.name, before), swings, scale)
    for path, is_behind in zip(paths, behind, strict=True):
        marks += motion_arrow(path) if is_behind else []
    for part in caught:
        marks += _face(card, base, part, angles, scale)
    for swing in swings:
        marks += _acted_score(card, base, swing, action, scale)
    for path, is_behind in zip(paths, behind, strict=True):
        marks += arrow_behind(path) if is_behind else motion_arrow(path)
    for swing in swings:
        first, last = _on_page(_acted_ends(base, swing, action), scale)
        marks += _badge(first, last, swing.score, marks)
    return [*marks, *_words(base, action, room(marks).left, room(marks).bottom)]


def goes_behind(action: FoldAction, swings: Sequence[Swing]) -> bool:
    """True where the paper swings away from the viewer: a valley does on paper that lies face down."""
    face_down = bool(swings) and dot(swings[0].still.normal, eye()) < 0
    direction = swings[0].score.direction if swings and action.is_linked else action.direction
    return (direction == "mountain") != face_down


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
    card: SizedCard, base: SizedPiece, swing: Swing, action: FoldAction, scale: float
) -> list[Mark]:
    """The score of this step drawn bold where paper folds at it."""
    fill = inside_of(paper_look(card, base.paper)).fill
    parts = acted_parts(base, swing.score, action.moves)
    lines = (_on_page([swing.still.at(start), swing.still.at(end)], scale) for start, end in parts)
    return [
        fold_line(first, last, swing.score.direction, fill, emphasised=True) for first, last in lines
    ]


def _acted_ends(base: SizedPiece, swing: Swing, action: FoldAction) -> list[Vector]:
    """The first and the last point in space at which paper folds at a score."""
    parts = acted_parts(base, swing.score, action.moves)
    return [swing.still.at(parts[0][0]), swing.still.at(parts[-1][1])]


def _badge(first: XY, last: XY, score: SizedScore, taken: Sequence[Mark]) -> list[Mark]:
    """The score's number just beyond its nearer end; farther out, or at its other end, if that is taken."""
    near, far = (last, first) if last[1] >= first[1] else (first, last)
    long = ((near[0] - far[0]) ** 2 + (near[1] - far[1]) ** 2) ** 0.5
    tried = [
        _beyond(*ends, (BADGE * (1 + 2 * step) + 0.6 * (1 + step)) / long)
        for step in range(MOST_OUT)
        for ends in ((far, near), (near, far))
    ]
    signs = [mark for mark in taken if mark.is_label]
    free = (center for center in tried if is_free(Box(*center, *center).grown(BADGE + 0.2), signs))
    center, color = next(free, tried[0]), fold_color(score.direction, PAGE)
    number = label(*center, str(score.number), Lettering(NORMAL, True, color=color))
    return [disc(center, BADGE, color)._replace(is_label=True), number]


def _beyond(start: XY, end: XY, share: float) -> XY:
    """A point on a line that is drawn on beyond its end by a share of its length."""
    return end[0] + (end[0] - start[0]) * share, end[1] + (end[1] - start[1]) * share


def _ways(base: SizedPiece, action: FoldAction) -> dict[str, list[int]]:
    """The scores of a step by their direction: those of a ring move all at once, each its own way."""
    if not action.is_linked:
        return {action.direction: list(action.scores)}
    found: dict[str, list[int]] = {}
    directions = {score.number: score.direction for score in base.scores}
    for number in action.scores:
        found.setdefault(directions[number], []).append(number)
    return found


def _words(base: SizedPiece, action: FoldAction, left: float, bottom: float) -> list[Mark]:
    """Under the picture: the sign and the words of the fold; a line for each direction."""
    marks: list[Mark] = []
    for line, (direction, scores) in enumerate(_ways(base, action).items()):
        y = bottom + 3.6 + line * LINE_OF_WORDS
        color = fold_color(direction, PAGE)
        word = f"{direction} fold"
        rest = left + 6.2 + text_width(word, NORMAL, True) + 1.4
        marks += [
            *fold_sign((left + 2.4, y), direction),
            label(left + 6.2, y, word, Lettering(NORMAL, True, anchor="start", color=color)),
            label(rest, y, _scores_named(scores), Lettering(SMALL, anchor="start")),
        ]
    return marks


def _scores_named(scores: Sequence[int]) -> str:
    word = "score" if len(scores) == 1 else "scores"
    return f"{word} {listed(str(number) for number in scores)}"


def _described(base: SizedPiece, action: FoldAction) -> str:
    plural = "s" if len(action.moves) == 1 else ""
    ways = listed(
        f"{_scores_named(scores)}, {f'a {way} fold' if len(scores) == 1 else f'{way} folds'}"
        for way, scores in _ways(base, action).items()
    )
    moves = listed(map(spoken, action.moves)).capitalize()
    return f"{moves} swing{plural} at {ways}, onto {listed(map(spoken, action.onto))}."


def _on_page(corners: Sequence[Vector], scale: float) -> list[XY]:
    return [(x * scale, y * scale) for x, y in map(project, corners)]
