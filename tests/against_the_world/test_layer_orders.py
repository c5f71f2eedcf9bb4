"""The layer engine against published counts and theorems of flat folding.

Sources stand beside the checks. OEIS is the On-Line Encyclopedia of Integer Sequences; "own count"
marks figures found by an exhaustive count of layer orders that was written apart from this engine.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise, product

import pytest

from cardrecipe.fold.layers import (
    CannotTell,
    Collision,
    Crease,
    Facet,
    LayerOrder,
    all_orders,
    find_order,
)
from cardrecipe.fold.strips import fold_strip

Folded = tuple[list[Facet], list[Crease]]
EXCHANGED = str.maketrans("VM", "MV")


def letters(count: int) -> Iterator[str]:
    """Give every mountain/valley string of a length."""
    return map("".join, product("MV", repeat=count))


def count_orders(folded: Folded) -> int:
    return sum(1 for _ in all_orders(*folded))


# Strips of equal stamps


def stamp_stacks(stamps: int) -> set[tuple[int, ...]]:
    """Give the stacks, top to bottom, of a strip of stamps whose first one is held face up."""
    return {
        order.stack(range(stamps))
        for folds in letters(stamps - 1)
        for order in all_orders(*fold_strip([1] * stamps, folds))
    }


# OEIS A000136, A001011 and the numbers with the first stamp on top (A000682 shifted, that number
# from memory), each for n = 1, 2, ...
LABELLED = (1, 2, 6, 16, 50, 144, 462, 1392, 4536, 14060)
BLANK = (1, 1, 2, 5, 14, 38, 120, 353, 1148, 3527)
FIRST_ON_TOP = (1, 1, 2, 4, 10, 24, 66, 174, 504, 1406)


@pytest.mark.parametrize("stamps", range(1, 11))
def test_strips_of_stamps(stamps: int) -> None:
    stacks = stamp_stacks(stamps)
    assert len(stacks) == LABELLED[stamps - 1]
    assert sum(stack[0] == 0 for stack in stacks) == FIRST_ON_TOP[stamps - 1]
    assert len({min(same_blank_fold(stack)) for stack in stacks}) == BLANK[stamps - 1]


def same_blank_fold(stack: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Give the stack as it is when the strip is reversed, turned over, or both."""
    reversed_strip = tuple(len(stack) - 1 - stamp for stamp in stack)
    yield from (stack, stack[::-1], reversed_strip, reversed_strip[::-1])


@pytest.mark.parametrize(
    ("stamps", "counts"),
    [
        (3, {"MM": 2, "MV": 1, "VM": 1, "VV": 2}),
        (4, {"MMM": 3, "MMV": 2, "MVM": 1, "MVV": 2, "VMM": 2, "VMV": 1, "VVM": 2, "VVV": 3}),
        (
            5,
            {"MMMM": 4, "MMMV": 4, "MMVM": 3, "MMVV": 4}
            | {"MVMM": 3, "MVMV": 1, "MVVM": 2, "MVVV": 4},
        ),
    ],
)
def test_stamps_for_each_mountain_valley_string(stamps: int, counts: dict[str, int]) -> None:
    # Own count; the sums are A000136.
    for folds, count in counts.items():
        assert count_orders(fold_strip([1] * stamps, folds)) == count
        assert count_orders(fold_strip([1] * stamps, folds.translate(EXCHANGED))) == count


@pytest.mark.parametrize(("stamps", "most"), [(6, 7), (7, 11), (8, 20)])
def test_most_orders_of_one_string(stamps: int, most: int) -> None:
    # Own count. That every string folds at all is in Arkin et al. 2004 (arXiv cs/0011026).
    counts = {folds: count_orders(fold_strip([1] * stamps, folds)) for folds in letters(stamps - 1)}
    assert max(counts.values()) == most
    accordion = ("VM" * stamps)[: stamps - 1]
    assert {folds for folds, count in counts.items() if count == 1} == {
        accordion,
        accordion.translate(EXCHANGED),
    }


# Strips of unequal segments


