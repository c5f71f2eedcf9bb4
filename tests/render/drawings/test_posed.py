"""The pictures of poses: on every page with their captions, and showing what is on the card."""

import re

import pytest

from cardrecipe.plan.card import plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.drawings import drawings
from cardrecipe.render.markdown import render_markdown
from cardrecipe.render.pages import render
from cardrecipe.render.words import shown_views
from tests.recipes import HEAD, compile_text
from tests.render.drawings import read_back

RECIPE = (
    f'{HEAD}paper glow is patterned "Glow" 12 x 12, one-way, color "#d0a040"\n'
    "base card from ink\n  fold tent, width 5, height 4\n"
    "panel plate from glow on front outside\ncircle star from ink on plate\n  diameter 1\n"
    "panel note from ink on back\n  window 1 x 1 at (1, 1)\n"
    "pose standing\n  fold 1 at 130\n"
)


def sheet(recipe: str = RECIPE) -> Sheet:
    found = compile_text(recipe)
    assert found.folded is not None, found.diagnostics
    return plan(found.folded)[0]


def test_a_pose_is_drawn_with_all_that_is_on_the_card() -> None:
    made = drawings(sheet().folded)["pose-standing"]
    assert made.title == "The pose standing of card"
    assert "held with score 1 at 130 degrees" in made.description
    assert made.description.endswith("On it: note, plate and star.")
    read_back.root(made.svg)
    paths = re.findall(r' d="([^"]*)"', made.svg)
    # The shadow and both sections; the note with its window; the plate, its pattern's motif and the pattern
    # over it; last the star, of four curves.
    assert [path.count("M") for path in paths[:4]] == [2, 1, 2, 1]
    assert [path.count("C") for path in paths[-2:]] == [0, 4]


@pytest.mark.parametrize("angle", [10, 60, 90, 130, 179])
def test_the_picture_fits_the_column_of_its_page(angle: int) -> None:
    made = drawings(sheet(RECIPE.replace("at 130", f"at {angle}")).folded)["pose-standing"]
    assert made.width_mm < 75 and made.height_mm < 56


def test_the_ids_of_two_versions_keep_apart() -> None:
    one, two = (drawings(sheet().folded, prefix)["pose-standing"].svg for prefix in ("", "other-"))
    ids = [set(re.findall(r'id="([^"]*)"', svg)) for svg in (one, two)]
    assert ids[0] and ids[1] and not ids[0] & ids[1]


def test_every_page_shows_the_pose_by_its_name() -> None:
    made = render(sheet(), ("html", "pdf", "md", "svg"))
    assert b"data-picture=pose-standing" in made[".html"]
    assert b"<figcaption>Standing</figcaption>" in made[".html"]
    assert made["-pose-standing.svg"].startswith(b"<svg")
    assert made[".pdf"].startswith(b"%PDF")
    assert render(sheet(), ("html", "pdf", "md", "svg")) == made
    assert "- **Standing:** score 1 at 130 degrees" in render_markdown(sheet())


def test_a_card_without_poses_shows_none() -> None:
    plain = sheet(RECIPE.partition("pose")[0])
    assert not [name for name in drawings(plain.folded) if name.startswith("pose")]
    views = [name for name, _ in shown_views(plain.folded)]
    assert views == ["closed-front", "open-inside", "open-outside", "layers"]
    assert "Poses" not in render_markdown(plain)


def test_a_score_of_a_panel_turns_in_the_picture() -> None:
    """The strip of a pop-up leads: the picture is that of the card opened as far."""
    box = f"{HEAD}base card from ink\n  fold strip-pop-up, width 4, height 5\npose standing\n  fold "
    by_card, by_strip, further = (
        re.findall(r' d="([^"]*)"', drawings(sheet(f"{box}{fold}\n").folded)["pose-standing"].svg)
        for fold in ("1 at 70", "2 of strip at 70", "1 at 75")
    )
    assert by_card == by_strip != further
