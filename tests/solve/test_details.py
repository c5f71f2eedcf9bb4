"""Windows, round corners, foam and work are more than nothing, and fit their piece."""

import pytest

from tests.recipes import HEAD, diagnostics_of, errors_told

CARD = f"{HEAD}base card from ink\n  flat 9 x 5\n  score 4 1/2 from left\n  sections front, back\n"
PLATE = f"{CARD}rectangle plate from ink on front\n  size 3 x 2\n  place 1 from top\n"


@pytest.mark.parametrize(
    ("line", "code", "message"),
    [
        ("corners round 1 1/16", "corners-too-round",
         "the corners of `plate` are rounded by 1 1⁄16 in, and it is only 2 in high"),
        ("corners round 0", "size-not-positive", "the radius of the corners of `plate` comes to 0 in"),
        ("corners round 1 - 2", "size-not-positive", "the radius of the corners of `plate` comes to -1 in"),
        ("glue with foam 0 thick", "size-not-positive", "the foam under `plate` comes to 0 in thick"),
        ("glue with foam 1/16 - 1/8 thick", "size-not-positive",
         "the foam under `plate` comes to -1⁄16 in thick"),
        ('emboss "E" on middle 3 1/16', "middle-too-long",
         "`plate` is only 3 in long, and its middle 3 1⁄16 in would be worked on"),
        ('emboss "E" on middle 0', "size-not-positive", "the middle here comes to 0 in"),
        ('add ribbon "R" 1 - 3 long', "size-not-positive", "the length here comes to -2 in"),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_or_glued_is_an_error(line: str, code: str, message: str) -> None:
    assert errors_told(f"{PLATE}  {line}\n") == [(code, line, message)]


@pytest.mark.parametrize(
    "line",
    [
        "corners round 1",
        "corners round 1/16",
        "glue with foam 1/16 thick",
        'emboss "E" on middle 3',
        'add ribbon "R" 8 long',
    ],
)
def test_what_just_fits_is_none(line: str) -> None:
    assert errors_told(f"{PLATE}  {line}\n") == []


def test_the_narrower_side_is_told() -> None:
    narrow = CARD + "rectangle plate from ink on front\n  size 2 x 3\n  corners round 1 1/2\n"
    [(_, _, message)] = errors_told(narrow)
    assert message.endswith("and it is only 2 in wide")
    (found,) = [each for each in diagnostics_of(narrow) if each.code == "corners-too-round"]
    assert found.hint == "round them by 1\u00a0in at the most"


def test_the_corners_of_the_card_are_looked_at_too() -> None:
    text = CARD.replace("  sections", "  corners round 2 9/16\n  sections")
    assert [code for code, _, _ in errors_told(text)] == ["corners-too-round"]
    assert errors_told(text.replace("2 9/16", "2 1/2")) == []


def test_corners_of_a_piece_without_a_size_are_not_judged() -> None:
    text = f"{CARD}rectangle plate from ink on front\n  corners round 9\n"
    codes = [code for code, _, _ in errors_told(text)]
    assert codes == ["unsolved"]


@pytest.mark.parametrize("weight", ["0 gsm", "0 lb cover"])
def test_a_paper_has_some_weight(weight: str) -> None:
    text = CARD.replace('"Ink" 12 x 12', f'"Ink" 12 x 12, {weight}')
    assert text != CARD
    assert errors_told(text) == [("size-not-positive", "0", "this must be more than nothing")]


@pytest.mark.parametrize(("size", "word"), [("1/32 x 5", "width"), ("9 x 1/17", "height")])
def test_a_card_is_no_narrower_than_a_mark_of_the_ruler(size: str, word: str) -> None:
    [(code, _, message)] = errors_told(f"{HEAD}base card from ink\n  flat {size}\n")
    assert code == "size-not-positive"
    assert message.startswith(f"the flat {word} of `card` comes to ")
    assert message.endswith("less than the ruler's 1⁄16 in")
    just = size.replace("1/32", "1/16").replace("1/17", "1/16")
    assert errors_told(f"{HEAD}base card from ink\n  flat {just}\n") == []
