"""The card as one sees it: closed from both sides, open from both sides, and the masthead picture."""

from collections.abc import Collection, Sequence
from fractions import Fraction

from cardrecipe.fold.folded import FoldedCard, SeenPart, View
from cardrecipe.model.lengths import with_unit
from cardrecipe.model.remembered import once_for_each
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import edge_on
from cardrecipe.render.drawings.dimensions import FIRST_ROW, Dimension, dimension
from cardrecipe.render.drawings.inner_box import inner_box, name_ratio
from cardrecipe.render.drawings.lettering import (
    NORMAL,
    SMALL,
    Lettering,
    label_box,
)
from cardrecipe.render.drawings.lines import EDGE, fold_line
from cardrecipe.render.drawings.marks import (
    Box,
    Caption,
    Mark,
    box_of,
    is_free,
    picture,
    room,
)
from cardrecipe.render.drawings.name_place import Segment, crosses, is_inside
from cardrecipe.render.drawings.named import name_on
from cardrecipe.render.drawings.paint import painted, pale, paper_look, shadow
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.shapes import frame_turn, piece_path
from cardrecipe.render.drawings.sizes import (
    fitted_marks,
    in_words,
    listed,
    scale_to_fit,
    scaled,
    scaled_line,
)
from cardrecipe.render.drawings.svg import XY, Drawing, element, ring
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

MOST_DRAWN = 84.0  # mm, the widest drawing of a view with its sizes
MOST_VIEW = (58.0, 30.0)  # mm on the page
MOST_FINISHED = (66.0, 54.0)
RESTING = 1.6  # mm: the closed card's own height over the table, for its shadow
TITLES = {
    "closed-front": "The closed card from the front",
    "closed-back": "The closed card from the back",
    "open-inside": "The open card, inside",
    "open-outside": "The open card, outside",
}
ROUND_KINDS = ("circle", "oval", "tag", "banner", "cutout")
# Where a name may stand in its piece, as shares of the free width and height, best first.
SPOTS = (
    *((0.5, 0.5), (0.5, 0.0), (0.5, 1.0), (0.0, 0.5), (1.0, 0.5)),
    *((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)),
)


def view_drawing(folded: FoldedCard, view: View, name: str, id_prefix: str = "") -> Drawing:
    """One view to scale with its width and height, fold lines and the names that have room."""
    card = folded.card
    scale = scale_to_fit(card, view.width, view.height, *MOST_VIEW)
    pattern = f"{id_prefix}{name}"
    marks = fitted_marks(lambda k: _sized_view(card, view, k, pattern), scale, MOST_DRAWN)
    caption = Caption(name, TITLES[view.name], _described(card, view), id_prefix)
    return picture(caption, marks)


def finished(folded: FoldedCard, view: View, name: str, id_prefix: str = "") -> Drawing:
    """The closed card on the table, without a number: the picture at the head of the sheet."""
    card = folded.card
    scale = scale_to_fit(card, view.width, view.height, *MOST_FINISHED)
    marks = [
        *_resting_shadow(view, scale),
        *view_marks(card, view, scale, f"{id_prefix}{name}"),
    ]
    said = f"The finished card. {_described(card, view)}"
    return picture(Caption(name, card.title, said, id_prefix), marks)


def view_marks(
    card: SizedCard,
    view: View,
    scale: float,
    pattern: str,
    without: Collection[str] = (),
    quiet: bool = False,
    strong: Collection[str] = (),
    at: XY = (0.0, 0.0),
) -> list[Mark]:
    """Parts from the bottom up, then nothing else; `without` names pieces that are left out.

    `quiet`: all is pale but the `strong` pieces, which the picture is about, and nothing has a pattern. The
    fold lines lie on the sheet, under everything that is glued to the side one sees. `at` is the left top.
    """
    parts = [part for part in view.parts if part.piece not in without]
    last = max((n for n, part in enumerate(parts) if part.section is not None), default=-1)
    marks: list[Mark] = []
    if view.name.startswith("open"):
        marks += _rim(card, view, parts, scale, at)
    for number, part in enumerate(parts):
        is_strong = part.section is None and part.piece in strong
        own = f"{pattern}-{number}"
        is_open = view.name.startswith("open")
        marks += _part(card, part, scale, own, quiet and not is_strong, is_open, is_strong, at)
        if number == last and view.name.startswith("open"):
            marks += _sheet_lines(card, view, scale, quiet, at)
    return marks


