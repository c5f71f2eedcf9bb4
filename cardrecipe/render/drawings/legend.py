"""What the lines and signs of a sheet's drawings mean, in one picture: those that are drawn on it."""

from collections.abc import Callable, Iterable
from math import cos, pi, sin
from typing import NamedTuple

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.placing import foam_under
from cardrecipe.render.drawings.colors import ARROW, INK, MARKED_AREA, PAGE, QUIET_INK, fold_color, ink_on
from cardrecipe.render.drawings.glue_zone import hatched
from cardrecipe.render.drawings.lettering import NORMAL, SMALL, Lettering, label, text_width
from cardrecipe.render.drawings.lines import (
    DIMENSION,
    EDGE,
    FOLDS,
    HEAD_LENGTH,
    HIDDEN,
    OUTLINE,
    SLIT,
    ZONE,
    LineStyle,
    arrow_behind,
    arrow_head,
    disc,
    dot,
    fold_line,
    fold_sign,
    motion_arrow,
    stroke,
)
from cardrecipe.render.drawings.marks import Box, Caption, Mark, picture
from cardrecipe.render.drawings.paint import Look, inside_of, painted, pale, shadow
from cardrecipe.render.drawings.shapes import rectangle, shape_path
from cardrecipe.render.drawings.so_far import small_arrow
from cardrecipe.render.drawings.svg import XY, Drawing
from cardrecipe.render.drawings.tools_drawn import clock

SAMPLE = 13.0  # mm, the width of a sample
AFTER_SAMPLE = 2.5
ROW_HEIGHT = 5.0
BETWEEN = 5.0  # mm from one column to the next
COLUMNS = 2  # no wider than 120 mm: it stands beside the supplies
SAMPLE_PAPER = Look("#c9b58c")

Sample = Callable[[float, float, str], list[Mark]]


class Row(NamedTuple):
    """One sign: its words, what it looks like, and whether the drawings of a sheet have it: told from the
    card or from what all of them say as SVG."""

    words: str
    sample: Sample
    is_used: Callable[[FoldedCard, str], bool]


def legend(folded: FoldedCard, id_prefix: str = "", shown: Iterable[Drawing] = ()) -> Drawing:
    """One sample with its words on each row, in columns that are read downward; `shown` are the drawings
    that it is for."""
    drawn = "".join(each.svg for each in shown)
    rows = [row for row in ROWS if row.is_used(folded, drawn)]
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


def _numbered(x: float, y: float, _: str) -> list[Mark]:
    color = fold_color("valley", PAGE)
    look = Lettering(NORMAL, True, color=color)
    return [disc((x + SAMPLE / 2, y), 2.3, color), label(x + SAMPLE / 2, y, "1", look)]


def _setting(x: float, y: float, _: str) -> list[Mark]:
    middle = x + SAMPLE / 2
    cut = stroke(((x, y), (x + SAMPLE, y)), LineStyle(0.5))
    return [cut, disc((middle, y), 1.95, INK), label(middle, y, "1", Lettering(SMALL, True))]


def _part_letter(x: float, y: float, _: str) -> list[Mark]:
    box = Box(x + 2.0, y - 2.0, x + SAMPLE - 2.0, y + 2.0)
    frame = rectangle(box.left, box.top, box.width, box.height)
    ring = stroke([*frame, frame[0]], EDGE)
    return [ring, label(*box.middle, "A", Lettering(SMALL, True))]


def _scrap(x: float, y: float, _: str) -> list[Mark]:
    return _bare(x, y) + hatched([rectangle(x, y - 2.0, SAMPLE, 4.0)], MARKED_AREA)


def _kept(x: float, y: float, _: str) -> list[Mark]:
    return [*_bare(x, y), label(x + SAMPLE / 2, y, "keep", Lettering(SMALL, color=QUIET_INK))]


def _bare(x: float, y: float) -> list[Mark]:
    frame = rectangle(x, y - 2.0, SAMPLE, 4.0)
    return [stroke([*frame, frame[0]], EDGE)]


def _before_and_now(x: float, y: float, pattern: str) -> list[Mark]:
    half = SAMPLE / 2
    quiet = painted(*_shape(x, y, half - 0.6), pale(SAMPLE_PAPER), f"{pattern}-a")
    return [quiet, painted(*_shape(x + half + 0.6, y, half - 0.6), SAMPLE_PAPER, f"{pattern}-b", strong=True)]


def _shape(x: float, y: float, wide: float) -> tuple[str, Box]:
    return shape_path("square", rectangle(x, y - 2.0, wide, 4.0)), Box(x, y - 2.0, x + wide, y + 2.0)


def _goes_there(x: float, y: float, _: str) -> list[Mark]:
    return small_arrow(_bow(x, y + 1.2, -1))


def _turned_round(x: float, y: float, _: str) -> list[Mark]:
    middle = x + SAMPLE / 2
    return small_arrow([(middle - 3 * cos(pi * at / 8), y + 1.6 - 3 * sin(pi * at / 8)) for at in range(9)])


