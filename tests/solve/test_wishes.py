"""Which of two defaults holds where both cannot: the border before even gaps, centring last."""

import pytest

from tests.recipes import HEAD, borders, codes_of, cut, in_other_unit, sized

GATE = (
    f"{HEAD}base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n"
    "  sections left-door, back, right-door\n"
)
PLAIN = f"{HEAD}base card from ink\n  flat 8 x 6\n  score 4 from left\n"
BELT = f"{PLAIN}band belt from ink around card\n  width 1\n"


@pytest.mark.parametrize(("size", "expected", "edges"), [
    ("4 x ?", "4 x 6 3/4", "1/2, 1/2, 1/8, 1/8"),
    ("? x 5", "4 3/4 x 5", "1/8, 1/8, 1, 1"),
])  # fmt: skip
def test_a_size_that_is_given_is_centred_and_the_other_keeps_the_border(
    size: str, expected: str, edges: str
) -> None:
    text = f"{GATE}panel a from ink on back\n  size {size}\n"
    assert (cut(text, "a"), borders(text, "a")) == (expected, edges)


def test_in_a_row_the_border_holds_and_the_gaps_take_what_is_left() -> None:
    text = f"{GATE}panel a from ink on back\n  size 1 x 2\n  repeat 3 across\n"
    places = [(place.x, place.border.left) for place in sized(text).piece("a").placements]
    assert [x * 8 for x, _ in places] == [1, 16, 31]
    assert cut(text, "a") == "1 x 2"


@pytest.mark.parametrize("base", ["card", "sheet"])
def test_the_closed_card_has_its_names_whatever_its_base_is_called(base: str) -> None:
    plain = PLAIN.replace("base card", f"base {base}")
    text = f"{plain}panel a from ink on section-2\n  size card.finished-width - 1 x 3\n"
    assert codes_of(text) == []
    assert cut(text, "a") == "3 x 3"


def test_sizes_that_wait_for_each_other_are_told_to_the_maker() -> None:
    """Neither can be read before the other is known; that is said once of each, and the rest goes on."""
    waiting = "".join(
        f"rectangle {one} from ink on section-1\n  size max({other}.width, 1) x 1\n"
        for one, other in (("a", "b"), ("b", "a"))
    )
    last = "rectangle c from ink on section-2\n  size max(card.width / 4, 1) x max(c.width / 2, 1)\n"
    assert codes_of(f"{PLAIN}{waiting}") == ["unsolved", "unsolved"]
    assert cut(f"{PLAIN}{last}", "c") == "2 x 1"


def test_what_lies_on_a_band_may_reach_beyond_it() -> None:
    seal = "circle seal from ink on belt\n  diameter 3\n"
    assert codes_of(f"{BELT}{seal}") == []
    leaf = "circle leaf from ink on section-2\n  diameter 5\n"
    assert "overhang" in codes_of(f"{PLAIN}{leaf}")


def test_what_lies_on_a_rounded_piece_is_rounded_with_it() -> None:
    """The host is cut a 32nd smaller than it is given, so its panel is as much smaller before it is cut."""
    text = f"{GATE}panel a from ink on back\n  size 3 1/32 x 4\npanel b from ink on a\n  border 1/64\n"
    assert (cut(text, "a"), cut(text, "b")) == ("3 x 4", "2 15/16 x 3 15/16")


def test_sections_that_only_nearly_make_a_third_are_each_rounded_for_themselves() -> None:
    """2 and 2 1/2 make no 4 9/16, though 51 and 64 mm are one mark short of its 116."""
    text = f"{HEAD}base card from ink\n  flat 9 1/16 x 6\n  score 2 from left\n  score 4 1/2 from left\n"
    widths = [section.width for section in in_other_unit(text).piece("card").sections]
    assert widths[0] == 51 and widths[2] == 116 and sum(widths) == 230
