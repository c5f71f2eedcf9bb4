"""Templates of what has no room: numbers between crowded scores, joins among them, too large pieces."""

import pytest

from cardrecipe.fold.card import fold
from cardrecipe.plan.card import plan
from cardrecipe.render.papers import PAGES
from cardrecipe.render.true_scale.packing import Item, packed
from cardrecipe.render.true_scale.rooms import USUAL, rooms_on
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.render.true_scale.tiling import MOST_PARTS, tiling
from cardrecipe.render.true_scale.told import told_of_templates
from tests.recipes import HEAD, sized
from tests.render.true_scale import cards

LARGE = HEAD.replace("12 x 12", "100 x 70")


def pages_of(lines: str) -> list[dict[str, object]]:
    return templates(cards.sheet_of_templates(sized(LARGE + lines)), PAGES["letter"])


def test_a_number_that_has_no_room_between_its_scores_is_left_out() -> None:
    """A digit fits between scores 1/8 in apart and two digits do not; beside the last there is room again."""
    lines = "panel fan from ink\n  size 5 x 4\n  loose\n  score every 1/8, 38 times from left\n"
    (page,) = pages_of(lines)
    (item,) = page["items"]  # type: ignore[attr-defined]
    assert [word["text"] for word in item["words"]] == [*"123456789", "38"]


def test_a_piece_of_more_pages_than_anybody_joins_has_no_template() -> None:
    window = "  loose\n  window 2 x 2 at (1, 1)\n"
    assert len(pages_of(f"panel large from ink\n  size 20 x 10\n{window}")) == 4
    assert pages_of(f"panel huge from ink\n  size 60 x 45\n{window}") == []
    assert tiling((60 * 25.4, 45 * 25.4), (190.0, 240.0), []) is None and MOST_PARTS < 30


def test_a_join_that_cannot_keep_clear_of_lines_stays_in_the_middle() -> None:
    crowded = [((float(x), 0.0), (float(x), 100.0)) for x in range(0, 301, 4)]
    found = tiling((300.0, 100.0), (200.0, 240.0), crowded)
    assert found is not None and found.tiles[0].across == (150.0,)


def test_pieces_of_one_step_are_told_of_together() -> None:
    banner = "banner {} from ink\n  size {}\n  loose\n"
    card = sized(HEAD + banner.format("short", "2 x 3") + banner.format("long", "2 x 5"))
    steps = plan(fold(card)[0])[0].steps
    told = [new.text.removeprefix(old.text) for new, old in
            zip(told_of_templates(steps, card), steps, strict=True)]  # fmt: skip
    assert [each for each in told if each] == [
        " To trace them, the long and short stand at true size at the end of this sheet."
    ]


def test_what_no_page_holds_is_not_put_on_one() -> None:
    with pytest.raises(ValueError, match="no page holds this"):
        packed([Item(0, 1000.0, 10.0, 5.0)], rooms_on(PAGES["letter"], USUAL))
