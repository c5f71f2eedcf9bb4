"""A card with its turns → the scene that the page's script folds: faces, pieces, joints and turns as short
lists of whole numbers, thousandths of a millimetre and hundredths of a degree.

The script knows the same order: `templates/folding.js` reads these lists by place.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import cos, pi, sin
from typing import Any, NamedTuple

from cardrecipe.fold.area import region
from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.links import Branching, Hinge
from cardrecipe.fold.motions import inverse, moved
from cardrecipe.fold.openings import moved_openings
from cardrecipe.fold.outlines import ROUND, fills_frame, fitted, frame_outline, sure_shares
from cardrecipe.fold.placing import Placed, placed_pieces
from cardrecipe.fold.space import ELEVATION, LIGHT, SIDEWAYS
from cardrecipe.fold.stack import closed_pile
from cardrecipe.fold.turns import Turn, branches_of
from cardrecipe.model.lengths import to_mm
from cardrecipe.render.drawings.colors import PAGE, edge_on, fold_color, mixed
from cardrecipe.render.drawings.paint import Look, pale, paper_look
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece

MICRONS = 1000
PALER_INSIDE = 0.3  # how much page is stirred into the inside, so that the two faces are told apart
CLEAR_OF_CARD = 6  # mm between the card and a band that is about to be slid on
GRID = 1024  # of a radius: parts that its corners lie on
CORNER_STEPS = 6  # straight lines for a rounded corner
Ints = list[int]


class _Ranks(NamedTuple):
    """Places in the closed card's pile, the rearmost 0: of sections and pieces, and of bands behind it."""

    front: Mapping[tuple[str, int, str | None], int]
    behind: Mapping[str, int]


def scene(card: SizedCard, shut: Assembly, turns: Sequence[Turn]) -> dict[str, Any]:
    """Give a card as the script reads it: `v` the view and the light, `c` colours, `f` faces, `p` what lies
    on them, `j` joints, `t` the turns, `b` for each band the way it comes."""
    making = _Scene(card, shut)
    faces = [making.face(at) for at in range(len(shut.sections))]
    bands = [each for each in shut.placed if each.section is None and each.piece.around]
    pieces = [making.piece(each) for each in shut.placed if each.section is not None]
    for number, band in enumerate(bands):
        pieces += making.band(band, number)
    return {
        "v": [round(each, 4) for each in (ELEVATION, SIDEWAYS, *LIGHT)],
        "c": making.colors(),
        "f": faces,
        "p": pieces,
        "j": [making.joint(at) for at in range(len(shut.joints))],
        "t": [[_courses(turn), turn.needs, int(turn.pose is not None)] for turn in turns],
        "b": [making.slide(band) for band in bands],
    }


def _courses(turn: Turn) -> list[list[Any]]:
    return [[joint, *(round(angle * 100) for angle in course)] for joint, course in turn.courses]