def _seen_from_outside(x: float, y: float, _: str) -> list[Mark]:
    return [
        *fold_sign((x + 2.4, y), "valley"),
        *small_arrow(((x + 5.4, y), (x + 8.0, y))),
        *fold_sign((x + SAMPLE - 2.4, y), "mountain"),
    ]


def _clock(x: float, y: float, _: str) -> list[Mark]:
    return clock((x + SAMPLE / 2, y))


def _overlap(x: float, y: float, pattern: str) -> list[Mark]:
    strip = _swatch(x, y, SAMPLE, SAMPLE_PAPER, pattern)
    ink = ink_on(SAMPLE_PAPER.fill)
    limit = stroke(((x + 8.0, y - 2.0), (x + 8.0, y + 2.0)), ZONE._replace(color=ink))
    return [strip, limit, *hatched([rectangle(x + 8.0, y - 2.0, SAMPLE - 8.0, 4.0)], ink)]


# ---- which signs a sheet has ----

Uses = Callable[[FoldedCard, str], bool]


def _always(_: FoldedCard, __: str) -> bool:
    return True


def _has(*traces: str) -> Uses:
    """Drawings that say one of these, as they state a look or a text."""
    return lambda _, drawn: any(trace in drawn for trace in traces)


def _has_dash(style: LineStyle) -> Uses:
    return _has(f'stroke-dasharray="{style.dash}"')


def _has_slit(folded: FoldedCard, _: str) -> bool:
    return any(score.direction == "slit" for piece in folded.card.pieces for score in piece.scores)


def _has_fold(folded: FoldedCard, drawn: str) -> bool:
    return bool(folded.closed) and f'stroke="{ARROW}" stroke-width="0.7"' in drawn


def _has_scores(folded: FoldedCard, _: str) -> bool:
    return any(piece.scores for piece in folded.card.pieces)


def _is_folded(folded: FoldedCard, _: str) -> bool:
    return bool(folded.closed)


def _has_outside(folded: FoldedCard, drawn: str) -> bool:
    """A view from outside with scores on it."""
    return _has("-open-outside-title")(folded, drawn) or 'id="open-outside-title"' in drawn


def _is_one_way(folded: FoldedCard, _: str) -> bool:
    papers = folded.card.papers
    used = [papers[piece.paper] for piece in folded.card.pieces if piece.paper in papers]
    return any(paper.kind == "patterned" and paper.one_way for paper in used)


def _is_hatched(folded: FoldedCard, _: str) -> bool:
    joined = any(piece.joins for piece in folded.card.pieces)
    return joined or any(not zone.is_whole for zone in folded.zones)


def _is_worked(folded: FoldedCard, _: str) -> bool:
    verbs = {work.verb for piece in folded.card.pieces for work in piece.works}
    return bool(verbs & {"emboss", "stamp", "foil"}) or any(
        work.middle is not None for piece in folded.card.pieces for work in piece.works
    )


def _has_band(folded: FoldedCard, _: str) -> bool:
    return any(piece.around is not None for piece in folded.card.pieces)


def _is_placed(folded: FoldedCard, _: str) -> bool:
    return any(piece.placements for piece in folded.card.pieces)


def _is_raised(folded: FoldedCard, _: str) -> bool:
    return any(foam_under(piece, folded.card.unit) for piece in folded.card.pieces)


ROWS = (
    Row("edge of the paper: cut", _line(OUTLINE), _always),
    Row("cut, with the number of its setting", _setting, _has("Sheet 1: ")),
    Row("part that is cut up further", _part_letter, _has(">A</text>")),
    Row("scrap", _scrap, _has(f'stroke="{MARKED_AREA}"')),
    Row("left over, worth keeping", _kept, _has(">keep")),
    Row("valley: fold towards you", _fold("valley"), _has_dash(FOLDS["valley"])),
    Row("mountain: fold away from you", _fold("mountain"), _has_dash(FOLDS["mountain"])),
    Row("valley, and seen from outside", _seen_from_outside, _has_outside),
    Row("slit: cut, within the paper", _line(SLIT), _has_slit),
    Row("number of a score", _numbered, _has_scores),
    Row("distance from this end", _measured, _has_scores),
    Row("turn the piece round", _turned_round, _has(">turn round,<")),
    Row("swings towards you", _swing, _has_fold),
    Row("goes behind the paper", _swing_behind, _has('stroke-dasharray="0.01 1.3"')),
    Row("goes there", _goes_there, _has(f'stroke="{ARROW}" stroke-width="0.5"')),
    Row("wait; what is wet dries", _clock, _has(">let it dry<", ">wait<")),
    Row("pale: done before; full: now", _before_and_now, _is_placed),
    Row("covered edge, or where it was", _line(HIDDEN), _has_dash(HIDDEN)),
    Row("outside and, paler, inside", _two_faces, _is_folded),
    Row("pattern with a top: sprigs up", _one_way, _is_one_way),
    Row("limit of a worked part", _line(ZONE), _is_worked),
    Row("overlap of a band", _overlap, _has_band),
    Row("glue goes behind this part only", _hatched, _is_hatched),
    Row("raised on foam", _raised, _is_raised),
)
