"""The kinds of lines as the folding literature has them (Yoshizawa and Randlett; from memory): valley dashed,
mountain dash and dot, hidden dotted; told apart without colour; turned over, every fold is the other one."""

import pytest

from tests.render.drawings import everything
from tests.render.drawings.laws import contrast
from tests.render.drawings.measured import dimensions
from tests.render.drawings.read_back import read

VALLEY, MOUNTAIN, HIDDEN = "2.2 1.1", "4 1 0.5 1", "0.01 0.9"
FLAT = ("score-", "step-score-", "open-", "piece-")  # in space the light shades the paper
Folds = list[tuple[str, float, float, float, float]]


def _parts(dash: str) -> list[float]:
    return [float(part) for part in dash.split()]


def _folds(shown: everything.Shown, name: str, width: float | None = None) -> Folds:
    """The folds of a view, each from its left upper end; if `width` is given, turned over within it."""
    found = []
    other = {VALLEY: MOUNTAIN, MOUNTAIN: VALLEY}
    for line in read(shown.drawings[name].svg).strokes:
        if line.dash in other:
            ends, dash = sorted((round(x, 2), round(y, 2)) for x, y in line.points), str(line.dash)
            if width is not None:
                ends, dash = sorted((round(width - x, 2), y) for x, y in ends), other[str(line.dash)]
            found.append((dash, *ends[0], *ends[1]))
    return sorted(found)


def test_valley_is_dashed_mountain_has_dots_and_hidden_is_dotted() -> None:
    dash, gap = _parts(VALLEY)
    assert dash > gap
    long, _, dot, _ = _parts(MOUNTAIN)
    assert long >= 4 * dot
    assert _parts(HIDDEN)[0] < 0.1  # with round ends: a dot


@pytest.mark.parametrize("name", everything.sample_names())
def test_in_grey_folds_stay_apart_from_the_paper_and_from_each_other(name: str) -> None:
    for drawing in everything.sample(name).drawings.values():
        if not drawing.name.startswith(FLAT):
            continue
        reading = read(drawing.svg)
        for line in reading.strokes:
            if line.dash not in (VALLEY, MOUNTAIN):
                continue
            (ax, ay), (bx, by) = line.points[0], line.points[-1]
            middle = ((ax + bx) / 2, (ay + by) / 2)
            under = [each for each in reading.areas if each.at < line.at and not each.is_pattern]
            fills = [each.fill for each in under if each.opacity == 1 and each.holds(middle)]
            assert contrast(line.color, fills[-1] if fills else "#ffffff") >= 3, drawing.name  # WCAG 1.4.11


@pytest.mark.parametrize("name", [each for each in everything.structure_names() if each.endswith(" inch")])
def test_turned_over_every_fold_is_the_other_one_and_mirrored(name: str) -> None:
    shown = everything.structure(name)
    inside, outside = _folds(shown, "open-inside"), _folds(shown, "open-outside")
    assert inside or outside
    if not inside or not outside:  # a sheet that is glued on hides all folds of one side
        return
    assert len(outside) == len(inside)
    (left, _), (_, right) = _span(shown, "open-inside"), _span(shown, "open-outside")
    for dash, *ends in _folds(shown, "open-outside", left + right):
        assert any(dash == other and more == pytest.approx(ends, abs=0.03) for other, *more in inside), ends


def _span(shown: everything.Shown, name: str) -> tuple[float, float]:
    """Where the sheet begins and ends in a view, from the dimension of its width."""
    wide = next(each for each in dimensions(read(shown.drawings[name].svg)) if each.axis == "x")
    first, last = sorted(x for x, _ in wide.ends)
    return first, last
