"""A flat base folds shut: its size, its layers, the faces that show, and the way there by hand."""

import random
from fractions import Fraction
from itertools import product

import pytest

from cardrecipe.fold.closed import CannotFold, FlatFold, closed_base, closed_pose, flat_fold
from cardrecipe.fold.folded import ClosedBase
from cardrecipe.fold.geometry import signed_area
from cardrecipe.fold.layers import Crease, LayerOrder, all_orders, find_order
from cardrecipe.fold.refusals import cannot_fold
from cardrecipe.fold.strips import fold_strip
from cardrecipe.solve.sized import Pose, SizedCard, SizedPiece, SizedScore, SizedSection
from tests.hand_made import (
    SPAN,
    accordion,
    card_of,
    double_gate,
    gate,
    rolled_trifold,
    side_fold,
    strip_base,
    strip_card,
    tent,
    z_fold,
)

F = Fraction


def closed(card: SizedCard) -> ClosedBase:
    flat = flat_fold(card.bases[0], closed_pose(card))
    assert isinstance(flat, FlatFold)
    return closed_base(flat)


def shows(base: ClosedBase, view: str) -> list[tuple[str, str]]:
    return [(section, side) for name, section, side, _ in base.visible if name == view]


def test_a_double_gate_closes_to_a_quarter_sheet() -> None:
    """Common practice, no published source: 11 x 5 1/2 scored at 1 1/4 and 3 3/8 from both ends."""
    base = closed(double_gate())
    assert (base.width, base.height, base.root) == (F(17, 4), F(11, 2), "back")
    assert base.front_to_back == ("left-flap", "right-flap", "left-door", "right-door", "back")
    assert shows(base, "closed-front") == [
        ("left-flap", "inside"),
        ("right-flap", "inside"),
        ("left-door", "outside"),
        ("right-door", "outside"),
    ]
    assert shows(base, "closed-back") == [("back", "outside")]


def test_the_flaps_of_a_double_gate_fold_first_and_both_at_once() -> None:
    first, second = closed(double_gate()).moves
    assert (first.scores, first.direction) == ((1, 4), "mountain")
    assert (first.moves, first.onto) == (("left-flap", "right-flap"), ("left-door", "right-door"))
    assert first.angles == tuple((number, F(angle)) for number, angle in ((1, 180), (2, 0), (3, 0), (4, 180)))
    assert (second.scores, second.direction) == ((2, 3), "valley")
    assert second.moves == ("left-flap", "right-flap", "left-door", "right-door")
    assert second.onto == ("back",)
    assert {angle for _, angle in second.angles} == {180}


def test_equal_doors_of_a_gate_close_without_overlap_or_gap() -> None:
    base = closed(strip_card([1, 2, 1], "VV", ["left-door", "back", "right-door"]))
    rows = {row[1]: row[3] for row in base.visible if row[0] == "closed-front"}
    left, right = (((F(low), F(0)), (F(low + 1), F(0)), (F(low + 1), F(5)), (F(low), F(5))) for low in (0, 1))
    assert rows == {"left-door": (left,), "right-door": (right,)}
    assert base.width == 2


def test_a_letter_fold_rolls_the_right_part_in_first() -> None:
    base = closed(rolled_trifold())
    assert base.root == "middle"
    assert base.front_to_back == ("left", "right", "middle")
    assert [move.moves for move in base.moves] == [("right",), ("left",)]
    assert base.moves[1].onto == ("right", "middle")
    assert shows(base, "closed-front") == [("left", "outside")]


def test_doors_that_overlap_fold_one_after_the_other_the_lower_first() -> None:
    base = closed(strip_card([4, 6, 4], "VV", ["left", "back", "right"]))
    assert [move.scores for move in base.moves] == [(2,), (1,)]
    assert base.front_to_back == ("left", "right", "back")


def test_where_the_usual_order_is_blocked_the_other_is_folded() -> None:
    """The right part reaches beyond the left fold, so it can only lie on top."""
    base = closed(strip_card([4, 6, 7], "VV", ["left", "back", "right"]))
    assert base.front_to_back == ("right", "left", "back")
    assert [move.scores for move in base.moves] == [(1,), (2,)]


def test_what_a_score_closes_over_is_folded_before_it() -> None:
    """Outermost first would lay the end across the second score: it goes last, round the rest."""
    base = closed(strip_card([3, 2, 2, 3], "MMV"))
    assert [move.scores for move in base.moves] == [(2,), (3,), (1,)]


