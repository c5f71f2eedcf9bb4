"""All the folding sheets of a card, folded shut together: the base and the scored panels glued to it.

What glue holds keeps together: around any closed ring of sections and glue the motions must agree, and
no layer lies between two faces that are glued to each other.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from cardrecipe.fold.area import all_three_overlap, overlap, region
from cardrecipe.fold.closed import FlatFold, levels_of
from cardrecipe.fold.facets import FLAT, Crease, Facet
from cardrecipe.fold.folded import Outline
from cardrecipe.fold.geometry import Box, Motion, bounding_box
from cardrecipe.fold.joints import Joint
from cardrecipe.fold.layers import (
    MAX_SECTIONS,
    CannotTell,
    Circle,
    Collision,
    LayerOrder,
    order_by,
    order_if_any,
    without_circle,
)
from cardrecipe.fold.motions import moved
from cardrecipe.fold.openings import openings
from cardrecipe.fold.placing import Placed, placed_pieces
from cardrecipe.fold.rules import Rule, layer_rules
from cardrecipe.fold.search import circles_of
from cardrecipe.fold.sheets import Facing, Layout, Weld, is_sheet, layout
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedSection


class Assembly(NamedTuple):
    """A closed card with every sheet in its place: what the piles and the views are made from.

    Facets are numbered through, the base's first. `placed` is all that lies on them, with the number of
    its facet as `section`; scored panels are facets and are left out.
    """

    flat: FlatFold
    facings: tuple[Facing, ...]
    sections: tuple[SizedSection, ...]
    joints: tuple[Joint, ...]
    folded: frozenset[int]  # joints that are folded when the card is closed
    welds: tuple[Weld, ...]
    motions: tuple[Motion, ...]  # from the layout to the closed card
    order: LayerOrder
    levels: tuple[int, ...]
    placed: tuple[Placed, ...]

    @property
    def piece(self) -> SizedPiece:
        return self.flat.piece

    @property
    def width(self) -> Fraction:
        return self.flat.width

    @property
    def height(self) -> Fraction:
        return self.flat.height

    @property
    def is_plain(self) -> bool:
        """True where the base is the only sheet."""
        return len(self.sections) == len(self.flat.sections)

    def windows_in(self, facet: int) -> tuple[Outline, ...]:
        """Give the windows of a facet, or the parts of windows that lie in it, in the layout."""
        return openings(self.sections[facet].outline, self.facings[facet].windows)

    def is_inside_up(self, facet: int) -> bool:
        """Tell whether a facet shows its own inside to the front of the closed card."""
        return self.motions[facet].is_flipped() == self.facings[facet].is_turned


class CannotAssemble(NamedTuple):
    """Why the sheets of a card cannot be folded shut together: a link that would be torn, or layers."""

    flat: FlatFold
    layout: Layout
    torn: Joint | Weld | None
    because: Collision | CannotTell | Circle | None = None


def assembly(card: SizedCard, flat: FlatFold, placed: Sequence[Placed]) -> Assembly | CannotAssemble:
    """Fold the sheets of a card shut together, the base as it folds by itself where that can be."""
    if not flat.piece.joins and not any(is_sheet(each.piece) for each in placed):
        own = Facing(flat.piece, 0, 0, False, windows=flat.piece.windows)
        folded = frozenset(at for at, each in enumerate(flat.joints) if each.score.number in flat.folded)
        facings = (own,) * len(flat.sections)
        return Assembly(flat, facings, flat.sections, flat.joints, folded, (), flat.motions, flat.order,
                        flat.levels, tuple(placed))  # fmt: skip
    laid = layout(card, flat, placed)
    motions = _motions(flat, laid)
    torn = _torn(laid, motions)
    if torn is not None:
        return CannotAssemble(flat, laid, torn)
    if len(laid.sections) > MAX_SECTIONS:
        return CannotAssemble(flat, laid, None, CannotTell(0))
    facets = tuple(
        Facet(_name(laid, at), moved(motions[at], section.outline),
              motions[at].is_flipped() == laid.facings[at].is_turned)
        for at, section in enumerate(laid.sections)
    )  # fmt: skip
    creases = tuple(_crease(laid, at, motions) for at in range(len(laid.joints)))
    order = without_circle(_order(flat, laid, facets, creases, motions))
    if not isinstance(order, LayerOrder):
        return CannotAssemble(flat, laid, None, order)
    return Assembly(flat, laid.facings, laid.sections, laid.joints, laid.folded, laid.welds,
                    tuple(motions), order, levels_of(order), _carried(laid, placed))  # fmt: skip


def folded_together(card: SizedCard, flat: FlatFold) -> Assembly | CannotAssemble:
    """Fold a base shut with all its sheets and measure it with them.

    Where a sheet reaches beyond the closed base, that is shifted, so that the left top of all that is
    folded is at (0, 0), and is as large as all of it.
    """
    shut = assembly(card, flat, placed_pieces(card, flat))
    if isinstance(shut, CannotAssemble) or shut.is_plain:
        return shut
    box = bounding_box([point for facet in shut.order.facets for point in facet.outline])
    if box == (0, 0, flat.width, flat.height):
        return shut
    grown = _shifted(flat, box)
    return assembly(card, grown, placed_pieces(card, grown))


def _shifted(flat: FlatFold, box: Box) -> FlatFold:
    shift = Motion.shift(-box.left, -box.top)
    facets = tuple(each._replace(outline=moved(shift, each.outline)) for each in flat.order.facets)
    return flat._replace(
        motions=tuple(shift.after(motion) for motion in flat.motions),
        width=Fraction(box.right - box.left),
        height=Fraction(box.bottom - box.top),
        order=flat.order._replace(facets=facets),
    )


def _motions(flat: FlatFold, laid: Layout) -> list[Motion]:
    """Carry the base's motions on to every facet that hinges and glue reach from it."""
    known: dict[int, Motion] = dict(enumerate(flat.motions))
    links: list[tuple[int, int, int | None]] = [
        (joint.first, joint.second, at) for at, joint in enumerate(laid.joints)
    ]
    links += [(weld.host, weld.facet, None) for weld in laid.welds if not weld.by_folding]
    waiting = list(known)
    for here in waiting:
        for one, two, joint in links:
            other = two if one == here else one if two == here else here
            if other not in known:
                known[other] = known[here] if joint is None else _hinged(laid, joint, known[here])
                waiting.append(other)
    return [known.get(at, flat.motions[flat.root]) for at in range(len(laid.sections))]


