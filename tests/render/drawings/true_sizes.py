"""The law of dimensions: every number on a line is a size that the solved card really has, and the line is as
long as the number says at the scale of its picture."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from cardrecipe.solve.sized import Placement, SizedCard, SizedPiece
from tests.render.drawings.everything import Shown
from tests.render.drawings.measured import Measured, dimensions
from tests.render.drawings.read_back import read

ROUNDING_MM = 0.0035  # each end is written to a thousandth of a mm, and its middle was rounded before
SHORT = {"inch": Fraction(1, 1000), "mm": Fraction(1, 100)}  # to which lengths no ruler shows are written
VIEWS = ("closed-front", "closed-back", "open-inside", "open-outside")


def untrue(shown: Shown) -> Iterator[str]:
    """What is wrong with the dimensions in all pictures of a card."""
    card = shown.sheet.folded.card
    plans = shown.sheet.paper_plans
    layouts = {f"sheet-{each.number}": each.stock for plan in plans for each in plan.layouts}
    for name, drawing in shown.drawings.items():
        found = [*dimensions(read(drawing.svg))]
        for part in _of_one_scale(name, found):
            on_band = name.startswith("place-") and _is_on_band(card, card.piece(name.removeprefix("place-")))
            yield from (f"{name}: {each}" for each in _off_scale(part, card, on_band))
        known = _known(shown, card, name, layouts)
        for each in found:
            if known is None:
                yield f"{name}: {each.text!r} measures something that no test knows"
            elif not any(_is_told(each, size, card) for size in known):
                yield f"{name}: {each.text!r} is no size of the card ({', '.join(map(str, sorted(known)))})"


def _of_one_scale(name: str, found: Sequence[Measured]) -> list[list[Measured]]:
    """A band is drawn twice: round the card, and as a strip at its own scale."""
    if not name.startswith("band-"):
        return [[*found]]
    strip = next((at for at, each in enumerate(found) if each.text.startswith("once round")), len(found))
    return [[*found[:strip]], [*found[strip:]]]


def _off_scale(found: Sequence[Measured], card: SizedCard, on_band: bool) -> Iterator[str]:
    """Those whose line is longer or shorter than their number at the scale of the longest that is exact; what
    lies on a band is measured to the nearest mark, since a wrap is no truer."""
    exact = [each for each in found if not each.is_about]
    if not exact:
        return
    longest = max(exact, key=lambda each: each.value)
    scale = longest.drawn / float(longest.value)
    for each in found:
        slack = ROUNDING_MM * 2 + scale * float(card.nearest if on_band else _slack(each, card))
        if abs(each.drawn - float(each.value) * scale) > slack:
            ratio = each.drawn / scale
            yield f"{each.text!r} is drawn {ratio:.4f} long, beside {longest.text!r}"


def _slack(each: Measured, card: SizedCard) -> Fraction:
    """How far a number may be from the exact size: nothing where a ruler shows it."""
    if not each.is_about:
        return Fraction(0) if card.unit == "inch" else SHORT["mm"] / 2
    return card.nearest if "about" in each.text else SHORT[card.unit]


def _is_told(each: Measured, size: Fraction, card: SizedCard) -> bool:
    return abs(each.value - size) <= _slack(each, card)


def _known(
    shown: Shown, card: SizedCard, name: str, stocks: Mapping[str, object]
) -> set[Fraction] | None:
    """The sizes that a picture of that name may state; None for pictures without dimensions."""
    kind, _, rest = name.partition("-")
    if kind in ("piece", "score"):
        return _of_piece(card.piece(rest))
    if name.startswith("step-score-"):
        return _of_piece(card.piece(name.removeprefix("step-score-")))
    if kind == "work":
        return {work.middle for work in card.piece(rest).works if work.middle is not None}
    if kind == "place":
        return _of_places(card, card.piece(rest))
    if kind == "band":
        return _of_band(shown, card.piece(rest))
    if name in stocks:
        stock = stocks[name]
        return {stock.width, stock.height}  # type: ignore[attr-defined]
    if name.startswith(VIEWS):
        return _of_views(shown)
    return None


def _of_piece(piece: SizedPiece) -> set[Fraction]:
    found = {piece.width, piece.height}
    for score in piece.scores:
        found |= {score.at, (piece.width if score.axis == "x" else piece.height) - score.at}
    return found


def _of_places(card: SizedCard, piece: SizedPiece) -> set[Fraction]:
    """What is left and right of it, above and below, between copies, and to its middle; over an edge too."""
    found: set[Fraction] = set()
    for place in piece.placements:
        wide, high = _host_size(card, place)
        hidden = _hidden(card, place)
        x, y = place.x - hidden[0], place.y - hidden[1]
        found |= {x, y, wide - x - piece.width, high - y - piece.height}
        found |= {x + piece.width / 2, y + piece.height / 2}
        for other in piece.placements:
            found |= {other.x - place.x, other.x - place.x - piece.width}
    sizes = {abs(size) for size in found}
    if _is_on_band(card, piece):
        marks = [round(size / card.nearest) * card.nearest for size in sizes]
        sizes |= {mark + step * card.nearest for mark in marks for step in (-1, 0, 1)}
    return sizes


def _is_on_band(card: SizedCard, piece: SizedPiece) -> bool:
    return any(card.piece(place.host_piece).around for place in piece.placements)


def _host_size(card: SizedCard, place: Placement) -> tuple[Fraction, Fraction]:
    host = card.piece(place.host_piece)
    section = next((each for each in host.sections if each.name == place.host), None)
    if place.is_section and section is not None:
        return section.width, section.height
    if host.around is not None:
        half = host.around.wrap / 2
        return (host.width, half) if host.around.downward else (half, host.height)
    return host.width, host.height


def _hidden(card: SizedCard, place: Placement) -> tuple[Fraction, Fraction]:
    """How much of a band lies behind the card at its left or its top."""
    host = card.piece(place.host_piece)
    if host.around is None:
        return Fraction(0), Fraction(0)
    half = host.around.wrap / 2
    if host.around.downward:
        return Fraction(0), (host.height - half) / 2
    return (host.width - half) / 2, Fraction(0)


def _of_band(shown: Shown, band: SizedPiece) -> set[Fraction]:
    around = band.around
    assert around is not None
    wide = min(band.width, band.height)
    closed = next(each for each in shown.sheet.folded.closed if each.base == around.base)
    view = shown.sheet.folded.view("closed-front", around.base)
    across = closed.width if around.downward else closed.height
    if not any(part.section for part in view.parts):  # a piece hides the whole card
        across = view.width if around.downward else view.height
    return {around.at, wide, across - around.at - wide, around.wrap, around.overlap, band.width, band.height}


def _of_views(shown: Shown) -> set[Fraction]:
    found = {size for base in shown.sheet.folded.card.bases for size in (base.width, base.height)}
    for closed in shown.sheet.folded.closed:
        found |= {closed.width, closed.height}
    for view in shown.sheet.folded.views:
        if not any(part.section for part in view.parts):
            found |= {view.width, view.height}
    return found