class _Scene:
    """What all the lists of one scene share: places in piles, colours met so far."""

    def __init__(self, card: SizedCard, shut: Assembly) -> None:
        self.card = card
        self.shut = shut
        self.branches: Branching = branches_of(shut)
        self.parents = {child: (parent, link) for parent, link, child in self.branches.reach}
        self.ranks = _ranks(shut)
        self.laid = {
            (each.piece.name, each.copy): number
            for number, each in enumerate(placed_pieces(card, shut.flat), start=1)
        }
        self._colors: dict[Look, int] = {}

    # ---- faces -----------------------------------------------------------------------------------

    def face(self, at: int) -> list[Any]:
        """Give a section: its parent and how it hangs there, its two colours, its places in the closed pile
        and on the open sheet, its foam, its rings, its convex parts, its name."""
        facing, section = self.shut.facings[at], self.shut.sections[at]
        look = paper_look(self.card, facing.piece.paper)._replace(pattern=None)
        inside = look._replace(fill=mixed(look.fill, PAGE, PALER_INSIDE))
        up, down = (look, inside) if facing.is_turned else (inside, look)
        sign = 1 if facing.rank >= 0 else -1
        height = sign * self.laid[facing.piece.name, facing.copy] if facing.rank else 0
        rank = self.ranks.front[facing.piece.name, facing.copy, section.name]
        return [
            self._hangs(at),
            *self._body(up, down, rank, height, sign * facing.lift_mm),
            self._rings((section.outline, *self.shut.windows_in(at))),
            _parts(section.outline),
            section.name,
        ]

    def _hangs(self, at: int) -> list[int]:
        """Give the parent of a section; with a hinge also its joint, the line with the section on its left
        as y runs down, and 1 where a valley of it is seen from the layout's upper side."""
        if at not in self.parents:
            return []
        parent, number = self.parents[at]
        link = self.branches.links[number]
        if not isinstance(link, Hinge):
            return [parent]
        start, end = (link.start, link.end) if at == link.first else (link.end, link.start)
        ends = [round(float(to_mm(Fraction(one), self.card.unit)) * MICRONS) for one in (*start, *end)]
        return [parent, number, *ends, link.sign]

    def joint(self, at: int) -> list[int]:
        """Give the two sections of a joint, its line, and 1 for a valley as the layout's upper side shows
        it, -1 for a mountain."""
        joint = self.shut.joints[at]
        is_turned = self.shut.facings[joint.first].is_turned
        sign = 1 if (joint.score.direction == "valley") != is_turned else -1
        return [joint.first, joint.second, *self._ring((joint.start, joint.end)), sign]

    # ---- pieces ----------------------------------------------------------------------------------

    def piece(self, each: Placed) -> list[Any]:
        """Give what lies on a section, in its plane."""
        assert each.section is not None
        sign = 1 if each.side == "inside" else -1
        holes = moved_openings(each.way, frame_outline(each.piece), each.piece.windows)
        rank = self.ranks.front[each.piece.name, each.copy, None]
        height = sign * self.laid[each.piece.name, each.copy]
        face, back = self._looks(each.piece)
        up, down = (face, back) if each.side == "inside" else (back, face)
        body = self._body(up, down, rank, height, sign * each.lift_mm)
        return [each.section, *body, *self._shape(each.piece, each.frame, holes), each.piece.name]

    def band(self, band: Placed, number: int) -> Iterator[list[Any]]:
        """Give the two sides of a band and what is on it, with the number of the band at the end."""
        root = self.shut.flat.root
        home = inverse(self.shut.motions[root])
        loose = (each for each in self.shut.placed if each.section is None)
        on_it = [each for each in loose if self._band_of(each) == band.piece.name]
        face, back = self._looks(band.piece)
        frame = moved(home, band.frame)
        behind = self.ranks.behind[band.piece.name]
        yield [root, *self._body(back, face, behind, -behind, Fraction(0)),
               *self._shape(band.piece, frame, ()), band.piece.name, number]  # fmt: skip
        for each in on_it:
            face, back = self._looks(each.piece)
            rank = self.ranks.front[each.piece.name, each.copy, None]
            body = self._body(face, back, rank, rank, each.lift_mm)
            shape = self._shape(each.piece, moved(home, each.frame), ())
            yield [root, *body, *shape, each.piece.name, number]

    def slide(self, band: Placed) -> list[int]:
        """Give the way from where a band is seen first to its place: from the nearer edge of the card."""
        xs, ys = zip(*band.frame, strict=True)
        assert band.piece.around is not None
        ends, whole = (xs, self.shut.width) if band.piece.around.downward else (ys, self.shut.height)
        out, back = max(ends), whole - min(ends)
        way = -out if out <= back else back
        far = round(float(to_mm(way, self.card.unit)) * MICRONS)
        far += CLEAR_OF_CARD * MICRONS * (-1 if far < 0 else 1)
        return [far, 0] if band.piece.around.downward else [0, far]

    def _band_of(self, each: Placed) -> str:
        piece = each.piece
        while piece.around is None and piece.placements:
            piece = self.card.piece(piece.placements[0].host_piece)
        return piece.name

    def _looks(self, piece: SizedPiece) -> tuple[Look, Look]:
        look = paper_look(self.card, piece.paper)._replace(pattern=None)
        return look, pale(look)

    # ---- parts of lists --------------------------------------------------------------------------

    def _body(self, up: Look, down: Look, rank: int, height: int, lift: Fraction) -> list[int]:
        return [self._color(up), self._color(down), rank, height, round(lift * MICRONS)]

    def _color(self, look: Look) -> int:
        return self._colors.setdefault(look, len(self._colors))

    def colors(self) -> list[list[Any]]:
        """Give for each colour its edge, its valleys and mountains, and how much it hides."""
        return [
            [
                look.fill,
                edge_on(look.fill),
                *(fold_color(way, look.fill) for way in ("valley", "mountain")),
                1 if look.opacity is None else look.opacity,
            ]
            for look in self._colors
        ]

    def _shape(self, piece: SizedPiece, frame: Outline, holes: Sequence[Outline]) -> list[Any]:
        """Give the rings of a piece and its convex parts. An ellipse is its frame, and has 0 for parts."""
        if piece.kind in ROUND and piece.outline is None:
            return [self._rings((frame, *holes)), 0]
        radius = _radius(piece)
        if radius and piece.outline is None:
            return [self._rings((_rounded(piece, frame, radius), *holes)), []]
        outline = frame if fills_frame(piece) else fitted(sure_shares(piece), frame)
        return [self._rings((outline, *holes)), _parts(outline)]

    def _rings(self, rings: Sequence[Sequence[Point]]) -> list[Ints]:
        return [self._ring(ring) for ring in rings]

    def _ring(self, ring: Sequence[Point]) -> Ints:
        scale = to_mm(Fraction(MICRONS), self.card.unit)
        return [round(number * scale) for point in ring for number in point]


