"""Lines that do not run right across, and windows, lie on their piece."""

import pytest

from tests.recipes import HEAD, diagnostics_of, errors_told, words_of

CARD = f"{HEAD}base card from ink\n  flat 9 x 5\n"
OFF, SIZE = "score-off-sheet", "9 × 5 in"


def told(lines: str) -> list[tuple[str, str, str]]:
    return errors_told(CARD + "".join(f"  {line}\n" for line in lines.split("\n")))


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("cut 5 from top, between 1 and 3",
         "this cut would lie at 5 in from the top of `card`, which must be between 0 and 5 in"),
        ("cut 0 from top, between 1 and 3",
         "this cut would lie at 0 in from the top of `card`, which must be between 0 and 5 in"),
        ("score 10 from left, between 0 and 5",
         "this score would lie at 10 in from the left of `card`, which must be between 0 and 9 in"),
        ("score 2 from left, between 0 and 5 1/16",
         f"this score would run to 5 1⁄16 in, beyond the edge of `card`, {SIZE}"),
        ("score 2 from top, between 0 and 9 1/16",
         f"this score would run to 9 1⁄16 in, beyond the edge of `card`, {SIZE}"),
        ("cut 2 from left, between 0 - 1 and 2",
         f"this cut would run to -1 in, beyond the edge of `card`, {SIZE}"),
        ("score from (0, 0) to (9 1/16, 5)",
         f"this score would run to (9 1⁄16 in, 5 in), beyond the edge of `card`, {SIZE}"),
        ("cut from (3, 0 - 1) to (4, 2)",
         f"this cut would run to (3 in, -1 in), beyond the edge of `card`, {SIZE}"),
        ("cut from (0, 1) to (0, 3)", "this cut would lie along an edge of `card`"),
        ("cut from (1, 5) to (3, 5)", "this cut would lie along an edge of `card`"),
    ],
)  # fmt: skip
def test_a_line_beyond_its_piece_or_along_its_edge_is_an_error(line: str, message: str) -> None:
    assert told(line) == [(OFF, line, message)]


@pytest.mark.parametrize("line", ["cut 2 from left, between 1 and 1", "cut from (2, 2) to (2, 2)"])
def test_a_line_that_goes_nowhere_is_an_error(line: str) -> None:
    assert told(line) == [("size-not-positive", line, "this cut of `card` begins and ends in one place")]


def test_a_row_of_lines_is_one_mistake() -> None:
    line = "cut 1, 2, 3 from left, between 1 and 6"
    assert [code for code, _, _ in told(line)] == [OFF]


@pytest.mark.parametrize(
    "line",
    [
        "cut 1/16 from top, between 0 and 3",
        "cut 4 15/16 from top, between 9 and 3",
        "score 2 from left, between 0 and 5",
        "score from (0, 0) to (9, 5)",
        "cut from (9, 5) to (7, 3)",
    ],
)
def test_a_line_may_reach_the_edges(line: str) -> None:
    assert told(line) == []


@pytest.mark.parametrize("place", ["(9, 1)", "(1, 5)", "(0 - 2, 1)", "(1, 0 - 1)", "(20, 20)"])
def test_a_window_beside_its_piece_is_an_error(place: str) -> None:
    line = f"window 2 x 1 at {place}"
    assert told(line) == [
        ("window-off-sheet", line, f"this window would lie beyond the edge of `card`, {SIZE}")
    ]


@pytest.mark.parametrize("place", ["(7, 4)", "(8, 4 1/2)", "(0 - 1, 0 - 1/2)", "(0, 0)"])
def test_a_window_may_cut_into_an_edge(place: str) -> None:
    assert told(f"window 2 x 1 at {place}") == []


def test_a_fold_of_the_recipes_own_is_looked_at_with_its_sizes() -> None:
    fold = "\nstructure flap\n  ask width, height, long = height / 2\n  flat 2 * width x height\n" \
           "  score width from left\n  cut 1 from left, between 0 and long\n"  # fmt: skip
    head = f"{HEAD}base card from ink\n  fold flap, width 4, height 5"
    assert [each.code for each in diagnostics_of(f"{head}{fold}") if each.severity == "error"] == []
    text = f"{head}, long 6{fold}"
    (found,) = [each for each in diagnostics_of(text) if each.severity == "error"]
    assert (found.code, words_of(text, found)) == (OFF, "cut 1 from left, between 0 and long")
