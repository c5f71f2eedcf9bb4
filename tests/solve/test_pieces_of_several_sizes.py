"""What speaks of a piece that comes out in several sizes, and a mat under a band before the card folds."""

from tests.recipes import HEAD, cut, sized

TWO_SIZES = HEAD + """\
base card from ink
  flat 8 x 4
  score 3 from left
panel mat from ink on section-1, section-2
"""


def test_an_own_step_stands_before_the_first_and_after_the_last_of_them() -> None:
    card = sized(TWO_SIZES + 'step before mat "Wash your hands"\nstep after mat "Let it dry"\n')
    assert [each.piece for each in card.extra_steps] == ["mat-on-section-1", "mat-on-section-2"]
    assert {piece.name for piece in card.pieces} == {"card", "mat-on-section-1", "mat-on-section-2"}


def test_a_mat_with_a_size_of_its_own_may_lie_under_a_band() -> None:
    text = HEAD + """\
base card from ink
  flat 8 x 4
  score 2, 6 from left
band sash from ink around card
  width 3/4
panel mat from ink under sash
  size 3 x 7/8
  overhangs
"""
    assert cut(text, "mat") == "3 x 7/8"
