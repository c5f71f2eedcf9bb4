"""What the lines and signs of a card's drawings mean, in one picture: those that its card needs."""

from collections.abc import Callable
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.placing import foam_under
from cardrecipe.render.drawings.colors import PAGE, ink_on
from cardrecipe.render.drawings.glue_zone import hatched
from cardrecipe.render.drawings.lettering import SMALL, Lettering, label, text_width
from cardrecipe.render.drawings.lines import (
    DIMENSION,
    HEAD_LENGTH,
    HIDDEN,
    OUTLINE,
    SLIT,
    ZONE,
    LineStyle,
    arrow_behind,
    arrow_head,
    dot,
    fold_line,
    fold_sign,
    motion_arrow,
    stroke,
)
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture
from cardrecipe.render.drawings.paint import Look, inside_of, painted, shadow
from cardrecipe.render.drawings.shapes import rectangle, shape_path
from cardrecipe.render.drawings.svg import XY, Drawing

SAMPLE = 13.0  # mm, the width of a sample
AFTER_SAMPLE = 2.5
ROW_HEIGHT = 5.8
BETWEEN = 5.0  # mm from one column to the next
COLUMNS = 2  # no wider than 120 mm: it stands beside the supplies
SAMPLE_PAPER = Look("#c9b58c")

Sample = Callable[[float, float, str], list[Mark]]


class Row(NamedTuple):
    """One sign: its words, what it looks like, and whether a card's drawings have it."""

    words: str
    sample: Sample
    is_used: Callable[[FoldedCard], bool]


