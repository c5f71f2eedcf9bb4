"""A card as an object: where every section lies when it is closed, and what each view shows.

All lengths are in the recipe's unit unless a name says `_mm`; points are exact, x to the right and y
down **as the viewer looks at that view**, (0, 0) at the left top of the view's bounding box.
"""

from fractions import Fraction
from typing import NamedTuple

from cardrecipe.solve.sized import Point, SizedCard

Outline = tuple[Point, ...]
# Left free beside what moves on its own, because glue is pressed out a little: common practice, no
# published source.
GLUE_MARGIN = {"inch": Fraction(1, 16), "mm": Fraction(1)}
# What lies on something over so many margins each way can be glued to it, whatever the piece's shape.
WIDE_ENOUGH = 4


class SeenPart(NamedTuple):
    """One face in a view. Views list their parts bottom first, so a painter may draw in that order.

    For a section `piece` is its base and `outline` its ring of points. For a piece the outline is
    its **frame**: four points, the left top, right top, right bottom, left bottom corner as one looks
    at the piece's own face; a circle or oval is the ellipse inscribed in it. `lift_mm` is the height
    of foam beneath, summed down to the section.
    """

    piece: str
    section: str | None
    side: str  # the side that is seen: "inside" | "outside"
    outline: Outline
    copy: int = 0
    lift_mm: Fraction = Fraction(0)
    holes: tuple[Outline, ...] = ()  # windows, as they lie in the view


class View(NamedTuple):
    """What one sees from one side: `name` is closed-front, closed-back, open-inside, open-outside.

    `folds` are the score lines that can be seen in it: (start, end, direction as seen from this side,
    score number).
    """

    name: str
    base: str
    width: Fraction
    height: Fraction
    parts: tuple[SeenPart, ...]
    folds: tuple[tuple[Point, Point, str, int], ...] = ()


class FoldAction(NamedTuple):
    """Scores that are folded together in one step; `angles` is the pose afterwards by score number."""

    base: str
    scores: tuple[int, ...]
    direction: str  # "valley" | "mountain"
    moves: tuple[str, ...]  # the sections that swing, outermost first
    onto: tuple[str, ...]  # the sections that they come to lie against
    angles: tuple[tuple[int, Fraction], ...]
    is_linked: bool = False  # a ring of sections: the scores can only move all at once, each its own way


class ClosedBase(NamedTuple):
    """A base folded flat: closed size, its sections from the front to the back, and how to get there.

    `moves` are the actions in an order that can be done. `visible` says which face shows where:
    (view name, section, side, outlines of the areas that are seen, pieces not counted).
    """

    base: str
    root: str  # the section that stays on the table
    width: Fraction
    height: Fraction
    front_to_back: tuple[str, ...]
    moves: tuple[FoldAction, ...]
    visible: tuple[tuple[str, str, str, tuple[Outline, ...]], ...]


class Thickness(NamedTuple):
    """Closed thickness at the thickest place in mm; estimates carry their range."""

    likely_mm: Fraction
    least_mm: Fraction
    most_mm: Fraction
    estimated: bool  # some caliper was worked out from the paper's weight or kind


class GlueZone(NamedTuple):
    """Where one glued copy may take glue, so that all that moves still moves.

    `rings` share no area and are in the piece's own coordinates, from its left top as one looks at
    its face; () where nothing of it may be glued. `host_body` is the section, band or loose piece that
    it moves with, `others` names what else lies under it and moves apart from that. `is_whole`: glue
    is safe on all of it, and `rings` is its outline.
    """

    piece: str
    copy: int
    host_body: str
    rings: tuple[Outline, ...]
    others: tuple[str, ...] = ()
    is_whole: bool = False


class FoldedCard(NamedTuple):
    """The sized card with its closed bases and views. Without a base: `closed` and `views` empty."""

    card: SizedCard
    closed: tuple[ClosedBase, ...]
    views: tuple[View, ...]
    thickness: Thickness | None
    zones: tuple[GlueZone, ...] = ()

    def view(self, name: str, base: str | None = None) -> View:
        """The view called `name` (of the first base unless told); KeyError when there is none."""
        for view in self.views:
            if view.name == name and base in (None, view.base):
                return view
        raise KeyError(name)


class SpacePart(NamedTuple):
    """One face of the card held in space: `ring` are (x, y, z) floats, z towards the viewer before
    the camera turns it; `normal_z` tells which side is seen, `shade` 0 (dark) to 1 (full light)."""

    piece: str
    section: str | None
    side: str
    ring: tuple[tuple[float, float, float], ...]
    shade: float
    copy: int
    holes: tuple[tuple[tuple[float, float, float], ...], ...] = ()  # windows in it
