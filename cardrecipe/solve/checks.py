"""What can be said of the sizes themselves: one function for each rule, all in one list.

They run once the card is solved. Rules about folding, glue and envelopes belong to later stages.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import LineOn, Piece, Scoped
from cardrecipe.model.lengths import is_on, round_down, round_up, typed, with_unit
from cardrecipe.model.values import Names, NotYet, Poisoned, Reader, Unreadable, Var, asked_var
from cardrecipe.solve.details import wrong_details
from cardrecipe.solve.equations import ONE, Origin, Said
from cardrecipe.solve.linear import Equation, System
from cardrecipe.solve.missing_sections import missing_sections
from cardrecipe.solve.on_the_piece import Flat, at_no_place, off_their_piece
from cardrecipe.solve.parts import Part
from cardrecipe.solve.reaching import what_reaches_beyond
from cardrecipe.solve.rounding import edges_of, rounded_sizes
from cardrecipe.solve.sized import Edges
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax.diagnostics import Diagnostic, error, warning
from cardrecipe.syntax.spans import Span


class Solved(NamedTuple):
    """A solution with its rounded sizes; `is_final` once the closed card is known."""

    solution: Solution
    sizes: dict[Var, Fraction]
    is_final: bool


def check_sizes(solution: Solution, is_final: bool = True) -> list[Diagnostic]:
    """Every mistake and warning about the sizes of a card, in the order of `RULES`."""
    solved = Solved(solution, rounded_sizes(solution), is_final)
    return [each for rule in RULES for each in rule(solved)]


def unsolved(solved: Solved) -> Iterator[Diagnostic]:
    """A size that nothing settles is an error; the first of a chain is named, not what hangs on it."""
    if all((part.owner, quantity) in solved.solution.values
           for part in solved.solution.parts.ordered for quantity in ("width", "height")):  # fmt: skip
        return
    values = _supposed(solved, list(_open_lines(solved.solution)))
    open_owners: set[str] = set()
    for part in solved.solution.parts.ordered:
        missing = [q for q in ("width", "height") if (part.owner, q) not in values]
        hosts = (part.host_owner or "", part.over or "")
        if not missing:
            continue
        waits = any(host in open_owners or host.removesuffix(" front") in open_owners for host in hosts)
        if waits and _could_follow(part, solved):
            open_owners.add(part.owner)
            continue
        open_owners.add(part.owner)
        if part.piece.kind == "base":
            open_owners.update(solved.solution.parts.sections[part.piece.name, section]
                               for section in part.piece.sections)  # fmt: skip
        yield _unsolved(part, missing, solved)


def _could_follow(part: Part, solved: Solved) -> bool:
    """True where the size of a part would be settled once its host's is: by borders, or round a piece."""
    piece = part.piece
    if part.over is not None or piece.kind != "panel":
        return part.over is not None or piece.kind == "band"
    return solved.solution.card.head.border is not None or len(piece.borders) == len(Edges._fields)


def _supposed(solved: Solved, also: Sequence[Said] = ()) -> Mapping[Var, Fraction]:
    """What is settled, and what would be if every expression that means nothing meant something.

    Those expressions have their own diagnostics; what hangs on them is no second mistake. Before the
    card is folded, what hangs on its closed size is none at all.
    """
    solution = solved.solution
    suppositions = [*solution.draft.unread, *([] if solved.is_final else _after_folding(solution)), *also]
    if not suppositions:
        return solution.values
    supposed: System[Origin] = System()
    for equation in [*solution.system.accepted, *suppositions]:
        supposed.add(equation)
    return supposed.values()


def _open_lines(solution: Solution) -> Iterator[Said]:
    """Scores at `?`: where one stays open, `score_off_sheet` says so."""
    for lines in solution.draft.lines.values():
        for line, var in lines:
            if line.at.is_open:
                yield Equation({var: ONE}, ONE, Origin(line.span, "a score that is left open"))


