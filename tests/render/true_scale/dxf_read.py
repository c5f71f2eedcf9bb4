"""A DXF file read back by ezdxf: its layers as rings and lines, in the file's own unit, y turned downward."""

import io
from math import atan, atan2, pi
from typing import NamedTuple

import ezdxf
from ezdxf.document import Drawing
from ezdxf.entities import Circle, DXFEntity, Ellipse, LWPolyline
from ezdxf.entities import Line as Stretch
from ezdxf.math import bulge_center, bulge_radius

from tests.render.true_scale.rings import Ring, Round, Straight
from tests.render.true_scale.solved import Line


class Read(NamedTuple):
    document: Drawing
    rings: list[Ring]  # on the layer `cut`
    lines: list[Line]  # on the other layers
    words: list[str]


def read(data: bytes, height: float) -> Read:
    document = ezdxf.read(io.StringIO(data.decode("cp1252")))
    rings, lines, words = [], [], []
    for entity in document.modelspace():
        if entity.dxf.layer == "cut":
            rings.append(_ring(entity, height))
        elif isinstance(entity, Stretch):
            ends = ((entity.dxf.start.x, height - entity.dxf.start.y),
                    (entity.dxf.end.x, height - entity.dxf.end.y))  # fmt: skip
            lines.append(Line(entity.dxf.layer, tuple(sorted(ends))))
        elif entity.dxftype() == "TEXT":
            words.append(entity.dxf.text)
    return Read(document, rings, lines, words)


def _ring(entity: DXFEntity, height: float) -> Ring:
    if isinstance(entity, Circle):
        center = entity.dxf.center
        return [Round((center.x, height - center.y), entity.dxf.radius, entity.dxf.radius, 0, 2 * pi)]
    if isinstance(entity, Ellipse):
        center, major = entity.dxf.center, entity.dxf.major_axis
        long, short = major.magnitude, major.magnitude * entity.dxf.ratio
        assert {abs(major.x), abs(major.y)} == {0, long}
        assert (entity.dxf.start_param, entity.dxf.end_param) == (0, 2 * pi)
        across, down = (long, short) if major.y == 0 else (short, long)
        return [Round((center.x, height - center.y), across, down, 0, 2 * pi)]
    assert isinstance(entity, LWPolyline) and entity.closed
    return _of_polyline(entity, height)


def _of_polyline(entity: LWPolyline, height: float) -> Ring:
    corners = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
    parts: list[Straight | Round] = []
    for (x, y, bulge), (to_x, to_y, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if not bulge:
            parts.append(Straight((x, height - y), (to_x, height - to_y)))
            continue
        center, radius = bulge_center((x, y), (to_x, to_y), bulge), bulge_radius((x, y), (to_x, to_y), bulge)
        turn = -4 * atan(bulge)  # y turned downward turns the way round
        first = atan2(center.y - y, x - center.x)
        parts.append(Round((center.x, height - center.y), radius, radius, first, first + turn))
    return parts
