"""Parts of a card, as the solver counts them: a piece on two hosts is two parts until it is known
that both have one size."""

from collections.abc import Mapping
from typing import NamedTuple

from cardrecipe.model.card import Card, HostRef, Piece
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error


class Part(NamedTuple):
    """One piece on one host. `owner` is its name among the unknowns, `host_owner` its host's.

    `host_part` is the part that carries it, None on a section of a base or for a piece without host.
    A piece `under` another has that part as `over`.
    """

    piece: Piece
    owner: str
    host: HostRef | None = None
    host_owner: str | None = None
    host_part: str | None = None
    over: str | None = None


class Parts(NamedTuple):
    """Every part, hosts before what stands on them, and the owners of sections."""

    ordered: tuple[Part, ...]
    sections: Mapping[tuple[str, str], str]  # (piece, section) → owner
    skipped: frozenset[str]  # pieces that cannot be judged, since a line of theirs is broken

    def of_piece(self, name: str) -> tuple[Part, ...]:
        return tuple(part for part in self.ordered if part.piece.name == name)


def parts_of(card: Card) -> tuple[Parts, list[Diagnostic]]:
    """The parts of a card in an order in which each host comes first; a circle of `on` is an error."""
    pieces = {piece.name: piece for piece in card.pieces}
    order, diagnostics = _in_host_order(pieces)
    sections = _section_owners(card)
    made: dict[str, list[Part]] = {}
    skipped: set[str] = set()
    for name in order:
        piece = pieces[name]
        on = [*(host.piece for host in piece.hosts), *_others(piece)]
        if piece.broken or any(other in skipped for other in on):
            skipped.add(name)
            continue
        made[name] = _parts(piece, made, sections)
    skipped |= set(pieces) - set(made)
    ordered = tuple(part for parts in made.values() for part in parts)
    return Parts(ordered, sections, frozenset(skipped)), diagnostics


def front_of(band: str) -> str:
    """What a band offers to the pieces on it: its part on the front of the closed card."""
    return f"{band} front"


def _others(piece: Piece) -> list[str]:
    return [name for name in (piece.under, piece.around) if name is not None]


def _section_owners(card: Card) -> dict[tuple[str, str], str]:
    seen: dict[str, int] = {}
    for piece in card.pieces:
        for section in piece.sections:
            seen[section] = seen.get(section, 0) + 1
    names = {piece.name for piece in card.pieces}
    return {
        (piece.name, section): section
        if seen[section] == 1 and section not in names
        else f"{piece.name}.{section}"
        for piece in card.pieces
        for section in piece.sections
    }


def _parts(
    piece: Piece, made: Mapping[str, list[Part]], sections: Mapping[tuple[str, str], str]
) -> list[Part]:
    found: list[Part] = []

    def add(host: HostRef | None, host_owner: str | None, host_part: str | None, over: str | None) -> None:
        owner = piece.name if not found else f"{piece.name}#{len(found) + 1}"
        found.append(Part(piece, owner, host, host_owner, host_part, over))

    for host in piece.hosts:
        if host.section is None:
            for part in made[host.piece]:
                face = front_of(part.owner) if part.piece.kind == "band" else part.owner
                add(host, face, part.owner, None)
        else:
            owner = sections[host.piece, host.section]
            for part in made[host.piece]:
                add(host, owner, part.owner, None)
    if piece.under is not None:
        for part in made[piece.under]:
            add(part.host, part.host_owner, part.host_part, part.owner)
    if not found:
        add(None, None, None, None)
    return found


def _in_host_order(pieces: Mapping[str, Piece]) -> tuple[list[str], list[Diagnostic]]:
    """Names with hosts first, in written order where that is free; pieces of a circle are left out."""
    done: dict[str, bool] = {}  # True: in order; False: part of a circle or standing on one
    order: list[str] = []
    diagnostics: list[Diagnostic] = []

    def visit(name: str) -> None:
        """Depth first with a stack of its own, since a tower of pieces may be deep."""
        trail = [name]
        while trail:
            top = trail[-1]
            if top in done:
                trail.pop()
                continue
            piece = pieces[top]
            needs = [host.piece for host in piece.hosts] + _others(piece)
            waiting = [other for other in needs if other not in done]
            circle = [other for other in waiting if other in trail]
            if circle:
                _report_circle(trail[trail.index(circle[0]) :], pieces, diagnostics)
                done.update(dict.fromkeys(trail, False))
            elif waiting:
                trail.append(waiting[0])
            else:
                done[top] = all(done[other] for other in needs)
                if done[top]:
                    order.append(top)

    for name in pieces:
        visit(name)
    return order, diagnostics


def _report_circle(
    circle: list[str], pieces: Mapping[str, Piece], diagnostics: list[Diagnostic]
) -> None:
    first, *rest = circle
    chain = " on ".join(f"`{name}`" for name in [*circle, first])
    diagnostics.append(error("host-cycle", pieces[first].span, f"these stand on each other: {chain}",
                             "put one of them on a section",
                             tuple(Related(pieces[name].span, "and this") for name in rest)))  # fmt: skip
