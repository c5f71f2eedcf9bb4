"""The laws of the drawings on all samples in both units, all shipped structures and 300 cards made by
chance: about a minute of one core."""

import pytest

from cardrecipe.render.papers import Printing
from tests.render.drawings import everything, generated
from tests.render.drawings.laws import broken
from tests.render.drawings.printed import printed
from tests.render.drawings.true_sizes import untrue

GENERATED, BATCHES = 300, 10
PRINTINGS = (Printing("letter"), Printing("a4"), Printing("a4", in_grey=True))


def wrong(shown: everything.Shown) -> list[str]:
    return [*untrue(shown), *(each for drawing in shown.drawings.values() for each in broken(drawing))]


@pytest.mark.parametrize("name", everything.sample_names())
def test_the_laws_hold_on_every_sample(name: str) -> None:
    assert wrong(everything.sample(name)) == []


@pytest.mark.parametrize("name", everything.structure_names())
def test_the_laws_hold_on_every_structure(name: str) -> None:
    assert wrong(everything.structure(name)) == []


@pytest.mark.parametrize("batch", range(BATCHES))
def test_the_laws_hold_on_cards_made_by_chance(batch: int) -> None:
    found = {
        name: wrong(everything.compiled(result))
        for name, result in generated.cards(1000 * batch, GENERATED // BATCHES)
    }
    assert len(found) == GENERATED // BATCHES
    assert {name: each for name, each in found.items() if each} == {}


@pytest.mark.parametrize("printing", PRINTINGS)
@pytest.mark.parametrize("name", everything.sample_names())
def test_what_is_printed_can_be_read(name: str, printing: Printing) -> None:
    shown = list(printed(everything.sample(name), printing))
    assert shown
    assert [each for drawing, scale in shown for each in broken(drawing, scale)] == []
