"""From card lengths to picture mm: the scale of a drawing, and sizes in words for screen readers."""

from collections.abc import Callable, Iterable
from fractions import Fraction

from cardrecipe.model.lengths import size_written, to_mm, with_unit, written
from cardrecipe.render.drawings.marks import MARGIN, Mark, room
from cardrecipe.render.drawings.svg import XY
from cardrecipe.solve.sized import Point, SizedCard

COLUMN = 75.0  # mm: the widest drawing of a step
TALL = 56.0  # mm: the tallest drawing of a step, so that three steps stand in a column
WIDE = 180.0  # mm: the widest drawing of all
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
TRIES = 16  # rounds of shrinking; two are usual, words that do not shrink ask for more
LEAST_SHARE = 0.5  # of the scale that the shapes alone would have: smaller ones show nothing


def scale_to_fit(
    card: SizedCard, width: Fraction, height: Fraction, most_width: float, most_height: float
) -> float:
    """Picture mm for one unit of the card, so that a shape fits; never larger than life."""
    life = float(to_mm(Fraction(1), card.unit))
    return min(life, most_width / float(width), most_height / float(height))


def fitted_marks(
    draw: Callable[[float], list[Mark]], scale: float, most_width: float, most_height: float = TALL
) -> list[Mark]:
    """What `draw` gives at `scale`, or at the first smaller one that has room in that many mm.

    Letters keep their size, so the shapes shrink by more than what is over. Where shrinking does not
    help any more, since words alone are too large or crowded ones get lines of their own, the
    picture that is least too large stays.
    """
    floor = scale * LEAST_SHARE
    marks = best = draw(scale)
    least = over = _over(marks, most_width, most_height)
    for _ in range(TRIES):
        if over <= 0:
            return marks
        if scale <= floor:
            break
        scale = max(floor, scale * max(0.5, 1 - over * 1.25))
        marks = draw(scale)
        over = _over(marks, most_width, most_height)
        if over < least:
            best, least = marks, over
    return best


def fits(marks: list[Mark], most_width: float, most_height: float = TALL) -> bool:
    """True where a picture has room in that many mm."""
    return _over(marks, most_width, most_height) <= 0


def _over(marks: list[Mark], most_width: float, most_height: float) -> float:
    """The share of its own size by which a picture is too large, a little more than that; or 0."""
    box = room(marks)
    sides = ((box.width + 2 * MARGIN, most_width), (box.height + 2 * MARGIN, most_height))
    return max((side - most + 0.4) / side if side > most else 0.0 for side, most in sides)


def scaled(outline: Iterable[Point], scale: float, left: float = 0.0, top: float = 0.0) -> list[XY]:
    """Exact points as picture mm."""
    return [(left + float(x) * scale, top + float(y) * scale) for x, y in outline]


def scaled_line(
    start: Point, end: Point, scale: float, left: float = 0.0, top: float = 0.0
) -> tuple[XY, XY]:
    """The two ends of a line as picture mm."""
    first, last = scaled((start, end), scale, left, top)
    return first, last


def in_words(width: Fraction, height: Fraction, unit: str) -> str:
    """`11 by 5 1⁄2 in`, for a description."""
    first, _, rest = size_written(width, height, unit).partition(" \u00d7 ")
    return f"{first} by {rest}"


def listed(words: Iterable[str]) -> str:
    """`a, b and c`."""
    *before, last = [*words] or [""]
    return f"{', '.join(before)} and {last}" if before else last


def counted(count: int, one: str, many: str | None = None) -> str:
    """`one score`, `four scores`, `12 scores`."""
    spelt = NUMBERS[count] if count < len(NUMBERS) else str(count)
    return f"{spelt} {one if count == 1 else many or one + 's'}"


def lengths_listed(values: Iterable[Fraction], unit: str) -> str:
    """`1 1⁄4, 3 3⁄8 and 9 3⁄4 in`."""
    *before, last = values
    return listed([*(written(value, unit) for value in before), with_unit(last, unit)])
