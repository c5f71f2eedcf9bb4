"""Solution to sized card: parts of one size become one piece, each copy with its place on its host."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Card, Piece, Scoped, StepOn
from cardrecipe.model.lengths import convert
from cardrecipe.model.materials import in_unit
from cardrecipe.model.values import NotYet, Poisoned, Reader, Unreadable, Var
from cardrecipe.model.work import Glue, Work
from cardrecipe.solve.mats import Chains, chains_of
from cardrecipe.solve.parts import Part, front_of
from cardrecipe.solve.rounding import edges_of, rounded_sizes
from cardrecipe.solve.sections import Solved, known_number, scores_of, sections_of, windows_of
from cardrecipe.solve.sized import (
    Around,
    Edges,
    ExtraStep,
    Join,
    Placement,
    Point,
    Pose,
    SizedCard,
    SizedPiece,
)
from cardrecipe.solve.sizes import Solution

_ZERO = Fraction(0)


class _Spot(NamedTuple):
    """A part among the sized pieces: the piece's name, the number of its first copy, how many."""

    name: str
    first: int
    copies: int


def assembled(solution: Solution) -> SizedCard:
    """The sized card. Pieces of which a size is open or not positive are left out."""
    card, unit = solution.card, solution.unit
    sizes = rounded_sizes(solution)
    reader = _reader(solution)
    groups = _groups(solution, sizes)
    chains = chains_of(solution, sizes)
    spots = _spots(groups, chains.rows)
    pieces = tuple(_piece(name, parts, solution, sizes, spots, chains, reader)
                   for name, parts in groups.items())  # fmt: skip
    return SizedCard(
        title=card.head.title, about=card.head.about, unit=unit, nearest=solution.grid,
        border=_length(card.head.border, reader), makes=card.head.makes,
        envelope=card.head.envelope, variant=card.variant,
        papers={name: in_unit(paper, card.head.unit, unit) for name, paper in card.papers.items()},
        supplies=dict(card.supplies), pieces=pieces, poses=_poses(card, groups, reader),
        extra_steps=tuple(_extra_step(step, groups) for step in card.steps),
        envelope_span=card.head.envelope_span,
    )  # fmt: skip


def _extra_step(step: StepOn, groups: Mapping[str, list[Part]]) -> ExtraStep:
    """A maker's own step; of a piece that came out in several sizes before the first or after the last."""
    names = [name for name, parts in groups.items() if parts[0].piece.name == step.piece] or [step.piece]
    return ExtraStep(step.place, names[0 if step.place == "before" else -1], step.text, step.span)


def _reader(solution: Solution) -> Reader:
    reader = Reader(solution.card.head.unit, solution.unit, solution.names)
    reader.known = solution.values
    return reader


def _length(scoped: Scoped | None, reader: Reader) -> Fraction | None:
    if scoped is None:
        return None
    try:
        value = reader.length(scoped)
        return value.constant + sum((c * reader.known[v] for v, c in value.terms.items()), _ZERO)
    except (Unreadable, NotYet, Poisoned, KeyError):
        return None


# ---- which parts are one piece -------------------------------------------------------------------


def _groups(solution: Solution, sizes: Mapping[Var, Fraction]) -> dict[str, list[Part]]:
    """Sized pieces by name: all parts of a piece where they agree, else one for each size or outline."""
    groups: dict[str, list[Part]] = {}
    for piece in solution.card.pieces:
        by_size: dict[tuple[Fraction, Fraction, tuple[Point, ...] | None], list[Part]] = {}
        for part in solution.parts.of_piece(piece.name):
            width, height = (sizes.get((part.owner, q), _ZERO) for q in ("width", "height"))
            if width > 0 and height > 0:
                by_size.setdefault((width, height, _outline(part, solution)), []).append(part)
        if len(by_size) == 1:
            groups[piece.name] = next(iter(by_size.values()))
        else:
            for parts in by_size.values():
                host = parts[0].host
                groups[f"{piece.name}-on-{host.name if host else len(groups)}"] = parts
    return groups


def _outline(part: Part, solution: Solution) -> tuple[Point, ...] | None:
    panel = solution.panels.get(part.owner)
    return panel.outline if panel is not None and not panel.is_rectangle else None


