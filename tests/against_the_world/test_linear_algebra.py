"""The solver's linear algebra against sympy's exact rational matrices (the oracle, a test dependency).

Solvability, unique values and contradictions are compared on thousands of small random systems. That a
contradiction's set is smallest is a statement about circuits of the linear matroid of the left sides
(Whitney 1935): each equation but one of it is consistent, all of them together are not.
"""

import random
from collections.abc import Sequence
from fractions import Fraction

import pytest
from sympy.polys.domains import QQ
from sympy.polys.matrices import DomainMatrix

from cardrecipe.solve.contradictions import contradiction
from cardrecipe.solve.equations import Origin
from cardrecipe.solve.linear import Equation, System
from cardrecipe.syntax.spans import Span

SYSTEMS = 3_200
NAMES = [("plate", quantity) for quantity in ("width", "height", "left border", "right border", "gap")]
Numbered = Equation[int]


def rows(equations: Sequence[Numbered], with_constants: bool) -> DomainMatrix:
    """The equations as a matrix of sympy's rationals."""
    content = [
        [QQ(f.numerator, f.denominator) for f in (*(each.terms.get(n, Fraction(0)) for n in NAMES),
                                                  *([each.constant] if with_constants else []))]
        for each in equations
    ]  # fmt: skip
    return DomainMatrix(content, (len(content), len(NAMES) + with_constants), QQ)


def agree(equations: Sequence[Numbered]) -> bool:
    """True where the equations have a solution: the constants add nothing to the rank."""
    if not equations:
        return True
    return bool(rows(equations, False).rank() == rows(equations, True).rank())


def unique_values(equations: Sequence[Numbered]) -> dict[tuple[str, str], Fraction]:
    """Every unknown that is the same in all solutions, by the reduced row echelon form."""
    if not equations:
        return {}
    reduced, pivots = rows(equations, True).rref()
    values = {}
    for row, pivot in enumerate(pivots):
        line = [reduced[row, column].element for column in range(len(NAMES) + 1)]
        if all(line[column] == 0 for column in range(len(NAMES)) if column != pivot):
            values[NAMES[pivot]] = Fraction(int(line[-1].numerator), int(line[-1].denominator))
    return values


def random_equations(chance: random.Random) -> list[Numbered]:
    """Few unknowns, small coefficients and many repeats, so that systems depend and disagree."""
    count = chance.randint(1, 8)
    equations: list[Numbered] = []
    for number in range(count):
        if equations and chance.random() < 0.25:  # a combination of earlier ones, right or wrong
            parts = [(Fraction(chance.randint(-2, 2), chance.randint(1, 3)), each) for each in equations]
            terms = {
                name: sum((f * each.terms.get(name, 0) for f, each in parts), Fraction(0)) for name in NAMES
            }
            constant = sum((f * each.constant for f, each in parts), Fraction(0))
            constant += chance.choice((0, 0, 1))
        else:
            terms = {name: Fraction(chance.randint(-2, 2), chance.choice((1, 1, 2, 8)))
                     for name in chance.sample(NAMES, chance.randint(1, 3))}  # fmt: skip
            constant = Fraction(chance.randint(-4, 24), chance.choice((1, 2, 16)))
        equations.append(Equation({n: c for n, c in terms.items() if c}, constant, number))
    return equations


@pytest.mark.parametrize("seed", range(4))
def test_systems_are_solved_as_sympy_solves_them(seed: int) -> None:
    chance = random.Random(seed)
    seen = {"unique": 0, "open": 0, "conflict": 0}
    for _ in range(SYSTEMS // 4):
        system: System[int] = System()
        accepted: list[Numbered] = []
        for equation in random_equations(chance):
            is_taken = system.add(equation)
            assert is_taken == agree([*accepted, equation])
            if is_taken:
                accepted.append(equation)
            else:
                seen["conflict"] += 1
                check_circuit(system.conflict(equation), equation)
        values = unique_values(accepted)
        assert system.values() == values
        assert {name: system.value(name) for name in NAMES if system.value(name) is not None} == values
        seen["unique" if len(values) == len(NAMES) else "open"] += 1
    assert all(number > 40 for number in seen.values()), seen


def check_circuit(conflict: Sequence[Numbered], equation: Numbered) -> None:
    """Inconsistent as a whole, and consistent without any one of them."""
    circle = [*conflict, equation]
    assert not agree(circle)
    for left_out in range(len(circle)):
        assert agree([each for at, each in enumerate(circle) if at != left_out])


def test_the_order_of_equations_does_not_change_what_is_settled() -> None:
    chance = random.Random(99)
    for _ in range(300):
        equations = random_equations(chance)
        system: System[int] = System()
        good = [each for each in equations if system.add(each)]
        chance.shuffle(good)
        again: System[int] = System()
        assert all(again.add(each) for each in good)
        assert again.values() == system.values()


def test_wishes_are_taken_together_or_not_at_all() -> None:
    chance = random.Random(7)
    refused = 0
    for _ in range(400):
        equations = random_equations(chance)
        system: System[int] = System()
        for each in equations[:3]:
            system.add(each)
        before, held = system.values(), list(system.accepted)
        wish = equations[3:]
        is_taken = system.add_all(wish)
        assert is_taken == agree([*held, *wish])
        if not is_taken:
            refused += 1
            assert (system.values(), system.accepted) == (before, held)
        else:
            assert system.values() == unique_values([*held, *wish])
    assert refused > 40


def test_a_contradictions_lines_are_smallest_even_where_a_line_says_several_things() -> None:
    chance = random.Random(5)
    found = 0
    for _ in range(600):
        lines = [Span("card.recipe", 10 * at, 10 * at + 9) for at in range(3)]
        equations = [
            Equation(each.terms, each.constant, Origin(chance.choice(lines), f"line {each.origin}"))
            for each in random_equations(chance)
        ]
        system: System[Origin] = System()
        for equation in equations:
            if system.add(equation):
                continue
            found += 1
            diagnostic = contradiction(system, equation, "inch")
            named = [diagnostic.span, *(related.span for related in diagnostic.related)]
            said = [*system.accepted, equation]
            assert not agree(_on(said, named))
            for span in named:
                rest = [other for other in named if other != span]
                circle = [*system.conflict(equation), equation]
                assert agree(_on(circle, rest))
    assert found > 100


def _on(equations: Sequence[Equation[Origin]], lines: Sequence[Span]) -> list[Numbered]:
    return [Equation(each.terms, each.constant, 0) for each in equations if each.origin.span in lines]
