"""A row of pieces with a mat: each of the row has one, and lies on its own."""

from tests.recipes import HEAD, sized

ROW = HEAD + """\
base card from ink
  flat 8 x 5
  score 4 from left
square dot from ink on section-2 outside
  size 1/2 x 1/2
  repeat 3 across, gap 1/2
panel mat from ink under dot
  border 1/16
panel lowest from ink under mat
  border 1/16
circle eye from ink on dot
  diameter 1/4
"""


def places(text: str, name: str) -> list[str]:
    found = sized(text).piece(name).placements
    return [f"{each.host_piece} {each.host_copy}: {each.x}, {each.y}" for each in found]


def test_each_piece_of_a_row_lies_on_a_mat_of_its_own() -> None:
    assert places(ROW, "lowest") == ["card 0: 5/8, 17/8", "card 0: 13/8, 17/8", "card 0: 21/8, 17/8"]
    for name, host in (("mat", "lowest"), ("dot", "mat")):
        assert places(ROW, name) == [f"{host} {copy}: 1/16, 1/16" for copy in range(3)]
    assert places(ROW, "eye") == [f"dot {copy}: 1/8, 1/8" for copy in range(3)]


def test_the_row_stands_where_it_stands_without_mats() -> None:
    bare = ROW[: ROW.index("panel mat")]
    dots = [each.split(": ")[1] for each in places(bare, "dot")]
    assert dots == ["3/4, 9/4", "7/4, 9/4", "11/4, 9/4"]  # an eighth in from the edges of the lowest mats


def test_what_is_cut_is_as_many_as_the_row() -> None:
    card = sized(ROW)
    assert [card.piece(name).count for name in ("lowest", "mat", "dot", "eye")] == [3, 3, 3, 3]
