"""The motions that cards need besides reflections: pages turned, pieces turned, and ways back."""

from __future__ import annotations

import math
from fractions import Fraction

from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import STAY, Motion, Point

NIL, ONE = Fraction(0), Fraction(1)

# The tangent of half the angle is rounded to this grid, so that a turned outline stays exact: the
# angle is then off by less than 0.014 degrees, 0.03 mm at the end of a piece 250 mm long.
TANGENT_GRID = 4096


def moved(motion: Motion, outline: Outline) -> Outline:
    """Give an outline with every corner moved."""
    return outline if motion is STAY else motion.move(outline)


def mirrored(width: Fraction) -> Motion:
    """Give the motion of a page that is turned: left and right of a sheet `width` wide swap."""
    return Motion(-ONE, NIL, NIL, ONE, width, NIL)


def turned(degrees: Fraction, about: Point) -> Motion:
    """Give a turn clockwise as one looks at the page (y runs down), about a point.

    Quarter turns are exact; any other angle is rounded as `TANGENT_GRID` says.
    """
    quarters = round(degrees / 90)
    rest = float(degrees - 90 * quarters)
    tangent = Fraction(round(math.tan(math.radians(rest) / 2) * TANGENT_GRID), TANGENT_GRID)
    square = tangent * tangent
    cosine, sine = (1 - square) / (1 + square), 2 * tangent / (1 + square)
    for _ in range(quarters % 4):
        cosine, sine = -sine, cosine
    x, y = about
    return Motion(cosine, -sine, sine, cosine, x - cosine * x + sine * y, y - sine * x - cosine * y)


def inverse(motion: Motion) -> Motion:
    """Give the motion that undoes another."""
    dx = -(motion.xx * motion.dx + motion.yx * motion.dy)
    dy = -(motion.xy * motion.dx + motion.yy * motion.dy)
    return Motion(motion.xx, motion.yx, motion.xy, motion.yy, dx, dy)
