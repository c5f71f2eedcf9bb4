"""What every line and sign of the drawings means, in one picture."""

from collections.abc import Callable

from cardrecipe.render.drawings.colors import PAGE
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
from cardrecipe.render.drawings.sizes import COLUMN
from cardrecipe.render.drawings.svg import XY, Drawing

SAMPLE = 17.0  # mm, the width of a sample
ROW_HEIGHT = 6.2
SAMPLE_PAPER = Look("#c9b58c")

Sample = Callable[[float, float, str], list[Mark]]


def legend(id_prefix: str = "") -> Drawing:
    """One sample with its words on each row."""
    marks: list[Mark] = []
    for row, (words, sample) in enumerate(ROWS):
        y = row * ROW_HEIGHT
        marks += sample(0.0, y, f"{id_prefix}legend-{row}")
        marks.append(label(SAMPLE + 3.0, y, words, Lettering(SMALL, anchor="start")))
    assert all(SAMPLE + 3 + text_width(words, SMALL) < COLUMN - 3 for words, _ in ROWS)
    said = "; ".join(words for words, _ in ROWS)
    caption = Caption("legend", "Lines and signs", f"Lines and signs: {said}.", id_prefix)
    return picture(caption, marks)


def _line(style: LineStyle) -> Sample:
    return lambda x, y, _: [stroke(((x, y), (x + SAMPLE, y)), style)]


def _fold(direction: str) -> Sample:
    def sample(x: float, y: float, _: str) -> list[Mark]:
        crease = fold_line((x, y), (x + SAMPLE - 5.4, y), direction, PAGE)
        return [crease, *fold_sign((x + SAMPLE - 2.1, y), direction)]

    return sample


def _measured(x: float, y: float, _: str) -> list[Mark]:
    end = x + SAMPLE
    shaft = stroke(((x, y), (end - HEAD_LENGTH / 2, y)), DIMENSION)
    return [dot((x, y), 0.45), shaft, arrow_head((end, y), 0.0, DIMENSION.color)]


def _swing(x: float, y: float, _: str) -> list[Mark]:
    return motion_arrow(_bow(x, y + 1.6, -1))


def _swing_behind(x: float, y: float, _: str) -> list[Mark]:
    return arrow_behind(_bow(x, y - 1.6, 1))


def _bow(x: float, y: float, way: int) -> list[XY]:
    return [(x + 2 + s * (SAMPLE - 4), y + way * 13 * s * (1 - s)) for s in SHARES]


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
    frame = rectangle(x + 2.5, y - 2.0, SAMPLE - 5, 4.0)
    box = Box(x + 2.5, y - 2.0, x + SAMPLE - 2.5, y + 2.0)
    path = shape_path("square", frame)
    return [shadow(path, box, 2.0), painted(path, box, SAMPLE_PAPER, pattern)]


def _swatch(x: float, y: float, wide: float, look: Look, pattern: str) -> Mark:
    box = Box(x, y - 2.2, x + wide, y + 2.2)
    frame = rectangle(x, y - 2.2, wide, 4.4)
    return painted(shape_path("square", frame), box, look, pattern)


ROWS: tuple[tuple[str, Sample], ...] = (
    ("edge of the paper: cut", _line(OUTLINE)),
    ("valley: fold toward you", _fold("valley")),
    ("mountain: fold away from you", _fold("mountain")),
    ("slit: cut, within the paper", _line(SLIT)),
    ("edge that is covered", _line(HIDDEN)),
    ("limit of a worked part or of an overlap", _line(ZONE)),
    ("distance from this end", _measured),
    ("swings toward you", _swing),
    ("swings away from you, behind the paper", _swing_behind),
    ("outside and, paler, inside", _two_faces),
    ("pattern with a top: sprigs point up", _one_way),
    ("raised on foam", _raised),
)
