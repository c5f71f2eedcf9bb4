"""Linear equations over exact fractions, solved as they come in, each with a name for its origin.

Gauss–Jordan elimination over the rationals: every accepted equation is reduced by those before it and
solved for one unknown, and that unknown is taken out of all the others. An equation that reduces to
0 = c contradicts a unique set of the accepted ones (the circuit that it closes with them in the
linear matroid of the left sides), so that set is smallest: without any one of them there is no
contradiction.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Generic, NamedTuple, TypeVar

from cardrecipe.model.values import Var, is_beyond_measure

Origin = TypeVar("Origin")
_ZERO = Fraction(0)


class Equation(NamedTuple, Generic[Origin]):
    """Σ coefficient · unknown = constant, because of `origin`."""

    terms: Mapping[Var, Fraction]
    constant: Fraction
    origin: Origin


class _Row(NamedTuple):
    """pivot = constant − Σ terms."""

    terms: dict[Var, Fraction]
    constant: Fraction


class System(Generic[Origin]):
    """A growing set of equations that do not contradict each other."""

    def __init__(self) -> None:
        self.accepted: list[Equation[Origin]] = []
        self._rows: dict[Var, _Row] = {}
        self._in_rows: dict[Var, set[Var]] = {}  # unknown: pivots of the rows that hold it

    def add(self, equation: Equation[Origin]) -> bool:
        """Take the equation in; False, and nothing changes, where it contradicts the others or has numbers
        beyond all measure."""
        terms, constant = self._reduced(equation.terms, equation.constant)
        if not terms:
            return constant == 0
        if is_beyond_measure((constant, *terms.values())):
            return False
        self.accepted.append(equation)
        self._solve_for(min(terms), terms, constant)
        return True

    def add_all(self, equations: Sequence[Equation[Origin]]) -> bool:
        """Take all of them in, or none; for wishes that only make sense together."""
        trial: System[Origin] = System()
        for equation in equations:
            terms, constant = self._reduced(equation.terms, equation.constant)
            if not trial.add(Equation(terms, constant, equation.origin)):
                return False
        return all(self.add(equation) for equation in equations)

    def contradicts(self, equation: Equation[Origin]) -> bool:
        """True where the accepted equations leave no room for this one."""
        terms, constant = self._reduced(equation.terms, equation.constant)
        return not terms and constant != 0

    def value(self, var: Var) -> Fraction | None:
        """What `var` is, or None while it is open."""
        row = self._rows.get(var)
        return row.constant if row is not None and not row.terms else None

    def values(self) -> dict[Var, Fraction]:
        """Every unknown that is settled."""
        return {var: row.constant for var, row in self._rows.items() if not row.terms}

    def conflict(self, equation: Equation[Origin]) -> tuple[Equation[Origin], ...]:
        """The smallest set of accepted equations that `equation` contradicts, in accepted order.

        Its multipliers are found by a second elimination that carries them along, since only a
        mistake needs them.
        """
        combined: dict[Var, tuple[dict[Var, Fraction], Fraction, dict[int, Fraction]]] = {}
        for number, accepted in enumerate(self.accepted):
            terms, constant, parts = _carried(accepted, {number: Fraction(1)}, combined)
            pivot = min(terms)  # there is one: no accepted equation follows from others
            factor = terms[pivot]
            combined[pivot] = (
                {var: c / factor for var, c in terms.items()},
                constant / factor,
                {at: c / factor for at, c in parts.items()},
            )
        _, _, parts = _carried(equation, {}, combined)
        return tuple(self.accepted[number] for number in sorted(parts))

    # ---- elimination -----------------------------------------------------------------------------

    def _reduced(
        self, terms: Mapping[Var, Fraction], constant: Fraction
    ) -> tuple[dict[Var, Fraction], Fraction]:
        left: dict[Var, Fraction] = {}
        for var, coefficient in terms.items():
            row = self._rows.get(var)
            if row is None:
                _add_to(left, var, coefficient)
                continue
            constant -= coefficient * row.constant
            for other, inner in row.terms.items():
                _add_to(left, other, -coefficient * inner)
        return left, constant

    def _solve_for(self, pivot: Var, terms: dict[Var, Fraction], constant: Fraction) -> None:
        factor = terms.pop(pivot)
        row = _Row({var: c / factor for var, c in terms.items()}, constant / factor)
        for held in self._in_rows.pop(pivot, ()):
            self._replace_in(held, pivot, row)
        self._rows[pivot] = row
        for var in row.terms:
            self._in_rows.setdefault(var, set()).add(pivot)

    def _replace_in(self, held: Var, pivot: Var, row: _Row) -> None:
        old = self._rows[held]
        terms = dict(old.terms)
        coefficient = terms.pop(pivot)
        for var, inner in row.terms.items():
            _add_to(terms, var, -coefficient * inner)
            if var in terms:
                self._in_rows.setdefault(var, set()).add(held)
            else:
                self._in_rows[var].discard(held)
        self._rows[held] = _Row(terms, old.constant - coefficient * row.constant)


def _add_to(terms: dict[Var, Fraction], var: Var, coefficient: Fraction) -> None:
    total = terms.get(var, _ZERO) + coefficient
    if total:
        terms[var] = total
    else:
        terms.pop(var, None)


def _carried(
    equation: Equation[Origin],
    parts: dict[int, Fraction],
    rows: Mapping[Var, tuple[dict[Var, Fraction], Fraction, dict[int, Fraction]]],
) -> tuple[dict[Var, Fraction], Fraction, dict[int, Fraction]]:
    """`equation` with every solved unknown taken out, and which equations that took, how often."""
    terms = {var: c for var, c in equation.terms.items() if c}
    constant, parts = equation.constant, dict(parts)
    order = {pivot: number for number, pivot in enumerate(rows)}
    open_pivots = [var for var in terms if var in rows]
    while open_pivots:
        # A row holds no pivot of an earlier row, so the earliest goes first and never comes back.
        pivot = min(open_pivots, key=order.__getitem__)
        factor = terms[pivot]
        row_terms, row_constant, row_parts = rows[pivot]
        for var, coefficient in row_terms.items():
            _add_to(terms, var, -factor * coefficient)
        constant -= factor * row_constant
        for number, share in row_parts.items():
            total = parts.get(number, _ZERO) - factor * share
            if total:
                parts[number] = total
            else:
                parts.pop(number, None)
        open_pivots = [var for var in terms if var in rows]
    return terms, constant, parts