@pytest.mark.parametrize(
    ("card", "root", "size"),
    [
        (side_fold(), "back", (F(17, 4), F(11, 2))),
        (tent(), "back", (F(11, 2), F(17, 4))),
        (gate(), "back", (5, 7)),
        (z_fold(), "right", (4, 6)),
        (accordion(6), "section-6", (3, 5)),
        (strip_card([2, 3, 2], "VV"), "section-2", (3, 5)),
        (card_of(strip_base([4], "", ["sheet"])), "sheet", (4, 5)),
    ],
)
def test_root_and_closed_size(card: SizedCard, root: str, size: tuple[Fraction, Fraction]) -> None:
    base = closed(card)
    assert (base.root, (base.width, base.height)) == (root, size)


@pytest.mark.parametrize(("card", "front"), [(side_fold(), "front"), (tent(), "front")])
def test_the_cover_of_a_simple_fold_shows_its_outside(card: SizedCard, front: str) -> None:
    base = closed(card)
    assert shows(base, "closed-front") == [(front, "outside")]
    assert shows(base, "closed-back") == [("back", "outside")]
    assert [move.onto for move in base.moves] == [("back",)]


def test_an_accordion_lies_in_its_own_order_and_folds_from_its_end() -> None:
    base = closed(accordion(5))
    assert base.front_to_back == tuple(f"section-{number}" for number in (1, 2, 3, 4, 5))
    assert [move.scores for move in base.moves] == [(1,), (2,), (3,), (4,)]
    assert [move.onto for move in base.moves] == [(f"section-{n}",) for n in (2, 3, 4, 5)]


# standards.md, section 6: closed width, and the strings that fold. Computed there by brute force.
UNEQUAL = [
    ([1, 2, 1], 2, {"VV", "VM", "MV", "MM"}),
    ([2, 1, 2], 3, {"MV", "VM"}),
    ([3, 1, 3], 5, {"MV", "VM"}),
    ([3, 3, 2], 3, {"VV", "VM", "MV", "MM"}),
    ([1, 3, 1, 3], 5, {"MMV", "MVM", "VMV", "VVM"}),
    ([3, 1, 2, 3], 4, {"MVM", "MVV", "VMM", "VMV"}),
    ([4, 4, 4, 2, 2], 4, {"".join(letters) for letters in product("MV", repeat=4)}),
]


@pytest.mark.parametrize(("lengths", "width", "folding"), UNEQUAL)
def test_unequal_strips(lengths: list[int], width: int, folding: set[str]) -> None:
    folded = {
        letters: flat_fold(strip_base(lengths, letters))
        for letters in map("".join, product("MV", repeat=len(lengths) - 1))
    }
    assert {letters for letters, flat in folded.items() if isinstance(flat, FlatFold)} == folding
    assert {flat.width for flat in folded.values() if isinstance(flat, FlatFold)} == {width}


def random_strips(count: int, seed: int) -> list[tuple[list[int], str]]:
    """Strips of up to six sections, a few units long each."""
    chance = random.Random(seed)
    sizes = [chance.randint(2, 6) for _ in range(count)]
    return [
        ([chance.randint(1, 4) for _ in range(size)], "".join(chance.choices("VM", k=size - 1)))
        for size in sizes
    ]


def test_what_shows_adds_up_to_the_closed_outline() -> None:
    for lengths, letters in random_strips(200, 11):
        flat = flat_fold(strip_base(lengths, letters))
        if isinstance(flat, CannotFold):
            continue
        for view in ("closed-front", "closed-back"):
            areas = [row[3] for row in closed_base(flat).visible if row[0] == view]
            total = sum(abs(signed_area(ring)) for rings in areas for ring in rings)
            assert total == flat.width * flat.height, (lengths, letters, view)


def test_the_order_by_hand_is_one_that_the_layer_engine_allows() -> None:
    """Folding outermost first and searching the rules are two ways to the same thing."""
    for lengths, letters in random_strips(150, 12):
        flat = flat_fold(strip_base(lengths, letters))
        facets, creases = fold_strip(lengths, letters)
        assert isinstance(find_order(facets, creases), LayerOrder) == isinstance(flat, FlatFold)
        if isinstance(flat, FlatFold):
            orders = {order.higher for order in all_orders(flat.order.facets, _creases(flat))}
            assert flat.order.higher in orders, (lengths, letters)


def test_every_score_is_folded_once_and_stays_folded() -> None:
    for lengths, letters in random_strips(150, 13):
        flat = flat_fold(strip_base(lengths, letters))
        if isinstance(flat, FlatFold):
            done: set[int] = set()
            for move in flat.actions:
                assert not done & set(move.scores)
                done |= set(move.scores)
                assert {number for number, angle in move.angles if angle == 180} == done
            assert done == set(range(1, len(lengths)))


