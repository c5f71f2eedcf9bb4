"""Orders of layers: small folded things, and how they must lie or why they cannot.

A strip is written `2 V 4 V 2`: segments and, between them, V, M or - (not folded). Its first
segment stays put with its inside up, facets are called a, b, c, ..., and a stack reads from top to
bottom.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from fractions import Fraction

import pytest

from cardrecipe.fold.geometry import Motion
from cardrecipe.fold.layers import (
    CannotTell,
    Collision,
    Crease,
    Facet,
    LayerOrder,
    all_orders,
    collision_sentence,
    find_order,
)
from cardrecipe.fold.strips import fold_strip

LETTERS = "abcdefghijklmnopqrstuvwxyz"
# The first proof that the search meets here blames a crease that the collision can do without.
WIDE_PROOF = "2 M 4 V 5 M 5 M 4 V 5 M 2 V 2 V 2 V 2 V 4 V 5"


def strip(text: str) -> tuple[list[Facet], list[Crease]]:
    words = text.split()
    lengths = [Fraction(word) for word in words[::2]]
    return fold_strip(lengths, "".join(words[1::2]), names=LETTERS)


def relations(order: LayerOrder) -> str:
    """Give `b>a b>c`, sorted: each overlapping pair, upper first."""
    return " ".join(sorted(f"{LETTERS[upper]}>{LETTERS[lower]}" for upper, lower in order.higher))


def found(text: str, *, prefer_first_on_top: bool = True) -> LayerOrder:
    order = find_order(*strip(text), prefer_first_on_top=prefer_first_on_top)
    assert isinstance(order, LayerOrder)
    return order


def collided(facets: Sequence[Facet], creases: Sequence[Crease]) -> Collision:
    collision = find_order(facets, creases)
    assert isinstance(collision, Collision)
    return collision


def sheet(name: str, left: int, top: int, right: int, bottom: int, inside_up: bool) -> Facet:
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Facet(name, tuple((Fraction(x), Fraction(y)) for x, y in corners), inside_up)


def crease(first: int, second: int, line: str, fold: str, name: str = "") -> Crease:
    """Make a crease from `x,y x,y`."""
    ends = [tuple(map(Fraction, end.split(","))) for end in line.split()]
    (x, y), (other_x, other_y) = ends
    return Crease(first, second, (x, y), (other_x, other_y), fold, name)


@pytest.mark.parametrize(
    ("text", "orders"),
    [
        ("4", [""]),
        ("4 V 4", ["b>a"]),
        ("4 M 4", ["a>b"]),
        ("4 - 4", [""]),
        ("1 V 2 V 1", ["b>a b>c"]),
        ("2 V 4 V 2", ["b>a b>c"]),
        ("2 V 2 V 2", ["a>c b>a b>c", "b>a b>c c>a"]),
        ("2 V 2 M 2", ["b>a c>a c>b"]),
        ("3 V 3 V 2", ["a>c b>a b>c", "b>a b>c c>a"]),
        ("2 V 3 V 2", ["a>c b>a b>c", "b>a b>c c>a"]),
        ("2 V 2 - 2 V 2", ["b>a c>d"]),
        ("3 - 3 V 6", ["c>a c>b"]),
        ("3 - 3 V 3 - 3", ["c>b d>a"]),
    ],
)
def test_all_orders_of_a_strip(text: str, orders: list[str]) -> None:
    assert sorted(map(relations, all_orders(*strip(text)))) == orders


def test_overlapping_doors_lie_the_first_on_top_unless_asked_otherwise() -> None:
    assert relations(found("2 V 3 V 2")) == "a>c b>a b>c"
    assert relations(found("2 V 3 V 2", prefer_first_on_top=False)) == "b>a b>c c>a"


def test_above_and_stack() -> None:
    order = found("2 V 4 V 2")
    assert (order.above(1, 0), order.above(0, 1), order.above(0, 2)) == (True, False, None)
    assert order.stack([0, 1]) == (1, 0)
    assert order.stack_at((Fraction(1), Fraction(1, 2))) == (1, 0)
    assert order.stack_at((Fraction(-1), Fraction(1, 2))) == (1, 2)
    assert order.stack_at((Fraction(9), Fraction(1, 2))) == ()
    with pytest.raises(ValueError, match="a and c do not overlap"):
        order.stack([0, 2])


def test_stack_of_a_rolled_fold() -> None:
    orders = list(all_orders(*strip("9 V 8 V 7 V 6")))
    assert [order.stack(range(4)) for order in orders] == [(1, 3, 2, 0)]


@pytest.mark.parametrize(
    ("text", "sentence", "creases"),
    [
        ("2 V 1 V 2", "c would have to pass through a at score 1", (0, 1)),
        ("2 M 1 M 2", "c would have to pass through a at score 1", (0, 1)),
        ("9 V 9 M 9 V 3 V 9", "e would have to pass through c at score 3", (2, 3)),
        ("3 M 1 M 1 M 2", "a would have to pass through c at score 3", (0, 1, 2)),
        ("3 V 2 V 1 M 1 V 4", "e would have to pass through a at score 1", (0, 1, 2, 3)),
        ("5 M 3 M 3 M 2 M 1 V 4", "b would have to pass through d at score 1", (0, 1, 2, 3, 4)),
        ("1 V 3 V 1 V 3", "d would have to pass through b at score 2", (1, 2)),
    ],
)
def test_collision(text: str, sentence: str, creases: tuple[int, ...]) -> None:
    facets, scores = strip(text)
    collision = collided(facets, scores)
    assert (collision.creases, collision.is_least) == (creases, True)
    assert collision_sentence(collision, facets, scores) == sentence


@pytest.mark.parametrize(
    "text", ["2 V 1 V 2", "3 V 2 V 1 M 1 V 4", WIDE_PROOF, "9 V 4 V 4 V 4 V 9 V 2 V 9"]
)
def test_without_any_one_of_its_creases_a_collision_is_gone(text: str) -> None:
    facets, scores = strip(text)
    blamed = [scores[index] for index in collided(facets, scores).creases]
    for spared in blamed:
        rest = [score for score in blamed if score != spared]
        assert isinstance(find_order(facets, rest), LayerOrder)
    assert isinstance(find_order(facets, blamed), Collision)


def test_the_limit_is_counted_in_rounds() -> None:
    rolled = strip("1 V 1 V 1 V 1")
    assert find_order(*rolled, limit=1) == CannotTell(1)
    assert isinstance(find_order(*rolled, limit=2), LayerOrder)


def test_a_collision_that_the_limit_left_wide_says_so() -> None:
    wide, least = (find_order(*strip("1 V 3 V 1 V 3"), limit=limit) for limit in (0, 9))
    assert isinstance(wide, Collision)
    assert isinstance(least, Collision)
    assert (wide.is_least, least.is_least) == (False, True)


def test_the_searches_that_narrow_a_collision_share_one_limit() -> None:
    """Each of them alone would stay under 7 rounds; together they do not, and nobody claims the least."""
    text = "2 V 3 M 4 V 1 V 4 M 3 V 1"
    spent, enough = (find_order(*strip(text), limit=limit) for limit in (7, 99))
    assert isinstance(spent, Collision) and isinstance(enough, Collision)
    assert (spent.is_least, enough.is_least) == (False, True)


def test_transitivity_holds_only_where_three_share_an_area() -> None:
    # Three bars round a hole may lie each above the next, three sheets over one place may not.
    bars = [
        sheet("a", 0, 0, 9, 1, True),
        Facet(
            "b",
            (
                (Fraction(9), Fraction(0)),
                (Fraction(9), Fraction(2)),
                (Fraction(0), Fraction(9)),
                (Fraction(0), Fraction(8)),
            ),
            True,
        ),
        sheet("c", 0, 0, 1, 9, True),
    ]
    assert len(list(all_orders(bars, []))) == 8
    assert len(list(all_orders([sheet(name, 0, 0, 4, 4, True) for name in "abc"], []))) == 6


def test_four_loose_sheets_lie_in_every_order() -> None:
    sheets = [sheet(name, 0, 0, 4, 4, True) for name in "abcd"]
    stacks = {order.stack(range(4)) for order in all_orders(sheets, [])}
    assert len(stacks) == len(list(all_orders(sheets, []))) == 24


def test_a_layer_across_a_crease_lies_outside_the_fold() -> None:
    folded = [sheet("a", 0, 0, 4, 4, True), sheet("b", 0, 0, 4, 4, False)]
    across = sheet("c", 2, 1, 9, 3, True)
    inside = sheet("c", 1, 1, 3, 3, True)
    hinge = [crease(0, 1, "4,0 4,4", "valley")]
    assert [relations(each) for each in all_orders([*folded, across], hinge)] == [
        "a>c b>a b>c",
        "b>a c>a c>b",
    ]
    assert len(list(all_orders([*folded, inside], hinge))) == 3


def test_a_layer_that_ends_at_a_crease_may_lie_inside_the_fold() -> None:
    facets = [sheet("a", 0, 0, 4, 4, True), sheet("b", 0, 0, 4, 4, False)]
    facets.append(sheet("c", 1, 0, 4, 4, True))
    assert len(list(all_orders(facets, [crease(0, 1, "4,0 4,4", "valley")]))) == 3


def test_an_unfolded_score_does_not_let_a_fold_through() -> None:
    # c and d are one sheet with an unfolded score just where a and b are folded.
    facets = [sheet("a", 0, 0, 4, 4, True), sheet("b", 0, 0, 4, 4, False)]
    facets += [sheet("c", 0, 0, 4, 4, True), sheet("d", 4, 0, 8, 4, True)]
    creases = [crease(0, 1, "4,0 4,4", "valley"), crease(3, 2, "4,4 4,0", "flat")]
    assert [relations(each) for each in all_orders(facets, creases)] == [
        "a>c b>a b>c",
        "b>a c>a c>b",
    ]


def test_creases_that_meet_from_two_sides_do_not_care() -> None:
    facets = [sheet("a", 0, 0, 4, 4, True), sheet("b", 0, 0, 4, 4, False)]
    facets += [sheet("c", 4, 0, 8, 4, True), sheet("d", 4, 0, 8, 4, False)]
    creases = [crease(0, 1, "4,0 4,4", "valley"), crease(2, 3, "4,0 4,4", "mountain")]
    assert [relations(each) for each in all_orders(facets, creases)] == ["b>a c>d"]


def test_creases_on_one_line_nest_or_lie_apart() -> None:
    facets = [
        sheet(name, 0, 0, 4, 4, up)
        for name, up in zip("abcd", (True, False, True, False), strict=True)
    ]
    creases = [crease(0, 1, "4,0 4,4", "valley"), crease(2, 3, "4,4 4,1", "mountain")]
    stacks = {
        "".join(LETTERS[index] for index in order.stack(range(4)))
        for order in all_orders(facets, creases)
    }
    assert stacks == {"bacd", "cdba", "bcda", "cbad"}


def test_a_score_folded_two_ways_on_either_side_of_a_slit() -> None:
    facets = [sheet("left", 0, 0, 4, 4, True), sheet("right", 0, 0, 4, 4, False)]
    creases = [crease(0, 1, "4,0 4,2", "valley"), crease(0, 1, "4,2 4,4", "mountain", "score 1b")]
    collision = collided(facets, creases)
    assert collision.creases == (0, 1)
    assert (
        collision_sentence(collision, facets, creases)
        == "left would have to pass through right at score 1b"
    )


@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (crease(0, 1, "4,0 4,4", "flat"), "score 1 is flat"),
        (crease(0, 0, "4,0 4,4", "valley"), "two different facets"),
        (crease(0, 1, "3,0 3,4", "valley", "score 7"), "score 7 must lie on the edges"),
        (crease(0, 1, "4,0 4,5", "valley"), "must lie on the edges"),
        (crease(0, 1, "4,0 4,4", "bent"), "not 'bent'"),
        (crease(0, 2, "4,0 4,4", "mountain"), "its facets do not lie so"),
    ],
)
def test_creases_that_no_folding_can_have_made(fault: Crease, message: str) -> None:
    facets = [sheet("a", 0, 0, 4, 4, True), sheet("b", 0, 0, 4, 4, False)]
    facets.append(sheet("c", 0, 0, 4, 4, True))
    with pytest.raises(ValueError, match=message):
        find_order(facets, [fault])


def test_a_strip_needs_a_letter_for_each_score() -> None:
    with pytest.raises(ValueError, match="one letter"):
        fold_strip([1, 2], "VV")
    with pytest.raises(ValueError, match="one letter"):
        fold_strip([1, 2], "x")


@pytest.mark.parametrize("folds", ["VM" * 20, "V" * 40, "VVMM" * 10, "VMMVMVVMM" * 5])
def test_forty_equal_sections_are_decided(folds: str) -> None:
    order = find_order(*fold_strip([1] * 40, folds[:39]))
    assert isinstance(order, LayerOrder)
    assert len(order.stack(range(40))) == 40


def test_forty_narrowing_sections_roll_up() -> None:
    assert isinstance(find_order(*fold_strip(range(60, 20, -1), "V" * 39)), LayerOrder)


def test_a_large_collision_is_narrowed_to_the_place() -> None:
    facets, creases = fold_strip([*range(60, 22, -1), 70, 70], "V" * 39)
    collision = collided(facets, creases)
    assert collision.creases == (36, 37)
    assert collision.facets == (36, 37, 38)


def test_the_same_question_has_the_same_answer() -> None:
    assert found("3 V 3 V 3 M 3 V 3") == found("3 V 3 V 3 M 3 V 3")
    assert find_order(*strip("9 V 2 V 9 V 2 V 9")) == find_order(*strip("9 V 2 V 9 V 2 V 9"))


def test_slanted_strips_have_the_orders_of_upright_ones() -> None:
    # Upright rectangles are compared by their boxes, turned ones piece by piece: one answer.
    slant = Motion.reflection((0, 0), (3, 1)).after(Motion.reflection((1, 0), (2, 7)))
    chance = random.Random(7)
    for _ in range(150):
        lengths = [chance.randint(1, 4) for _ in range(chance.randint(2, 6))]
        facets, creases = fold_strip(lengths, "".join(chance.choice("VM-") for _ in lengths[1:]))
        turned = [facet._replace(outline=slant.move(facet.outline)) for facet in facets]
        slanted = [
            each._replace(start=slant.apply(each.start), end=slant.apply(each.end))
            for each in creases
        ]
        assert {order.higher for order in all_orders(turned, slanted)} == {
            order.higher for order in all_orders(facets, creases)
        }


def test_no_facets_have_one_empty_order() -> None:
    assert list(all_orders([], [])) == [LayerOrder((), frozenset())]
