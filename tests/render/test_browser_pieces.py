"""Lighting a piece on a real sheet in a browser: its steps, its size, its sum, by mouse and by keyboard."""

import contextlib
import io
from collections.abc import Iterator

import pytest

from cardrecipe.cli import main
from tests.recipes import SAMPLES
from tests.render.chromium import Browser, chromium
from tests.render.sample_pages import NAMES, page_of


@pytest.fixture(scope="module")
def one() -> Iterator[Browser]:
    with chromium() as found:
        found.media(prefers_reduced_motion="reduce")
        yield found


@pytest.fixture
def browser(one: Browser) -> Browser:
    """The night market's page with nothing remembered."""
    one.open(page_of("night-market"))
    one.run("localStorage.clear()")
    one.open(page_of("night-market"))
    return one


BUTTON = ".version:not([hidden]) td button[data-piece='{}']"
LIT_STEPS = "[...document.querySelectorAll('.version:not([hidden]) li.lit')].map(step => step.dataset.step)"
LIT_SHAPES = "[...new Set([...document.querySelectorAll('svg .lit')].map(it => it.dataset.piece))].join()"
TOLD = "document.querySelector('.told').hidden ? '' : document.querySelector('.told').innerText"


def explained(size: str) -> list[str]:
    """What `cardrecipe explain` prints of a size, without the places."""
    with contextlib.redirect_stdout(io.StringIO()) as out:
        assert main(["explain", str(SAMPLES / "night-market.recipe"), size]) == 0
    return [line.strip().rpartition(", ")[0].replace("   (", " ") for line in out.getvalue().splitlines()]


def steps_with(browser: Browser, piece: str) -> list[str]:
    script = f"""[...document.querySelectorAll('.version:not([hidden]) [data-step]')]
        .filter(step => step.dataset.pieces.split(' ').includes('{piece}')).map(step => step.dataset.step)"""
    found: list[str] = browser.run(script)
    return found


def test_a_piece_of_the_cut_list_lights_its_steps_and_its_drawings(browser: Browser) -> None:
    browser.click(BUTTON.format("door-paper"))
    steps = steps_with(browser, "door-paper")
    assert len(steps) >= 2 and browser.run(LIT_STEPS) == steps
    assert browser.run(LIT_SHAPES) == "door-paper"
    pressed = "[...document.querySelectorAll('td [aria-pressed=true]')].map(it => it.innerText)"
    assert browser.run(pressed) == ["door paper"]
    told = browser.run(TOLD)
    assert told.startswith(("Door paper", "door paper"))
    assert "48 × 134 mm" in told.replace("\u00a0", " ")


@pytest.mark.parametrize("size", ["width", "height"])
def test_the_sum_is_that_of_the_command_explain(browser: Browser, size: str) -> None:
    browser.click(BUTTON.format("door-paper"))
    script = """[...document.querySelectorAll('.told li')].filter(it => !it.querySelector('a'))
        .map(it => it.innerText)"""
    told = [line.rpartition(", line ")[0] or line for line in browser.run(script)]
    expected = explained(f"door-paper.{size}")
    assert expected and [line for line in told if line in expected] == expected


def test_the_other_unit_system_has_its_own_sum(browser: Browser) -> None:
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    browser.click(BUTTON.format("door-paper"))
    told = browser.run(TOLD).replace("\u00a0", " ")
    assert "= 48 mm" in told and " in\n" not in told.partition("How its width")[2].partition("Steps")[0]


def test_a_piece_in_a_drawing_is_lit_by_a_click(browser: Browser) -> None:
    browser.click(".views .picture [data-piece='lantern-card']")
    assert browser.run(LIT_SHAPES) == "lantern-card"
    assert browser.run(LIT_STEPS) == steps_with(browser, "lantern-card")
    browser.click(".views .picture [data-piece='lantern-card']")
    assert (browser.run(LIT_SHAPES), browser.run(LIT_STEPS), browser.run(TOLD)) == ("", [], "")


def test_what_is_lit_carries_the_line_of_the_recipe(browser: Browser) -> None:
    """A preview beside an editor goes there; the page itself says which piece it is."""
    browser.run("document.addEventListener('cardrecipe:piece', ({ detail }) => { window.heard = detail; })")
    browser.click(BUTTON.format("plate"))
    text = (SAMPLES / "night-market.recipe").read_text("utf-8").splitlines()
    line = 1 + next(at for at, each in enumerate(text) if "plate from white" in each)
    assert browser.run("heard") == {"piece": "plate", "line": line}
    lines = "[...document.querySelectorAll('svg .lit')].map(it => it.dataset.line)"
    assert set(browser.run(lines)) == {str(line)}


def test_by_keyboard_alone(browser: Browser) -> None:
    """Enter lights and leads into what is told; Escape puts out and leads back."""
    browser.run(f"document.querySelector(\"{BUTTON.format('sash')}\").focus()")
    browser.press("Enter")
    assert browser.run("document.activeElement.id") == "told-name"
    assert browser.run(LIT_SHAPES) == "sash"
    browser.press("Tab")
    assert browser.run("document.activeElement.innerText") == "Close"
    browser.press("Escape")
    assert browser.run(LIT_SHAPES) == "" and browser.run(TOLD) == ""
    assert browser.run("document.activeElement.dataset.piece") == "sash"


def test_a_step_in_what_is_told_becomes_the_current_one(browser: Browser) -> None:
    browser.click(BUTTON.format("sash"))
    browser.run("[...document.querySelectorAll('.told a')].at(-1).click()")
    last = steps_with(browser, "sash")[-1]
    assert browser.run("document.querySelector('[aria-current]').dataset.step") == last
    assert browser.run(TOLD) == "" and browser.run(LIT_STEPS) != []


def test_switching_units_puts_out(browser: Browser) -> None:
    browser.click(BUTTON.format("sash"))
    browser.run("document.querySelector('.switch [data-unit=mm]').click()")
    assert browser.run(LIT_SHAPES) == "" and browser.run(TOLD) == ""


def test_what_is_told_covers_no_more_than_half_a_small_screen(one: Browser) -> None:
    one.open(page_of("night-market"), 390, 844)
    one.run(f"document.querySelector(\"{BUTTON.format('card')}\").click()")
    box = one.run("(({ top, bottom, width }) => [top, bottom, width])"
                  "(document.querySelector('.told').getBoundingClientRect())")  # fmt: skip
    assert box[0] >= 844 / 2 - 1 and box[1] <= 844 and box[2] <= 390
    assert one.run("document.documentElement.scrollWidth") <= 390


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_of_a_sample_can_be_lit(one: Browser, name: str) -> None:
    """In the cut list and in a drawing; each has a step, and its sums are there."""
    one.open(page_of(name))
    script = """[...document.querySelectorAll('.version:not([hidden]) td button')].map((button) => {
        button.click();
        const count = (query) => document.querySelectorAll(query).length;
        const found = [count('svg .lit'), count('li.lit'), count('.told h3')];
        button.click();
        return [button.dataset.piece, ...found];
    })"""
    found = one.run(script)
    assert found
    for piece, shapes, steps, headings in found:
        assert shapes >= 1, piece
        assert steps >= 1 and headings == 3, piece
