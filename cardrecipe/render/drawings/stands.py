"""The card as it stands at a step that puts no piece on: a finishing touch, or a step of the maker's own."""

import re
from collections.abc import Sequence

from cardrecipe.fold.folded import View
from cardrecipe.plan.order import finishing_works, root_piece
from cardrecipe.plan.step_pictures import StepPicture
from cardrecipe.plan.words import spoken
from cardrecipe.render.drawings.lettering import SMALL, Lettering, fitted, label
from cardrecipe.render.drawings.lying import lying_marks
from cardrecipe.render.drawings.marks import Box, Caption, Mark, box_of, picture, room
from cardrecipe.render.drawings.paint import paper_look
from cardrecipe.render.drawings.pieces import piece_marks
from cardrecipe.render.drawings.pieces_marked import of_piece
from cardrecipe.render.drawings.scenes import lying_on
from cardrecipe.render.drawings.shapes import rectangle
from cardrecipe.render.drawings.sizes import COLUMN, fitted_marks, listed, scale_to_fit, scaled
from cardrecipe.render.drawings.slipping import slips_in
from cardrecipe.render.drawings.so_far import SoFar, seen_pieces, so_far_marks
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.tools_drawn import CLOCK, clock, item_beside
from cardrecipe.render.drawings.works import WORDS_WIDE, work_words
from cardrecipe.solve.sized import SizedCard, SizedPiece

MOST_STANDING = (44.0, 30.0)  # mm on the page
WAIT = "wait"
WAITING = re.compile(r"\b(dry|dries|drying|sets?|wait|minutes?|hours?|overnight)\b", re.I)
VIEWS = {
    "closed-front": "the card closed, its front up",
    "closed-back": "the card closed, its front down",
    "open-inside": "the card open, its inside up",
    "open-outside": "the card open, its outside up",
}


def finish_drawing(so_far: SoFar, step: StepPicture, id_prefix: str = "") -> Drawing:
    """What stands proud goes on: the thing itself, and an arrow to the piece it is put on."""
    card = so_far.folded.card
    piece = card.piece(step.piece)
    works = piece.works[len(piece.works) - finishing_works(piece) :]
    words = [work_words(card, work) for work in works]
    items = [work.item or "piece" for work in works]
    title = f"Finishing {spoken(piece.name)}"
    return _drawn(so_far, step, title, words, items, id_prefix)


def extra_drawing(so_far: SoFar, step: StepPicture, id_prefix: str = "") -> Drawing:
    """The card when the maker's own step comes, with the piece that it is said of in full colour."""
    extra = so_far.folded.card.extra_steps[step.number]
    title = f"{extra.place.capitalize()} {spoken(step.piece)}"
    words = (WAIT,) if WAITING.search(extra.text) else ()
    return _drawn(so_far, step, title, words, (), id_prefix)


def _drawn(
    so_far: SoFar, step: StepPicture, title: str, words: Sequence[str], items: Sequence[str], id_prefix: str
) -> Drawing:
    card, view = so_far.folded.card, _view(so_far, step)
    piece = card.piece(step.piece)
    pattern = f"{id_prefix}{step.name}"
    if view is None:
        is_on = bool(piece.placements) and set(_chain(card, piece)) <= step.done
        root = root_piece(card, piece) if is_on else piece
        scale = scale_to_fit(card, root.width, root.height, *MOST_STANDING)
        marks = fitted_marks(lambda k: _alone(card, step, root, k, pattern, words, items), scale, COLUMN)
        said = f"{spoken(root.name).capitalize()} with what is on it."
    else:
        scale = scale_to_fit(card, view.width, view.height, *MOST_STANDING)
        marks = fitted_marks(lambda k: _on_card(card, step, view, k, pattern, words, items), scale, COLUMN)
        said = f"{VIEWS[view.name].capitalize()}; {spoken(piece.name)} in full colour."
    told = f" {listed(words).capitalize()}." if words else ""
    return picture(Caption(step.name, title, f"{said}{told}", id_prefix), marks)


def _view(so_far: SoFar, step: StepPicture) -> View | None:
    """The card with what is in place; None while the piece is not on it, or there is no card."""
    card = so_far.folded.card
    piece = card.piece(step.piece)
    stages = so_far.stages(so_far.faces(piece)[0])
    if stages is None:
        return None
    if piece.kind == "base":
        return stages.seen(_base_view(so_far, step), step.done)
    # What is slipped into a pocket stands in no view: it comes and goes.
    done = {name for name in step.done if not slips_in(card, card.piece(name)) or name == piece.name}
    view = so_far.view(piece, done)
    return view if view is not None and piece.name in seen_pieces(view) else None


def _base_view(so_far: SoFar, step: StepPicture) -> str:
    """A base that carries something outside, or a band, is closed by now."""
    card = so_far.folded.card
    on_it = [card.piece(name) for name in step.done]
    faces = {so_far.faces(each)[1] for each in on_it if so_far.faces(each)[0] == step.piece}
    return "closed-front" if "closed-front" in faces else "open-inside"


def _chain(card: SizedCard, piece: SizedPiece) -> list[str]:
    """A placed piece and its hosts that are placed themselves."""
    names = []
    while piece.placements:
        names.append(piece.name)
        piece = card.piece(piece.placements[0].host_piece)
    return names


def _on_card(
    card: SizedCard, step: StepPicture, view: View, scale: float, pattern: str, words: Sequence[str],
    items: Sequence[str],
) -> list[Mark]:  # fmt: skip
    marks = so_far_marks(card, view, scale, pattern, (step.piece,))
    own = [box_of(scaled(part.outline, scale)) for part in view.parts if part.piece == step.piece]
    marks += _things(items, room(marks), own[-1])
    return [*marks, *_lines([VIEWS[view.name], *words], room(marks))]


def _alone(
    card: SizedCard, step: StepPicture, root: SizedPiece, scale: float, pattern: str, words: Sequence[str],
    items: Sequence[str],
) -> list[Mark]:  # fmt: skip
    """A piece by itself, or a loose one with what lies on it."""
    wide, high = float(root.width) * scale, float(root.height) * scale
    frame = rectangle(0, 0, wide, high)
    paper, *scores = piece_marks(root, frame, paper_look(card, root.paper), pattern, scale)
    marks = [of_piece(paper, root.name), *scores]
    for above in lying_on(card, root, 0, step.done):
        left, top = float(above.place.x) * scale, float(above.place.y) * scale
        size = float(above.piece.width) * scale, float(above.piece.height) * scale
        marks += lying_marks(card, above, rectangle(left, top, *size), scale, step.done)
    marks += _things(items, room(marks), Box(0, 0, wide, high))
    return [*marks, *_lines(list(words), room(marks))]


def _things(items: Sequence[str], taken: Box, own: Box) -> list[Mark]:
    """The things on the right of the card, one beneath the other, each with an arrow to its piece."""
    marks: list[Mark] = []
    for place, item in enumerate(items):
        y = own.top + own.height * (place + 1) / (len(items) + 1)
        marks += item_beside(item, taken, (own.middle[0], y))
    return marks


def _lines(texts: Sequence[str], taken: Box) -> list[Mark]:
    """Lines beneath a picture; the one that says to wait has a clock before it."""
    look = Lettering(SMALL, anchor="start")
    y = taken.bottom + SMALL * 1.3
    marks: list[Mark] = []
    for text in texts:
        marks += clock((CLOCK, y)) if text == WAIT else []
        marks.append(label(5.0 if text == WAIT else 0.0, y, fitted(text, WORDS_WIDE, SMALL), look))
        y += 4.6
    return marks
