"""Small instances by chance: as few sheets as a full enumeration finds, with code of its own."""

import random

import pytest

from cardrecipe.plan.cutting.exhausted import best_rectangle, sheet_for
from cardrecipe.plan.cutting.grid import grid_for
from cardrecipe.plan.cutting.job import Blank, Job, Stock
from cardrecipe.plan.cutting.worth import worth
from tests.plan.cutting.by_enumeration import Piece, fewest_sheets, fits
from tests.plan.cutting.jobs import planned

CHUNK = 40


def pieces(chance: random.Random, width: int, height: int, most: int) -> list[Piece]:
    found = [
        (chance.randint(2, width // 2 + 3), chance.randint(2, height // 2 + 2), chance.random() < 0.5)
        for _ in range(chance.randint(3, most))
    ]
    return [(w, h, turn) for w, h, turn in found if w <= width and h <= height]


def job_for(found: list[Piece], width: int, height: int) -> Job:
    blanks = (Blank(f"p{at}", w, h, 1, turn) for at, (w, h, turn) in enumerate(found))
    return Job((Stock("S", width, height),), tuple(blanks))


@pytest.mark.parametrize("chunk", range(6))
def test_as_few_sheets_as_a_full_enumeration_finds(chunk: int) -> None:
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        chance = random.Random(seed)
        width, height = chance.choice([(12, 9), (20, 20), (17, 11), (23, 7)])
        some = pieces(chance, width, height, 8 if seed % 10 == 0 else 6)
        least = fewest_sheets(some, width, height)
        found = planned(job_for(some, width, height)).plan
        assert (found.cost, found.is_proved) == (least, True), f"seed {seed}"


@pytest.mark.parametrize("chunk", range(4))
def test_a_search_of_one_sheet_that_settles_is_right(chunk: int) -> None:
    """Whether all pieces fit: with the bounds of the search, and by enumeration without any."""
    answers = set()
    for seed in range(chunk * 60, (chunk + 1) * 60):
        chance = random.Random(9_000 + seed)
        width, height = chance.randint(9, 25), chance.randint(9, 25)
        some = pieces(chance, width, height, 5)
        total = sum(w * h for w, h, _ in some)
        if not some or total > width * height:
            continue
        job = job_for(some, width, height)
        value = worth(grid_for(job.stocks, job.blanks), job.blanks, [b.width * b.height for b in job.blanks])
        sheet = sheet_for(value, width, height)
        found = best_rectangle(sheet, {each.name: 1 for each in job.blanks}, total, 100_000)
        assert found.is_settled
        assert (found.value == total) == fits(some, width, height), f"seed {seed}"
        answers.add(found.value == total)
    assert answers == {True, False}


@pytest.mark.parametrize("seed", range(40))
def test_the_best_of_one_sheet_is_that_of_the_best_set(seed: int) -> None:
    """Without a value that is enough, the search gives the best set of pieces that fits."""
    chance = random.Random(seed)
    width, height = chance.randint(8, 16), chance.randint(8, 16)
    some = pieces(chance, width, height, 6)
    if not some:
        pytest.skip("no piece fits")
    job, prices = job_for(some, width, height), [chance.randint(1, 30) for _ in some]
    sheet = sheet_for(worth(grid_for(job.stocks, job.blanks), job.blanks, prices), width, height)
    found = best_rectangle(sheet, {each.name: 1 for each in job.blanks}, rounds=200_000)
    sets = [[at for at in range(len(some)) if bits >> at & 1] for bits in range(1, 1 << len(some))]
    best = max(
        sum(prices[at] for at in each) for each in sets if fits([some[at] for at in each], width, height)
    )
    assert (found.value, found.is_settled) == (best, True)