def _spots(groups: Mapping[str, list[Part]], rows: Mapping[str, Part]) -> dict[str, _Spot]:
    spots = {}
    for name, parts in groups.items():
        first = 0
        for part in parts:
            repeat = rows[part.owner].piece.repeat
            copies = repeat.number if repeat is not None else 1
            if part.host is None:
                copies = part.piece.count  # each of the loose pieces that are alike can carry something
            spots[part.owner] = _Spot(name, first, copies)
            first += copies
    return spots


# ---- one piece -----------------------------------------------------------------------------------


def _piece(
    name: str, parts: list[Part], solution: Solution, sizes: Mapping[Var, Fraction],
    spots: Mapping[str, _Spot], chains: Chains, reader: Reader,
) -> SizedPiece:  # fmt: skip
    piece, owner = parts[0].piece, parts[0].owner
    width, height = sizes[owner, "width"], sizes[owner, "height"]
    exact = {q: solution.values[owner, q] for q in ("width", "height")}
    if piece.kind == "band" and piece.downward:  # as it hangs: its length runs down
        width, height = height, width
        exact = {"width": exact["height"], "height": exact["width"]}
    known = Solved(solution.values, solution.draft.lines, reader)
    placements = tuple(each for part in parts
                       for each in _placements(part, solution, sizes, spots, chains))  # fmt: skip
    return SizedPiece(
        name=name, kind=piece.kind, paper=piece.paper, width=width, height=height,
        count=max(len(placements), 1) * piece.count, span=piece.span, placements=placements,
        under=piece.under, around=_around(piece, solution, sizes[owner, "width"]),
        scores=scores_of(piece, known), sections=sections_of(piece, known),
        windows=windows_of(piece, reader),
        corner_radius=_length(piece.corners, reader), turned=_degrees(piece.turned, reader),
        works=_works(piece, reader), glue=_glue(piece, solution), loose=piece.loose,
        joins=_joins(piece, spots), outline=_outline(parts[0], solution),
        overhangs=piece.overhangs, tips=piece.tips, tips_on=piece.tips_on,
        exact_width=exact["width"] if exact["width"] != width else None,
        exact_height=exact["height"] if exact["height"] != height else None,
    )  # fmt: skip


def _placements(
    part: Part, solution: Solution, sizes: Mapping[Var, Fraction],
    spots: Mapping[str, _Spot], chains: Chains,
) -> list[Placement]:  # fmt: skip
    mat = chains.beneath.get(part.owner)
    if mat is not None and mat.owner in spots:
        return _on_mat(part, mat, chains, spots)
    if part.host is None or part.host_part is None or part.host_part not in spots:
        return []
    edges = _edges(part, solution, sizes, chains)
    if edges is None:
        return []
    if part.host_owner == front_of(part.host_part):
        edges = _on_strip(edges, part, solution, sizes)
    spot = spots[part.host_part]
    is_section = part.host.section is not None
    host = part.host.section or spot.name
    return [
        Placement(host, spot.name, copy, part.host.side, x, y, edges, is_section)
        for copy in range(spot.first, spot.first + spot.copies)
        for x, y in _corners(part, edges, solution, sizes, chains)
    ]


def _on_strip(edges: Edges, part: Part, solution: Solution, sizes: Mapping[Var, Fraction]) -> Edges:
    """A place on the front of a band, measured on the whole strip: their middles are the same."""
    band, front = part.host_part or "", part.host_owner or ""
    downward = _piece_named(band, solution).downward
    front_length = solution.values[front, "height" if downward else "width"]
    behind = (sizes[band, "width"] - front_length) / 2
    left, right, top, bottom = edges
    if downward:
        return Edges(left, right, top + behind, bottom + behind)
    return Edges(left + behind, right + behind, top, bottom)


def _piece_named(name: str, solution: Solution) -> Piece:
    return next(piece for piece in solution.card.pieces if piece.name == name)


def _corners(
    part: Part, edges: Edges, solution: Solution, sizes: Mapping[Var, Fraction], chains: Chains
) -> list[tuple[Fraction, Fraction]]:
    """Left and top of every copy that `repeat` makes."""
    row = chains.rows[part.owner]
    repeat = row.piece.repeat
    if repeat is None:
        return [(edges.left, edges.top)]
    gap = solution.values.get((row.owner, "gap"), _ZERO)
    quantity = "width" if repeat.way == "across" else "height"
    step = sizes[row.owner, quantity] + gap
    across = repeat.way == "across"
    return [(edges.left + (at * step if across else 0), edges.top + (0 if across else at * step))
            for at in range(repeat.number)]  # fmt: skip


