"""The steps that put a piece where it belongs, and those that wrap a band round the closed card."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardrecipe.fold.folded import GlueZone
from cardrecipe.model.lengths import round_near, with_unit
from cardrecipe.plan.borders import SIDES, overhanging, what_shows
from cardrecipe.plan.glue import Fixing, fixing
from cardrecipe.plan.glue_zones import is_partial, part_to_glue, swings, zone_hosts
from cardrecipe.plan.join_steps import glue_on_tabs, joined_hosts, press_tabs
from cardrecipe.plan.places import hosts, spots, where
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import (
    a_count_of,
    bought_length,
    capital,
    listed,
    sentences,
    the,
    the_count_of,
)
from cardrecipe.solve.sized import SizedCard, SizedPiece


def place_step(
    card: SizedCard,
    piece: SizedPiece,
    facing: str = "",
    zones: Sequence[GlueZone] = (),
    off: tuple[str, str] | None = None,
) -> Step:
    """Put all the copies of a piece on their hosts; `facing` says how the card has to lie for it,
    `zones` where each copy may be glued, where that is known, and `off` which band is off the card for it
    and whether it comes off now or goes on again."""
    name = the_count_of(piece.name, piece.count)
    key, told, check = _told(card, piece, facing, zones)
    told = _with_band_off(told, off)
    return Step(
        0,
        say(key, name=_titled(card, piece), host=_titled_hosts(card, piece)),
        told,
        (piece.name,),
        (name, *_onto(card, piece), *_adhesive(fixing(card, piece))),
        f"place-{piece.name}",
        check,
    )


def _with_band_off(told: str, off: tuple[str, str] | None) -> str:
    """On the card a piece on a band would be pressed into what lies beneath, and its glue could reach it."""
    if off is None:
        return told
    band, when = the(off[0]), off[1]
    first = say("band/off" if when in ("first", "both") else "band/stays-off", band=band)
    return sentences(first, told, say("band/on-again", band=band) if when in ("last", "both") else "")


def _onto(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    """What it is put on, to have at hand: the card, a plate, the band."""
    for name in dict.fromkeys(placement.host_piece for placement in piece.placements):
        yield the_count_of(name, card.piece(name).count)


def _titled(card: SizedCard, piece: SizedPiece) -> str:
    each = _on_each(card, piece)
    if each is None:
        return the_count_of(piece.name, piece.count)
    return a_count_of(piece.name, piece.count // each.count)


def _titled_hosts(card: SizedCard, piece: SizedPiece) -> str:
    if piece.joins:
        return joined_hosts(piece)
    each = _on_each(card, piece)
    return f"each of {the_count_of(each.name, each.count)}" if each else hosts(card, piece)


def _on_each(card: SizedCard, piece: SizedPiece) -> SizedPiece | None:
    """The one host of several copies that all take as many copies of the piece; None without."""
    on = {placement.host_piece for placement in piece.placements}
    host = card.piece(piece.placements[0].host_piece)
    several = len(on) == 1 and host.count > 1 and piece.count % host.count == 0
    return host if several else None


def band_step(card: SizedCard, piece: SizedPiece) -> Step:
    """Wrap a band, mark it, glue its ends to each other: it must slide off again."""
    around, unit = piece.around, card.unit
    assert around is not None
    fixed, base = fixing(card, piece), the(around.base)
    return Step(
        0,
        say("band/title", name=the(piece.name), base=base),
        sentences(
            say(
                "band/down" if around.downward else "band/across",
                base=base,
                name=the(piece.name),
                at=with_unit(around.at, unit),
            ),
            say("band/mark", overlap=_near(card, around.overlap)),
            say("band/glue", adhesive=fixed.adhesive.lower() or "glue", base=base)
            if fixed.method != "loose"
            else "",
        ),
        (piece.name,),
        (the(piece.name), "pencil", *_adhesive(fixed)),
        f"band-{piece.name}",
        capital(say("band/check", name=the(piece.name))),
    )


def _adhesive(fixed: Fixing) -> tuple[str, ...]:
    """What to take in hand for it: a brand of the maker's own keeps its capitals."""
    if not fixed.adhesive:
        return ()
    return (fixed.adhesive if fixed.method == "own" else fixed.adhesive.lower(),)


def _told(
    card: SizedCard, piece: SizedPiece, facing: str, zones: Sequence[GlueZone]
) -> tuple[str, str, str]:
    """The title's template, the text and the check of a piece that is slipped in, laid or glued."""
    if piece.loose and _is_pocket(card, piece):
        slip = say("place/slip", name=the_count_of(piece.name, piece.count), host=hosts(card, piece))
        return "place/title-slip", slip, say("place/check-slip")
    if piece.joins:
        return "place/title", _joined(card, piece, facing), _moves(card, piece)
    check = what_shows(card, piece)
    pressed = _pressed(card, piece)
    if piece.loose:
        free = say("place/loose", name="it" if piece.count == 1 else "they")
        return "place/title-loose", sentences(pressed, free), check
    closed = facing or (say("place/closed") if _waits_for_closing(card, piece) else "")
    glued = _glued(card, piece, fixing(card, piece), zones)
    return "place/title", sentences(closed, glued, pressed, *_limits(card, piece)), check


