"""The card that folds on the page, in a browser: what is on top, what moves, what is said, what keys do."""

import math
import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

import pytest

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldedCard, Outline, SeenPart, View
from cardrecipe.fold.geometry import STAY, Motion
from cardrecipe.fold.joints import fold_motions, subtree
from cardrecipe.fold.links import poses
from cardrecipe.fold.motions import inverse, mirrored, moved
from cardrecipe.fold.outlines import ellipse_inside, fitted, shares, sure_shares, widest_shares
from cardrecipe.fold.space import LIGHT, project
from cardrecipe.fold.turns import Turn, branches_of, turns
from cardrecipe.fold.vectors import times
from cardrecipe.library.folds import fold_names
from cardrecipe.model.lengths import MM_PER
from cardrecipe.render.drawings.colors import INK, PAGE, mixed, paper_color
from tests.fold.every_card import CARDS, every_card, shut_base
from tests.fold.folding_curve import curve
from tests.render.chromium import Browser, chromium
from tests.render.drawings.generated import cards
from tests.render.folding_page import drawn, move, on_top, open_card, problems

XY = tuple[float, float]
CLEAR = 1.0  # mm: so near to an edge nobody can tell what is on top
GRID = 14  # places across and down at which one looks


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as found:
        yield found


def mm_of(folded: FoldedCard) -> float:
    return float(MM_PER[folded.card.unit])


def closing_turns(folded: FoldedCard, shut: Assembly) -> list[Turn]:
    return [turn for turn in turns(folded.card, shut) if turn.pose is None]


# ---- plane geometry in floats --------------------------------------------------------------------


def floats(outline: Outline) -> list[XY]:
    return [(float(x), float(y)) for x, y in outline]


def holds(ring: Sequence[XY], point: XY) -> bool:
    """A line to the right crosses the ring an odd number of times."""
    x, y = point
    inside = False
    for at, (bx, by) in enumerate(ring):
        ax, ay = ring[at - 1]
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
    return inside


def from_edge(ring: Sequence[XY], point: XY) -> float:
    def of(a: XY, b: XY) -> float:
        along = (b[0] - a[0], b[1] - a[1])
        square = along[0] ** 2 + along[1] ** 2
        share = ((point[0] - a[0]) * along[0] + (point[1] - a[1]) * along[1]) / square
        share = max(0.0, min(1.0, share))
        return math.dist(point, (a[0] + share * along[0], a[1] + share * along[1]))

    return min(of(ring[at - 1], ring[at]) for at in range(len(ring)))


def grid(width: float, height: float) -> list[XY]:
    steps = [(n + 0.5) / GRID for n in range(GRID)]
    return [(x * width, y * height) for x in steps for y in steps]


# ---- the closed card -----------------------------------------------------------------------------


class Unclear(Exception):
    """A point lies too near to an edge to tell what is seen there."""


def seen_at(folded: FoldedCard, view: View, point: XY) -> SeenPart | None:
    """What a view shows at a point."""
    mm, found = mm_of(folded), None
    for part in view.parts:
        sure, widest = _rims(folded, part)
        clear = (CLEAR + float(part.lift_mm)) / mm
        holes = [floats(hole) for hole in part.holes]
        if any(from_edge(ring, point) < clear for ring in (sure, widest, *holes)):
            raise Unclear
        if holds(widest, point) and not any(holds(hole, point) for hole in holes):
            if not holds(sure, point):
                raise Unclear
            found = part
    return found


def looks(folded: FoldedCard, part: SeenPart | None) -> tuple[str, str] | None:
    """The name and the colour of a part that lies flat: its own face's, or that of the other side."""
    if part is None:
        return None
    fill = paper_color(folded.card.papers, folded.card.piece(part.piece).paper)
    if part.section is not None and part.side == "inside":
        fill = mixed(fill, PAGE, 0.3)
    if part.section is None and part.side == "outside":
        fill = mixed(fill, PAGE, 0.5)
    light = 0.35 + 0.65 * LIGHT[2]
    return part.section or part.piece, mixed(fill, INK, 0.3 * (1 - light))