def _after_folding(solution: Solution) -> Iterator[Said]:
    for each in solution.draft.pending:
        yield Equation({each.unknown: ONE, **dict(each.rest)}, ONE, each.origin)
    for piece in solution.card.pieces:
        closed = ("finished-width", "finished-height", "thickness") if piece.kind == "base" else ("stack",)
        for quantity in closed if piece.kind in ("base", "band") else ():
            yield Equation({(piece.name, quantity): ONE}, ONE, Origin(piece.span, "the closed card"))


def _unsolved(part: Part, missing: list[str], solved: Solved) -> Diagnostic:
    piece = part.piece
    what = " and the ".join(_own_word(piece.kind, quantity) for quantity in missing)
    message = f"nothing settles the {what} of `{piece.name}`"
    if piece.kind == "base":
        return error("unsolved", piece.span, message, _base_hint(part, solved))
    if piece.kind == "band":
        return error("unsolved", piece.span, message, "write how wide the strip is: width 1 1/2")
    if piece.kind in ("circle", "oval", "square") and len(missing) == 2:
        shape = "diameter 2" if piece.kind == "circle" else "size 3 x 2 1/4"
        return error("unsolved", piece.span, message, f"write {shape}")
    if piece.kind == "panel" and part.host_owner is not None:
        hint = "write `border 1/8` under `recipe` or in the panel, or give its size: size 4 x 5 1/4"
        return error("unsolved", piece.span, message, hint)
    return error("unsolved", piece.span, message, "give its size: size 3 x 2 1/4")


def _own_word(kind: str, quantity: str) -> str:
    if kind == "band":
        return "length" if quantity == "width" else "width"
    return f"flat {quantity}" if kind == "base" else quantity


def _base_hint(part: Part, solved: Solved) -> str:
    scope = next(iter(part.piece.scopes), None)
    if scope is None:
        return "write its size before it is folded: flat 10 x 7"
    values = solved.solution.values
    open_names = [name for name in scope.asked
                  if name not in scope.scalars and asked_var(scope, name) not in values]  # fmt: skip
    if not open_names:
        return "give another size of the fold"
    asked = ", ".join(f"{name} …" for name in open_names)
    return f"the fold needs {asked}; or give a panel on it both a size and a border"


def _is_nothing(part: Part, size: Fraction, solved: Solved) -> bool:
    """Sizes of less than a mark are rounded to nothing, but for that of a base, which is cut as it is."""
    is_base = part.piece.kind == "base" and part.owner == part.piece.name
    return size <= 0 or (is_base and size < solved.solution.grid)


def not_positive(solved: Solved) -> Iterator[Diagnostic]:
    """A size of nothing or less is an error, and so is a border that leaves nothing of a panel."""
    for part in solved.solution.parts.ordered:
        said: set[Span] = set()  # a diameter or a border settles both sizes and is one mistake
        for quantity in ("width", "height"):
            size = solved.sizes.get((part.owner, quantity))
            if size is None or not _is_nothing(part, size, solved):
                continue
            exact = solved.solution.values[part.owner, quantity]
            word = _own_word(part.piece.kind, quantity)
            given = part.piece.width if quantity == "width" else part.piece.height
            span = given.span if given is not None else part.piece.span
            if span in said:
                continue
            said.add(span)
            if exact > 0:
                yield error("size-not-positive", span, f"the {word} of `{part.piece.name}` comes to "
                            f"{_long(exact, solved)}, less than the ruler's "
                            f"{_long(solved.solution.grid, solved)}", "make it larger")  # fmt: skip
            elif given is None and part.host_owner is not None:
                yield error("border-leaves-nothing", span, f"the border leaves nothing of "
                            f"`{part.piece.name}`: its {word} would be {_long(exact, solved)}",
                            "make the border smaller")  # fmt: skip
            else:
                yield error("size-not-positive", span, f"the {word} of `{part.piece.name}` comes to "
                            f"{_long(exact, solved)}", "make it more than nothing")  # fmt: skip


def details(solved: Solved) -> Iterator[Diagnostic]:
    """Windows, round corners and foam."""
    yield from wrong_details(solved.solution)


