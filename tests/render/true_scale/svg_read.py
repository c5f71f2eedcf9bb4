"""An SVG file read back by svgelements, a general reader: its groups as rings and lines in mm."""

import io
from math import atan2, pi
from typing import NamedTuple

import svgelements as svg

from tests.render.true_scale.rings import Ring, Round, Straight
from tests.render.true_scale.solved import Line


class Read(NamedTuple):
    groups: dict[str, list[Ring]]
    others: list[str]  # what stands in a group of lines and is no path
    width_mm: float
    view: tuple[float, float, float, float]

    def lines(self) -> list[Line]:
        return [
            Line(group, tuple(sorted((ring[0].start, ring[-1].end))))  # type: ignore[union-attr,arg-type]
            for group in ("score-valley", "score-mountain", "slit")
            for ring in self.groups[group]
        ]


def read(text: str) -> Read:
    """User units are mm where the view is as wide as the file: a test looks at that."""
    root = svg.SVG.parse(io.StringIO(text), reify=False)
    groups: dict[str, list[Ring]] = {}
    others: list[str] = []
    for group in root:
        if not isinstance(group, svg.Group):
            continue
        groups[group.id] = [_ring(each) for each in group if isinstance(each, svg.Path)]
        if group.id != "note":
            others += [type(each).__name__ for each in group if not isinstance(each, svg.Path)]
    box = root.viewbox
    width = str(root.values["attributes"]["width"])
    assert width.endswith("mm")
    return Read(groups, others, float(width[:-2]), (box.x, box.y, box.width, box.height))


def _ring(path: svg.Path) -> Ring:
    parts: list[Straight | Round] = []
    for each in path:
        if isinstance(each, svg.Arc):
            parts.append(_round(each))
        elif isinstance(each, svg.Line | svg.Close) and each.start != each.end:
            parts.append(Straight((each.start.x, each.start.y), (each.end.x, each.end.y)))
    return parts


def _round(arc: svg.Arc) -> Round:
    first = atan2((arc.start.y - arc.center.y) / arc.ry, (arc.start.x - arc.center.x) / arc.rx)
    assert arc.get_rotation().as_radians % pi == 0
    return Round((arc.center.x, arc.center.y), arc.rx, arc.ry, first, first + arc.sweep)
