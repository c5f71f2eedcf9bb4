"""A drawing as a text that a reviewer can read: size, words, folds and slits, painted areas."""

from cardrecipe.render.drawings import Drawing
from tests.render.drawings.everything import Shown
from tests.render.drawings.measured import QUIET
from tests.render.drawings.read_back import Area, Stroke, Words, read

KINDS = {"2.2 1.1": "valley", "4 1 0.5 1": "mountain"}
SLIT_WIDTH = 0.7


def outline_of(shown: Shown) -> str:
    return "\n".join(_drawing(each) for each in shown.drawings.values())


def _drawing(drawing: Drawing) -> str:
    reading = read(drawing.svg)
    lines = [f"== {drawing.name}: {drawing.title}", f"   {drawing.width_mm:.1f} x {drawing.height_mm:.1f} mm"]
    lines += [line for line in (_line(each) for each in reading.strokes) if line]
    lines += [_area(each) for each in reading.areas if _is_paper(each)]
    return "\n".join([*lines, *(_words(each) for each in reading.words), ""])


def _is_paper(area: Area) -> bool:
    return area.opacity == 1 and not area.is_pattern and area.fill != QUIET  # no heads of arrows


def _line(line: Stroke) -> str:
    is_slit = line.dash is None and line.width == SLIT_WIDTH and len(line.points) == 2
    kind = KINDS.get(line.dash or "", "slit" if is_slit else "")
    (ax, ay), (bx, by) = line.points[0], line.points[-1]
    return f"   {kind} ({ax:.1f}, {ay:.1f}) to ({bx:.1f}, {by:.1f})" if kind else ""


def _area(area: Area) -> str:
    left, top, right, bottom = area.room
    return f"   {area.fill} from ({left:.1f}, {top:.1f}) to ({right:.1f}, {bottom:.1f})"


def _words(word: Words) -> str:
    x, y = word.room.middle
    text = word.text.replace("\u202f", " ").replace("\u00a0", " ").replace("\u2044", "/")
    return f'   "{text}" at ({x:.1f}, {y:.1f}){"" if word.is_upright else ", running up"}'
