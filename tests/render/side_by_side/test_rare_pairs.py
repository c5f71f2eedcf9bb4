"""The drawings of a diff where one of the two cards has no such base, or its third sheet is cut otherwise."""

from cardrecipe.compare.compare import compare
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.side_by_side.pairs import Changed, Pair, changed_pieces, layout_pairs, view_pairs
from tests.compare.versions import good
from tests.recipes import HEAD

CARD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
INSERT = (
    'paper white is cardstock "White" 12 x 12\n'
    "base insert from white\n  flat 7 x 4\n  score 3 1/2 from left\n  sections left-leaf, right-leaf\n"
)


def sheets(old: str, new: str) -> tuple[Sheet, Sheet, tuple[Changed, ...]]:
    before, after = good(old), good(new)
    return before.sheet, after.sheet, changed_pieces(compare(before, after).changes)


def sides(pair: Pair) -> tuple[bool, bool]:
    return pair.old is not None, pair.new is not None


def test_a_base_that_comes_in_is_drawn_on_one_side_alone() -> None:
    found = {pair.title: sides(pair) for pair in view_pairs(*sheets(CARD, CARD + INSERT))}
    of_insert = {title: drawn for title, drawn in found.items() if "insert" in title}
    assert len(of_insert) == 2 and set(of_insert.values()) == {(False, True)}
    assert {drawn for title, drawn in found.items() if title not in of_insert} == {(True, True)}
    back = {pair.title: sides(pair) for pair in view_pairs(*sheets(CARD + INSERT, CARD))}
    assert {drawn for title, drawn in back.items() if "insert" in title} == {(True, False)}


def test_of_several_sheets_the_one_that_is_cut_otherwise_is_drawn() -> None:
    """The first sheets hold the bases and are cut as before; only the last, of another paper, is not."""
    panel = "panel note from white on back\n  size {} x 3\n"
    before, after = (CARD + INSERT.split("base", maxsplit=1)[0] + panel.format(wide) for wide in ("2", "3"))
    old, new, pieces = sheets(before, after)
    assert [each.paper for each in new.cutting] == ["ink", "white"]
    (pair,) = layout_pairs(old, new, pieces)
    assert "White" in pair.title and sides(pair) == (True, True)
    assert pair.new is not None and pair.new.name == f"sheet-{new.cutting[-1].number}"
