"""The same card in the other unit system: the given sizes converted and rounded there, then solved again.

Rounding each given size to its nearest mark can spoil what the card lives by: doors that met exactly
overlap by a millimetre. So given sizes may move to the next mark, as few of them as possible, until
the sections agree with each other as they did (and lie on marks, where that can be had).
"""

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from cardrecipe.model.card import Card
from cardrecipe.model.lengths import GRID, is_on, to_mm
from cardrecipe.model.values import Var
from cardrecipe.solve.sized import SizedCard
from cardrecipe.solve.sizes import Solution, solve_sizes
from cardrecipe.syntax.spans import Span

OTHER = {"inch": "mm", "mm": "inch"}
_MAX_TRIALS = 300  # solves of the bases alone, about a millisecond each; one or two moves are usual


class _Score(NamedTuple):
    """How well a version keeps the card; smaller is better."""

    broken: int  # sizes that agreed and no longer do
    off_grid: int
    moved: Fraction  # how far the given sizes are from their exact conversion, in all


def nudges_for(card: Card, solution: Solution, unit: str) -> dict[Span, int]:
    """Which given sizes to move by one mark of the other ruler, so that the card stays the same card."""
    small = _bases_alone(card, solution) or card
    relations = _relations(solution)
    start, exact = _tried(small, unit, {}, relations)
    best: tuple[_Score, dict[Span, int]] = (start, {})
    for trial, nudges in enumerate(_moves(exact, unit)):
        if (best[0].broken, best[0].off_grid) == (0, 0) or trial >= _MAX_TRIALS:
            break
        score, _ = _tried(small, unit, nudges, relations)
        best = min(best, (score, nudges), key=lambda each: (each[0], len(each[1])))
    return best[1]


def largest_difference_mm(one: SizedCard, other: SizedCard) -> Fraction:
    """By how many mm the sizes of two versions of a card differ at most."""
    differences = [Fraction(0)]
    for piece in one.pieces:
        twins = [each for each in other.pieces if each.name == piece.name]
        for twin in twins:
            for mine, its in ((piece.width, twin.width), (piece.height, twin.height)):
                differences.append(abs(to_mm(mine, one.unit) - to_mm(its, other.unit)))
            for score, its_score in zip(piece.scores, twin.scores, strict=False):
                differences.append(abs(to_mm(score.at, one.unit) - to_mm(its_score.at, other.unit)))
    return max(differences)


def _bases_alone(card: Card, solution: Solution) -> Card | None:
    """The card without what lies on its bases, where the bases are settled without it."""
    bases = tuple(piece for piece in card.pieces if piece.kind == "base")
    alone = card.replace(pieces=bases, steps=())
    solved, problems = solve_sizes(alone)
    wanted = [(piece.name, quantity) for piece in bases for quantity in ("width", "height")]
    settled = all(var in solved.values for var in wanted)
    return alone if bases and settled and not problems else None


def _relations(solution: Solution) -> list[dict[Var, int]]:
    """Sums of section sizes that come to nothing: equal sections, two that make a third.

    Only sections that lie in one row can cover each other, so only those are compared.
    """
    relations: list[dict[Var, int]] = []
    for piece in solution.card.pieces:
        for quantity in ("width", "height"):
            owners = [solution.parts.sections[piece.name, section] for section in piece.sections]
            variables = list(dict.fromkeys((owner, quantity) for owner in owners))
            known = [var for var in variables if var in solution.values][:12]
            for one, two in combinations(known, 2):
                if solution.values[one] == solution.values[two]:
                    relations.append({one: 1, two: -1})
            relations += _thirds(known, solution.values)
    return relations


def _thirds(known: list[Var], values: Mapping[Var, Fraction]) -> Iterator[dict[Var, int]]:
    for one, two in combinations(known, 2):
        for third in known:
            if third not in (one, two) and values[one] + values[two] == values[third]:
                yield {one: 1, two: 1, third: -1}


def _tried(
    card: Card, unit: str, nudges: Mapping[Span, int], relations: list[dict[Var, int]]
) -> tuple[_Score, Mapping[Span, Fraction]]:
    solution, problems = solve_sizes(card, unit, nudges=nudges)
    grid = GRID[unit]
    broken = len(problems) * 100 + sum(
        sum((sign * solution.values.get(var, Fraction(0)) for var, sign in relation.items()), Fraction(0))
        != 0
        for relation in relations
    )
    lines = [var for row in solution.draft.lines.values() for _, var in row]
    sizes = [(owner, quantity) for owner in solution.parts.sections.values()
             for quantity in ("width", "height")]  # fmt: skip
    off = sum(var in solution.values and not is_on(solution.values[var], grid) for var in [*lines, *sizes])
    moved = sum((abs(_rounded(exact, grid, nudges.get(span, 0)) - exact)
                 for span, exact in solution.rounded.items()), Fraction(0))  # fmt: skip
    return _Score(broken, off, moved), solution.rounded


def _rounded(exact: Fraction, grid: Fraction, nudge: int) -> Fraction:
    return (exact / grid + Fraction(1, 2)) // 1 * grid + nudge * grid


def _moves(exact: Mapping[Span, Fraction], unit: str) -> Iterator[dict[Span, int]]:
    """One number moved by a mark or two, cheapest first; then two numbers.

    Two marks are needed where four of one number make another: a gate of 10 in has doors of 63.5 mm.
    """
    grid = GRID[unit]
    moves = [(abs(_rounded(value, grid, by) - value), span, by)
             for span, value in exact.items() for by in (-2, -1, 1, 2)]  # fmt: skip
    moves.sort()
    for _, span, by in moves:
        yield {span: by}
    pairs = [pair for pair in combinations(moves, 2) if pair[0][1] != pair[1][1]]
    for pair in sorted(pairs, key=lambda pair: (sum(cost for cost, _, _ in pair), pair)):
        yield {span: by for _, span, by in pair}

