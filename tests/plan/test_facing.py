"""How the card has to lie before something is put on its outside."""

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.plan.facing import facing
from tests.recipes import compile_text

HEAD = 'recipe "Facing"\n  border 1/8\npaper ink is cardstock "Ink" 12 x 12\nbase card from ink\n'


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("fold tent, width 5, height 4|front outside",
         "Close the card and lay it front up, the fold at the top."),
        ("fold side-fold, width 4, height 5|front outside",
         "Close the card and lay it front up, the fold at the left."),
        ("fold side-fold, width 4, height 5|back outside",
         "Close the card and lay it front down, the fold at the right."),
        ("fold gate, width 4, height 5|left-door outside, right-door outside",
         "Close the card and lay it front up."),
        ("fold gate, width 4, height 5|back", ""),
        ("fold z-fold, width 3, height 4|middle outside", "Lay the card open, its outside up."),
    ],
)  # fmt: skip
def test_a_piece_on_the_outside_says_how_the_card_lies(lines: str, expected: str) -> None:
    base, _, host = lines.partition("|")
    folded = compile_text(f"{HEAD}  {base}\npanel paper from ink on {host}\n").folded
    assert folded is not None
    assert facing(fold(folded.card)[0], folded.card.piece("paper")) == expected
