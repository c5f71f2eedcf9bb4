"""Solved sizes to sizes that can be cut: pieces rounded down to the ruler, a band's length up.

A piece that follows from its host by borders follows the host's rounded size, so that borders that
should be equal stay equal: what is lost goes to both sides alike.
"""

from collections.abc import Mapping
from fractions import Fraction

from cardrecipe.model.lengths import is_on, round_down, round_up
from cardrecipe.model.values import Var
from cardrecipe.solve.parts import Part
from cardrecipe.solve.section_panels import edges_round
from cardrecipe.solve.sizes import Solution


def rounded_sizes(solution: Solution) -> dict[Var, Fraction]:
    """Width and height of every part, as they are cut, in units of the solution; sections too."""
    sizes: dict[Var, Fraction] = {
        (owner, quantity): solution.values[owner, quantity]
        for owner in solution.parts.sections.values()
        for quantity in ("width", "height")
        if (owner, quantity) in solution.values
    }
    for part in solution.parts.ordered:
        for quantity in ("width", "height"):
            exact = solution.values.get((part.owner, quantity))
            if exact is not None:
                sizes[part.owner, quantity] = _rounded(part, quantity, exact, sizes, solution)
        if part.piece.kind == "band":
            _show_front(part, sizes, solution)
    return sizes


def edges_of(
    part: Part, sizes: Mapping[Var, Fraction], solution: Solution
) -> dict[str, Fraction]:
    """What shows of the host on each edge of a part, after rounding."""
    edges: dict[str, Fraction] = {}
    panel, around = solution.panels.get(part.owner), part.over or part.host_owner
    if panel is not None and around is not None:
        box = {quantity: sizes[around, quantity]
               for quantity in ("width", "height") if (around, quantity) in sizes}  # fmt: skip
        return edges_round(panel, box, is_mat=part.over is not None) if len(box) == 2 else {}
    for start, end, quantity in (("left", "right", "width"), ("top", "bottom", "height")):
        before, after = (solution.values.get((part.owner, f"{edge} border")) for edge in (start, end))
        if before is None or after is None or (part.owner, quantity) not in sizes:
            continue
        lost = _free_space(part, quantity, sizes, solution)
        fixed = {*part.piece.borders, *part.piece.places}
        if start in fixed:
            edges[start], edges[end] = before, after + lost
        elif end in fixed:
            edges[start], edges[end] = before + lost, after
        else:
            edges[start], edges[end] = before + lost / 2, after + lost / 2
    return edges


def _free_space(
    part: Part, quantity: str, sizes: Mapping[Var, Fraction], solution: Solution
) -> Fraction:
    """How much wider the space round a part is than it was before rounding."""
    number = _copies_along(part, quantity)
    own = solution.values[part.owner, quantity] - sizes[part.owner, quantity]
    around = part.over or part.host_owner
    assert around is not None  # only what lies on something, or under it, has edges
    change = sizes.get((around, quantity), Fraction(0)) - solution.values.get(
        (around, quantity), Fraction(0)
    )
    return -own - change if part.over else number * own + change


def _copies_along(part: Part, quantity: str) -> int:
    repeat = part.piece.repeat
    along = {"width": "across", "height": "down"}[quantity]
    return repeat.number if repeat is not None and repeat.way == along else 1


def _rounded(
    part: Part, quantity: str, exact: Fraction, sizes: Mapping[Var, Fraction], solution: Solution
) -> Fraction:
    piece = part.piece
    if part.owner in solution.panels:
        return exact  # its corners are on marks wherever there are any
    if piece.kind == "base":
        return exact  # sections must add up to the sheet; `checks` reports what no ruler shows
    if piece.kind == "band" and quantity == "width":
        return exact if piece.length is not None else round_up(exact, solution.grid)
    given = piece.width if quantity == "width" else piece.height
    if given is None:
        around = part.over or part.host_owner
        if around is not None:
            before = solution.values.get((around, quantity), Fraction(0))
            exact += sizes.get((around, quantity), before) - before
    if is_on(exact, solution.grid):
        return exact
    return round_down(exact, solution.grid)


def _show_front(part: Part, sizes: dict[Var, Fraction], solution: Solution) -> None:
    front = part.owner + " front"
    for quantity in ("width", "height"):
        if (front, quantity) in solution.values:
            sizes[front, quantity] = solution.values[front, quantity]
