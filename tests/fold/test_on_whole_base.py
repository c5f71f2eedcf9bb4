"""A piece on a base as a whole moves with the section that it lies on."""

import pytest

from cardrecipe.fold.closed import FlatFold, closed_pose, flat_fold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.geometry import bounding_box
from cardrecipe.fold.placing import Placed, placed_pieces
from cardrecipe.fold.sheets import layout
from cardrecipe.plan.envelopes import closed_size
from tests.recipes import HEAD, compile_text

BOOK = "side-fold, width 5, height 7"  # 10 x 7, its front at the left of the inside
LEAF = """panel leaf from ink on back
  size 2 x 4
  place 1 from left, 1/2 from top
  score 1 from left
  sections held, free
  glue held on back with tape
"""


def folded(pieces: str, fold: str = BOOK) -> FoldedCard:
    found = compile_text(f"{HEAD}base card from ink\n  fold {fold}\n{pieces}")
    assert found.folded is not None, found.diagnostics
    return found.folded


def note(place: str, rest: str = "", side: str = "", width: int = 3) -> str:
    where = f"  place {place} from left, 2 from top\n"
    return f"oval note from ink on card{side}\n  size {width} x 3\n{where}{rest}"


def flat(card: FoldedCard) -> FlatFold:
    found = flat_fold(card.card.bases[0], closed_pose(card.card))
    assert isinstance(found, FlatFold)
    return found


def placed(card: FoldedCard, name: str = "note") -> tuple[str, Placed]:
    (found,) = (each for each in placed_pieces(card.card, flat(card)) if each.piece.name == name)
    assert found.section is not None
    return flat(card).sections[found.section].name, found


@pytest.mark.parametrize(("side", "place", "section"), [
    ("", "1", "front"), ("", "6", "back"), ("", "2", "front"), ("", "5", "back"),
    # The outside is looked at with left and right swapped.
    (" outside", "1", "back"), (" outside", "6", "front"),
])  # fmt: skip
@pytest.mark.parametrize("rest", ["", "  loose\n"])
def test_it_counts_with_the_section_that_it_lies_on(side: str, place: str, section: str, rest: str) -> None:
    """So it stays within the closed card, and the card fits the envelope that it fits without it."""
    whole = folded(note(place, rest, side))
    found, where = placed(whole)
    assert found == section
    box = bounding_box(where.frame)
    left = int(place) if side == "" else 10 - int(place) - 3
    assert (box.left, box.right) == (left, left + 3)
    assert closed_size(whole) == (5, 7)


def test_what_lies_on_it_moves_with_it() -> None:
    on_it = "oval star from ink on note\n  size 1 x 1\n"
    assert placed(folded(note("1") + on_it), "star")[0] == "front"


def test_a_turned_one_lies_where_it_is_turned_to() -> None:
    """7 x 3 in the middle of the front reaches over the score; stood upright it does not."""
    across = "  loose\n", "", 7
    assert placed(folded(note("-1", *across)))[0] == "back"  # the one that stays on the table
    assert placed(folded(note("-1", "  turned 90\n" + across[0], *across[1:])))[0] == "front"


@pytest.mark.parametrize("only", ["front", "back"])
def test_across_a_fold_it_moves_with_what_its_glue_is_only_on(only: str) -> None:
    assert placed(folded(note("1", f"  glue with tape only on {only}\n", " outside", 8)))[0] == only


def test_across_folds_of_which_none_stays_on_the_table_it_moves_with_the_first() -> None:
    card = folded(note("1", "  loose\n", "", 5), "accordion, width 3, height 7, panels 4")
    assert flat(card).root not in (0, 1)
    assert placed(card)[1].section == 0


def test_beside_a_card_it_moves_with_the_section_that_stays_on_the_table() -> None:
    card = folded(note("11", "  loose\n"))
    assert placed(card)[1].section == flat(card).root


def test_beside_a_scored_panel_it_is_carried_by_the_section_too() -> None:
    """Where there are more sheets than the base their facets are numbered through."""
    for place, section in (("1", 0), ("7", 1)):
        card = folded(LEAF + note(place, "  loose\n"))
        laid = layout(card.card, flat(card), placed_pieces(card.card, flat(card)))
        assert laid.carriers["note", 0] == section
