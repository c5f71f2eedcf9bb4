"""The part of the page that folds the card: its markup, and that its scene is the fold stage's own card."""

import json
import math
import re
from collections.abc import Mapping
from typing import Any

import pytest

from cardrecipe.fold.links import poses
from cardrecipe.fold.motions import inverse
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.turns import branches_of, turns
from cardrecipe.model.lengths import MM_PER
from cardrecipe.render.folding_view import folding_view
from tests.fold.every_card import CARDS, every_card, sample, shut_base
from tests.recipes import HEAD, compile_text
from tests.render.folding_page import sheet_of

DATA = re.compile(r'<script type="application/json">(.*?)</script>', re.DOTALL)
MOST_BYTES = 8 * 1024
Point = tuple[float, float, float]


def view(name: str) -> str:
    made = folding_view(sheet_of(every_card()[name]))
    assert made is not None
    return str(made)


def scene(name: str) -> dict[str, Any]:
    found = DATA.search(view(name))
    assert found is not None
    answer: dict[str, Any] = json.loads(found[1])
    return answer


# ---- the scene, read as the script reads it ------------------------------------------------------


def rotated(point: Point, line: list[int], angle: float) -> Point:
    """A point turned about a line of the layout (Rodrigues' formula), so that what is left of it rises."""
    ax, ay, bx, by = line
    size = math.hypot(bx - ax, by - ay)
    k = ((bx - ax) / size, (by - ay) / size)
    x, y, z = point[0] - ax, point[1] - ay, point[2]
    along = k[0] * x + k[1] * y
    c, s = math.cos(angle), math.sin(angle)
    crossed = (k[1] * z, -k[0] * z, k[0] * y - k[1] * x)
    turned = [
        v * c + w * s + u * along * (1 - c) for v, w, u in zip((x, y, z), crossed, (*k, 0.0), strict=True)
    ]
    return turned[0] + ax, turned[1] + ay, turned[2]


def placed(found: dict[str, Any], face: int, point: Point, angles: Mapping[int, float]) -> Point:
    """Where a point of a face is held: turned about each joint on the way to the root."""
    while found["f"][face][0]:
        parent, *hinge = found["f"][face][0]
        if hinge:
            joint, *line, sign = hinge
            point = rotated(point, line, sign * math.radians(angles.get(joint, 0.0)))
        face = parent
    return point


def corners(ring: list[int]) -> list[Point]:
    return [(ring[at], ring[at + 1], 0.0) for at in range(0, len(ring), 2)]


def ends(found: dict[str, Any], share: float) -> dict[int, float]:
    """The angles with all folds that close the card at a share of their way, where they turn evenly."""
    return {
        joint: course[0] / 100 + share * (course[-1] - course[0]) / 100
        for courses, _, is_pose in found["t"]
        if not is_pose
        for joint, *course in courses
    }


@pytest.mark.parametrize("name", CARDS)
def test_flat_it_is_the_open_sheet(name: str) -> None:
    found, shut = scene(name), shut_base(every_card()[name])
    mm = float(MM_PER[every_card()[name].card.unit])
    for face, section in enumerate(shut.sections):
        for one, (x, y) in zip(corners(found["f"][face][6][0]), section.outline, strict=True):
            assert math.dist(placed(found, face, one, {}), (x * mm * 1000, y * mm * 1000, 0)) < 10


