"""What reaches beyond the thing that it lies on is told, except on a band."""

from tests.recipes import HEAD, codes_of

CARD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
BAND = f"{CARD}band sash from ink around card\n  width 1 1/2\n"


def test_a_piece_on_a_band_may_reach_beyond_it() -> None:
    assert codes_of(f"{BAND}panel plate from ink on sash\n  size 3 x 2\n") == []


def test_a_piece_on_a_section_that_it_is_too_wide_for_overhangs() -> None:
    wide = f"{CARD}panel plate from ink on front\n  size 5 x 2\n"
    assert "overhang" in codes_of(wide)
    assert "overhang" not in codes_of(f"{wide}  overhangs\n")
