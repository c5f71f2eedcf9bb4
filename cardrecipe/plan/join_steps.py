"""Pieces that are glued by named sections only: a scored panel by its tabs, a base to a part of itself."""

from __future__ import annotations

from collections.abc import Iterable

from cardrecipe.fold.card import pose_for_tabs
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.plan.glue import fixing
from cardrecipe.plan.poses import PosedBase, posed_bases
from cardrecipe.plan.scores import numbers_written
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import listed, sentence, sentences, the
from cardrecipe.solve.sized import SizedCard, SizedPiece

DRIES = ("liquid", "own")  # a maker's own adhesive may be a wet one


def joined_hosts(piece: SizedPiece) -> str:
    """What a panel's sections are glued to, each once: `the front and the back`."""
    return listed(dict.fromkeys(the(join.host) for join in piece.joins))


def glue_on_tabs(piece: SizedPiece, adhesive: str) -> str:
    """Where the adhesive goes."""
    return say("join/glue", adhesive=adhesive, tabs=_tabs(piece))


def press_tabs(piece: SizedPiece) -> str:
    """Which tab is pressed on what, in the written order."""
    hosts: dict[str, list[str]] = {}
    for join in piece.joins:
        hosts.setdefault(join.section, []).append(f"to {the(join.host)}")
    return say("join/press", tabs=listed(f"{the(tab)} {listed(on)}" for tab, on in hosts.items()))


def has_own_joins(piece: SizedPiece) -> bool:
    """True for a base whose folding brings parts of it together that are glued."""
    return piece.kind == "base" and any(join.host_piece == piece.name for join in piece.joins)


def join_step(folded: FoldedCard, piece: SizedPiece, is_open: bool) -> Step:
    """Glue a folded base to itself; `is_open` where it was opened out again after folding."""
    fixed = fixing(folded.card, piece)
    adhesive = fixed.adhesive if fixed.method == "own" else fixed.adhesive.lower()
    tabs = tuple(dict.fromkeys(the(join.section) for join in piece.joins))
    closed = next((one for one in folded.closed if one.base == piece.name), None)
    done = {number for move in closed.moves for number in move.scores} if closed else set()
    scores = [score for score in piece.scores if score.number in done]
    pose = pose_to_join_in(folded, piece)
    if pose is not None:
        ready = say("join/stand", name=the(piece.name), pose=pose.caption.lower(), told=pose.told)
    else:
        ready = (
            say("join/fold-again", name=the(piece.name), scores=numbers_written(scores))
            if is_open and scores
            else ""
        )
    return Step(
        0,
        say("join/title", tabs=listed(tabs), hosts=joined_hosts(piece)),
        sentences(
            ready,
            say(
                "join/glue-meeting",
                adhesive=adhesive,
                tabs=listed(tabs, "and of"),
                hosts=joined_hosts(piece),
            ),
            press_tabs(piece),
            say("join/dry") if fixed.method in DRIES else "",
        ),
        (piece.name,),
        (the(piece.name), adhesive),
        f"join-{piece.name}",
        sentence(say("join/check", tabs=listed(tabs), s="s" if len(tabs) == 1 else "")),
    )


def pose_to_join_in(folded: FoldedCard, piece: SizedPiece) -> PosedBase | None:
    """How a base is held while its parts are glued together; None where that is done as it lies closed."""
    wanted = pose_for_tabs(folded, piece.name)
    return next((each for each in posed_bases(folded) if each.pose == wanted), None)


def lies_inside(card: SizedCard, base: SizedPiece) -> Iterable[SizedPiece]:
    """What is put on the inside of a base, and what lies on that: it goes on while hands can reach it."""
    inside: set[str] = set()
    for piece in card.pieces:
        on = any(
            placement.host_piece in inside
            or (placement.host_piece == base.name and placement.side == "inside")
            for placement in piece.placements
        )
        if on:
            inside.add(piece.name)
            yield piece


def _tabs(piece: SizedPiece) -> str:
    tabs = listed(dict.fromkeys(the(join.section) for join in piece.joins))
    if piece.count == 1:
        return tabs
    return f"{tabs} of each {piece.name.replace('-', ' ')}"
