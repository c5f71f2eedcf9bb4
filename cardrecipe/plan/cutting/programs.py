"""Linear and whole-number programs over layouts, solved by HiGHS on one thread.

The budget is a number of nodes, never seconds, so that the same job gives the same plan on any machine.
Its floats are hints only: whoever calls checks them again in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import highspy
import numpy as np
from highspy import _core

INFINITE = highspy.kHighsInf
OPTIONS = (("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off"))


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
    costs: Sequence[float], most: Sequence[float], rows: Sequence[Row], *, whole: bool, nodes: int = 0
) -> Answer | None:
    """Give the least cost of columns from 0 up to `most`; None where no answer was found.

    A program in whole numbers ends after so many `nodes`, with the best answer until then.
    """
    # The wrapper around this class prints a banner when the first one is made.
    solver = _core._Highs()
    for option, value in OPTIONS:
        solver.setOptionValue(option, value)
    if whole:
        solver.setOptionValue("mip_max_nodes", nodes)
        solver.setOptionValue("mip_rel_gap", 0.0)
    solver.passModel(_program(costs, most, rows, whole))
    solver.run()
    is_best = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    solution = solver.getSolution()
    if not solution.value_valid or (not whole and not is_best):
        return None
    return Answer(list(solution.col_value), [] if whole else list(solution.row_dual))


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
