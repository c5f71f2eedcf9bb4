"""Card to sized card: all equations solved together, then rounded to the maker's ruler.

`solve_sizes` may be called before the closed card is known (bands and `card.finished-width` stay open)
and again with it. Nothing after this stage holds an unknown.
"""

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Card
from cardrecipe.model.lengths import GRID, round_near
from cardrecipe.model.values import Names, NotYet, Poisoned, Reader, Unreadable, Var, beyond_measure
from cardrecipe.solve.contradictions import contradiction
from cardrecipe.solve.equations import DEFAULTS, ONE, Draft, Drafting, Origin, Pending, Said
from cardrecipe.solve.linear import Equation, System
from cardrecipe.solve.parts import Parts, parts_of
from cardrecipe.solve.section_panels import Panel, section_panels
from cardrecipe.solve.sections import Solved, sections_of
from cardrecipe.solve.sized import SizedSection
from cardrecipe.solve.unknowns import names_of
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span

# Scores are put in order, solved and put in order again: two rounds are usual. A base that is as large as a
# panel on a slanted section takes one more, for its own sections are known only then.
_MAX_ROUNDS = 16


class ClosedSize(NamedTuple):
    """A base folded shut, in the recipe's unit; `stacks` is the thickness under each band by name.

    `thickness` is None where nothing asks for it: it takes long to find.
    """

    width: Fraction
    height: Fraction
    thickness: Fraction | None
    stacks: Mapping[str, Fraction]


class Solution(NamedTuple):
    """What the unknowns are, and what led there. `values` holds only what is settled."""

    card: Card
    unit: str
    grid: Fraction
    names: Names
    parts: Parts
    values: Mapping[Var, Fraction]
    system: System[Origin]
    draft: Draft
    panels: Mapping[str, Panel]  # with the outline of what they lie on, by their parts
    rounded: Mapping[Span, Fraction]  # numbers that the other unit's grid changed, with their exact size

    def placed(self) -> Solved:
        """Give what sections are worked out from, read with all that is settled."""
        reader = Reader(self.card.head.unit, self.unit, self.names, self.values)
        return Solved(self.values, self.draft.lines, reader)


def solve_sizes(
    card: Card,
    unit: str | None = None,
    closed: Mapping[str, ClosedSize] | None = None,
    nudges: Mapping[Span, int] | None = None,
    poison: frozenset[str] = frozenset(),
) -> tuple[Solution, list[Diagnostic]]:
    """Solve a card in `unit` (default: its own), with what is known of its closed bases.

    The diagnostics are contradictions and expressions that mean nothing; sizes that stay open are
    simply absent from the values.
    """
    unit = unit or card.head.unit
    parts, diagnostics = parts_of(card)
    names = names_of(card, parts, poison)
    orders: dict[tuple[str, str], list[int]] = {}
    shapes: dict[str, tuple[SizedSection, ...]] = {}
    panels: dict[str, Panel] = {}
    grid = _grid(card, unit)
    for _ in range(_MAX_ROUNDS):
        reader = Reader(card.head.unit, unit, names, nudges=nudges)
        draft = Drafting(card, parts, reader, orders, shapes, panels).drafted()
        system, problems = _solved(draft, reader, closed or {}, card, grid)
        values = system.values()
        better = _orders(draft, values)
        reader.known = values
        formed = _shapes(card, Solved(values, draft.lines, reader))
        drawn = section_panels(parts, formed, values, grid)
        in_order = {key: list(range(len(lines))) for key, lines in draft.lines.items()}
        if better == in_order and formed == shapes and drawn == panels:
            break
        orders, shapes, panels = _composed(better, draft), formed, drawn
    solution = Solution(card, unit, grid, names, parts, values, system, draft, panels,
                        dict(reader.used))  # fmt: skip
    return solution, [*diagnostics, *draft.diagnostics, *problems]


def _shapes(card: Card, solved: Solved) -> dict[str, tuple[SizedSection, ...]]:
    """The sections of the pieces that slits, part-way or slanted scores divide, as far as is known."""
    return {piece.name: sections_of(piece, solved) for piece in card.pieces
            if not piece.has_plain_sections and not piece.broken}  # fmt: skip


def _grid(card: Card, unit: str) -> Fraction:
    nearest = card.head.nearest
    if unit != card.head.unit or nearest is None:
        return GRID[unit]
    try:
        grid = Reader(unit, unit, Names({})).constant_length(nearest)
    except (Unreadable, NotYet, Poisoned):
        return GRID[unit]  # `checks` reports a grid that is not a length
    return grid if grid > 0 else GRID[unit]


# ---- solving -------------------------------------------------------------------------------------


