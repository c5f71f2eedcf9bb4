"""A twist: four pleats round a square, each tucked under the next. No paper is in the way of any other, but
no part lies on top, so that nobody could be told to fold one after the other."""

import re

from cardrecipe.fold.layers import Circle, LayerOrder
from tests.recipes import HEAD, codes_of, diagnostics_of, words_of

PLEATS = """  score 9/2 from left, between 0 and 5/2
  score 11/2 from left, mountain, between 0 and 9/2
  score 7/2 from left, between 11/2 and 8
  score 5/2 from left, mountain, between 7/2 and 8
  score 9/2 from top, between 11/2 and 8
  score 11/2 from top, mountain, between 7/2 and 8
  score 7/2 from top, between 0 and 5/2
  score 5/2 from top, mountain, between 0 and 9/2
  score from (9/2, 5/2) to (11/2, 9/2)
  score from (11/2, 9/2) to (7/2, 11/2)
  score from (7/2, 11/2) to (5/2, 7/2)
  score from (5/2, 7/2) to (9/2, 5/2)
"""
TWIST = f"{HEAD}base twist from ink\n  flat 8 x 8\n{PLEATS}"


def test_a_base_whose_parts_lie_in_a_circle_is_refused_by_name() -> None:
    (found,) = diagnostics_of(TWIST)
    assert (found.code, words_of(TWIST, found)) == ("cannot-fold", "twist")
    named = re.findall(r"section-\d", found.message)
    assert len(set(named)) == len(named) >= 4
    assert "would lie in a circle, each over the next: twist cannot be folded" in found.message


def test_so_is_a_card_with_such_a_sheet_glued_on() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 18 x 9\n  score 9 from left\n  sections front, rest\n"
        f"panel twist from ink on rest\n  size 8 x 8\n{PLEATS}  glue section-5 on rest\n"
    ).replace("12 x 12", "20 x 20")
    (found,) = (each for each in diagnostics_of(text) if each.severity == "error")
    assert found.code == "cannot-fold"


def test_two_pleats_that_cross_are_folded_as_ever() -> None:
    pleats = "  score 3 from left\n  score 5 from left, mountain\n"
    assert codes_of(f"{HEAD}base twist from ink\n  flat 8 x 7\n{pleats}") == []


def test_a_circle_is_found_among_layers_that_have_a_height() -> None:
    """0 lies on all, 5 beneath all; 1, 2, 3 and 4 go round."""
    going_round = {(1, 2), (2, 3), (3, 4), (4, 1)}
    around = {(0, each) for each in range(1, 6)} | {(each, 5) for each in range(1, 5)}
    assert LayerOrder((), frozenset(going_round | around)).circle() == Circle((1, 2, 3, 4))
    assert LayerOrder((), frozenset(around | going_round - {(4, 1)})).circle() is None
    assert LayerOrder((), frozenset()).circle() is None