def parted(solved: Solved) -> Iterator[Diagnostic]:
    """A border as wide as a narrow place of a section would leave a panel in several pieces."""
    for owner, panel in solved.solution.panels.items():
        piece = next(part.piece for part in solved.solution.parts.ordered if part.owner == owner)
        if panel.parted > 1:
            yield error("border-leaves-nothing", piece.span, f"the border leaves nothing of "
                        f"`{piece.name}` in a narrow place: it would be {panel.parted} pieces",
                        "make the border smaller, or give its size: size 4 x 5 1/4")  # fmt: skip


def score_off_sheet(solved: Solved) -> Iterator[Diagnostic]:
    """A score must lie on its piece, not at an edge, and no two in one place."""
    yield from off_their_piece(solved.solution)
    values = solved.solution.values
    if any(line.at.is_open for lines in solved.solution.draft.lines.values() for line, _ in lines):
        supposed = _supposed(solved)
    else:
        supposed = values
    for (owner, axis), lines in solved.solution.draft.lines.items():
        size = values.get((owner, "width" if axis == "x" else "height"))
        at_before: tuple[Fraction, LineOn] | None = None
        for line, var in lines:
            at = values.get(var)
            if line.at.is_open and size is not None and var not in supposed:
                yield error("unsolved", line.span,
                            f"nothing settles where this {line.word} of `{owner}` lies",
                            "write its distance, or give a panel beside it a size and a border")  # fmt: skip
            if at is None or size is None:
                continue
            flat = Flat(owner, size, size, solved.solution.unit)
            beyond = at_no_place(flat, line.word, axis, at, line.span)
            if beyond is not None:
                yield beyond
            elif at_before is not None and at_before[0] == at:
                yield error("score-twice", line.span, f"two lines of `{owner}` lie at "
                            f"{_long(at, solved)}", "take one of them away")  # fmt: skip
            at_before = (at, line)


def reaching(solved: Solved) -> Iterator[Diagnostic]:
    """Pieces, bands and copies that reach beyond what they lie on."""
    yield from what_reaches_beyond(solved.solution, solved.sizes)


def off_grid(solved: Solved) -> Iterator[Diagnostic]:
    """A solved size that no mark of the ruler shows is reported with the marks on both sides of it."""
    grid = solved.solution.grid
    for part in solved.solution.parts.ordered:
        for quantity in ("width", "height"):
            exact = solved.solution.values.get((part.owner, quantity))
            size = solved.sizes.get((part.owner, quantity))
            if exact is None or is_on(exact, grid) or part.owner != part.piece.name:
                continue
            if size is not None and _is_nothing(part, size, solved):
                continue  # an error already
            if part.piece.kind == "band" and quantity == "width" and part.piece.length is None:
                continue  # a band's wrap holds the thickness of the card: it is always rounded up
            what = f"the {_own_word(part.piece.kind, quantity)} of `{part.piece.name}`"
            cut = f"; it is cut at {_long(size, solved)}" if size not in (None, exact) else ""
            yield warning("off-grid", part.piece.span, f"{what} comes to {_long(exact, solved)}, between "
                          f"the marks {_marks(exact, solved)}{cut}", _grid_hint(solved))  # fmt: skip
    for (owner, axis), lines in solved.solution.draft.lines.items():
        for line, var in lines:
            at = solved.solution.values.get(var)
            if at is not None and not is_on(at, grid):
                yield warning("off-grid", line.span, f"a {line.word} of `{owner}` comes to "
                              f"{_long(at, solved)} from the {'left' if axis == 'x' else 'top'}, between "
                              f"the marks {_marks(at, solved)}", _grid_hint(solved))  # fmt: skip


