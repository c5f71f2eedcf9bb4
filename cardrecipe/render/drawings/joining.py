"""A base whose folding brings glued parts together: which part takes glue, and where it goes."""

from collections.abc import Collection, Sequence

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.poses import PosedBase
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.flat_sheet import Sheet, section_names, sheet_marks
from cardrecipe.render.drawings.glue_zone import hatched
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label
from cardrecipe.render.drawings.marks import Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import inside_of, paper_look
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.posed import standing_small
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, listed, scale_to_fit, scaled
from cardrecipe.render.drawings.so_far import small_arrow
from cardrecipe.render.drawings.svg import XY, Drawing, escaped
from cardrecipe.solve.sized import SizedPiece

MOST_FLAT = (56.0, 36.0)  # mm on the page
MOST_BESIDE = (38.0, 34.0)  # of one that is shown in a pose as well
BESIDE = 4.0  # mm between the two
BOW = 0.22  # of its length: how far an arrow swings out
STEPS = 10


def joining(
    folded: FoldedCard,
    piece: SizedPiece,
    id_prefix: str = "",
    posed: PosedBase | None = None,
    done: Collection[str] = (),
) -> Drawing:
    """The base laid flat: the parts that take glue hatched, an arrow from each to what it meets. Where it is
    held in a pose for that, with the pieces `done` on it, that is shown beside it."""
    name = f"join-{piece.name}"
    scale = scale_to_fit(folded.card, piece.width, piece.height, *(MOST_BESIDE if posed else MOST_FLAT))

    def draw(k: float) -> list[Mark]:
        marks = _flat(folded, piece, k, f"{id_prefix}{name}")
        if posed is None:
            return marks
        edge = -BESIDE, float(piece.height) * k / 2
        return [*marks, *standing_small(folded, posed, done, f"{id_prefix}{name}-pose", edge)]

    marks = fitted_marks(draw, scale, COLUMN)
    pairs = listed(f"{spoken(join.section)} to {spoken(join.host)}" for join in piece.joins)
    said = f"{spoken(piece.name).capitalize()} with glue on the hatched parts: {pairs}."
    return picture(Caption(name, f"Gluing {pairs}", said, id_prefix), marks)


def _flat(folded: FoldedCard, piece: SizedPiece, scale: float, pattern: str) -> list[Mark]:
    card = folded.card
    sheet = Sheet(piece, card.unit, scale, inside_of(paper_look(card, piece.paper)))
    paper, *lines = sheet_marks(sheet, pattern)
    marks = [of_piece(paper, piece.name), *lines]
    rings = {section.name: scaled(section.outline, scale) for section in piece.sections}
    for tab in dict.fromkeys(join.section for join in piece.joins):
        marks += hatched([rings[tab]], ink_on(sheet.look.fill))
    for join in piece.joins:
        marks += small_arrow(_bowed(box_of(rings[join.section]).middle, box_of(rings[join.host]).middle))
    marks += _names(sheet, [join.host for join in piece.joins])
    text = "glue goes on the hatched parts; each meets what its arrow leads to"
    y = room(marks).bottom + SMALL * 1.3
    look = Lettering(SMALL, anchor="start")
    told = enumerate(text.split("; "))
    return [*marks, *(label(0.0, y + SMALL * 1.35 * at, part, look) for at, part in told)]


def _names(sheet: Sheet, hosts: Sequence[str]) -> list[Mark]:
    """The names of what the tabs go to, where there is room for them."""
    shown = tuple(section for section in sheet.piece.sections if section.name in hosts)
    named, _ = section_names(sheet._replace(piece=sheet.piece._replace(sections=shown)), "x")
    names = [f">{escaped(spoken(host))}<" for host in hosts]
    return [mark for mark in named if any(name in mark.markup for name in names)]


def _bowed(start: XY, end: XY) -> list[XY]:
    """From the middle of a tab to the middle of what it meets, in a bow."""
    (ax, ay), (bx, by) = start, end
    across, down = (by - ay) * BOW, (ax - bx) * BOW
    return [
        (ax + (bx - ax) * t + 4 * t * (1 - t) * across, ay + (by - ay) * t + 4 * t * (1 - t) * down)
        for t in (step / STEPS for step in range(STEPS + 1))
    ]
