"""What a class needs besides its papers: supplies added up over all kits, tools, and what is handed out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from cardrecipe.model.lengths import convert, size_written, to_mm
from cardrecipe.plan.classes.at_hand import Thing
from cardrecipe.plan.classes.bags import table_tools
from cardrecipe.plan.classes.blanks import ClassCut, KitCard
from cardrecipe.plan.classes.piece_prep import is_cut_out_before, size_told
from cardrecipe.plan.classes.ready import figure
from cardrecipe.plan.classes.sheet import Kit, ShoppingLine
from cardrecipe.plan.glue import ADHESIVE_TITLES
from cardrecipe.plan.supplies import Need, needs
from cardrecipe.plan.tools import KNIFE, tools
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import bought_length, bought_size, capital, number
from cardrecipe.solve.sized import SizedCard, SizedPiece

# How many seats share one, and what glue a piece takes: rough rules of our own, common practice, no published
# source.
BEFORE_ONLY = ("die", "folder", "punch")
SHARED_BY = {"stamp": 8, "ink": 8, "foil": 8, "marker": 4}
TOOL_SHARED_BY = 2
BOTTLE_SHARED_BY = 8
DABS_A_PIECE = 4  # glue dots or foam pads, one for each corner
TAPE_ROUNDED_MM = {"inch": 5 * 12 * Fraction(254, 10), "mm": Fraction(1000)}  # up to 5 ft, to 1 m
HAND_OUT = "to hand out"


def supplies(cut: ClassCut, there: frozenset[Thing]) -> Iterator[ShoppingLine]:
    """Each thing once, whatever the capitals it is written with."""
    groups: dict[Thing, list[tuple[KitCard, Need]]] = {}
    for kit in cut.kits:
        for need in needs(kit.card):
            groups.setdefault((need.kind, need.title.casefold()), []).append((kit, need))
    for thing, same in groups.items():
        amount = _amount(cut, same)
        letters = tuple(dict.fromkeys(kit.letter for kit, _ in same))
        yield _line(same[0][1].kind, capital(same[0][1].title), amount, letters, is_there=thing in there)


def shared_tools(
    cut: ClassCut, by_knife: frozenset[str], there: frozenset[Thing]
) -> Iterator[ShoppingLine]:
    """The tools that the cards and their cutting imply, with a number to begin with."""
    used: dict[str, dict[str, None]] = {}
    for kit in cut.kits:
        for line in tools(kit.card):
            used.setdefault(line.name, {})[kit.letter] = None
    long = {letter for blank in cut.blanks if blank.paper in by_knife for letter, _ in blank.counts}
    for tool in KNIFE if long else ():
        used.setdefault(tool, {}).update(dict.fromkeys(kit.letter for kit in cut.kits if kit.letter in long))
    if "Metal ruler" in used:  # it measures as well
        used["Metal ruler"] |= used.pop("Ruler", {})
    for tool, letters in used.items():
        seats = sum(kit.of.seats for kit in cut.kits if tool in set(table_tools(kit.card)))
        need = _for_seats(seats) if seats else say("class/before-only")
        kits = tuple(kit.letter for kit in cut.kits if kit.letter in letters)
        yield _line("tool", tool, need, kits, is_there=("tool", tool.casefold()) in there)
    yield from _dies(cut)


def handed_out(cut: ClassCut, kits: Sequence[Kit]) -> Iterator[ShoppingLine]:
    """Bags with their labels, the sheets with the steps, envelopes."""
    every = tuple(kit.letter for kit in kits)
    bags = str(sum(kit.kits for kit in kits))
    sides = [
        sorted(convert(side, kit.card.unit, cut.card.unit) for side in (piece.width, piece.height))
        for kit in cut.kits for piece in kit.card.pieces
    ]  # fmt: skip
    size = size_written(max(long for _, long in sides), max(short for short, _ in sides), cut.card.unit)
    yield _line(HAND_OUT, say("class/bags", size=size), bags, every)
    yield _line(HAND_OUT, say("class/labels"), bags, every)
    yield _line(HAND_OUT, say("class/steps"), str(sum(kit.seats for kit in kits)), every)
    wanted: dict[str, list[Kit]] = {}
    for kit in kits:
        fits = sorted((each for each in kit.sheet.envelopes if each.fits), key=lambda each: not each.wanted)
        if fits:
            size = bought_size(fits[0].width, fits[0].height, kit.sheet.folded.card.unit)
            wanted.setdefault(say("class/envelopes", title=fits[0].title, size=size), []).append(kit)
    for title, own in wanted.items():
        seats = str(sum(kit.seats for kit in own))
        yield _line(HAND_OUT, title, seats, tuple(kit.letter for kit in own))


def _line(
    kind: str, title: str, need: str, kits: tuple[str, ...], *, is_there: bool = False
) -> ShoppingLine:
    have = say("class/there") if is_there else ""
    return ShoppingLine(kind, title, need, have, "" if is_there else need, "", kits)


def _dies(cut: ClassCut) -> Iterator[ShoppingLine]:
    """A die or a punch for each shape that is cut out before the class: whoever has one needs no scissors."""
    wanted: dict[str, list[str]] = {}
    for kit in cut.kits:
        for piece in kit.card.pieces:
            if is_cut_out_before(piece):
                title = say("class/own-die", shape=capital(piece.kind), size=size_told(kit.card, piece))
                wanted.setdefault(title, []).append(kit.letter)
    for title, letters in wanted.items():
        letters = list(dict.fromkeys(letters))
        yield ShoppingLine("tool", title, say("class/instead"), "", "", "", tuple(letters))


def _for_seats(seats: int) -> str:
    return say("class/for-seats", count=str(ceil(Fraction(seats, TOOL_SHARED_BY))))


def _amount(cut: ClassCut, same: Sequence[tuple[KitCard, Need]]) -> str:
    """Lengths are added, gems and what is glued are counted, a stamp or an ink is shared."""
    kind = same[0][1].kind
    units = {kit.card.unit for kit, _ in same}
    unit = units.pop() if len(units) == 1 else cut.card.unit
    lengths = [convert(need.length, kit.card.unit, unit) * kit.of.kits
               for kit, need in same if need.length is not None]  # fmt: skip
    if lengths:
        return f"about {bought_length(sum(lengths, Fraction(0)), unit)}"
    if kind == "gem":
        return figure(_pieces(same), "piece")
    if kind == "adhesive":
        return _glue(cut, same)
    if kind == "tool":
        return _for_seats(_seats(same))
    if kind in BEFORE_ONLY:
        return say("class/before-only")
    return _to_share(same, SHARED_BY[kind]) if kind in SHARED_BY else ""


def _pieces(same: Sequence[tuple[KitCard, Need]]) -> int:
    return sum(kit.card.piece(need.piece).count * kit.of.kits for kit, need in same if need.piece)


def _to_share(same: Sequence[tuple[KitCard, Need]], by: int) -> str:
    """So many that not more than so many seats share one."""
    return say("class/shared", count=number(max(1, ceil(Fraction(_seats(same), by)))))


def _seats(same: Sequence[tuple[KitCard, Need]]) -> int:
    return sum({kit.letter: kit.of.seats for kit, _ in same}.values())


def _glue(cut: ClassCut, same: Sequence[tuple[KitCard, Need]]) -> str:
    """As it is bought: tape by its length, dots and pads by their number, glue in bottles."""
    title, pieces = same[0][1].title, figure(_pieces(same), "piece")
    if title.startswith(ADHESIVE_TITLES["tape"]):
        return say("class/tape", length=_tape(cut.card.unit, same), pieces=pieces)
    if title.startswith((ADHESIVE_TITLES["dots"], ADHESIVE_TITLES["foam"])):
        noun = "dot" if title.startswith(ADHESIVE_TITLES["dots"]) else "pad"
        return say("class/dabs", dabs=figure(_pieces(same) * DABS_A_PIECE, noun), pieces=pieces)
    if title.startswith(ADHESIVE_TITLES["liquid"]):
        return say("class/bottles", bottles=_to_share(same, BOTTLE_SHARED_BY), pieces=pieces)
    return say("class/pieces-to-glue", pieces=pieces)


def _tape(unit: str, same: Sequence[tuple[KitCard, Need]]) -> str:
    """A strip along both long sides of each piece, rounded up: `about 40 ft`."""
    glued = [(kit, kit.card.piece(need.piece)) for kit, need in same if need.piece]
    length = sum((_strips(kit.card, piece) * kit.of.kits for kit, piece in glued), Fraction(0))
    times = ceil(length / TAPE_ROUNDED_MM[unit])
    return f"{times * 5}\u00a0ft" if unit == "inch" else f"{times}\u00a0m"


def _strips(card: SizedCard, piece: SizedPiece) -> Fraction:
    """In mm; a band is glued to itself at its end."""
    side = min(piece.width, piece.height) if piece.around else max(piece.width, piece.height)
    return 2 * to_mm(side, card.unit) * piece.count
