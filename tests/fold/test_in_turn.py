"""The lines of `pose closed` are the order of folding: what it makes of the layers and of the steps, and
orders that cannot be folded."""

from fractions import Fraction
from itertools import permutations

import pytest

from cardrecipe.fold.closed import CannotFold, FlatFold, closed_base, flat_fold
from cardrecipe.fold.facets import Crease, Facet
from cardrecipe.fold.rules import layer_rules
from cardrecipe.solve.sized import Pose, SizedPiece
from tests.hand_made import SPAN, strip_base
from tests.recipes import HEAD, codes_of, compile_text, diagnostics_of, words_of

F = Fraction
Folds = list[tuple[int, ...]]


def folded(fold: str, *numbers: int) -> tuple[tuple[str, ...], Folds]:
    """The sections from the front to the back, and the scores of each step."""
    found = compile_text(_recipe(fold, *numbers)).folded
    assert found is not None
    (base,) = found.closed
    return base.front_to_back, [action.scores for action in base.moves]


def _recipe(fold: str, *numbers: int) -> str:
    lines = "".join(f"  fold {number} at 180\n" for number in numbers)
    return f"{HEAD}base card from ink\n  {fold}\n" + (f"pose closed\n{lines}" if numbers else "")


MATCHBOOK = "fold matchbook, width 3, height 4"
WRAP = "fold envelope-wrap, width 3, height 4"
ROLLED = "flat 11 x 4\n  score 5, 8 1/2 from left"


def test_the_strip_of_a_matchbook_is_folded_over_its_cover_or_under_it() -> None:
    assert folded(MATCHBOOK, 2, 1) == (("strip", "cover", "back"), [(2,), (1,)])
    assert folded(MATCHBOOK, 1, 2) == (("cover", "strip", "back"), [(1,), (2,)])


def test_a_wrap_closes_its_sides_then_the_bottom_and_the_top_last() -> None:
    layers, steps = folded(WRAP, 1, 2, 4, 3)
    assert layers == ("upper-flap", "lower-flap", "left-flap", "right-flap", "back")
    assert steps == [(1, 2), (4,), (3,)]


def test_any_order_of_the_flaps_of_a_wrap_is_the_order_from_back_to_front() -> None:
    names = {1: "left-flap", 2: "right-flap", 3: "upper-flap", 4: "lower-flap"}
    for numbers in permutations(names):
        found = compile_text(_recipe(WRAP, *numbers)).folded
        assert found is not None
        layers = found.closed[0].front_to_back
        for before, after in ((names[one], names[two]) for at, one in enumerate(numbers)
                              for two in numbers[at + 1 :]):  # fmt: skip
            if {before, after} != {"left-flap", "right-flap"}:  # these do not meet
                assert layers.index(after) < layers.index(before)


def test_the_order_of_one_base_says_nothing_of_another() -> None:
    """That of the rolled one would be refused, were its scores folded in the order of their numbers."""
    second = f"base second from ink\n  {MATCHBOOK}\n"
    order = "pose closed\n  fold 2 of second at 180\n  fold 1 of second at 180\n"
    found = compile_text(f"{_recipe(ROLLED)}{second}{order}").folded
    assert found is not None
    rolled, matchbook = found.closed
    assert [action.scores for action in rolled.moves] == folded(ROLLED)[1]
    assert [action.scores for action in matchbook.moves] == [(2,), (1,)]


def test_without_the_pose_nothing_is_said_of_the_order() -> None:
    assert folded(MATCHBOOK) == (("strip", "cover", "back"), [(2,), (1,)])


def test_what_each_turn_comes_to_lie_on_is_told_as_it_lies_then() -> None:
    found = compile_text(_recipe(WRAP, 1, 2, 4, 3)).folded
    assert found is not None
    *_, bottom, top = found.closed[0].moves
    assert (bottom.moves, set(bottom.onto)) == (("lower-flap",), {"back", "left-flap", "right-flap"})
    assert (top.moves, set(top.onto)) == (("upper-flap",), {"lower-flap", "back", "left-flap", "right-flap"})