def _resting_shadow(view: View, scale: float) -> list[Mark]:
    """One shadow for each different outline of the sections that are seen."""
    rings = [scaled(part.outline, scale) for part in view.parts if part.section is not None]
    return [shadow(path, box, RESTING) for path, box in {ring(each): box_of(each) for each in rings}.items()]


def _sized_view(card: SizedCard, view: View, scale: float, pattern: str) -> list[Mark]:
    marks = view_marks(card, view, scale, pattern)
    whole = room(marks)
    left, top, width, height = sheet_box(view)
    start_x, start_y = float(left) * scale, float(top) * scale
    end_x, end_y = float(left + width) * scale, float(top + height) * scale
    low, far = max(end_y, whole.bottom), max(end_x, whole.right)
    across, down = with_unit(width, card.unit), with_unit(height, card.unit)
    marks += dimension(Dimension("x", start_x, end_x, low + FIRST_ROW, low, across))
    marks += dimension(Dimension("y", start_y, end_y, far + FIRST_ROW, far, down))
    return [*marks, *_names(card, view, scale)]


def sheet_box(view: View) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Left, top, width and height of the sheet itself: pieces that reach beyond it do not count."""
    points = [point for part in view.parts if part.section for point in part.outline]
    if not points:
        return Fraction(0), Fraction(0), view.width, view.height
    across, down = zip(*points, strict=True)
    left, top = min(across), min(down)
    return left, top, max(across) - left, max(down) - top


def _part(
    card: SizedCard,
    part: SeenPart,
    scale: float,
    pattern: str,
    quiet: bool,
    is_open: bool,
    is_strong: bool = False,
    at: XY = (0.0, 0.0),
) -> list[Mark]:
    piece = _by_name(card)[part.piece]
    look = paper_look(card, piece.paper)
    if quiet or (part.section is None and part.side == "outside"):
        look = pale(look)._replace(pattern=None)
    if is_strong:
        look = look._replace(pattern=None)
    if part.section is not None and is_open:
        return [_bare_section(part, look.fill, scale, at)]
    frame = scaled(part.outline, scale, *at)
    path = ring(frame) if part.section is not None else piece_path(piece, frame, scale)
    path += "".join(ring(scaled(hole, scale, *at)) for hole in part.holes)
    box = box_of(frame)
    turn = frame_turn(frame) if part.section is None else 0.0
    marks = [of_piece(painted(path, box, look, pattern, turn, strong=is_strong), part.piece)]
    if part.section is None and part.lift_mm > 0:
        marks.insert(0, shadow(path, box, float(part.lift_mm), is_soft=not (quiet or is_strong)))
    return marks


@once_for_each
def _by_name(card: SizedCard) -> dict[str, SizedPiece]:
    return {piece.name: piece for piece in card.pieces}


def _bare_section(part: SeenPart, fill: str, scale: float, at: XY) -> Mark:
    """A section of the open sheet without an edge of its own: its folds are drawn as folds."""
    points = scaled(part.outline, scale, *at)
    path = ring(points) + "".join(ring(scaled(hole, scale, *at)) for hole in part.holes)
    markup = element("path", d=path, fill=fill, fill_rule="evenodd", stroke=fill, stroke_width=0.1)
    return Mark(markup, box_of(points))


def _rim(card: SizedCard, view: View, parts: Sequence[SeenPart], scale: float, at: XY) -> list[Mark]:
    """The outer edge of the open sheet: the edges of all sections, half of which the paper covers again."""
    rings = [ring_of for part in parts if part.section is not None for ring_of in (part.outline, *part.holes)]
    if not rings:
        return []
    points = [scaled(each, scale, *at) for each in rings]
    color = edge_on(paper_look(card, card.piece(view.base).paper).fill)
    path = "".join(map(ring, points))
    markup = element("path", d=path, fill="none", stroke=color, stroke_width=2 * EDGE.width)
    return [Mark(markup, box_of([each for ring_of in points for each in ring_of]).grown(EDGE.width))]


def _sheet_lines(card: SizedCard, view: View, scale: float, quiet: bool, at: XY) -> list[Mark]:
    """The scores and slits on the open sheet."""
    look = paper_look(card, card.piece(view.base).paper)
    fill = pale(look).fill if quiet else look.fill
    lines = [(start, end, direction) for start, end, direction, _ in view.folds]
    lines += [(start, end, "slit") for start, end in _slits(card, view)]
    return [fold_line(*scaled_line(start, end, scale, *at), way, fill) for start, end, way in lines]


def _names(card: SizedCard, view: View, scale: float) -> list[Mark]:
    """Names of sections and pieces, each where nothing that lies above covers it."""
    marks: list[Mark] = []
    lines = _lines_seen(card, view, scale)
    boxes = [box_of(scaled(part.outline, scale)) for part in view.parts]
    for number, part in enumerate(view.parts):
        above = boxes[number + 1 :]
        marks += _name_of(card, part, scale, boxes[number], above, marks, lines)
    return marks


def _lines_seen(card: SizedCard, view: View, scale: float) -> list[Segment]:
    """What no name may cross: scores and slits, and the edges of sections, which may be slanted."""
    found = [scaled_line(start, end, scale) for start, end, _, _ in view.folds]
    found += [scaled_line(start, end, scale) for start, end in _slits(card, view)]
    for part in view.parts:
        if part.section is not None:
            for each in (part.outline, *part.holes):
                corners = scaled(each, scale)
                found += zip(corners, (*corners[1:], corners[0]), strict=True)
    return found


def _slits(card: SizedCard, view: View) -> list[tuple[Point, Point]]:
    """The slits of the open sheet, as they run in this view."""
    base = card.piece(view.base)
    lines = [(score.start, score.end) for score in base.scores if score.direction == "slit"]
    if view.name == "open-inside":
        return lines
    if view.name == "open-outside":
        return [((base.width - ax, ay), (base.width - bx, by)) for (ax, ay), (bx, by) in lines]
    return []


def _name_of(
    card: SizedCard,
    part: SeenPart,
    scale: float,
    box: Box,
    above: Sequence[Box],
    taken: Sequence[Mark],
    lines: Sequence[Segment],
) -> list[Mark]:
    piece = card.piece(part.piece)
    text = spoken(part.section or part.piece)
    if part.section is None and (part.side == "outside" or _is_turned(part)):
        return []
    if part.section is None:
        box = inner_box(piece, box, name_ratio(text))
    paper = paper_look(card, piece.paper)
    share = 0.62 if piece.kind in ROUND_KINDS else 1.0
    for size in (NORMAL, SMALL):
        for turned in (0, -90):
            look = Lettering(size, turned=turned)
            place = _free_spot(text, look, box, share, above, taken, lines if part.section else ())
            if place and _is_on_paper(part, place, scale):
                return name_on(paper, *place, text, look)
    return []


def _is_on_paper(part: SeenPart, place: XY, scale: float) -> bool:
    """False in a window, and beside a section that is no rectangle."""
    on_part = part.section is None or is_inside(place, scaled(part.outline, scale))
    return on_part and not any(is_inside(place, scaled(hole, scale)) for hole in part.holes)


def _free_spot(
    text: str,
    look: Lettering,
    box: Box,
    share: float,
    above: Sequence[Box],
    taken: Sequence[Mark],
    lines: Sequence[Segment],
) -> XY | None:
    zero = label_box(0.0, 0.0, text, look).grown(0.7)
    free_x, free_y = box.width * share - zero.width, box.height * share - zero.height
    if free_x < 0 or free_y < 0:
        return None
    spots = SPOTS if share == 1.0 else SPOTS[:1]
    for right, down in spots:
        x = box.middle[0] + (right - 0.5) * free_x - (zero.left + zero.right) / 2
        y = box.middle[1] + (down - 0.5) * free_y - (zero.top + zero.bottom) / 2
        here = label_box(x, y, text, look).grown(0.5)
        if not is_free(here, taken) or any(here.meets(other) for other in above):
            continue
        if not any(crosses(line, here) for line in lines):
            return x, y
    return None


def _is_turned(part: SeenPart) -> bool:
    (ax, ay), (bx, by) = part.outline[0], part.outline[1]
    return ay != by or bx < ax


def _described(card: SizedCard, view: View) -> str:
    _, _, width, height = sheet_box(view)
    size = in_words(width, height, card.unit)
    sections = list(dict.fromkeys(part.section for part in view.parts if part.section))
    pieces = list(dict.fromkeys(part.piece for part in view.parts if part.section is None))
    said = [f"{TITLES[view.name]}, {size}."]
    if sections:
        said.append(f"Seen: {listed(map(spoken, sections))}.")
    if pieces:
        said.append(f"On it: {listed(map(spoken, pieces))}.")
    return " ".join(said)
