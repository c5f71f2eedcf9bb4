"""How a panel with an outline of its own is cut: a rectangle, then from point to point, in words."""

import re
from fractions import Fraction

import pytest
from shapely import Polygon
from shapely.geometry import LineString
from shapely.ops import split

from cardrecipe.plan.borders import what_shows
from cardrecipe.plan.cuts import cut_lines
from cardrecipe.plan.steps import steps
from cardrecipe.plan.tools import tools_for
from cardrecipe.plan.trims import trim_words, trims
from cardrecipe.solve.sized import SizedPiece
from tests.fold.test_outlines_of_panels import folded
from tests.library.test_structures import base

FOLDS = [("triangle", "front"), ("corner", "front"), ("diagonal-gate", "left-door"), ("v-pop-up", "back"),
         ("v-pop-up", "upper-left-beak"), ("box-pop-up", "front"), ("swing-window", "swing"),
         ("side-step", "back"), ("twist-easel", "prop")]  # fmt: skip


def panel(fold: str, section: str) -> SizedPiece:
    return folded(f"{base(fold, 'inch')}panel leaf from white on {section}\n").card.piece("leaf")


@pytest.mark.parametrize(("fold", "section"), FOLDS)
def test_the_cuts_leave_the_outline_of_the_rectangle(fold: str, section: str) -> None:
    piece = panel(fold, section)
    assert piece.outline is not None
    whole = Polygon([(float(x), float(y)) for x, y in piece.outline])
    rest = Polygon([(0, 0), (float(piece.width), 0), (float(piece.width), float(piece.height)),
                    (0, float(piece.height))])  # fmt: skip
    for cut in trims(piece):
        line = LineString([(float(x), float(y)) for x, y in cut])
        rest = max(split(rest, line).geoms, key=lambda part: part.intersection(whole).area)
    assert rest.symmetric_difference(whole).area < 1e-9


def test_the_cut_of_a_triangle_is_told_from_corner_to_corner() -> None:
    card = folded(f"{base('triangle', 'inch')}panel leaf from white on front\n")
    told = trim_words(card.card, card.card.piece("leaf"))
    assert told == ("Lay the leaf face up and cut it straight from the right top corner to the left bottom "
                    "corner.")  # fmt: skip
    step = next(each for each in steps(card, 1) if each.picture == "piece-leaf")
    assert told in step.text and "3\u202f9⁄16" in step.text
    assert re.match(r"About 1⁄8\sin shows all round\.", what_shows(card.card, card.card.piece("leaf")))


def test_what_shows_of_a_triangle_is_told_of_its_upright_edges_alone() -> None:
    """Beside its slanted edge there is no place for a ruler."""
    card = folded(f"{base('triangle', 'inch')}panel leaf from white on front\n  border 1/2 left\n").card
    said = what_shows(card, card.piece("leaf"))
    assert said == "You see 1\u20442\u00a0in at the left; 1\u20448\u00a0in at the top."


def test_places_along_an_edge_and_within_are_measured_from_left_and_top() -> None:
    card = folded(f"{base('box-pop-up', 'inch')}panel leaf from white on front\n")
    told = trim_words(card.card, card.card.piece("leaf"))
    for part in ("the right edge, 2", "from the top, to the point", "from the left and 2", "and on to"):
        assert part in told, told


def test_a_rectangle_is_not_trimmed() -> None:
    card = folded(f"{base('gate', 'inch')}panel leaf from white on back\n")
    piece = card.card.piece("leaf")
    assert trims(piece) == () and trim_words(card.card, piece) == ""
    assert "Craft knife" not in tools_for(piece)


def test_the_cut_list_and_the_tools_know_of_it() -> None:
    card = folded(f"{base('triangle', 'inch')}panel leaf from white on front\n")
    line = next(each for each in cut_lines(card.card, 1) if each.piece == "leaf")
    assert (line.width, line.height) == (Fraction(57, 16), Fraction(57, 16))
    assert "a rectangle first, then trimmed to its outline" in line.notes
    assert {"Pencil", "Craft knife", "Metal ruler"} <= set(tools_for(card.card.piece("leaf")))


def test_an_outline_that_is_the_rectangle_itself_takes_no_cut() -> None:
    piece, zero = panel("triangle", "front"), Fraction(0)
    whole = ((zero, zero), (piece.width, zero), (piece.width, piece.height), (zero, piece.height))
    assert trims(piece) and not trims(piece._replace(outline=whole))