@pytest.mark.parametrize("name", CARDS)
def test_closed_it_is_the_closed_card(name: str) -> None:
    found, shut = scene(name), shut_base(every_card()[name])
    mm = float(MM_PER[every_card()[name].card.unit])
    home = inverse(shut.motions[shut.flat.root])
    for face, section in enumerate(shut.sections):
        way = home.after(shut.motions[face])
        for one, point in zip(corners(found["f"][face][6][0]), section.outline, strict=True):
            x, y = way.apply(point)
            closed = placed(found, face, one, ends(found, 1))
            assert math.dist(closed, (float(x) * mm * 1000, float(y) * mm * 1000, 0)) < 15


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("share", [0.2, 0.5, 0.9])
def test_half_way_it_is_what_the_fold_stage_holds(name: str, share: float) -> None:
    """With all scores at a share of their way, each in its own direction: also where paper would tear, both
    turn along the same tree."""
    found, shut = scene(name), shut_base(every_card()[name])
    mm = float(MM_PER[every_card()[name].card.unit])
    angles = ends(found, share)
    branches = branches_of(shut)
    held = poses(branches, [math.radians(angles.get(at, 0.0)) for at in range(len(branches.links))])
    for face, section in enumerate(shut.sections):
        for one, (x, y) in zip(corners(found["f"][face][6][0]), section.outline, strict=True):
            there = tuple(each * mm * 1000 for each in held[face].at((float(x), float(y))))
            assert math.dist(placed(found, face, one, angles), there) < 15


@pytest.mark.parametrize("name", CARDS)
def test_every_piece_is_on_it_once(name: str) -> None:
    folded = every_card()[name]
    shut = shut_base(folded)
    bands = sum(each.piece.around is not None for each in shut.placed)
    sheets = len(placed_pieces(folded.card, shut.flat)) - len(shut.placed)
    found = scene(name)
    assert len(found["p"]) == len(shut.placed) + bands  # the two sides of a band
    assert len(found["f"]) == len(shut.sections)
    assert len(found["b"]) == bands
    assert sheets == 0 or len(found["f"]) > len(shut.flat.sections)


@pytest.mark.parametrize("name", CARDS)
def test_it_is_small(name: str) -> None:
    found = DATA.search(view(name))
    assert found is not None and len(found[1].encode()) <= MOST_BYTES


# ---- markup --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", CARDS)
def test_it_keeps_the_rules_of_the_page(name: str) -> None:
    """Hidden until the script shows it; no style and no handler stands in it; one label for each slider."""
    text = view(name)
    assert re.match(r'<section class="folds" aria-labelledby="folds0-title" hidden>', text)
    assert not re.search(r"\sstyle=|\son\w+=|<style", text)
    sliders = re.findall(r'<input type="range" id="([^"]+)"', text)
    assert len(set(sliders)) == len(sliders) > 1
    for slider in sliders:
        assert len(re.findall(f'<label for="{slider}">', text)) == 1
    assert "<" not in DATA.findall(text)[0]


@pytest.mark.parametrize("name", CARDS)
def test_each_turn_and_each_band_has_a_slider(name: str) -> None:
    folded = every_card()[name]
    found, shut = scene(name), shut_base(folded)
    own = re.findall(r'data-turn="(\d+)"', view(name))
    closing = sum(turn.pose is None for turn in turns(folded.card, shut)) + len(found["b"])
    posed = len(found["t"]) + len(found["b"]) - closing
    assert len(own) == posed + (closing if closing > 1 else 0)
    assert ("data-whole" in view(name)) == (closing > 0)


def test_sliders_are_named_after_what_swings() -> None:
    text = view("night-market")
    assert "The left flap and the right flap" in text and "scores 1 and 4, mountain" in text
    assert "From flat to closed" in text and "Each fold by itself" in text


def test_what_does_not_fold_has_no_view() -> None:
    tags = sample("market-tags")
    assert tags is not None and folding_view(sheet_of(tags)) is None
    plain = compile_text(f"{HEAD}base card from ink\n  flat 4 x 6\n").folded
    assert plain is not None and folding_view(sheet_of(plain)) is None


def test_two_bases_fold_each_by_itself() -> None:
    gate = "base one from ink\n  fold gate, width 4, height 6\n"
    folded = compile_text(f"{HEAD}{gate}base two from ink\n  fold side-fold, width 3, height 4\n").folded
    assert folded is not None
    made = str(folding_view(sheet_of(folded)))
    assert made.count('<section class="folds"') == 2
    ids = re.findall(r'id="([^"]+)"', made)
    assert len(set(ids)) == len(ids)
    assert "Fold the one" in made and "Fold the two" in made
