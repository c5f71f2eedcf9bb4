"""Linear and whole-number programs over layouts, solved by HiGHS on one thread.

The budget is a number of nodes and of steps, never seconds, so that the same job gives the same plan on any
machine. Its floats are hints only: whoever calls checks them again in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import highspy
import numpy as np
from highspy import _core
from numpy.typing import NDArray

from cardrecipe.plan.cutting.budget import ENDLESS, Budget, Spent

Figures = NDArray[np.float64]
INFINITE = highspy.kHighsInf
OPTIONS = (("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off"))
# Layouts are seldom alike enough for symmetries, and a plan that is jumped to at first seldom lasts: for 24
# kits no answer was dearer without them, and together they took a tenth less time.
OPTIONS_IN_WHOLE_NUMBERS = (("mip_detect_symmetry", False), ("mip_heuristic_run_feasibility_jump", False))
# HiGHS solves programs inside a program without asking whether to go on. Where that may take longer than
# there are steps, so many for each term, or where numbers are larger than this, it is told not to.
INNER_STEPS, MOST_NUMBER = 100_000, 1_000
INNER = ("mip_heuristic_run_rins", "mip_heuristic_run_rens", "mip_heuristic_run_root_reduced_cost")
# A program of more terms is not begun at all.
MOST_TERMS = 30_000
# What a program takes in steps for each of its terms, measured: one in fractions at first, one in whole
# numbers from one question whether to go on to the next, with programs inside it and without.
IN_FRACTIONS, WITH_INNER, WITHOUT_INNER = 400, 450, 300
# What it takes to hand over any program; and an iteration for each row and column.
PROGRAM, ITERATION = 100_000, 4
# Two costs that differ by less are equal but for floats.
SAME = 1e-6
# An answer that HiGHS has before it was asked so often says little about how long better ones take.
SOON = 20
# What solving a program again for other costs takes besides its iterations, in steps.
AGAIN = 60_000


class Row(NamedTuple):
    """A row of a program: from `least` to `most`, and its coefficients by column."""

    least: float
    most: float
    terms: dict[int, float]


class Answer(NamedTuple):
    """Values by column, and prices by row where the program is a linear one."""

    values: list[float]
    prices: list[float]


def solve(
    costs: Sequence[float],
    most: Sequence[float],
    rows: Sequence[Row],
    *,
    whole: bool,
    nodes: int = 0,
    patience: int | None = None,
    start: Sequence[float] | None = None,
    budget: Budget = ENDLESS,
) -> Answer | None:
    """Give the least cost of columns from 0 up to `most`; None where no answer was found.

    A program in whole numbers begins with the answer `start` where there is one; it ends after so many
    `nodes`, when the budget is spent, or when `patience` times as much was done as until the best answer was
    found, with that answer.
    """
    terms = len(costs) + len(rows) + sum(len(each.terms) for each in rows)
    if terms > MOST_TERMS:
        return None
    budget.spend(PROGRAM + IN_FRACTIONS * terms)
    solver = _solver(*OPTIONS, *(OPTIONS_IN_WHOLE_NUMBERS if whole else ()))
    if whole:
        solver.setOptionValue("mip_max_nodes", nodes)
        solver.setOptionValue("mip_rel_gap", 0.0)
        has_inner = _has_inner(terms, rows, budget)
        for inner in () if has_inner else INNER:
            solver.setOptionValue(inner, False)
        _ask_now_and_then(solver, budget, terms * (WITH_INNER if has_inner else WITHOUT_INNER), patience)
    solver.passModel(_program(costs, most, rows, whole))
    if start is not None:
        known = highspy.HighsSolution()
        known.col_value = list(start)
        solver.setSolution(known)
    solver.run()
    if not whole:
        budget.spend(ITERATION * solver.getInfo().simplex_iteration_count * (len(costs) + len(rows)))
    is_best = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    solution = solver.getSolution()
    if not solution.value_valid or (not whole and not is_best):
        return None
    return Answer(list(solution.col_value), [] if whole else list(solution.row_dual))


class Repriced:
    """A program in fractions that is solved over and over for other costs, each time from where it was."""

    def __init__(self, most: Sequence[float], rows: Sequence[Row], budget: Budget = ENDLESS) -> None:
        number = len(most)
        budget.spend(PROGRAM + IN_FRACTIONS * (number + len(rows) + sum(len(each.terms) for each in rows)))
        self._solver, self._budget, self._work = _solver(*OPTIONS), budget, ITERATION * (number + len(rows))
        self._columns = np.arange(number, dtype=np.int32)
        self._solver.passModel(_program([0.0] * number, most, rows, whole=False))

    def solve(self, costs: Figures) -> tuple[Figures, Figures] | None:
        """Give the values of the columns, and what each is worth at the prices of the rows; None where there
        is no answer."""
        self._budget.spend(AGAIN)
        solver = self._solver
        solver.changeColsCost(len(costs), self._columns, costs)
        solver.run()
        self._budget.spend(self._work * max(0, solver.getInfo().simplex_iteration_count))
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        solution = solver.getSolution()
        return np.array(solution.col_value), costs - np.array(solution.col_dual)


def _solver(*options: tuple[str, str | bool | int]) -> Any:
    # The wrapper around this class prints a banner when the first one is made.
    solver = _core._Highs()
    for option, value in options:
        solver.setOptionValue(option, value)
    return solver


def _has_inner(terms: int, rows: Sequence[Row], budget: Budget) -> bool:
    """Tell whether HiGHS may solve programs inside the program."""
    if budget is not ENDLESS and budget.left < INNER_STEPS * terms:
        return False
    numbers = (abs(each) for row in rows for each in (row.least, *row.terms.values()) if each > -INFINITE)
    return max(numbers) <= MOST_NUMBER


def _ask_now_and_then(solver: Any, budget: Budget, steps: int, patience: int | None) -> None:
    """Have HiGHS ask whether to go on; each time it has done so many steps."""
    asked, asked_at_best, best = 0, 0, INFINITE

    def go_on(_kind: object, _message: str, found: Any, answer: Any, _own: object) -> None:
        nonlocal asked, asked_at_best, best
        asked += 1
        if found.mip_primal_bound < best - SAME:
            asked_at_best, best = asked, found.mip_primal_bound
        try:
            budget.spend(steps)
        except Spent:
            answer.user_interrupt = True
        if patience is not None and best < INFINITE and asked > patience * max(asked_at_best, SOON):
            answer.user_interrupt = True

    solver.setCallback(go_on, None)
    solver.startCallback(_core.cb.HighsCallbackType.kCallbackMipInterrupt)


def _program(
    costs: Sequence[float], most: Sequence[float], rows: Sequence[Row], whole: bool
) -> highspy.HighsLp:
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = len(costs), len(rows)
    program.col_cost_ = np.array(costs, dtype=float)
    program.col_lower_ = np.zeros(len(costs))
    program.col_upper_ = np.array(most, dtype=float)
    program.row_lower_ = np.array([each.least for each in rows], dtype=float)
    program.row_upper_ = np.array([each.most for each in rows], dtype=float)
    terms = [term for each in rows for term in each.terms.items()]
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.cumsum([0, *(len(each.terms) for each in rows)])
    program.a_matrix_.index_ = np.array([at for at, _ in terms], dtype=np.int32)
    program.a_matrix_.value_ = np.array([value for _, value in terms], dtype=float)
    if whole:
        program.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    return program