def _hinged(laid: Layout, at: int, motion: Motion) -> Motion:
    if at not in laid.folded:
        return motion
    joint = laid.joints[at]
    return motion.after(Motion.reflection(joint.start, joint.end))


def _torn(laid: Layout, motions: Sequence[Motion]) -> Joint | Weld | None:
    """Give the first link whose two sides do not come together again."""
    for weld in laid.welds:
        if not weld.by_folding and motions[weld.facet] != motions[weld.host]:
            return weld
    for at, joint in enumerate(laid.joints):
        if motions[joint.second] != _hinged(laid, at, motions[joint.first]):
            return joint
    return None


def _crease(laid: Layout, at: int, motions: Sequence[Motion]) -> Crease:
    joint = laid.joints[at]
    motion = motions[joint.first]
    fold = joint.score.direction if at in laid.folded else FLAT
    piece = laid.facings[joint.first].piece
    name = f"score {joint.score.number}" + ("" if piece.kind == "base" else f" of {piece.name}")
    return Crease(joint.first, joint.second, motion.apply(joint.start), motion.apply(joint.end), fold, name)


def _name(laid: Layout, at: int) -> str:
    piece = laid.facings[at].piece
    own = laid.sections[at].name
    return own if piece.kind == "base" else f"{own} of {piece.name}"


# ---- layers --------------------------------------------------------------------------------------


def _order(
    flat: FlatFold,
    laid: Layout,
    facets: tuple[Facet, ...],
    creases: tuple[Crease, ...],
    motions: Sequence[Motion],
) -> LayerOrder | Collision | CannotTell:
    """Find an order of all layers: with the base in the order it has by itself, else any."""
    rules = layer_rules(facets, creases)
    literals = {pair: 2 * at for at, pair in enumerate(rules.pairs)}
    literals |= {(two, one): 2 * at + 1 for at, (one, two) in enumerate(rules.pairs)}
    glue = [*_stuck(laid, motions, literals), *_nothing_between(laid, facets, literals)]
    rules = rules._replace(crossings=(*rules.crossings, *glue))
    base = [Rule((literals[below, above],), (below, above)) for above, below in flat.order.higher]
    circles = circles_of(rules)
    kept = order_if_any(rules._replace(crossings=(*rules.crossings, *base)), facets, circles)
    return kept or order_by(rules, facets, creases, circles=circles)


def _stuck(
    laid: Layout, motions: Sequence[Motion], literals: dict[tuple[int, int], int]
) -> Iterator[Rule]:
    """What keeps to one facet lies as it does in the layout: what was put on later lies further out."""
    leaders = _clusters(laid)
    for one, two in combinations(range(len(laid.sections)), 2):
        if leaders[one] != leaders[two] or (one, two) not in literals:
            continue
        low, high = sorted((one, two), key=lambda at: laid.facings[at].rank)
        if laid.facings[low].rank == laid.facings[high].rank:
            continue
        is_high_above = not motions[one].is_flipped()
        # A rule of one literal says that it is false: the opposite of what glue demands.
        wrong = (low, high) if is_high_above else (high, low)
        yield Rule((literals[wrong],), (low, high))


def _clusters(laid: Layout) -> list[int]:
    """Give each facet the least number among those that glue holds together with it."""
    leaders = list(range(len(laid.sections)))
    for weld in laid.welds:
        if weld.by_folding:
            continue
        keep, gone = sorted((leaders[weld.facet], leaders[weld.host]))
        leaders = [keep if leader == gone else leader for leader in leaders]
    return leaders


def _nothing_between(
    laid: Layout, facets: Sequence[Facet], literals: dict[tuple[int, int], int]
) -> Iterator[Rule]:
    """A layer lies above both of two facets that are glued to each other, or below both."""
    leaders = _clusters(laid)
    regions = [region(facet.outline) for facet in facets]
    for weld in laid.welds:
        one, two = weld.facet, weld.host
        if not weld.is_glued or not overlap(regions[one], regions[two]):
            continue
        for layer in range(len(facets)):
            # What keeps to the same facet has its place already; it may lie between where no glue is.
            is_other = leaders[layer] not in (leaders[one], leaders[two])
            is_met = is_other and (layer, one) in literals and (layer, two) in literals
            if is_met and all_three_overlap(regions[layer], regions[one], regions[two]):
                yield Rule((literals[layer, one], literals[layer, two]), (layer, one, two))


def _carried(laid: Layout, placed: Sequence[Placed]) -> tuple[Placed, ...]:
    """Number the facets that pieces keep to, and leave out those that are facets themselves."""
    return tuple(
        each if each.section is None else each._replace(section=laid.carriers[each.piece.name, each.copy])
        for each in placed
        if each.section is None or not is_sheet(each.piece)
    )
