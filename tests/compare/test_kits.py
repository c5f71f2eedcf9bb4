"""What to do with a kit that is cut for the old card: it follows from the blanks, and from nothing else."""

import pytest

from cardrecipe.compare.telling import told
from tests.compare.test_seeded_edits import CARD
from tests.compare.versions import difference

KITS = {
    "smaller both ways": ("size 3 x 2 1/4", "size 2 3/4 x 2", ("smaller", "plate")),
    "larger": ("size 3 x 2 1/4", "size 3 1/4 x 2 1/4", ("larger", "plate")),
    "wider and lower": ("size 3 x 2 1/4", "size 3 1/4 x 2", ("resized", "plate")),
    "another shape of the same size": ("oval plate", "rectangle plate", ("resized", "plate")),
    "fewer of them": (
        "left-door outside, right-door outside",
        "left-door outside",
        ("counted", "door-paper"),
    ),
    "another paper": ("oval plate from snow", "oval plate from ink", ("other paper", "plate")),
    "another title of the paper": ('"Glow"', '"Plaid"', ("other paper", "door-paper")),
    "round corners": ("height 6\n", "height 6\n  corners round 1/4\n", ("folded", "card")),
    "other work": ("glue with tape", "glue with liquid", None),
    "another place": ("1/4 from left", "1/2 from left", None),
    "a score in it": ("snow on back\n", "snow on back\n  score 1 from top\n", ("folded", "message")),
    "a die, which wants a margin": ("glue with tape", 'glue with tape\n  die "Cloud"', ("larger", "message")),
}


@pytest.mark.parametrize(("old", "new", "kit"), KITS.values(), ids=KITS)
def test_what_becomes_of_a_piece_that_is_cut(old: str, new: str, kit: tuple[str, str] | None) -> None:
    found = [(each.kind, each.what) for each in difference(CARD, CARD.replace(old, new, 1)).in_group("kits")]
    assert found == ([kit] if kit is not None else [])


def test_the_number_of_kits_is_that_of_the_old_card() -> None:
    many = CARD.replace("  border 1/8\n", "  border 1/8\n  makes 12\n", 1)
    parts = told(difference(many, many.replace("size 3 x 2 1/4", "size 2 3/4 x 2")))
    lines = {part.title: [each.line for each in part.lines] for part in parts}
    (line,) = lines["What is cut already, in each of the 12 kits"]
    assert line.startswith("trim: plate, 1 of 3 × 2\u202f1⁄4\u00a0in with the margin, was 1 of ")


def _what_is_cut(old: str, new: str) -> list[tuple[str, list[str]]]:
    parts = told(difference(old, new))
    return [(part.title, [each.line for each in part.lines]) for part in parts
            if part.title.startswith("What is cut")]  # fmt: skip


def test_more_cards_are_more_kits_and_fewer_leave_some_over() -> None:
    one = CARD.replace("  border 1/8\n", "  border 1/8\n  makes 1\n", 1)
    three = one.replace("makes 1", "makes 3")
    title = "What is cut already"
    assert _what_is_cut(one, three) == [(title, ["cut two more kits: now 3 cards in all, was 1 card"])]
    assert _what_is_cut(three, one) == [(title, ["two kits too many: now 1 card in all, was 3 cards"])]


def test_other_kits_and_more_of_them() -> None:
    two = CARD.replace("  border 1/8\n", "  border 1/8\n  makes 2\n", 1)
    three = two.replace("makes 2", "makes 3").replace("oval plate from snow", "oval plate from ink")
    ((title, lines),) = _what_is_cut(two, three)
    assert title == "What is cut already, in each of the 2 kits"
    assert lines[0].startswith("cut again from another paper: plate")
    assert lines[1:] == ["cut one more kit: now 3 cards in all, was 2 cards"]
