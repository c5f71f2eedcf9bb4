"""The sum behind a size: which statement settles it, from which other sizes, and theirs in turn."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import ABBREVIATION, MINUS, TIMES, with_unit, written
from cardrecipe.model.values import Var
from cardrecipe.solve.equations import Said
from cardrecipe.solve.rounding import rounded_sizes
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.spans import Span


class Reason(NamedTuple):
    """One line of an explanation: `depth` steps behind the size that was asked for."""

    depth: int
    text: str  # "door-paper.width = left-door.width 2 1⁄2 − 2 × border 1⁄8 = 2 1⁄4 in"
    because: str  # the statement in a maker's words
    span: Span


def explain(solution: Solution, var: Var) -> list[Reason]:
    """Why `var` has its value, the sum first, then the sums behind its terms, each once.

    Sizes that only several statements together settle share those statements as their reason.
    KeyError where `var` is open.
    """
    return explain_each(solution, [var])[var]


def explain_each(solution: Solution, variables: Iterable[Var]) -> dict[Var, list[Reason]]:
    """What `explain` says of each of the `variables`; what they have in common is worked out once."""
    settled, sizes = derivations(solution), rounded_sizes(solution)
    return {var: _reasons(solution, var, settled, sizes) for var in variables}


def _reasons(
    solution: Solution,
    var: Var,
    derivations: Mapping[Var, tuple[Said, ...]],
    sizes: Mapping[Var, Fraction],
) -> list[Reason]:
    if var not in solution.values:
        raise KeyError(var)
    reasons: list[Reason] = []
    told: set[Var] = set()

    def tell(each: Var, depth: int) -> None:
        if each in told:
            return
        told.add(each)
        for equation in derivations.get(each, ()):
            # Several statements that settle sizes together do not each speak of this one.
            head = each if each in equation.terms else next(iter(equation.terms))
            reasons.append(Reason(depth, _sum(head, equation, solution), equation.origin.text,
                                  equation.origin.span))  # fmt: skip
        for equation in derivations.get(each, ()):
            for other in equation.terms:
                tell(other, depth + 1)

    tell(var, 0)
    return reasons + _rounding(solution, var, sizes)


def shown_name(var: Var, solution: Solution) -> str:
    """An unknown as a maker would call it."""
    owner, quantity = var
    piece, _, number = owner.partition("#")
    if number:
        part = next(each for each in solution.parts.ordered if each.owner == owner)
        piece = f"{piece} on {part.host.name}" if part.host else piece
    bands = {each.name for each in solution.card.pieces if each.kind == "band"}
    if owner in bands:
        quantity = {"width": "length", "height": "width"}.get(quantity, quantity)
    if quantity.endswith(" border"):
        return f"{piece} {quantity}"
    if "-line " in quantity:
        return f"{piece} {_line_name(var, solution)}"
    asked = quantity.removeprefix("fold ")
    if asked in ("width", "height") and asked != quantity:
        return f"{piece} {quantity}"  # `card.width` is the width of the flat sheet
    return f"{piece}.{asked}"


# ---- derivations ---------------------------------------------------------------------------------


def derivations(solution: Solution) -> dict[Var, tuple[Said, ...]]:
    """For each settled unknown the equation that settles it from unknowns settled before it.

    This repeats what a person would do with pencil and paper: find a statement with one gap, fill it,
    look again. Where no statement has a single gap, the open ones are settled together.
    """
    known: dict[Var, tuple[Said, ...]] = {}
    waiting = [each for each in solution.system.accepted
               if all(var in solution.values for var in each.terms)]  # fmt: skip
    while waiting:
        still = []
        for equation in waiting:
            gaps = [var for var in equation.terms if var not in known]
            if len(gaps) == 1:
                known[gaps[0]] = (equation,)
            else:  # at least two: what follows from others is not accepted
                still.append(equation)
        if len(still) == len(waiting):
            return {**known, **_together(still, known)}
        waiting = still
    return known


def _together(
    waiting: list[Said], known: Mapping[Var, tuple[Said, ...]]
) -> dict[Var, tuple[Said, ...]]:
    """Equations that share gaps settle them together: group them by what they share."""
    groups: list[tuple[set[Var], list[Said]]] = []
    for equation in waiting:
        gaps = {var for var in equation.terms if var not in known}
        touching = [group for group in groups if group[0] & gaps]
        merged = (gaps.union(*(group[0] for group in touching)),
                  [*(each for group in touching for each in group[1]), equation])  # fmt: skip
        groups = [group for group in groups if group not in touching] + [merged]
    return {var: tuple(equations) for gaps, equations in groups for var in gaps}


# ---- writing -------------------------------------------------------------------------------------


def _sum(var: Var, equation: Said, solution: Solution) -> str:
    """The equation solved for `var`, with the value beside every name."""
    own = equation.terms[var]
    terms: dict[str, Fraction] = {}
    values: dict[str, Fraction] = {}
    for other, coefficient in equation.terms.items():
        if other == var:
            continue
        name = _term_name(other, var, solution)
        terms[name] = terms.get(name, Fraction(0)) - coefficient / own
        values[name] = solution.values[other]
    parts = [_term(name, factor, values[name], solution) for name, factor in terms.items()]
    constant = equation.constant / own
    if constant or not parts:
        parts.append((constant < 0, written(abs(constant), solution.unit)))
    parts.sort(key=lambda part: part[0])  # what is added first
    head = f"{shown_name(var, solution)} = {_joined(parts)}"
    return f"{head}\u00a0{ABBREVIATION[solution.unit]}" if not terms else (
        f"{head} = {with_unit(solution.values[var], solution.unit)}"
    )


def _term_name(other: Var, var: Var, solution: Solution) -> str:
    """Borders of one piece that are alike are one term, `2 × border`."""
    owner, quantity = other
    if quantity.endswith(" border"):
        opposite = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}
        twin = (owner, f"{opposite[quantity.split()[0]]} border")
        if twin != var and solution.values.get(twin) == solution.values[other]:
            return "border" if owner == var[0] else f"border of {owner.partition('#')[0]}"
    return shown_name(other, solution)


def _term(
    name: str, factor: Fraction, value: Fraction, solution: Solution
) -> tuple[bool, str]:
    text = f"{name} {written(value, solution.unit)}"
    if abs(factor) != 1:
        text = f"{written(abs(factor), 'inch')} {TIMES} {text}"
    return factor < 0, text


def _joined(parts: list[tuple[bool, str]]) -> str:
    first_negative, first = parts[0]
    text = f"{MINUS}{first}" if first_negative else first
    for negative, part in parts[1:]:
        text += f" {MINUS if negative else '+'} {part}"
    return text


def _line_name(var: Var, solution: Solution) -> str:
    axis = var[1].partition("-")[0]
    lines = enumerate(solution.draft.lines[var[0], axis], 1)
    number, word = next((number, line.word) for number, (line, other) in lines if other == var)
    return f"{word} {number} from {'left' if axis == 'x' else 'top'}"


def _rounding(solution: Solution, var: Var, sizes: Mapping[Var, Fraction]) -> list[Reason]:
    exact = solution.values[var]
    size = sizes.get(var, exact)
    if size == exact or var[1] not in ("width", "height"):
        return []
    part = next(each for each in solution.parts.ordered if each.owner == var[0])
    way = "down" if size < exact else "up"
    text = f"cut at {with_unit(size, solution.unit)}"
    because = f"rounded {way} to the ruler's {with_unit(solution.grid, solution.unit)}"
    return [Reason(0, text, because, part.piece.span)]
