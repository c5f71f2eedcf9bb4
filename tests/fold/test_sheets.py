"""What a sheet is glued to when all sheets of a card are laid on one plane."""

from cardrecipe.fold.space import shut_card
from tests.hand_made import piece, placed, sheet, side_fold


def test_a_scored_panel_on_a_plain_one_keeps_by_one_part_to_what_that_is_glued_to() -> None:
    """The other part can be lifted like the flap of an envelope."""
    back = ("17/4", "11/2")
    plate = piece("plate", "panel", "white", (4, 5), placed("back", back, (4, 5)))
    spot = placed("plate", (4, 5), (2, 2), host_piece="plate", is_section=False)
    wing = sheet("wing", [1, 1], "V", ["flap", "rest"], 2, spot)
    found = shut_card(side_fold(plate, wing), "card")
    assert found is not None
    names = [section.name for section in found.sections]
    assert [(names[weld.facet], names[weld.host]) for weld in found.welds] == [("flap", "back")]
