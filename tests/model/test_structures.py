"""Structures: own and shipped, nested, several in one base, asked values left open, cycles."""

import pytest

from tests.recipes import HEAD, codes_of, cut, diagnostics_of, lines_of, scores, size, sized

OWN = """structure wrap
  ask width, height, lap = width / 8
  flat 2 * width + lap x height
  score width from left
  score 2 * width from left, mountain
  sections front, back, lip
"""
SHIPPED = [
    ("side-fold", "4, height 6", "8 x 6", "4 valley", ["front", "back"]),
    ("tent", "4, height 3", "4 x 6", "3 valley", ["front", "back"]),
    ("gate", "4, height 6", "8 x 6", "2 valley, 6 valley", ["left-door", "back", "right-door"]),
    ("double-gate", "4, height 6", "10 x 6", "1 mountain, 3 valley, 7 valley, 9 mountain",
     ["left-flap", "left-door", "back", "right-door", "right-flap"]),
    ("double-gate", "4, height 6, flap 1/2", "9 x 6", "1/2 mountain, 2 1/2 valley, 6 1/2 valley, 8 1/2 "
                                                      "mountain",
     ["left-flap", "left-door", "back", "right-door", "right-flap"]),
    ("z-fold", "3, height 6", "9 x 6", "3 mountain, 6 valley", ["front", "middle", "back"]),
    ("rolled-tri-fold", "3, height 6", "8 7/8 x 6", "3 valley, 6 valley", ["front", "back", "tuck"]),
    ("accordion", "2, height 6", "8 x 6", "2 valley, 4 mountain, 6 valley",
     ["section-1", "section-2", "section-3", "section-4"]),
    ("accordion", "2, height 6, panels 6", "12 x 6", "2 valley, 4 mountain, 6 valley, 8 mountain, 10 valley",
     [f"section-{at}" for at in range(1, 7)]),
]  # fmt: skip


@pytest.mark.parametrize(("fold", "arguments", "flat", "lines", "sections"), SHIPPED)
def test_the_shipped_folds(fold: str, arguments: str, flat: str, lines: str, sections: list[str]) -> None:
    text = f"{HEAD}base card from ink\n  fold {fold}, width {arguments}\n"
    assert (cut(text, "card"), scores(text)) == (flat, lines)
    assert [each.name for each in sized(text).piece("card").sections] == sections


def test_a_structure_of_ones_own_with_its_default() -> None:
    text = f"{HEAD}{OWN}base card from ink\n  fold wrap, width 4, height 5\n"
    assert (cut(text, "card"), scores(text)) == ("8 1/2 x 5", "4 valley, 8 mountain")
    assert cut(text.replace("height 5", "height 5, lap 1"), "card") == "9 x 5"


def test_a_structure_may_stand_below_its_use() -> None:
    assert cut(f"{HEAD}base card from ink\n  fold wrap, width 4, height 5\n{OWN}", "card") == "8 1/2 x 5"


def test_ones_own_structure_wins_over_a_shipped_one() -> None:
    text = f"{HEAD}{OWN.replace('wrap', 'gate')}base card from ink\n  fold gate, width 4, height 5\n"
    assert cut(text, "card") == "8 1/2 x 5"


def test_asked_sizes_have_names_and_may_be_open() -> None:
    text = (
        f"{HEAD}base card from ink\n  fold double-gate, width ?, height 6\n"
        "panel note from ink on back\n  size 3 3/4 x ?\n"
    )
    assert codes_of(text) == []
    assert [size(text, f"card.{name}") for name in ("width", "height", "flap")] == ["10", "6", "1"]


def test_a_structure_may_fold_another() -> None:
    text = (
        f"{HEAD}structure book\n  ask width, height, margin = 1/4\n"
        "  fold side-fold, width width + margin, height height\n"
        "base card from ink\n  fold book, width 4, height 5\n"
    )
    assert codes_of(text) == []
    assert (cut(text, "card"), scores(text)) == ("8 1/2 x 5", "4 1/4 valley")
    assert cut(text.replace("height 5", "height 5, margin 1"), "card") == "10 x 5"


def test_a_base_may_be_folded_by_several_structures() -> None:
    text = (
        f"{HEAD}structure pleat\n  ask at, deep = 1\n  score at from left\n"
        "  score at + deep from left, mountain\n"
        "base card from ink\n  flat 11 x 5\n  fold pleat, at 3\n  fold pleat, at 6, deep 1 1/2\n"
    )
    assert codes_of(text) == []
    assert scores(text) == "3 valley, 4 mountain, 6 valley, 7 1/2 mountain"


def test_a_panel_may_be_folded_by_a_structure() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 10 x 7\npanel booklet from ink on card\n"
        "  fold side-fold, width 3, height 4\npanel note from ink on front\n"
    )
    assert codes_of(text) == []
    assert (cut(text, "booklet"), cut(text, "note")) == ("6 x 4", "2 3/4 x 3 3/4")


@pytest.mark.parametrize("body", ["fold first, width width", "fold second, width width"])
def test_a_structure_that_includes_itself_is_one_mistake(body: str) -> None:
    text = (
        f"{HEAD}structure first\n  ask width\n  {body}\nstructure second\n  ask width\n"
        "  fold first, width width\n"
        "base card from ink\n  fold first, width 4\npanel note from ink on card\n"
    )
    (found,) = diagnostics_of(text)
    assert found.code == "structure-cycle"
    assert lines_of(text, found)[0].startswith("fold")


def test_structures_that_fold_many_each_come_to_an_end() -> None:
    """Each of sixteen structures folds the next three times: forty million lines, were there no limit."""
    links = "".join(
        f"structure s{at}\n  ask width\n" + f"  fold s{at + 1}, width width\n" * 3 for at in range(15)
    )
    text = (
        f"{HEAD}{links}structure s15\n  ask width\n  score width from left\nbase card from ink\n"
        "  fold s0, width 1\n"
    )
    assert "too-many-folds" in codes_of(text)


def test_an_argument_that_is_not_asked_for_is_the_only_mistake() -> None:
    text = f"{HEAD}base card from ink\n  fold side-fold, widt 4, height 5\npanel note from ink on back\n"
    (found,) = diagnostics_of(text)
    assert (found.code, found.hint) == ("unknown-name", "did you mean `width`?")


@pytest.mark.parametrize(("panels", "code"), [
    ("3 1/2", "not-a-count"), ("1", "not-a-count"), ("3 in", "not-a-number"),
    ("card.width", "unknown-name"), ("500", "not-a-count"),
])  # fmt: skip
def test_a_wrong_count_points_at_the_recipe_and_not_into_the_library(panels: str, code: str) -> None:
    text = f"{HEAD}base card from ink\n  fold accordion, width 2, height 5, panels {panels}\n"
    (found,) = diagnostics_of(text)
    assert (found.code, text[found.span.start : found.span.end]) == (code, panels)
