"""Each caution once, at the first step that needs it, and none that calls a material harmless."""

import pytest

from cardrecipe.plan.cautions import CAUTIONS, GENERAL, with_cautions
from cardrecipe.plan.sheet import Step


def step(text: str, *picks_up: str) -> Step:
    return Step(0, "Do it", text, (), picks_up, "")


def shown(*steps: Step) -> list[int]:
    """How many cautions each step shows."""
    return [len(one.cautions) for one in with_cautions(steps)]


def test_once_at_the_first_step() -> None:
    assert shown(step("Score."), step("Cut.", "trimmer"), step("Cut.", "trimmer")) == [0, 1, 0]


@pytest.mark.parametrize(
    ("thing", "word"),
    [
        ("Craft knife", "blade"),
        ("hot glue", "burn"),
        ("heat tool", "burn"),
        ("alcohol markers", "window"),
        ("spray adhesive", "window"),
        ("embossing powder", "breathe"),
        ("two brads", "under 3"),
        ("gem “Moon”", "under 3"),
        ("small magnets", "swallowed"),
    ],
)
def test_the_hazard_is_named(thing: str, word: str) -> None:
    (found,) = with_cautions([step("Do it.", thing)])
    assert len(found.cautions) == 1 and word in found.cautions[0]


@pytest.mark.parametrize("text", ["Draw a wheat field.", "A magnetic mood.", "Powdered blue."])
def test_a_word_within_a_word_is_no_hazard(text: str) -> None:
    assert shown(step(text)) == [0]


def test_the_name_of_a_design_is_no_hazard() -> None:
    assert shown(step("Stamp it with “Gems”.", "stamp “Gems”"), step("", "other “brads”")) == [0, 1]


def test_no_caution_promises_safety() -> None:
    for text in (GENERAL, *(caution.text for caution in CAUTIONS)):
        assert "non-toxic" not in text and "harmless" not in text and "safe" not in text.split()
    assert "local rules" in GENERAL and "instructions that came with" in GENERAL