def test_an_order_that_paper_is_in_the_way_of_is_refused_at_its_line() -> None:
    text = _recipe(ROLLED, 1, 2)
    (found,) = (each for each in diagnostics_of(text) if each.code == "fold-order")
    assert found.message == (
        "score 2 of card cannot be folded after score 1: section-3 would have to pass through section-1"
    )
    assert words_of(text, found).strip() == "fold 2 at 180"
    assert found.hint.endswith("write `fold 2 at 180` further up")
    assert [each.message for each in found.related] == ["score 1 (valley)", "score 2 (valley)"]
    assert "fold-order" not in codes_of(_recipe(ROLLED, 2, 1))


def test_folded_in_half_and_back_over_it_a_sheet_wraps_what_was_folded_first() -> None:
    """Valley over, then mountain: the last part lies on top of the first."""
    base = strip_base([4, 3, 2], "VM", ["back", "middle", "end"], 5)
    flat = flat_fold(base, _pose(1, 2))
    assert isinstance(flat, FlatFold)
    assert closed_base(flat).front_to_back == ("end", "middle", "back")


@pytest.mark.parametrize("directions", ["VV", "VM", "MV", "MM", "VVV", "VMV", "MVV", "MMV"])
@pytest.mark.parametrize("wide", [(4, 3, 2, 1), (2, 4, 1, 3), (1, 2, 3, 4), (3, 3, 3, 3)])
def test_whatever_can_be_folded_in_an_order_keeps_the_rules_of_layers(
    directions: str, wide: tuple[int, ...]
) -> None:
    """A law: no turn that is allowed lets paper pass through paper."""
    widths = wide[: len(directions) + 1]
    base = strip_base(list(widths), directions, [f"part-{at}" for at in range(len(widths))], 5)
    outcomes = [_keeps_the_rules(base, order) for order in permutations(range(1, len(directions) + 1))]
    assert all(each is not False for each in outcomes)


def test_the_law_has_orders_of_both_kinds() -> None:
    base = strip_base([4, 3, 2], "VV", ["back", "middle", "end"], 5)
    assert [_keeps_the_rules(base, order) for order in ((2, 1), (1, 2))] == [True, None]


def _keeps_the_rules(base: SizedPiece, order: tuple[int, ...]) -> bool | None:
    """None where the order cannot be folded."""
    flat = flat_fold(base, _pose(*order))
    if isinstance(flat, CannotFold):
        assert flat.jam is not None
        return None
    facets: tuple[Facet, ...] = flat.order.facets
    creases = tuple(
        Crease(joint.first, joint.second, flat.motions[joint.first].apply(joint.start),
               flat.motions[joint.first].apply(joint.end), joint.score.direction)
        for joint in flat.joints
    )  # fmt: skip
    rules = layer_rules(facets, creases)
    true = [flat.order.above(low, high) is wanted for low, high in rules.pairs for wanted in (True, False)]
    return all(sum(true[literal] for literal in rule.literals) % 2 == 0 for rule in rules.crossings)


def _pose(*numbers: int) -> Pose:
    return Pose("closed", tuple(("card", number, F(180)) for number in numbers), SPAN)


def test_the_pose_closed_of_a_structure_speaks_of_its_own_base_alone() -> None:
    wrap = "base {} from ink\n  fold envelope-wrap, width 3, height 4\n"
    inner = "base inner from ink\n  fold side-fold, width 2 7/8, height 3 7/8\n"
    found = compile_text(HEAD + wrap.format("one") + inner + wrap.format("two")).folded
    assert found is not None
    told = {base.base: [action.scores for action in base.moves] for base in found.closed}
    assert told == {"one": [(1, 2), (4,), (3,)], "inner": [(1,)], "two": [(1, 2), (4,), (3,)]}


def test_a_panel_that_no_line_names_folds_at_every_score() -> None:
    text = f"{HEAD}base card from ink\n  fold strip-pop-up, width 4, height 5\n"
    assert codes_of(f"{text}pose closed\n  fold 1 at 180\n") == codes_of(text)
