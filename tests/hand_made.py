"""Cards with every size filled in by hand, so that each stage after the solver is tested alone.

All cards are inventions. A section's outline and every border are worked out here with plain sums,
not by the code under test.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate, pairwise
from typing import Any

from cardrecipe.model.papers import Paper, StockSheet, Supply, Weight
from cardrecipe.model.work import Glue, Work
from cardrecipe.solve.sized import (
    Around,
    Edges,
    Join,
    Placement,
    Point,
    SizedCard,
    SizedPiece,
    SizedScore,
    SizedSection,
)
from cardrecipe.syntax.spans import Span

F = Fraction
SPAN = Span("hand-made.recipe", 0, 0)
DIRECTIONS = {"V": "valley", "M": "mountain"}
Size = Fraction | int | str

PAPERS = {
    "ink": Paper(
        "ink",
        "cardstock",
        "Ink blue",
        (StockSheet(F(17, 2), F(11), F(2, 5)), StockSheet(F(12), F(12))),
        SPAN,
        weight=Weight(F(270), "gsm"),
        color="#22304a",
        pack=20,
    ),
    "glow": Paper(
        "glow",
        "patterned",
        "Paper glow",
        (StockSheet(F(12), F(12)),),
        SPAN,
        weight=Weight(F(150), "gsm"),
        one_way=True,
        color="#f2b45c",
    ),
    "white": Paper(
        "white",
        "cardstock",
        "White",
        (StockSheet(F(17, 2), F(11)),),
        SPAN,
        weight=Weight(F(80), "lb", "cover"),
        color="#ffffff",
    ),
}
SUPPLIES = {
    "coal": Supply("coal", "ink", "Coal black", SPAN),
    "boats": Supply("boats", "stamp", "Three paper boats", SPAN),
    "ripple": Supply("ripple", "folder", "Ripple", SPAN),
}


def side_fold(*more: SizedPiece) -> SizedCard:
    """A flat 8 1/2 x 5 1/2 with one score in the middle; the left half is the front."""
    return strip_card(["17/4", "17/4"], "V", ["front", "back"], "11/2", title="Side fold", more=more)


def tent(*more: SizedPiece) -> SizedCard:
    """A flat 5 1/2 x 8 1/2 scored at 4 1/4 from the top; its upper half is the front."""
    return strip_card(["17/4", "17/4"], "V", ["front", "back"], "11/2", axis="y", title="Tent", more=more)


def gate(*more: SizedPiece) -> SizedCard:
    """Two doors of 2 1/2 that meet over a back of 5, 7 high."""
    names = ["left-door", "back", "right-door"]
    return strip_card(["5/2", 5, "5/2"], "VV", names, 7, title="Gate", more=more)


def z_fold(*more: SizedPiece) -> SizedCard:
    """Three equal parts folded back and forth; the right one lies at the back."""
    names = ["left", "middle", "right"]
    return strip_card([4, 4, 4], "MV", names, 6, title="Z fold", more=more)


def rolled_trifold(*more: SizedPiece) -> SizedCard:
    """A letter fold: the right part goes in first and is narrower by 1/8."""
    names = ["left", "middle", "right"]
    return strip_card([4, 4, "31/8"], "VV", names, 6, title="Rolled tri-fold", more=more)


def accordion(count: int, *more: SizedPiece) -> SizedCard:
    """`count` parts of 3 by 5, folded back and forth; the last one lies at the back."""
    letters = ("VM" * count)[: count - 1][::-1]
    return strip_card([3] * count, letters, [], 5, title="Accordion", more=more)


def double_gate(*more: SizedPiece) -> SizedCard:
    """Two doors with flaps that fold back, panels, a band and a raised plate with a turned tag.

    Common practice, no published source: 11 x 5 1/2 scored at 1 1/4 and 3 3/8 from both ends closes
    to 4 1/4 x 5 1/2.
    """
    names = ["left-flap", "left-door", "back", "right-door", "right-flap"]
    lengths: list[Size] = ["5/4", "17/8", "17/4", "17/8", "5/4"]
    pieces = (*_double_gate_pieces(), *more)
    return strip_card(lengths, "MVVM", names, "11/2", title="Harbour lights", more=pieces)


def strip_card(
    lengths: Sequence[Size],
    directions: str,
    names: Sequence[str] = (),
    height: Size = 5,
    axis: str = "x",
    *,
    title: str = "Strip",
    paper: str | None = "ink",
    unit: str = "inch",
    more: Sequence[SizedPiece] = (),
) -> SizedCard:
    """A card with one base called `card`: `lengths` from left to right (axis "x") or from top to
    bottom ("y"), `directions` one letter V or M for each score, unnamed sections `section-1` …"""
    base = strip_base(lengths, directions, names, height, axis, paper)
    return card_of(base, *more, title=title, unit=unit)


def card_of(*pieces: SizedPiece, title: str = "Strip", unit: str = "inch") -> SizedCard:
    """A card of these pieces, with the papers and supplies above."""
    border, nearest = (F(1, 8), F(1, 16)) if unit == "inch" else (F(3), F(1))
    return SizedCard(
        title,
        "A card from *invented* facts.",
        unit,
        nearest,
        border,
        1,
        None,
        None,
        PAPERS,
        SUPPLIES,
        pieces,
    )


def strip_base(
    lengths: Sequence[Size],
    directions: str,
    names: Sequence[str] = (),
    height: Size = 5,
    axis: str = "x",
    paper: str | None = "ink",
) -> SizedPiece:
    """The base of `strip_card` alone."""
    whole, parts = F(height), [F(length) for length in lengths]
    marks = [F(0), *accumulate(parts)]
    spelt = [*names, *(f"section-{index + 1}" for index in range(len(names), len(parts)))]
    spans = pairwise(marks)
    sections = tuple(
        _section(name, start, end, whole, axis) for name, (start, end) in zip(spelt, spans, strict=True)
    )
    scores = tuple(
        _score(index + 1, marks[index + 1], marks[-1], whole, axis, DIRECTIONS[letter])
        for index, letter in enumerate(directions)
    )
    width, tall = (marks[-1], whole) if axis == "x" else (whole, marks[-1])
    return SizedPiece("card", "base", paper, width, tall, 1, SPAN, scores=scores, sections=sections)


def sheet(
    name: str,
    lengths: Sequence[Size],
    directions: str,
    names: Sequence[str],
    height: Size,
    placement: Placement,
    joins: Sequence[tuple[str, str, str]] = (),
    *,
    axis: str = "x",
    **more: Any,
) -> SizedPiece:
    """A scored panel; `joins` are its sections with the piece and the section that each is glued to."""
    strip = strip_base(lengths, directions, names, height, axis)
    glued = tuple(Join(own, piece, host, SPAN) for own, piece, host in joins)
    return strip._replace(name=name, kind="panel", placements=(placement,), joins=glued, **more)


def placed(
    host: str,
    host_size: tuple[Size, Size],
    size: tuple[Size, Size],
    *,
    side: str = "inside",
    at: tuple[Size, Size] | None = None,
    host_piece: str = "card",
    host_copy: int = 0,
    is_section: bool = True,
) -> Placement:
    """One copy on its host, centred unless `at` says left and top."""
    room_x, room_y = F(host_size[0]) - F(size[0]), F(host_size[1]) - F(size[1])
    left, top = (F(at[0]), F(at[1])) if at else (room_x / 2, room_y / 2)
    border = Edges(left, room_x - left, top, room_y - top)
    return Placement(host, host_piece, host_copy, side, left, top, border, is_section)


def piece(
    name: str,
    kind: str,
    paper: str | None,
    size: tuple[Size, Size],
    *placements: Placement,
    **more: Any,
) -> SizedPiece:
    """A piece with one copy for each placement (or one copy in all)."""
    plain = SizedPiece(name, kind, paper, F(size[0]), F(size[1]), max(1, len(placements)), SPAN, placements)
    return plain._replace(**more)


def _double_gate_pieces() -> tuple[SizedPiece, ...]:
    door, flap, back = ("17/8", "11/2"), ("5/4", "11/2"), ("17/4", "11/2")
    door_size, flap_size, message_size = ("15/8", "21/4"), (1, "21/4"), (4, "21/4")
    on_doors = [placed(name, door, door_size, side="outside") for name in ("left-door", "right-door")]
    on_flaps = [placed(name, flap, flap_size) for name in ("left-flap", "right-flap")]
    message_work = (Work("write", "Come down to the water", SPAN, ("Coal black",)),)
    return (
        piece("door-paper", "panel", "glow", door_size, *on_doors),
        piece("flap-paper", "panel", "glow", flap_size, *on_flaps),
        piece(
            "message",
            "panel",
            "white",
            message_size,
            placed("back", back, message_size),
            works=message_work,
            tips=("Write before the doors are closed.",),
        ),
        *_sash_and_cluster(),
    )


def _sash_and_cluster() -> tuple[SizedPiece, ...]:
    plate_size, tag_size, square_size = (3, "9/4"), (1, 2), ("7/4", "7/4")
    on_sash = placed("sash", (11, 1), plate_size, host_piece="sash", is_section=False)
    tag_on_plate, square_on_plate = (
        placed("plate", plate_size, size, host_piece="plate", is_section=False)
        for size in (tag_size, square_size)
    )
    wrap = F("17/2") + 2 * F(1, 16)
    stamped = (
        Work("stamp", "Three paper boats", SPAN, ("Coal black",)),
        Work("color", "", SPAN, ("Sea green", "Rust")),
    )
    return (
        piece(
            "sash",
            "band",
            "ink",
            (11, 1),
            around=Around("card", False, F("9/4"), wrap, 11 - wrap),
            works=(Work("emboss", "Ripple", SPAN, ("Ripple",), middle=F(5)),),
            glue=Glue(SPAN, "tape"),
        ),
        piece(
            "plate",
            "oval",
            "glow",
            plate_size,
            on_sash,
            works=(Work("die", "Oval plate", SPAN),),
            glue=Glue(SPAN, "tape", only_on="sash"),
        ),
        piece("pennant", "tag", "white", tag_size, tag_on_plate, turned=F(30)),
        piece(
            "boats-card",
            "square",
            "white",
            square_size,
            square_on_plate,
            works=stamped,
            glue=Glue(SPAN, "foam", thick=F(10, 127)),  # 2 mm
            tips=("Colour before the foam goes on.",),
        ),
    )


def _section(name: str, start: Fraction, end: Fraction, across: Fraction, axis: str) -> SizedSection:
    x, y = (start, F(0)) if axis == "x" else (F(0), start)
    width, height = (end - start, across) if axis == "x" else (across, end - start)
    corners: tuple[Point, ...] = (
        (x, y),
        (x + width, y),
        (x + width, y + height),
        (x, y + height),
    )
    return SizedSection(name, x, y, width, height, corners)


def _score(
    number: int, at: Fraction, whole: Fraction, across: Fraction, axis: str, direction: str
) -> SizedScore:
    near, far = ("left", "right") if axis == "x" else ("top", "bottom")
    written_from = near if at <= whole / 2 else far
    start, end = ((at, F(0)), (at, across)) if axis == "x" else ((F(0), at), (across, at))
    return SizedScore(number, axis, at, written_from, direction, start, end, SPAN)