def test_the_recipes_own_closed_pose_leaves_the_other_scores_flat() -> None:
    pose = Pose("closed", (("card", 1, F(180)), ("card", 2, F(60))), SPAN)
    base = closed(gate()._replace(poses=(pose,)))
    assert (base.width, base.height) == (F(15, 2), F(7))
    assert [move.scores for move in base.moves] == [(1,)]
    assert shows(base, "closed-front") == [
        ("left-door", "outside"),
        ("back", "inside"),
        ("right-door", "inside"),
    ]


def test_a_sheet_folded_in_four_closes_to_a_quarter() -> None:
    flat = flat_fold(cross_fold())
    assert isinstance(flat, FlatFold)
    assert (flat.width, flat.height) == (F(2), F(3))
    assert len(flat.order.higher) == 6  # four layers: every two overlap


def test_a_square_folded_on_its_diagonal_shows_half_of_itself() -> None:
    nil, side = F(0), F(4)
    low, high = (nil, side), (side, nil)
    halves = (((nil, nil), high, low), ((side, side), low, high))
    sections = tuple(
        SizedSection(name, nil, nil, side, side, ring)
        for name, ring in zip(("near", "far"), halves, strict=True)
    )
    score = SizedScore(1, "x", nil, "left", "valley", (F(-1), F(5)), (F(5), F(-1)), SPAN)
    base = strip_base([4], "", height=4)._replace(sections=sections, scores=(score,))
    flat = flat_fold(base)
    assert isinstance(flat, FlatFold)
    (joint,) = flat.joints
    assert (joint.start, joint.end) == (low, high)
    ((ring,),) = (row[3] for row in closed_base(flat).visible if row[0] == "closed-front")
    assert abs(signed_area(ring)) == 8


def test_a_piece_without_sections_is_one_section() -> None:
    base = closed(card_of(strip_base([4], "")._replace(sections=())))
    assert (base.root, base.front_to_back, base.moves) == ("card", ("card",), ())


def test_a_ring_of_sections_that_would_be_torn_is_refused() -> None:
    """A score half way across, beside a valley that goes all the way."""
    base = cross_fold()
    upper = base.scores[0]._replace(end=(F(2), F(3)))
    *sections, one, two = base.sections
    below = one._replace(width=F(4), outline=(*one.outline[:1], *two.outline[1:3], *one.outline[3:]))
    torn = base._replace(scores=(upper, base.scores[2]), sections=(*sections, below))
    why = flat_fold(torn)
    assert isinstance(why, CannotFold)
    assert why.torn is not None
    diagnostic = cannot_fold(card_of(torn), torn, why)
    assert diagnostic.code == "cannot-fold"
    assert diagnostic.message.startswith("card would be torn at score")


def cross_fold() -> SizedPiece:
    """A sheet of 4 x 6 with an upright score in two parts and a level one, all in the middle."""
    cells = [(F(x), F(y)) for y in (0, 3) for x in (0, 2)]
    sections = tuple(
        SizedSection(f"cell-{index + 1}", x, y, F(2), F(3), ((x, y), (x + 2, y), (x + 2, y + 3), (x, y + 3)))
        for index, (x, y) in enumerate(cells)
    )
    scores = (
        SizedScore(1, "x", F(2), "left", "valley", (F(2), F(0)), (F(2), F(3)), SPAN),
        SizedScore(2, "x", F(2), "left", "mountain", (F(2), F(3)), (F(2), F(6)), SPAN),
        SizedScore(3, "y", F(3), "top", "valley", (F(0), F(3)), (F(4), F(3)), SPAN),
    )
    return SizedPiece("card", "base", "ink", F(4), F(6), 1, SPAN, scores=scores, sections=sections)


def _creases(flat: FlatFold) -> list[Crease]:
    return [
        Crease(
            joint.first,
            joint.second,
            flat.motions[joint.first].apply(joint.start),
            flat.motions[joint.first].apply(joint.end),
            joint.score.direction,
        )
        for joint in flat.joints
    ]


@pytest.mark.parametrize("axis", ["x", "y"])
def test_without_a_back_the_largest_section_stays_on_the_table(axis: str) -> None:
    names = ["cover", "inside"]
    assert closed(strip_card([3, 4], "V", names, 5, axis=axis)).root == "inside"
    assert closed(strip_card([4, 3], "V", names, 5, axis=axis)).root == "cover"
    assert closed(strip_card([3, 4], "V", ["back", "inside"], 5, axis=axis)).root == "back"