def _edges(part: Part, solution: Solution, sizes: Mapping[Var, Fraction], chains: Chains) -> Edges | None:
    """The borders of a part on its true host; a mat's are those of what lies on it, less its own.

    None where the place is open: on a band whose card has not been folded yet.
    """
    reach, own = chains.reaches[part.owner], edges_of(chains.tops[part.owner], sizes, solution)
    if reach is None or len(own) < len(Edges._fields):
        return None
    return Edges(*(own[edge] - reach[edge] for edge in Edges._fields))


def _on_mat(part: Part, mat: Part, chains: Chains, spots: Mapping[str, _Spot]) -> list[Placement]:
    """A part on its mat: between them lies what the mat reaches out further."""
    inner, outer = chains.reaches[part.owner], chains.reaches[mat.owner]
    if inner is None or outer is None:
        return []  # under a band whose card has not been folded yet
    edges = Edges(*(outer[edge] - inner[edge] for edge in Edges._fields))
    spot = spots[mat.owner]
    return [Placement(spot.name, spot.name, copy, "inside", edges.left, edges.top, edges, False)
            for copy in range(spot.first, spot.first + spot.copies)]  # fmt: skip


def _around(piece: Piece, solution: Solution, length: Fraction) -> Around | None:
    if piece.kind != "band" or piece.around is None:
        return None
    wrap = solution.values.get((piece.name, "wrap"))
    at = solution.values.get((piece.name, "left border" if piece.downward else "top border"))
    if wrap is None or at is None:
        return None
    return Around(piece.around, piece.downward, at, wrap, length - wrap)


def _degrees(scoped: Scoped | None, reader: Reader) -> Fraction:
    """What is said in degrees; nothing, too, where that means nothing: such a card is not made."""
    if scoped is None:
        return _ZERO
    return known_number(scoped, reader) or _ZERO


def _works(piece: Piece, reader: Reader) -> tuple[Work, ...]:
    return tuple(
        Work(
            verb=work.line.verb, text=work.line.text.text if work.line.text else "", span=work.span,
            using=work.using, middle=_length(work.middle, reader),
            item=work.line.item.text if work.line.item else None, long=_length(work.long, reader),
        )
        for work in piece.works
    )  # fmt: skip


def _glue(piece: Piece, solution: Solution) -> Glue | None:
    if piece.glue is None:
        return None
    line = piece.glue.line
    only_on = line.only_on.text if line.only_on is not None else None
    thick = None
    if piece.glue.thick is not None:  # foam is as thick as it is: converted but never rounded
        unit = solution.card.head.unit
        exact = _length(piece.glue.thick, Reader(unit, unit, solution.names))
        thick = convert(exact, unit, solution.unit) if exact is not None else None
    return Glue(piece.glue.span, piece.glue.adhesive, thick, only_on, line.all_over, line.along)


def _joins(piece: Piece, spots: Mapping[str, _Spot]) -> tuple[Join, ...]:
    """The sections by which a piece is glued, with the sized pieces that they are glued to."""
    found = []
    for join in piece.joins:
        owner = join.host.piece
        spot = spots.get(owner)
        name = spot.name if spot is not None else owner
        found.append(Join(join.section, name, join.host.section or name, join.host.span))
    return tuple(found)


def _poses(card: Card, groups: Mapping[str, Sequence[Part]], reader: Reader) -> tuple[Pose, ...]:
    """The poses in degrees; a piece that is of several sizes is held alike in each."""
    sized: dict[str, list[str]] = {}
    for name, parts in groups.items():
        sized.setdefault(parts[0].piece.name, []).append(name)
    poses = []
    for pose in card.poses:
        folds = [(name, number, scoped) for piece, number, scoped in pose.folds
                 for name in sized.get(piece, [piece])]  # fmt: skip
        held = tuple((name, number, _degrees(scoped, reader)) for name, number, scoped in folds)
        poses.append(Pose(pose.name, held, pose.span, tuple(scoped.span for _, _, scoped in folds)))
    return tuple(poses)
