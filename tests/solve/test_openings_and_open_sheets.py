"""Windows of nothing, and short lines on a sheet of which the size is wrong or open: one mistake each."""

import pytest

from tests.recipes import HEAD, checked, codes_of, diagnostics_of, words_of

CARD = f"{HEAD}base card from ink\n  flat 8 x 5\n  score 4 from left\n"


@pytest.mark.parametrize(("line", "said"), [
    ("window 0 x 1 at (1, 1)", "the width of this window in `card` comes to 0 in"),
    ("window 1 x 1 - 1 at (1, 1)", "the height of this window in `card` comes to 0 in"),
    ("window 1 x 1/2 - 1 at (1, 1)", "the height of this window in `card` comes to \u22121/2 in"),
])  # fmt: skip
def test_a_window_of_nothing_opens_nothing(line: str, said: str) -> None:
    (found,) = checked(f"{CARD}  {line}\n")
    assert (found.line, found.code, found.message) == (8, "size-not-positive", said)


def test_a_window_of_nothing_each_way_is_two_mistakes() -> None:
    text = f"{CARD}  window 0 x 0 at (1, 1)\n"
    assert [words_of(text, each) for each in diagnostics_of(text)] == ["window 0 x 0 at (1, 1)"] * 2


@pytest.mark.parametrize("line", [
    "window 1 x 1 at (9, 9)", "cut 6 from top, between 1 and 2", "score from (0, 9) to (9, 0)",
])  # fmt: skip
@pytest.mark.parametrize(("size", "code"), [
    ("? x 5", "unsolved"), ("8 x ?", "unsolved"), ("0 x 5", "size-not-positive"),
    ("8 x 2 - 3", "size-not-positive"),
])  # fmt: skip
def test_where_a_sheet_has_no_size_its_lines_are_not_said_to_lie_beside_it(
    size: str, code: str, line: str
) -> None:
    assert codes_of(f"{HEAD}base card from ink\n  flat {size}\n  {line}\n") == [code]
    beside = codes_of(f"{HEAD}base card from ink\n  flat 8 x 5\n  {line}\n")
    assert beside and code not in beside


def test_a_length_that_names_what_is_broken_is_not_judged() -> None:
    broken = "rectangle note from ink\n  sise 2 x 1\n"
    for line in ("window note.width x 1 at (1, 1)", "corners round note.width"):
        assert codes_of(f"{CARD}  {line}\n{broken}") == ["unknown-word"]
    assert codes_of(f"{CARD}rectangle plate from ink\n  size note.width x 2\n{broken}") == ["unknown-word"]


def test_a_fold_that_lacks_no_size_by_name_asks_for_another() -> None:
    text = f"{HEAD}structure half\n  ask width\n  flat 2 * width x ?\n  score width from left\n"
    (found,) = diagnostics_of(f"{text}base card from ink\n  fold half, width 4\n")
    assert (found.code, found.hint) == ("unsolved", "give another size of the fold")


def test_of_a_chain_of_open_sizes_the_first_is_named() -> None:
    text = f"{HEAD}rectangle host from ink\n  size ? x 3\n"
    follows = "panel inner from ink on host\npanel mat from ink under inner\n  border 1/16\n"
    own = "circle dot from ink on host\n"
    assert [words_of(text + follows, each) for each in diagnostics_of(text + follows)] == ["host"]
    assert [words_of(text + own, each) for each in diagnostics_of(text + own)] == ["host", "dot"]
