"""Panels on sections that are no rectangles: the section's outline drawn in by the border.

A mat under such a panel is the panel's outline drawn out by the mat's border, and a panel on it is
drawn in again. A panel of which a size is given stays a rectangle, and so does one that is scored,
turned or repeated.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Piece
from cardrecipe.model.values import Var
from cardrecipe.solve.parts import Part, Parts
from cardrecipe.solve.sized import Edges, Point, SizedSection

Ring = tuple[Point, ...]


class Panel(NamedTuple):
    """Where a panel lies in the box round what it is drawn in from, and its outline from its left top.

    `parted` is into how many pieces the border parts it; 0 where nothing is left.
    """

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction
    outline: Ring
    parted: int = 1

    @property
    def is_rectangle(self) -> bool:
        nil = Fraction(0)
        box = {(nil, nil), (self.width, nil), (self.width, self.height), (nil, self.height)}
        return len(self.outline) == 4 and {*self.outline} == box


NOTHING = Panel(Fraction(0), Fraction(0), Fraction(0), Fraction(0), (), 0)


def section_panels(
    parts: Parts,
    shapes: Mapping[str, Sequence[SizedSection]],
    values: Mapping[Var, Fraction],
    step: Fraction,
) -> dict[str, Panel]:
    """Give every such panel by its part, as far as borders are known."""
    if not any(shapes.values()):
        return {}
    rings = {(piece, section.name): _own(section) for piece, each in shapes.items() for section in each}
    panels: dict[str, Panel] = {}
    for part in parts.ordered:
        ring = _ring_beneath(part, rings, panels)
        if ring and is_drawn_in(part.piece):
            by = _borders(part, values)
            if by is not None:
                panels[part.owner] = _panel(ring, by, part.over is not None, step)
    return panels


def is_drawn_in(piece: Piece) -> bool:
    """Tell whether a piece takes the outline of what it lies on, less its borders."""
    is_open = all(size is None or size.is_open for size in (piece.width, piece.height))
    is_whole = not (piece.lines or piece.slanted) and piece.repeat is None and piece.turned is None
    return piece.kind == "panel" and is_open and is_whole


def edges_round(panel: Panel, around: Mapping[str, Fraction], *, is_mat: bool) -> dict[str, Fraction]:
    """Give what shows on each side of the box round a panel, of the box that is so wide and high; of a
    mat what shows of it itself."""
    edges = {
        "left": panel.x,
        "right": around["width"] - panel.x - panel.width,
        "top": panel.y,
        "bottom": around["height"] - panel.y - panel.height,
    }
    return {edge: -amount for edge, amount in edges.items()} if is_mat else edges


def turned_over(ring: Ring) -> Ring:
    """Give a ring as it is seen from the other side, left and right swapped, clockwise again."""
    right = max(x for x, _ in ring)
    return tuple((right - x, y) for x, y in reversed(ring))


def _own(section: SizedSection) -> Ring:
    """Give a section's outline from the left top of the box round it; () for an upright rectangle."""
    ring = tuple((x - section.x, y - section.y) for x, y in section.outline)
    whole = Panel(section.x, section.y, section.width, section.height, ring)
    return () if whole.is_rectangle else ring


def _ring_beneath(
    part: Part, rings: Mapping[tuple[str, str], Ring], panels: Mapping[str, Panel]
) -> Ring | None:
    if part.over is not None:
        return panels[part.over].outline if part.over in panels else None
    if part.host is None:
        return None
    if part.host.section is None:
        carrier = panels.get(part.host_part or "")
        return carrier.outline if carrier is not None else None
    ring = rings.get((part.host.piece, part.host.section))
    return turned_over(ring) if ring and part.host.side == "outside" else ring


def _borders(part: Part, values: Mapping[Var, Fraction]) -> Edges | None:
    own = [values.get((part.owner, f"{edge} border")) for edge in Edges._fields]
    known = [each for each in own if each is not None]
    return Edges(*known) if len(known) == len(own) else None


def _panel(ring: Ring, borders: Edges, is_mat: bool, step: Fraction) -> Panel:
    from cardrecipe.solve.drawn_in import drawn_in  # most cards have upright sections only
    from cardrecipe.solve.moved_edges import edges, facing

    by = []
    for start, end in edges(ring):
        way = facing(start, end)
        border = getattr(borders, way) if way else _slanted(borders)
        by.append(-border if is_mat else border)
    found = drawn_in(ring, tuple(by), step)
    if not found:
        return NOTHING
    outline = found[0]
    x, y = min(x for x, _ in outline), min(y for _, y in outline)
    width, height = max(x for x, _ in outline) - x, max(y for _, y in outline) - y
    return Panel(x, y, width, height, tuple((px - x, py - y) for px, py in outline), len(found))


def _slanted(borders: Edges) -> Fraction:
    """Give the border of slanted edges: the one of most edges, the largest where that is not settled."""
    times = Counter(borders)
    return max(times, key=lambda border: (times[border], border))
