"""Errors about glue as it is written: it would hold together what must move, or hold nothing.

Each rule is one function of a glued copy; the first of `CHECKS` that finds something speaks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cardrecipe.fold.closed import FlatFold
from cardrecipe.fold.folded import GLUE_MARGIN
from cardrecipe.fold.glue import Gluing, meets
from cardrecipe.fold.glue_reach import (
    ALONG,
    beneath,
    bodies_beneath,
    holds,
    reached,
    scores_across,
    scores_in_the_way,
)
from cardrecipe.fold.placing import placed_pieces
from cardrecipe.fold.zone_words import part_in_words
from cardrecipe.model.lengths import with_unit
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error

PLAIN_ADHESIVES = ("tape", "liquid", "dots", "foam")

Check = Callable[[FlatFold, Gluing], Iterator[Diagnostic]]


def glue_mistakes(card: SizedCard, flat: FlatFold, glued: Sequence[Gluing]) -> list[Diagnostic]:
    """Give what is wrong with the glue of a base's pieces and bands, each mistake once."""
    of_each = [(each, _first_rule(flat, each)) for each in glued]
    found = [mistake for _, mistakes in of_each for mistake in mistakes]
    for piece in card.pieces:
        if piece.around is not None and piece.around.base == flat.piece.name:
            found += band_glued_shut(piece)
    if any(piece.loose or (piece.glue and piece.glue.along) for piece in card.pieces):
        from cardrecipe.fold.sliding import sliding_mistakes  # few cards have something that slides

        found += sliding_mistakes(card, [each for each, mistakes in of_each if not mistakes])
    if flat.piece.joins:
        from cardrecipe.fold.sleeves import sleeve_mistakes  # few bases are glued to themselves

        found += sleeve_mistakes(card, flat, placed_pieces(card, flat))
    return list(dict.fromkeys(found))


