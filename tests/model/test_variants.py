"""Variants: the same recipe with the named changes, and nothing else changed."""

import pytest

from tests.recipes import HEAD, checked, codes_of, compile_text, cut, diagnostics_of, scores, sized

CARD = (
    HEAD.replace("border 1/8\n", 'border 1/8\n  makes 2\n  about "Plain."\n')
    + 'paper glow is patterned "Glow" 12 x 12\nlet gap = 1/4\n'
    + "base card from ink\n  fold double-gate, width 4, height 6\n"
    + "panel note from glow on back\n  border gap\noval plate from ink on note\n  size 2 x 3\n"
    + "circle star from ink on plate\n  diameter 1\nband sash from ink around card\n  width 1\n"
    + 'tip on star "Press."\nstep after star "Wait."\n'
)


def changed(*changes: str) -> str:
    return f'{CARD}variant "B"\n' + "".join(f"  {change}\n" for change in changes)


@pytest.mark.parametrize(("change", "piece", "before", "after"), [
    ("set plate.width 3", "plate", "2 x 3", "3 x 3"), ("set plate.height 2", "plate", "2 x 3", "2 x 2"),
    ("set star.diameter 1 1/2", "star", "1 x 1", "1 1/2 x 1 1/2"),
    ("set note.border 1/2", "note", "3 1/2 x 5 1/2", "3 x 5"),
    ("set gap 1/2", "note", "3 1/2 x 5 1/2", "3 x 5"), ("let gap = 1/2", "note", "3 1/2 x 5 1/2", "3 x 5"),
    ("set card.flap 1/2", "card", "10 x 6", "9 x 6"), ("set card.width 3", "card", "10 x 6", "7 1/2 x 6"),
    ("set star.turned 45", "star", "1 x 1", "1 x 1"),
])  # fmt: skip
def test_set(change: str, piece: str, before: str, after: str) -> None:
    text = changed(change)
    assert (cut(text, piece), cut(text, piece, "B")) == (before, after)


def test_set_of_a_band_and_of_the_head() -> None:
    text = changed("set sash.width 2", "set sash.overlap 1", "set border 3/8", "set makes 5", 'about "Warm."')
    plain, warm = sized(text), sized(text, variant="B")
    assert (plain.makes, warm.makes, plain.about, warm.about) == (2, 5, "Plain.", "Warm.")
    assert (warm.piece("sash").height, warm.border) == (2, 3 / 8)
    around = warm.piece("sash").around
    assert around is not None
    assert 1 <= around.overlap < 1 + 1 / 16


def test_drop_takes_the_tips_and_steps_of_a_piece_with_it() -> None:
    card = sized(changed("drop star"), variant="B")
    assert [piece.name for piece in card.pieces] == ["card", "note", "plate", "sash"]
    assert card.extra_steps == ()
    assert sized(CARD).piece("star").tips_on == ("Press.",)


def test_drop_of_a_host_is_told_where_it_is_missed() -> None:
    (found,) = diagnostics_of(changed("drop plate"), variant="B")
    assert (found.code, found.message) == ("unknown-name", "no section or piece is called `plate`")


def test_replace_changes_a_paper_whole() -> None:
    text = changed('replace glow with cardstock "Plaid" 11 x 17, one-way')
    paper = sized(text, variant="B").papers["glow"]
    assert (paper.title, paper.kind, paper.one_way, paper.sheets[0].width) == ("Plaid", "cardstock", True, 11)
    assert sized(text).papers["glow"].title == "Glow"


def test_further_pieces_papers_tips_and_steps() -> None:
    text = changed('paper moss is plain "Moss"', "panel mat from moss under "
                                                 "note", '  border 1/16', 'tip on mat "Now."',
                   'step before note "Wash."')  # fmt: skip
    card = sized(text, variant="B")
    assert (card.piece("mat").paper, card.piece("mat").tips_on) == ("moss", ("Now.",))
    assert [step.place for step in card.extra_steps] == ["after", "before"]
    assert [piece.name for piece in sized(text).pieces] == ["card", "note", "plate", "star", "sash"]


def test_the_plain_recipe_knows_nothing_of_its_variants() -> None:
    text = changed("set plate.width 3", "drop star", "set card.flap 1/2")
    assert sized(text)._replace(pieces=()) == sized(CARD)._replace(pieces=())
    assert scores(text) == scores(CARD)
    assert compile_text(text).variants == ("B",)


def test_one_variant_knows_nothing_of_another() -> None:
    text = changed("set plate.width 3") + 'variant "C"\n  set plate.height 1\n'
    assert [cut(text, "plate", each) for each in (None, "B", "C")] == ["2 x 3", "3 x 3", "2 x 1"]


def test_a_variant_whose_name_is_unknown_is_answered_with_the_nearest() -> None:
    with pytest.raises(ValueError, match="did you mean 'Harvest'"):
        compile_text(f'{CARD}variant "Harvest"\n', variant="Harvst")


def test_two_variants_of_one_title_are_a_mistake() -> None:
    text = changed("set plate.width 3") + 'variant "B"\n  set plate.height 1\n'
    assert [each.code for each in checked(text)] == ["doubled-name"]


def test_what_a_variant_uses_is_used_however_its_line_is_spaced() -> None:
    """`in coal,rust` names two inks, with a space after the comma or without."""
    text = HEAD + """\
supply coal is ink "Coal"
supply rust is ink "Rust"
base card from ink
  flat 8 x 4
variant "Stamped"
  panel message from ink on card
    stamp "Leaf" in coal,rust
"""
    assert codes_of(text) == codes_of(text.replace("coal,rust", "coal, rust")) == []