def legend(folded: FoldedCard, id_prefix: str = "") -> Drawing:
    """One sample with its words on each row, in columns that are read downward."""
    rows = [row for row in ROWS if row.is_used(folded)]
    deep = -(-len(rows) // COLUMNS)
    marks: list[Mark] = []
    left = 0.0
    for first in range(0, len(rows), deep):
        column = rows[first : first + deep]
        for place, row in enumerate(column):
            y = place * ROW_HEIGHT
            pattern = f"{id_prefix}legend-{first + place}"
            marks += row.sample(left, y, pattern)
            look = Lettering(SMALL, anchor="start")
            marks.append(label(left + SAMPLE + AFTER_SAMPLE, y, row.words, look))
        widest = max(text_width(row.words, SMALL) for row in column)
        left += SAMPLE + AFTER_SAMPLE + widest + BETWEEN
    said = "; ".join(row.words for row in rows)
    caption = Caption("legend", "Lines and signs", f"Lines and signs: {said}.", id_prefix)
    return picture(caption, marks)


def _line(style: LineStyle) -> Sample:
    return lambda x, y, _: [stroke(((x, y), (x + SAMPLE, y)), style)]


def _fold(direction: str) -> Sample:
    def sample(x: float, y: float, _: str) -> list[Mark]:
        crease = fold_line((x, y), (x + SAMPLE - 5.0, y), direction, PAGE)
        return [crease, *fold_sign((x + SAMPLE - 2.1, y), direction)]

    return sample


def _measured(x: float, y: float, _: str) -> list[Mark]:
    end = x + SAMPLE
    shaft = stroke(((x, y), (end - HEAD_LENGTH / 2, y)), DIMENSION)
    return [dot((x, y), 0.45), shaft, arrow_head((end, y), 0.0, DIMENSION.color)]


def _swing(x: float, y: float, _: str) -> list[Mark]:
    return motion_arrow(_bow(x, y + 1.4, -1))


def _swing_behind(x: float, y: float, _: str) -> list[Mark]:
    return arrow_behind(_bow(x, y - 1.4, 1))


def _bow(x: float, y: float, way: int) -> list[XY]:
    return [(x + 1 + s * (SAMPLE - 2), y + way * 11 * s * (1 - s)) for s in SHARES]


SHARES = tuple(step / 16 for step in range(17))


def _two_faces(x: float, y: float, pattern: str) -> list[Mark]:
    half = SAMPLE / 2
    return [
        _swatch(x, y, half - 0.6, SAMPLE_PAPER, f"{pattern}-a"),
        _swatch(x + half + 0.6, y, half - 0.6, inside_of(SAMPLE_PAPER), f"{pattern}-b"),
    ]


def _one_way(x: float, y: float, pattern: str) -> list[Mark]:
    return [_swatch(x, y, SAMPLE, SAMPLE_PAPER._replace(pattern="sprigs"), pattern)]


def _raised(x: float, y: float, pattern: str) -> list[Mark]:
    frame = rectangle(x + 2.0, y - 1.9, SAMPLE - 4, 3.8)
    box = Box(x + 2.0, y - 1.9, x + SAMPLE - 2.0, y + 1.9)
    path = shape_path("square", frame)
    return [shadow(path, box, 2.0), painted(path, box, SAMPLE_PAPER, pattern)]


def _hatched(x: float, y: float, pattern: str) -> list[Mark]:
    frame = rectangle(x, y - 2.0, SAMPLE, 4.0)
    paper = _swatch(x, y, SAMPLE, SAMPLE_PAPER, pattern)
    return [paper, *hatched([frame], ink_on(SAMPLE_PAPER.fill))]


def _swatch(x: float, y: float, wide: float, look: Look, pattern: str) -> Mark:
    box = Box(x, y - 2.0, x + wide, y + 2.0)
    frame = rectangle(x, y - 2.0, wide, 4.0)
    return painted(shape_path("square", frame), box, look, pattern)


def _always(_: FoldedCard) -> bool:
    return True


def _has_score(direction: str) -> Callable[[FoldedCard], bool]:
    return lambda folded: any(
        score.direction == direction for piece in folded.card.pieces for score in piece.scores
    )


def _has_fold(direction: str) -> Callable[[FoldedCard], bool]:
    return lambda folded: any(
        action.direction == direction for closed in folded.closed for action in closed.moves
    )


def _is_folded(folded: FoldedCard) -> bool:
    return bool(folded.closed)


def _covers_edges(folded: FoldedCard) -> bool:
    borders = [place.border for piece in folded.card.pieces for place in piece.placements]
    return _is_folded(folded) or any(min(border) < 0 for border in borders)


def _has_zone(folded: FoldedCard) -> bool:
    pieces = folded.card.pieces
    worked = any(work.middle is not None for piece in pieces for work in piece.works)
    return worked or any(piece.around is not None for piece in pieces)


def _is_one_way(folded: FoldedCard) -> bool:
    papers = folded.card.papers
    used = [papers[piece.paper] for piece in folded.card.pieces if piece.paper in papers]
    return any(paper.kind == "patterned" and paper.one_way for paper in used)


def _is_hatched(folded: FoldedCard) -> bool:
    joined = any(piece.joins and piece.placements for piece in folded.card.pieces)
    return joined or any(not zone.is_whole for zone in folded.zones)


def _is_raised(folded: FoldedCard) -> bool:
    return any(foam_under(piece, folded.card.unit) for piece in folded.card.pieces)


ROWS = (
    Row("edge of the paper: cut", _line(OUTLINE), _always),
    Row("valley: fold towards you", _fold("valley"), _has_score("valley")),
    Row("mountain: fold away from you", _fold("mountain"), _has_score("mountain")),
    Row("slit: cut, within the paper", _line(SLIT), _has_score("slit")),
    Row("covered edge, or where it was", _line(HIDDEN), _covers_edges),
    Row("limit of a worked part, overlap", _line(ZONE), _has_zone),
    Row("distance from this end", _measured, _is_folded),
    Row("swings towards you", _swing, _has_fold("valley")),
    Row("swings away, behind the paper", _swing_behind, _has_fold("mountain")),
    Row("outside and, paler, inside", _two_faces, _is_folded),
    Row("pattern with a top: sprigs up", _one_way, _is_one_way),
    Row("glue goes behind this part only", _hatched, _is_hatched),
    Row("raised on foam", _raised, _is_raised),
)