def _rims(folded: FoldedCard, part: SeenPart) -> tuple[list[XY], list[XY]]:
    if part.section is not None:
        return floats(part.outline), floats(part.outline)
    piece = folded.card.piece(part.piece)
    sure, widest = sure_shares(piece), widest_shares(piece)
    if piece.kind == "cutout":  # no recipe tells its outline: it is drawn as something round
        sure = shares(ellipse_inside(piece.width, piece.height), piece.width, piece.height)
    return floats(fitted(sure, part.outline)), floats(fitted(widest, part.outline))


def into_layout(folded: FoldedCard, shut: Assembly, view: View, page: Motion) -> Motion:
    """The motion from a closed view back to the open sheet's plane, the root in its place there."""
    part = next(part for part in view.parts if part.section is not None)
    at = next(
        at
        for at, (facing, section) in enumerate(zip(shut.facings, shut.sections, strict=True))
        if (facing.piece.name, facing.copy, section.name) == (part.piece, part.copy, part.section)
    )
    there = moved(page.after(shut.motions[at]), shut.sections[at].outline)
    (x, y), (to_x, to_y) = part.outline[0], there[0]
    back = inverse(page).after(Motion.shift(to_x - x, to_y - y))
    return inverse(shut.motions[shut.flat.root]).after(back)


@pytest.mark.parametrize("name", CARDS)
def test_closed_it_shows_what_the_closed_views_show(browser: Browser, tmp_path: Path, name: str) -> None:
    closes_as_seen(browser, tmp_path, every_card()[name])


def closes_as_seen(browser: Browser, tmp_path: Path, folded: FoldedCard) -> None:
    """Closed, it shows the parts of the view from the front and of that from the back, in their colours."""
    open_card(browser, folded, tmp_path)
    if browser.run("document.querySelector('[data-whole]')") is not None:
        move(browser, "[data-whole]", 100000)
    for side in ("front", "back"):
        shows_view(browser, folded, side)
    assert problems(browser) == []


def shows_view(browser: Browser, folded: FoldedCard, side: str) -> None:
    shut = shut_base(folded)
    view = folded.view(f"closed-{side}")
    if side == "back":
        browser.run("document.querySelector('[data-side=\"180\"]').click()")
    page = STAY if side == "front" else mirrored(shut.width)
    way, mm, sign = into_layout(folded, shut, view, page), mm_of(folded), 1 if side == "front" else -1
    places = []
    for point in grid(float(view.width), float(view.height)):
        with suppress(Unclear):
            places.append((point, looks(folded, seen_at(folded, view, point))))
    assert len(places) > GRID
    there = [_applied(way, point) for point, _ in places]
    shown = on_top(browser, [project((sign * x * mm, y * mm, 0.0)) for x, y in there])
    for one, (_, meant) in zip(shown, places, strict=True):
        assert (one is None) == (meant is None)
        if one is not None and meant is not None:
            assert one[0] == meant[0] and off(one[1], meant[1]) <= 1, (one, meant)


def off(one: str, other: str) -> int:
    """By how much two colours differ at most, of 255."""
    return max(abs(int(one[at : at + 2], 16) - int(other[at : at + 2], 16)) for at in (1, 3, 5))


def _applied(way: Motion, point: XY) -> XY:
    x, y = point
    return (
        float(way.xx) * x + float(way.xy) * y + float(way.dx),
        float(way.yx) * x + float(way.yy) * y + float(way.dy),
    )


# ---- between -------------------------------------------------------------------------------------


def is_one_sheet(name: str) -> bool:
    shut = shut_base(every_card()[name])
    return shut.is_plain and not branches_of(shut).closing and bool(shut.folded) and not shut.welds


ONE_SHEET = [name for name in fold_names() if is_one_sheet(name)]


def laid_by_hand(shut: Assembly, done: Sequence[Turn]) -> tuple[list[int], list[Motion]]:
    """The sections from the bottom to the top after some folds: each lays all beyond it on the rest."""
    flat, made = shut.flat, set[int]()

    def lying() -> list[Motion]:
        return fold_motions(len(flat.sections), flat.branches, lambda joint: joint.score.number in made)

    stack = list(range(len(flat.sections)))
    for turn in done:
        before, numbers = lying(), {shut.joints[at].score.number for at in turn.joints}
        for branch in flat.branches:
            if branch.joint.score.number in numbers:
                packet = subtree(flat.branches, branch.child)
                rest = [at for at in stack if at not in packet]
                swung = [at for at in stack if at in packet][::-1]
                is_up = (branch.joint.score.direction == "valley") != before[branch.parent].is_flipped()
                stack = [*rest, *swung] if is_up else [*swung, *rest]
        made |= numbers
    return stack, lying()


