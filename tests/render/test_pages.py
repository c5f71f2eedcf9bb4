"""All formats of one sheet, from hand-made cards through folding, planning and drawing."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.plan.card import plan
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.pages import FORMATS, render
from cardrecipe.render.papers import Printing
from cardrecipe.solve.sized import SizedCard
from tests import hand_made
from tests.render.the_page import with_the_other

CARDS: dict[str, Callable[[], SizedCard]] = {
    "side fold": hand_made.side_fold,
    "tent": hand_made.tent,
    "gate": hand_made.gate,
    "z fold": hand_made.z_fold,
    "accordion": lambda: hand_made.accordion(8),
    "double gate": hand_made.double_gate,
    "metric": lambda: hand_made.strip_card([100, 100], "V", [], 150, unit="mm"),
}


def planned(card: SizedCard) -> Sheet:
    return plan(fold(card)[0])[0]


@pytest.mark.parametrize("page", ["letter", "a4"])
@pytest.mark.parametrize("name", CARDS)
def test_every_renderer_takes_every_card(name: str, page: str) -> None:
    made = render(planned(CARDS[name]()), FORMATS, [Printing(page)])
    assert {".html", ".pdf", ".md", ".json", "-finished.svg"} <= set(made)
    assert made[".pdf"].startswith(b"%PDF-")
    assert all(made.values())


def test_only_what_is_asked_for() -> None:
    assert list(render(planned(hand_made.gate()), ["json", "md"])) == [".md", ".json"]


def test_every_picture_of_a_step_is_drawn() -> None:
    sheet = planned(hand_made.double_gate())
    made = render(sheet, ["svg"])
    assert {f"-{step.picture}.svg" for step in sheet.steps if step.picture} <= set(made)


def test_a_twin_in_the_other_unit_is_inside_the_page() -> None:
    metric = hand_made.strip_card([100, 100], "V", [], 150, unit="mm")
    sheet, _ = plan(fold(hand_made.side_fold())[0], other=fold(metric)[0])
    html = render(sheet, ["html"])[".html"].decode()
    assert with_the_other(html).count("class=version") == 2


@pytest.mark.parametrize(
    ("wanted", "absent"),
    [
        ("json", ("jinja2", "typst", "markdown_it", "cardrecipe.render.drawings")),
        ("md", ("jinja2", "typst", "markdown_it", "cardrecipe.render.drawings")),
        ("pdf", ("jinja2", "markdown_it")),
        ("html", ("typst", "markdown_it")),
    ],
)
def test_heavy_modules_are_loaded_where_they_are_used(wanted: str, absent: tuple[str, ...]) -> None:
    """A maker's text without markup needs no Markdown parser either."""
    script = f"""
import sys
from cardrecipe.fold.card import fold
from cardrecipe.plan.card import plan
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
from tests.hand_made import side_fold
card = side_fold()._replace(about="Plain words.")
render(plan(fold(card)[0])[0], ["{wanted}"])
print(*(name for name in {absent!r} if name in sys.modules))
"""
    root = Path(__file__).parents[2]
    result = subprocess.run(
        [sys.executable, "-c", script], cwd=root, capture_output=True, text=True, check=True
    )
    assert result.stdout.strip() == ""


def test_the_pages_of_several_cards_say_for_how_many() -> None:
    sheet, _ = plan(fold(hand_made.double_gate())[0], copies=12)
    made = render(sheet, ["html", "md"])
    for text in (made[".html"].decode(), made[".md"].decode()):
        assert "What you need, for 12 cards" in text and "Cut list, for 12 cards" in text
        assert "Cut for all 12 cards at once; the other steps make one card." in text
        assert "24 (2 a card)" in text


def test_the_finished_card_is_shown_open_and_closed() -> None:
    html = render(planned(hand_made.double_gate()), ["html"])[".html"].decode()
    finished = html[html.index("The finished card") :]
    for name in ("closed-front", "open-inside", "open-outside"):
        assert f"data-picture={name}><svg" in finished
    # Nothing but the band is on the back of the closed card.
    assert "data-picture=closed-back" not in finished