def border_not_equal(solved: Solved) -> Iterator[Diagnostic]:
    """A panel that nearly fills its host should show the same border on all four edges."""
    border = _default_border(solved)
    if border is None:
        return
    for part in solved.solution.parts.ordered:
        piece = part.piece
        if piece.kind != "panel" or part.host is None or piece.borders or piece.places or piece.overhangs:
            continue
        edges = edges_of(part, solved.sizes, solved.solution)
        amounts = set(edges.values())
        if part.owner in solved.solution.panels:
            continue
        uneven = len(edges) == 4 and len(amounts) > 1 and border in amounts and min(amounts) >= 0
        if uneven and part.over is None:
            shown = f"{_long(edges['left'], solved)} at the sides, " \
                    f"{_long(edges['top'], solved)} at top and bottom"  # fmt: skip
            yield warning("border-not-equal", piece.span, f"the border round `{piece.name}` is not the "
                          f"same all round: {shown}",
                          "leave one of its sizes open with `?`, or write the border out")  # fmt: skip


def bad_nearest(solved: Solved) -> Iterator[Diagnostic]:
    """The grid of the maker's ruler is a length of its own."""
    nearest = solved.solution.card.head.nearest
    if nearest is None:
        return
    unit = solved.solution.card.head.unit
    try:
        grid = Reader(unit, unit, Names({})).constant_length(nearest)
    except Unreadable as problem:
        yield problem.diagnostic  # without names of sizes nothing is open or poisoned
    else:
        if grid <= 0:
            yield error("size-not-positive", nearest.span, "the ruler's marks cannot be nothing apart",
                        "write `units inch nearest 1/16` or `units mm nearest 1`")  # fmt: skip


def not_there(solved: Solved) -> Iterator[Diagnostic]:
    """A section of which only its name is there."""
    if solved.is_final:
        yield from missing_sections(solved.solution)


def unread(solved: Solved) -> Iterator[Diagnostic]:
    """Lengths and numbers that take no part in the equations must mean something too."""
    card = solved.solution.card
    reader = Reader(card.head.unit, card.head.unit, solved.solution.names)
    reader.known = solved.solution.values
    pieces = [piece for piece in card.pieces if piece.name not in solved.solution.parts.skipped]
    for scoped, read in [
        *((each, reader.anything) for each in card.scope.lets.values()),
        *((each, reader.length) for each in (card.head.border,) if each is not None),
        *((each, reader.length) for piece in pieces for each in _lengths_beside(piece)),
        *((each.turned, reader.number) for each in pieces if each.turned is not None),
        *((degrees, reader.number) for pose in card.poses for _, _, degrees in pose.folds),
    ]:
        try:
            read(scoped)
        except Unreadable as problem:
            yield problem.diagnostic
        except (NotYet, Poisoned):
            continue


def _lengths_beside(piece: Piece) -> Iterator[Scoped]:
    """The lengths of a piece that settle none of its sizes."""
    found: list[Scoped | None] = [piece.corners, piece.glue.thick if piece.glue is not None else None]
    for work in piece.works:
        found += [work.middle, work.long]
    for line in piece.lines:
        found += [None if line.at.is_open else line.at, *(line.between or ())]
    for slanted in piece.slanted:
        found += [*slanted.start, *slanted.end]
    for window in piece.windows:
        found += [window.width, window.height, window.x, window.y]
    return (each for each in found if each is not None)


def _default_border(solved: Solved) -> Fraction | None:
    border = solved.solution.card.head.border
    if border is None:
        return None
    unit = solved.solution.unit
    try:
        reader = Reader(solved.solution.card.head.unit, unit, solved.solution.names)
        return reader.length(border).constant
    except (Unreadable, NotYet, Poisoned):
        return None


def _long(value: Fraction | None, solved: Solved) -> str:
    return with_unit(value or Fraction(0), solved.solution.unit)


def _marks(value: Fraction, solved: Solved) -> str:
    grid, unit = solved.solution.grid, solved.solution.unit
    return f"{with_unit(round_down(value, grid), unit)} and {with_unit(round_up(value, grid), unit)}"


def _grid_hint(solved: Solved) -> str:
    return f"the recipe's ruler has marks {typed(solved.solution.grid)} apart"


Rule = Callable[[Solved], Iterator[Diagnostic]]
RULES: tuple[Rule, ...] = (
    bad_nearest, unread, unsolved, not_positive, details, parted, score_off_sheet, not_there, reaching,
    border_not_equal, off_grid,
)  # fmt: skip