@pytest.mark.parametrize("name", ONE_SHEET)
def test_after_each_fold_the_sections_lie_as_a_hand_lays_them(
    browser: Browser, tmp_path: Path, name: str
) -> None:
    folded = every_card()[name]
    shut, mm = shut_base(folded), mm_of(folded)
    closing = closing_turns(folded, shut)
    open_card(browser, folded, tmp_path)
    for count in range(len(closing) + 1):
        move(browser, "[data-whole]", 100 * count)
        stack, motions = laid_by_hand(shut, closing[:count])
        rings = {at: floats(moved(motions[at], shut.sections[at].outline)) for at in stack}
        holes = {at: [floats(moved(motions[at], hole)) for hole in shut.windows_in(at)] for at in stack}
        xs, ys = zip(*(point for ring in rings.values() for point in ring), strict=True)
        points, expected = [], []
        for x, y in grid(max(xs) - min(xs), max(ys) - min(ys)):
            point = (x + min(xs), y + min(ys))
            edges = [*rings.values(), *(hole for each in holes.values() for hole in each)]
            if min(from_edge(edge, point) for edge in edges) * mm > CLEAR:
                top = [
                    at
                    for at in stack
                    if holds(rings[at], point) and not any(holds(hole, point) for hole in holes[at])
                ]
                points.append(point)
                expected.append(shut.sections[top[-1]].name if top else None)
        shown = on_top(browser, [project((x * mm, y * mm, 0.0)) for x, y in points])
        assert [one and one[0] for one in shown] == expected, count


@pytest.mark.parametrize("name", CARDS)
def test_between_it_is_drawn_as_the_fold_stage_holds_it(browser: Browser, tmp_path: Path, name: str) -> None:
    """Each section that is seen, to the last digit that is drawn."""
    folded = every_card()[name]
    closing = closing_turns(folded, shut_base(folded))
    if not closing:
        pytest.skip("only poses fold it")
    open_card(browser, folded, tmp_path)
    bands = browser.run("JSON.parse(document.querySelector('.folds script').textContent).b.length")
    for share in (0.13, 0.5, 0.87):
        value = round(share * 100 * (len(closing) + bands))
        move(browser, "[data-whole]", value)
        meant = held_sections(folded, closing, value / 100)
        seen = [each for each in drawn(browser) if each[0] in meant]
        assert seen
        for called, outline in seen:
            numbers = re.findall(r"([-\d.]+) ([-\d.]+)", outline.split("Z")[0])
            first = [(float(x), float(y)) for x, y in numbers]
            fits = [max(map(math.dist, first, ring)) for ring in meant[called] if len(ring) == len(first)]
            assert min(fits) < 0.02
    assert problems(browser) == []


def held_sections(folded: FoldedCard, closing: Sequence[Turn], done: float) -> dict[str, list[list[XY]]]:
    """Where the sections are seen after so many turns, by their names; those that share one with a piece
    are left out."""
    shut, mm = shut_base(folded), mm_of(folded)
    angles = {
        joint: curve(course, max(0.0, min(1.0, done - at)))
        for at, turn in enumerate(closing)
        for joint, course in turn.courses
    }
    branches = branches_of(shut)
    held = poses(branches, [math.radians(angles.get(at, 0.0)) for at in range(len(branches.links))])
    meant: dict[str, list[list[XY]]] = {}
    pieces = {piece.name for piece in folded.card.pieces}
    for section, pose in zip(shut.sections, held, strict=True):
        if section.name not in pieces:
            corners = [times(mm, pose.at(point)) for point in floats(section.outline)]
            meant.setdefault(section.name, []).append([project(corner) for corner in corners])
    return meant


CHANCE = dict(cards(1000, 30))


@pytest.mark.parametrize("name", CHANCE)
def test_cards_made_by_chance_close_as_their_views_show(browser: Browser, tmp_path: Path, name: str) -> None:
    """Pieces of all kinds on all faces of shipped folds, with bands, in papers one sees through."""
    folded = CHANCE[name].folded
    assert folded is not None
    closes_as_seen(browser, tmp_path, folded)