@pytest.mark.parametrize(
    ("lengths", "width", "counts"),
    [
        ((1, 2, 1), 2, {"MM": 1, "MV": 1, "VM": 1, "VV": 1}),
        ((2, 1, 2), 3, {"MV": 1, "VM": 1}),
        ((3, 1, 3), 5, {"MV": 1, "VM": 1}),
        ((3, 3, 2), 3, {"MM": 2, "MV": 1, "VM": 1, "VV": 2}),
        ((1, 3, 1, 3), 5, {"MMV": 1, "MVM": 1, "VMV": 1, "VVM": 1}),
        ((3, 1, 2, 3), 4, {"MVM": 1, "MVV": 1, "VMM": 1, "VMV": 1}),
        (
            (4, 4, 4, 2, 2),
            4,
            {"MMMM": 3, "MMMV": 3, "MMVM": 2, "MMVV": 2, "MVMM": 1, "MVMV": 1, "MVVM": 2, "MVVV": 2}
            | {"VVVV": 3, "VVVM": 3, "VVMV": 2, "VVMM": 2, "VMVV": 1, "VMVM": 1, "VMMV": 2}
            | {"VMMM": 2},
        ),
    ],
)
def test_unequal_strips(lengths: Sequence[int], width: int, counts: dict[str, int]) -> None:
    # Own count; only segments that overlap are compared.
    found = {
        folds: count
        for folds in letters(len(lengths) - 1)
        if (count := count_orders(fold_strip(lengths, folds)))
    }
    assert found == counts
    facets, _ = fold_strip(lengths, "V" * (len(lengths) - 1))
    across = [x for facet in facets for x, _ in facet.outline]
    assert max(across) - min(across) == width


def reduces(lengths: Sequence[int], folds: str) -> bool:
    """Decide a strip by crimps and end folds alone, in whatever order they come up.

    Arkin, Bender, Demaine and others, "When can you fold a map?" (2004, arXiv cs/0011026): a strip
    folds flat just when these reduce it to one segment. An end fold needs an end no longer than its
    neighbour; a crimp two neighbouring creases of opposite kind round a segment that is no longer
    than either neighbour.
    """
    segments, creases = list(lengths), list(folds)
    while creases:
        if segments[0] <= segments[1]:
            del segments[0], creases[0]
        elif segments[-1] <= segments[-2]:
            del segments[-1], creases[-1]
        else:
            place = next(
                filter(lambda at: can_crimp(segments, creases, at), range(len(creases))), 0
            )
            if not place:
                return False
            before, middle, after = segments[place - 1 : place + 2]
            segments[place - 1 : place + 2] = [before - middle + after]
            del creases[place - 1 : place + 1]
    return True


def can_crimp(segments: Sequence[int], creases: Sequence[str], at: int) -> bool:
    return (
        at > 0
        and creases[at - 1] != creases[at]
        and segments[at] <= min(segments[at - 1], segments[at + 1])
    )


def test_strips_fold_just_when_crimps_and_end_folds_reduce_them() -> None:
    chance = random.Random(20041126)
    verdicts = {True: 0, False: 0}
    for _ in range(12_000):
        lengths = [chance.randint(1, 4) for _ in range(chance.randint(2, 7))]
        folds = "".join(chance.choice("VM") for _ in lengths[1:])
        answer = find_order(*fold_strip(lengths, folds))
        assert not isinstance(answer, CannotTell)
        assert isinstance(answer, LayerOrder) is reduces(lengths, folds), (lengths, folds)
        verdicts[isinstance(answer, LayerOrder)] += 1
    assert min(verdicts.values()) > 2_000


def test_longer_strips_that_were_unfolded_from_flat_ones() -> None:
    # The same theorem backwards: undoing crimps and end folds gives strips that must fold.
    chance = random.Random(11026)
    for _ in range(60):
        lengths, folds = unfolded(chance, 24)
        assert isinstance(find_order(*fold_strip(lengths, folds)), LayerOrder), (lengths, folds)
        spot = chance.randrange(len(folds))
        spoilt = folds[:spot] + folds[spot].translate(EXCHANGED) + folds[spot + 1 :]
        answer = find_order(*fold_strip(lengths, spoilt))
        assert isinstance(answer, LayerOrder | Collision)
        assert isinstance(answer, LayerOrder) is reduces(lengths, spoilt), (lengths, spoilt)


def unfolded(chance: random.Random, segments: int) -> tuple[list[int], str]:
    """Make a strip that folds flat by undoing random crimps and end folds of one segment."""
    lengths, folds = [9], ""
    while len(lengths) < segments:
        place = chance.randrange(len(lengths))
        whole = lengths[place]
        middle = chance.randint(1, whole)
        if place == 0 and chance.random() < 0.5:
            lengths, folds = [middle, *lengths], chance.choice("VM") + folds
            continue
        before = chance.randint(middle, whole)
        lengths[place : place + 1] = [before, middle, whole - before + middle]
        folds = folds[:place] + chance.choice(("VM", "MV")) + folds[place:]
    return lengths, folds


# One vertex


