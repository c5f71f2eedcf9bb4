"""A contradiction shows each statement of the conflict and no other: any one of them taken away solves it."""

import re

import pytest

from tests.recipes import HEAD, codes_of, diagnostics_of, lines_of

CASES = {
    "a size and both borders": (
        f"{HEAD}base card from ink\n  flat 10 x 7\npanel a from ink on card\n  size 4 x 5\n"
        "  border 1 left\n  border 2 right\n"
    ),
    "flat width and the closed width": (
        f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel a from ink on front\n"
        "  size 3 x 4\n  border 1/8\n"
    ),
    "three panels on three sections": (
        f"{HEAD}base card from ink\n  flat 11 x 5\n  score a from left\n  score b from right\n"
        "  sections p, q, r\n"
        "let a = q.width\nlet b = q.width\npanel one from ink on p\n  size 3 x 4\n  border 1/4\n"
        "panel two from ink on q\n  size 4 x 4\n  border 1/2\n"
    ),
    "a mat": (
        f"{HEAD}base card from ink\n  flat 10 x 7\npanel a from ink on card\n  size 4 x 5\n"
        "panel mat from ink under a\n"
        "  size 5 x 5 1/2\n  border 1/4\n"
    ),
    "a row": (
        f"{HEAD}base card from ink\n  flat 10 x 7\nrectangle a from ink on card\n  size 2 x 1\n"
        "  repeat 3 across, gap 1\n"
        "  border 1/4 left\n  border 1/4 right\n"
    ),
    "a square": f"{HEAD}base card from ink\n  flat 10 x 7\nsquare a from ink on card\n  size 4 x 3\n",
}  # fmt: skip
HEADERS = ("recipe", "paper", "base", "panel", "rectangle", "square", "let")


@pytest.mark.parametrize("text", CASES.values(), ids=CASES)
def test_any_line_of_a_contradiction_taken_away_solves_it(text: str) -> None:
    conflicts = [each for each in diagnostics_of(text) if each.code == "conflict"]
    assert conflicts
    for found in conflicts:
        for line in lines_of(text, found):
            if line.startswith(HEADERS):
                continue  # what follows from where a piece lies is no line to take away
            assert _without(line) != line
            rest = "\n".join(_without(each) if each.strip() == line else each for each in text.split("\n"))
            left = [each for each in diagnostics_of(rest) if each.code == "conflict"]
            assert found not in left
            assert len(left) < len(conflicts), (line, left)


def _without(line: str) -> str:
    """The line with what it says of sizes left open, or nothing."""
    if "score" in line:
        return re.sub(r"score \S+", "score ?", line)
    return line.partition(", gap")[0] if "gap" in line else ""


@pytest.mark.parametrize("text", CASES.values(), ids=CASES)
def test_lines_that_have_nothing_to_do_with_it_are_not_named(text: str) -> None:
    more = text + "rectangle other from ink\n  size 1 x 1\n  loose\nlet unrelated = 3\n"
    shown = [lines_of(more, each) for each in diagnostics_of(more) if each.code == "conflict"]
    assert shown
    assert not any("size 1 x 1" in lines or "let unrelated = 3" in lines for lines in shown)


def test_what_the_other_lines_make_of_it_is_said() -> None:
    text = f"{HEAD}base card from ink\n  flat 10 x 7\npanel a from ink on card\n  border 1/8\n  size 9 x ?\n"
    (found,) = diagnostics_of(text)
    assert found.message == "the width of a is 9\u00a0in here, but the other lines make it 9\u202f3⁄4\u00a0in"
    assert lines_of(text, found) == ["border 1/8", "flat 10 x 7", "panel a from ink on card", "size 9 x ?"]


def test_two_contradictions_are_two_diagnostics() -> None:
    text = CASES["a square"] + "square b from ink on card\n  size 1 x 2\n"
    assert codes_of(text) == ["conflict", "conflict"]


def test_statements_that_say_the_same_do_not_contradict_each_other() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 10 x 7\npanel a from ink on card\n  size 8 x 5\n  border 1\n"
        "square b from ink on card\n  size 2 x 2\n"
    )
    assert codes_of(text) == []
