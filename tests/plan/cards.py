"""Hand-built cards with what the plan must find words for: mats, rows, pockets, gems, loose pieces."""

from fractions import Fraction

from cardrecipe.fold.card import fold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.work import Glue, Work
from cardrecipe.plan.sheet import Step
from cardrecipe.plan.steps import steps
from cardrecipe.solve.sized import Around, ExtraStep, SizedCard
from tests.hand_made import (
    SPAN,
    accordion,
    card_of,
    double_gate,
    gate,
    piece,
    placed,
    rolled_trifold,
    side_fold,
    strip_base,
    tent,
    z_fold,
)

F = Fraction
FRONT = ("17/4", "11/2")


def folded(card: SizedCard) -> FoldedCard:
    """`card` folded; the fold's own warnings are not wanted here."""
    return fold(card)[0]


def steps_of(card: SizedCard, copies: int = 1) -> tuple[Step, ...]:
    """The steps of `card`."""
    return steps(folded(card), copies)


def step_for(card: SizedCard, picture: str) -> Step:
    """The only step with this picture."""
    (found,) = [step for step in steps_of(card) if step.picture == picture]
    return found


def matted() -> SizedCard:
    """A message with a mat 1/16 wider all round, on the inside; written before its mat."""
    message = piece("message", "panel", "white", (3, 4), placed("back", FRONT, (3, 4)))
    size = ("25/8", "33/8")
    mat = piece("mat", "panel", "glow", size, placed("back", FRONT, size), under="message")
    return side_fold(message, mat)


def starred() -> SizedCard:
    """Three stars in a row on the front, one heart low on the right of it."""
    row = [
        placed("front", FRONT, (1, 1), side="outside", at=(left, "1/2"))
        for left in ("1/4", "13/8", 3)
    ]
    stars = piece("star", "circle", "glow", (1, 1), *row)
    low = placed("front", FRONT, ("1/2", "1/2"), side="outside", at=("7/2", "9/2"))
    heart = piece("heart", "cutout", "white", ("1/2", "1/2"), low, works=(Work("trim", "", SPAN),))
    return side_fold(stars, heart)


def pocketed() -> SizedCard:
    """A pocket glued on three edges, a loose ticket, a gem on the pocket and steps of the maker's."""
    on_back = placed("back", FRONT, (4, 2), at=("1/8", "27/8"))
    gem = (Work("add", "Moon", SPAN, item="gem"),)
    glue = Glue(SPAN, along=("left", "right", "bottom"))
    pocket = piece("pocket", "panel", "glow", (4, 2), on_back, works=gem, glue=glue)
    ribbon = (Work("add", "sea blue", SPAN, item="ribbon", long=F(8)),)
    on_pocket = placed("pocket", (4, 2), (3, 3), host_piece="pocket", is_section=False)
    ticket = piece("ticket", "panel", "white", (3, 3), on_pocket, works=ribbon, loose=True)
    extra = (
        ExtraStep("after", "pocket", "Let the glue set. Ten minutes are enough.", SPAN),
        ExtraStep("before", "card", "Wash your hands", SPAN),
    )
    return side_fold(pocket, ticket)._replace(extra_steps=extra)


def overlapping() -> SizedCard:
    """A moon on the front that reaches over its right edge."""
    moon = piece(
        "moon",
        "circle",
        "glow",
        (3, 3),
        placed("left-door", ("5/2", 7), (3, 3), side="outside", at=("1/4", 2)),
        overhangs=True,
    )
    return gate(moon)


def tall_band() -> SizedCard:
    """A band that goes round a tent from top to bottom, with a tag at its left."""
    wrap = F(17, 2) + F(1, 16)
    band = piece("belt", "band", "glow", (1, 9), around=Around("card", True, F(2), wrap, 9 - wrap))
    at = placed("belt", (1, 9), ("1/2", 1), host_piece="belt", is_section=False)
    return tent(band, piece("label", "rectangle", "white", ("1/2", 1), at))


def loose_pieces() -> SizedCard:
    """A set of pieces without a base."""
    stamped = (Work("stamp", "Three paper boats", SPAN, ("Coal black",)),)
    return card_of(
        piece("bookmark", "panel", "ink", (2, 6), works=stamped, count=3),
        piece("disc", "circle", None, (2, 2)),
    )


def twin_hosts() -> SizedCard:
    """Two door papers that each carry a leaf, raised."""
    door, paper, leaf = ("5/2", 7), ("9/4", "27/4"), (1, 1)
    names = ("left-door", "right-door")
    doors = [placed(name, door, paper, side="outside") for name in names]
    leaves = [
        placed("door-paper", paper, leaf, host_piece="door-paper", host_copy=copy, is_section=False)
        for copy in (0, 1)
    ]
    glue = Glue(SPAN, "foam", thick=F(10, 127))
    return gate(
        piece("leaf", "square", "white", leaf, *leaves, glue=glue),
        piece("door-paper", "panel", "glow", paper, *doors),
    )


def uneven() -> SizedCard:
    """A base of which one section carries thirds of an inch."""
    return card_of(strip_base(["17/6", "17/6", "17/6"], "VV", height=4))


def every_card() -> list[SizedCard]:
    """All of them, and the plain hand-made ones."""
    return [
        side_fold(),
        tent(),
        gate(),
        z_fold(),
        rolled_trifold(),
        accordion(6),
        double_gate(),
        matted(),
        starred(),
        pocketed(),
        overlapping(),
        tall_band(),
        loose_pieces(),
        twin_hosts(),
        uneven(),
    ]
