"""What lies under what: mats and the pieces above them, each worked out once from the top down."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.values import Var
from cardrecipe.solve.parts import Part
from cardrecipe.solve.rounding import edges_of
from cardrecipe.solve.sized import Edges
from cardrecipe.solve.sizes import Solution

_ZERO = Fraction(0)
Reach = dict[str, Fraction]


class Chains(NamedTuple):
    """What is known of mats and of what they lie under, by owner."""

    beneath: Mapping[str, Part]
    rows: Mapping[str, Part]
    tops: Mapping[str, Part]
    reaches: Mapping[str, Reach | None]


def chains_of(solution: Solution, sizes: Mapping[Var, Fraction]) -> Chains:
    """The mats of a card; `sizes` are the rounded ones."""
    return Chains(_beneath(solution), _rows(solution), _tops(solution), _reaches(solution, sizes))


def _rows(solution: Solution) -> dict[str, Part]:
    """Whose `repeat` each part follows: its own, else, for a mat, that of the piece that it lies under."""
    rows: dict[str, Part] = {}
    for part in solution.parts.ordered:
        follows = part.over is not None and part.piece.repeat is None
        rows[part.owner] = rows[part.over or ""] if follows else part
    return rows


def _tops(solution: Solution) -> dict[str, Part]:
    """The piece that each mat and all above it lie under; any other part itself."""
    tops: dict[str, Part] = {}
    for part in solution.parts.ordered:
        tops[part.owner] = tops[part.over] if part.over is not None else part
    return tops


def _beneath(solution: Solution) -> dict[str, Part]:
    """What lies directly beneath each part that has mats, and beneath each mat but the last."""
    mats: dict[str, list[Part]] = {}
    for part in solution.parts.ordered:
        if part.over is not None:
            mats.setdefault(part.over, []).append(part)
    beneath: dict[str, Part] = {}
    for part in solution.parts.ordered:
        if part.over is None and part.owner in mats:
            above = part.owner
            for mat in _all_mats(part.owner, mats):
                beneath[above] = mat
                above = mat.owner
    return beneath


def _all_mats(owner: str, mats: Mapping[str, list[Part]]) -> list[Part]:
    found, waiting = list[Part](), mats.get(owner, [])[::-1]
    while waiting:  # a card may have more mats under each other than calls may be deep
        found.append(waiting.pop())
        waiting += mats.get(found[-1].owner, [])[::-1]
    return found


def _reaches(solution: Solution, sizes: Mapping[Var, Fraction]) -> dict[str, Reach | None]:
    """How far each mat reaches beyond the piece that all its mats lie under; nothing for that piece.

    None where that is open yet.
    """
    found: dict[str, Reach | None] = {}
    for part in solution.parts.ordered:
        if part.over is None:
            found[part.owner] = dict.fromkeys(Edges._fields, _ZERO)
            continue
        inner, own = found[part.over], edges_of(part, sizes, solution)
        if inner is None or len(own) < len(Edges._fields):
            found[part.owner] = None
        else:
            found[part.owner] = {edge: inner[edge] + own[edge] for edge in Edges._fields}
    return found