def _joined(card: SizedCard, piece: SizedPiece, facing: str) -> str:
    """A panel that is glued by its tabs lies flat on the open card, its inside up."""
    fixed = fixing(card, piece)
    adhesive = fixed.adhesive if fixed.method == "own" else fixed.adhesive.lower()
    return sentences(
        facing,
        glue_on_tabs(piece, adhesive),
        say("join/flat", each=_all_of(piece), where=where(card, piece)),
        press_tabs(piece),
        say("join/dry") if fixed.method == "liquid" else "",
    )


def _moves(card: SizedCard, piece: SizedPiece) -> str:
    name = the_count_of(piece.name, piece.count)
    return say("join/check-moves", name=name, s="s" if piece.count == 1 else "")


def _is_pocket(card: SizedCard, piece: SizedPiece) -> bool:
    host = card.piece(piece.placements[0].host_piece)
    return host.glue is not None and bool(host.glue.along)


def _near(card: SizedCard, length: Fraction) -> str:
    """A length that no ruler could show exactly, to the nearest mark."""
    return with_unit(round_near(length, card.nearest), card.unit)


def _glued(
    card: SizedCard, piece: SizedPiece, fixed: Fixing, zones: Sequence[GlueZone]
) -> str:
    each, glue = _all_of(piece), piece.glue
    adhesive = fixed.adhesive if fixed.method == "own" else fixed.adhesive.lower()
    host = "" if zones else _only_host(card, piece)
    if glue and glue.along:
        edges = f"the {listed(glue.along)} {'edge' if len(glue.along) == 1 else 'edges'}"
        return say("place/along", adhesive=adhesive, edges=edges, each=each)
    if glue and glue.all_over:
        return say("place/all-over", adhesive=adhesive, each=each)
    if is_partial(zones):
        host, part = zone_hosts(zones), part_to_glue(card, piece, zones)
        if part:
            key = "place/zone-own" if swings(piece, zones) else "place/zone"
            return say(key, adhesive=adhesive, each=each, host=host, part=part)
    if host:
        return say("place/part", adhesive=adhesive, each=each, host=host)
    thick = f" {bought_length(fixed.thick, card.unit)} thick" if fixed.thick else ""
    return say(f"place/{fixed.method}", each=each, adhesive=adhesive, thick=thick)


def _only_host(card: SizedCard, piece: SizedPiece) -> str:
    """Where glue must stay: on the named host, or on one that the piece reaches beyond; else ""."""
    if piece.glue and piece.glue.only_on:
        return the(piece.glue.only_on)
    return hosts(card, piece) if _overhangs(card, piece) else ""


def _pressed(card: SizedCard, piece: SizedPiece) -> str:
    """`Press it on …`; several pieces go `one on …` each, unless they stand in a row."""
    place = where(card, piece)
    it = "" if place.startswith("one ") else "it" if piece.count == 1 else "them"
    if piece.loose and piece.count == 1:
        it = the(piece.name)
    return say(f"place/{'lay' if piece.loose else 'press'}", what=f"{it} {place}".strip())


def _all_of(piece: SizedPiece) -> str:
    """`the message`, `both door papers`, `all three stars`."""
    name = the_count_of(piece.name, piece.count)
    if piece.count == 2:
        return name.replace("the two", "both", 1)
    return name if piece.count == 1 else name.replace("the", "all", 1)


def _limits(card: SizedCard, piece: SizedPiece) -> Iterator[str]:
    """Where glue must not go, so that what has to move still moves."""
    bands = [spot.band for spot in spots(card, piece) if spot.band]
    if bands:
        yield say("place/band", band=the(bands[0].name))
    if piece.glue and piece.glue.along:
        open_edges = [side for side in SIDES if side not in piece.glue.along]
        if open_edges:
            yield say("place/pocket", edges=listed(f"the {side}" for side in open_edges), s=_s(open_edges))


def _s(subjects: Sequence[str]) -> str:
    """The ending of a verb whose subjects these are: `the top stays`, `the top and the left stay`."""
    return "s" if len(subjects) == 1 else ""


def _overhangs(card: SizedCard, piece: SizedPiece) -> bool:
    return any(overhanging(spot.border) for spot in spots(card, piece))


def _waits_for_closing(card: SizedCard, piece: SizedPiece) -> bool:
    """True for what reaches over the edge of an outer section: it must suit the closed card."""
    return not piece.loose and any(
        spot.face == "outside" and overhanging(spot.border) for spot in spots(card, piece)
    )