def _solved(
    draft: Draft, reader: Reader, closed: Mapping[str, ClosedSize], card: Card, grid: Fraction
) -> tuple[System[Origin], list[Diagnostic]]:
    system: System[Origin] = System()
    problems: list[Diagnostic] = []

    def take(equation: Said) -> None:
        if system.add(equation):
            return
        if system.contradicts(equation):
            problems.append(contradiction(system, equation, reader.unit))
            return
        problems.append(beyond_measure(equation.origin.span))
        draft.unread.append(equation._replace(terms=dict.fromkeys(equation.terms, ONE), constant=ONE))

    for equation in [*draft.said, *_closed_facts(closed, card)]:
        take(equation)
    waiting = _read_pending(draft, draft.pending, system, reader, take)
    for wish in draft.wishes:
        equations = wish.equations
        if wish.rank == DEFAULTS:
            equations = tuple(_on_the_ruler(each, system, grid) for each in equations)
        if system.add_all(equations) and waiting:
            waiting = _read_pending(draft, waiting, system, reader, take)
    _read_pending(draft, waiting, system, reader, take)
    return system, problems


def _on_the_ruler(equation: Said, system: System[Origin], grid: Fraction) -> Said:
    """A structure's own size to the nearest mark, and never to nothing: nobody chose what lies between.

    Its unknown is the first of the equation; where something else in it is open yet, it stays as it is.
    """
    unknown, *others = equation.terms
    known = [system.value(var) for var in others]
    if system.value(unknown) is not None or equation.terms[unknown] != 1 or None in known:
        return equation
    pairs = zip(others, known, strict=True)
    rest = sum((equation.terms[var] * value for var, value in pairs if value is not None), Fraction(0))
    exact = equation.constant - rest
    if exact <= 0:
        return equation
    marked = max(round_near(exact, grid), grid)
    return equation._replace(constant=equation.constant + marked - exact)


def _closed_facts(closed: Mapping[str, ClosedSize], card: Card) -> list[Said]:
    facts: list[Said] = []
    for piece in card.pieces:
        if piece.kind == "base" and piece.name in closed:
            size = closed[piece.name]
            known = {"finished-width": size.width, "finished-height": size.height,
                     "thickness": size.thickness}  # fmt: skip
            origin = Origin(piece.span, f"{piece.name} folded shut")
            facts += [Equation({(piece.name, quantity): Fraction(1)}, value, origin)
                      for quantity, value in known.items() if value is not None]  # fmt: skip
        if piece.kind == "band" and piece.around is not None and piece.around in closed:
            shut = closed[piece.around]
            stack = shut.stacks.get(piece.name, shut.thickness or Fraction(0))
            origin = Origin(piece.span, f"the stack that {piece.name} goes round")
            facts.append(Equation({(piece.name, "stack"): Fraction(1)}, stack, origin))
    return facts


def _read_pending(
    draft: Draft,
    pending: list[Pending],
    system: System[Origin],
    reader: Reader,
    take: Callable[[Said], None],
) -> list[Pending]:
    """Read the expressions that can be read by now, as long as that brings anything new."""
    waiting = pending
    while waiting:
        reader.known = system.values()
        still: list[Pending] = []
        for each in waiting:
            try:
                value = reader.length(each.scoped)
            except NotYet:
                still.append(each)
                continue
            except (Unreadable, Poisoned) as problem:
                if isinstance(problem, Unreadable):
                    draft.diagnostics.append(problem.diagnostic)
                draft.unread.append(
                    Equation({each.unknown: Fraction(1), **dict(each.rest)}, Fraction(1), each.origin)
                )
                continue
            terms = {each.unknown: Fraction(1), **dict(each.rest)}
            for var, coefficient in value.terms.items():
                terms[var] = terms.get(var, Fraction(0)) - each.factor * coefficient
            take(Equation(terms, each.factor * value.constant, each.origin))
        if len(still) == len(waiting):
            break
        waiting = still
    return waiting


# ---- the order of scores -------------------------------------------------------------------------


def _orders(draft: Draft, values: Mapping[Var, Fraction]) -> dict[tuple[str, str], list[int]]:
    """For each row of lines, their places in ascending order of where they came out."""
    orders = {}
    for key, lines in draft.lines.items():
        positions = [values.get(var) for _, var in lines]
        order = list(range(len(lines)))
        if None not in positions:
            order.sort(key=lambda at: (positions[at], at))
        orders[key] = order
    return orders


def _composed(
    better: Mapping[tuple[str, str], list[int]],
    draft: Draft,
) -> dict[tuple[str, str], list[int]]:
    """`better` counts in the order that `draft` used; the result counts in written order."""
    composed = {}
    for key, order in better.items():
        numbers = [_written_number(var) for _, var in draft.lines[key]]
        composed[key] = [numbers[at] for at in order]
    return composed


def _written_number(var: Var) -> int:
    return int(var[1].rpartition(" ")[2]) - 1