def fold_vertex(angles: Sequence[int], folds: str) -> Folded | None:
    """Fold the wedges round one vertex; None if they do not close (Kawasaki's theorem).

    Only where the creases lie among each other counts, so an angle is drawn as a height on the line
    x = 1: the wedge from 60 to 90 degrees is the triangle (0, 0), (1, 60), (1, 90). That keeps the
    drawing rational. Crease i lies before wedge i.
    """
    places = [Fraction(0)]
    for index, angle in enumerate(angles):
        places.append(places[-1] + (angle if index % 2 == 0 else -angle))
    if places[-1] != places[0] or len(angles) % 2:
        return None
    tip = (Fraction(0), Fraction(0))
    facets = [
        Facet(f"wedge-{index}", (tip, (Fraction(1), start), (Fraction(1), end)), index % 2 == 0)
        for index, (start, end) in enumerate(pairwise(places))
    ]
    creases = [
        Crease((index - 1) % len(angles), index, tip, (Fraction(1), places[index]), word(letter))
        for index, letter in enumerate(folds)
    ]
    return facets, creases


def word(letter: str) -> str:
    return "valley" if letter == "V" else "mountain"


@pytest.mark.parametrize(
    ("angles", "assignments", "states"),
    [
        # Own count, but four creases round a smallest angle: those two differ and the other two are
        # alike, 4 ways (big-little-big lemma, from memory).
        ((90, 90, 90, 90), 8, 8),
        ((60, 90, 120, 90), 4, 4),
        ((45, 90, 135, 90), 4, 4),
        ((30, 60, 150, 120), 4, 4),
        ((60, 60, 120, 120), 6, None),
        ((100, 80, 80, 100), 6, None),
        ((60, 60, 60, 60, 60, 60), 30, 48),
        ((90, 45, 45, 90, 45, 45), 18, None),
    ],
)
def test_one_vertex(angles: Sequence[int], assignments: int, states: int | None) -> None:
    counts = {
        folds: count_orders(folded)
        for folds in letters(len(angles))
        if (folded := fold_vertex(angles, folds))
    }
    folding = [folds for folds, count in counts.items() if count]
    assert len(folding) == assignments
    assert states in (None, sum(counts.values()))
    # Maekawa's theorem, as many pages state it: mountains and valleys differ by two.
    assert all(abs(folds.count("M") - folds.count("V")) == 2 for folds in folding)


@pytest.mark.parametrize("angles", [(90, 90, 90, 89), (120, 120, 120), (100, 80, 100, 80)])
def test_a_vertex_that_breaks_kawasakis_theorem_does_not_close(angles: Sequence[int]) -> None:
    # Kawasaki's theorem, as many pages state it: alternate angles add up to 180 degrees.
    assert fold_vertex(angles, "V" * len(angles)) is None


# Maps


def fold_map(rows: int, columns: int, folds: str) -> Folded:
    """Fold a sheet of unit squares to one; letters for the upright creases, then the level ones.

    A letter says valley or mountain as seen from the inside of the sheet.
    """
    unit = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1)))
    places = list(product(range(rows), range(columns)))
    facets = [Facet(f"{row}/{column}", unit, (row + column) % 2 == 0) for row, column in places]
    upright = [(row, column, 0, 1) for row, column in places if column + 1 < columns]
    level = [(row, column, 1, 0) for row, column in places if row + 1 < rows]
    creases = []
    for (row, column, down, across), letter in zip(upright + level, folds, strict=True):
        first, second = row * columns + column, (row + down) * columns + column + across
        x, y = Fraction((column + 1) % 2), Fraction((row + 1) % 2)
        line = (
            ((x, Fraction(0)), (x, Fraction(1))) if across else ((Fraction(0), y), (Fraction(1), y))
        )
        creases.append(Crease(first, second, *line, word(letter)))
    return facets, creases


@pytest.mark.parametrize(
    ("rows", "columns", "states"),
    [
        # OEIS A001415 for 2 x n; 3 x 3 is in A001416 (that number from memory) and an own count.
        (1, 2, 2),
        (2, 1, 2),
        (2, 2, 8),
        (2, 3, 60),
        (3, 2, 60),
        (2, 4, 320),
        (2, 5, 1980),
        (3, 3, 1368),
    ],
)
def test_maps(rows: int, columns: int, states: int) -> None:
    creases = rows * (columns - 1) + columns * (rows - 1)
    assert states == 2 * sum(
        # Turning the sheet over swaps mountain and valley: the first crease may stay a valley.
        count_orders(fold_map(rows, columns, "V" + folds))
        for folds in letters(creases - 1)
    )