def _ranks(shut: Assembly) -> _Ranks:
    front: dict[tuple[str, int, str | None], int] = {}
    behind: dict[str, int] = {}
    for rank, layer in enumerate(closed_pile(shut)):
        if layer.piece.around is not None:
            behind.setdefault(layer.piece.name, rank)
        front[layer.piece.name, layer.copy, layer.section] = rank
    return _Ranks(front, behind)


def _parts(outline: Sequence[Point]) -> list[Ints]:
    """Give the convex parts of an outline by the places of their corners; [] where it is one itself."""
    pieces = region(tuple(outline)).pieces
    places = {point: at for at, point in enumerate(outline)}
    return [[places[x, y] for x, y in piece] for piece in pieces] if len(pieces) > 1 else []  # type: ignore[index]


def _radius(piece: SizedPiece) -> Fraction:
    """Give how far the corners of a piece are rounded, as it is drawn elsewhere."""
    if piece.kind == "cutout":
        return min(piece.width, piece.height) * Fraction(42, 100)
    return piece.corner_radius or Fraction(0)


def _rounded(piece: SizedPiece, frame: Outline, radius: Fraction) -> Outline:
    """Give a rectangle with rounded corners as a ring of short lines."""
    wide, high = piece.width, piece.height
    r = min(radius, wide / 2, high / 2)
    corners = ((r, r), (wide - r, r), (wide - r, high - r), (r, high - r))
    (x, y), (right, right_y), _, (low_x, low) = frame
    ring: list[Point] = []
    for (middle, level), arc in zip(corners, _ARCS, strict=True):
        for cosine, sine in arc:
            across, down = (middle + r * cosine) / wide, (level + r * sine) / high
            ring.append((x + (right - x) * across + (low_x - x) * down,
                         y + (right_y - y) * across + (low - y) * down))  # fmt: skip
    return tuple(dict.fromkeys(ring))


def _arc(start: float) -> Outline:
    turns = [start + step * pi / 2 / CORNER_STEPS for step in range(CORNER_STEPS + 1)]
    return tuple(
        (Fraction(round(cos(turn) * GRID), GRID), Fraction(round(sin(turn) * GRID), GRID)) for turn in turns
    )


# Quarters of the unit circle from its left round by its top, y running down.
_ARCS = tuple(map(_arc, (pi, -pi / 2, 0.0, pi / 2)))