def across_bodies(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """A piece on a base as a whole does not lie across a score that folds."""
    names = () if gluing.has_body else bodies_beneath(gluing)
    if names:
        yield error(
            "glue-locks",
            gluing.piece.glue_span,
            f"`{gluing.piece.name}` lies across {_listed(names)}, which move against each other:"
            " glued to them it would hold the fold flat",
            f"put it on one of them, as `on {names[0]}`, or give it scores on the same lines",
            _places(scores_across(flat, gluing)),
        )


def in_the_fold(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """What is glued beside a score does not reach over it on the side to which it folds."""
    scores = scores_in_the_way(flat, gluing)
    if scores:
        carrier = gluing.host_body
        yield error(
            "glue-locks",
            gluing.piece.glue_span,
            f"`{gluing.piece.name}` on {carrier} reaches over a score that folds towards it:"
            " the fold could not close",
            f"keep it within {carrier}, or turn the score over",
            _places(scores),
        )


def only_on_elsewhere(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """`only on` names something beneath the piece that moves with what the piece is put on."""
    glue = gluing.piece.glue
    name = glue.only_on if glue else None
    if glue is None or name is None or name in (gluing.placement.host, gluing.host_body):
        return
    zone = gluing.zone
    if name == flat.piece.name and zone.others:
        yield _locks(gluing, f"on all of `{name}`", zone.others)
    elif zone.rings:
        return
    elif name in beneath(gluing):
        yield error(
            "glue-locks",
            glue.span,
            f"`{gluing.piece.name}` is put on {zone.host_body} but glued to {name}, and these move"
            " against each other",
            f"write `only on {zone.host_body}`, or put the piece on {name}",
        )
    else:
        yield error(
            "glue-nowhere",
            glue.span,
            f"`{gluing.piece.name}` does not lie on {name}: there is nothing to glue it to there",
            f"write `only on {zone.host_body}`, or place the piece so that it lies on {name}",
        )


def all_over(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """Glue all over a piece does not reach what moves apart from the thing that it is put on."""
    glue = gluing.piece.glue
    if glue is None or not glue.all_over or gluing.zone.is_whole:
        return
    names = reached(gluing, None)
    if names:
        yield _locks(gluing, "all over", names)


def along_edges(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """Glue along an edge lies on what the piece is put on, and on nothing that moves apart from it."""
    glue = gluing.piece.glue
    if glue is None or not glue.along or gluing.zone.is_whole:
        return
    caught = {edge: reached(gluing, edge) for edge in glue.along}
    wrong = [edge for edge in glue.along if caught[edge]]
    if wrong:
        names = tuple(dict.fromkeys(name for edge in wrong for name in caught[edge]))
        yield _locks(gluing, f"along the {_listed(wrong)}", names)
    elif not any(holds(gluing, edge) for edge in glue.along):
        yield _nowhere(
            gluing, f"the {_listed(glue.along)} of `{gluing.piece.name}`, where its glue goes, lies"
        )


def nothing_beneath(flat: FlatFold, gluing: Gluing) -> Iterator[Diagnostic]:
    """A glued piece lies, at least in part, on what it is put on, and not by a hair."""
    if gluing.has_ground:
        return
    held = (part for part in gluing.parts if not part.swings)
    if any(meets(gluing, gluing.pile, part, is_cautious=True).own for part in held):
        yield _hardly(gluing)
    else:
        yield _nowhere(gluing, f"`{gluing.piece.name}` lies")


# What comes after the first that finds something would only say the same again.
CHECKS: tuple[Check, ...] = (
    across_bodies,
    in_the_fold,
    only_on_elsewhere,
    all_over,
    along_edges,
    nothing_beneath,
)


def band_glued_shut(band: SizedPiece) -> Iterator[Diagnostic]:
    """A band is glued to itself where its ends overlap, and to nothing else."""
    glue = band.glue
    if glue is None or band.around is None:
        return
    sides = ("left", "right") if band.around.downward else ("top", "bottom")
    wrong = [f"along the {edge}" for edge in glue.along if edge in sides]
    if glue.only_on not in (None, band.name):
        wrong.insert(0, f"on {glue.only_on}")
    if glue.all_over:
        wrong.insert(0, "all over")
    if wrong:
        yield error(
            "glue-locks",
            glue.span,
            f"`{band.name}` glued {wrong[0]} would hold {band.around.base} shut: a band slides",
            f"write `glue with {_adhesive(band)}`: its ends are glued to each other where they overlap",
        )


def _first_rule(flat: FlatFold, gluing: Gluing) -> list[Diagnostic]:
    if gluing.piece.joins:
        return []  # folding all sheets together says what is wrong with sections that are glued by name
    for check in CHECKS:
        found = list(check(flat, gluing))
        if found:
            return found
    return []


def _locks(gluing: Gluing, how: str, names: Sequence[str]) -> Diagnostic:
    piece, zone = gluing.piece, gluing.zone
    part = part_in_words(gluing.card, piece, zone)
    hint = f"write `glue with {_adhesive(piece)} only on {zone.host_body}`" + (f": {part}" if part else "")
    if not zone.rings:
        hint = f"place it so that it lies on {zone.host_body} alone"
    sliders = [name for name in names if _slides(gluing.card, name)]
    if sliders and piece.glue is not None and piece.glue.along:
        hint = _room(gluing, gluing.card.piece(sliders[0]))
    return error(
        "glue-locks",
        piece.glue_span,
        f"`{piece.name}` glued {how} would stick to {_listed(names)}, which must move apart from"
        f" {zone.host_body}",
        hint,
        tuple(Related(gluing.card.piece(name).span, f"{name} is loose") for name in sliders),
    )


def _room(pocket: Gluing, slider: SizedPiece) -> str:
    """Say how large what slides in a pocket may be; with room for it, how far from the glue it must lie."""
    edges = pocket.piece.glue.along if pocket.piece.glue else ()
    unit, seam = pocket.card.unit, ALONG[pocket.card.unit]
    wide = pocket.piece.width - seam * sum(edge in edges for edge in ("left", "right"))
    high = pocket.piece.height - seam * sum(edge in edges for edge in ("top", "bottom"))
    keep = f"keep {slider.name} clear of the glued edges:"
    if slider.width > wide > 0:
        return f"{keep} make it at most {with_unit(wide, unit)} wide, or the pocket wider"
    if slider.height > high > 0:
        return f"{keep} make it at most {with_unit(high, unit)} high, or the pocket higher"
    return f"{keep} place it at least {with_unit(seam, unit)} from them"


def _nowhere(gluing: Gluing, what: str) -> Diagnostic:
    host = gluing.host_body
    if any(piece.name == host and piece.around for piece in gluing.card.pieces):
        host = f"the front of {host}"
    return error(
        "glue-nowhere",
        gluing.piece.glue_span,
        f"nothing of {what} on {host}: it could not be glued there",
        f"place it so that it lies on {host}, or put it on what it lies on",
    )


def _hardly(gluing: Gluing) -> Diagnostic:
    unit, host = gluing.card.unit, gluing.host_body
    free = with_unit(GLUE_MARGIN[unit], unit)
    return error(
        "glue-nowhere",
        gluing.piece.glue_span,
        f"too little of `{gluing.piece.name}` lies on {host} to be glued there: {free} at each edge stays"
        " free of glue, which is pressed out a little",
        f"place it so that more of it lies on {host}, or put it on what it lies on",
    )


def _slides(card: SizedCard, name: str) -> bool:
    return any(piece.name == name and piece.loose for piece in card.pieces)


def _places(scores: Sequence[SizedScore]) -> tuple[Related, ...]:
    """Give the lines of some scores, each once: one line may write several."""
    spans = dict.fromkeys(score.span for score in scores)
    numbers = {span: [str(score.number) for score in scores if score.span == span] for span in spans}
    return tuple(
        Related(
            span, f"score{'s' if len(own) > 1 else ''} {_listed(own)} fold{'s' if len(own) < 2 else ''} here"
        )
        for span, own in numbers.items()
    )


def _adhesive(piece: SizedPiece) -> str:
    """Give the adhesive as it would be typed; one of the maker's own is not known by its word."""
    adhesive = piece.glue.adhesive if piece.glue else None
    return adhesive if adhesive in PLAIN_ADHESIVES and adhesive is not None else "tape"


def _listed(names: Sequence[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last
