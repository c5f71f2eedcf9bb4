"""What the plan has to say about a card before anything is cut: a list of small checks."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.lengths import size_written, with_unit
from cardrecipe.model.work import Work
from cardrecipe.plan.envelopes import check_envelope
from cardrecipe.plan.full_sheets import check_full_sheets
from cardrecipe.plan.papers import fits_turned, fits_upright, pieces_of
from cardrecipe.plan.post_checks import check_square_letter, check_thick_letter
from cardrecipe.plan.supplies import needs
from cardrecipe.plan.words import listed, quoted
from cardrecipe.solve.sized import SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error, warning

# Less paper than this between two ends does not hold: common practice, no published source.
LEAST_OVERLAP = {"inch": Fraction(3, 8), "mm": Fraction(10)}

Check = Callable[[FoldedCard], Iterator[Diagnostic]]


def check_plan(folded: FoldedCard) -> list[Diagnostic]:
    """Everything the checks below find, in their order."""
    return [found for check in CHECKS for found in check(folded)]


def check_sheets(folded: FoldedCard) -> Iterator[Diagnostic]:
    """Every piece must fit a sheet of its paper, whichever way it lies."""
    card = folded.card
    for paper in card.papers.values():
        for piece in pieces_of(card, paper.name):
            upright = any(fits_upright(piece, sheet) for sheet in paper.sheets)
            turned = any(fits_turned(piece, sheet) for sheet in paper.sheets)
            if not (upright or turned):
                yield _no_sheet_holds(card, piece)
            elif paper.one_way and not upright:
                message = (
                    f"the pattern of {paper.title} must stay upright, but {piece.name} fits the sheet "
                    "only a quarter turn round"
                )
                hint = "take a larger sheet, or leave out `one-way`"
                yield warning("one-way-turned", piece.span, message, hint)


def check_unused_papers(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A declared paper should be used by some piece; a shared file of papers is a cupboard."""
    card = folded.card
    for paper in card.papers.values():
        if not pieces_of(card, paper.name) and paper.span.file in _own_files(card):
            message = f"no piece is made from the paper {quoted(paper.title)}"
            hint = f"write `from {paper.name}` on a piece, or take this line out"
            yield warning("unused-paper", paper.span, message, hint)


def check_unused_supplies(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A declared supply should be used in some operation; tools and `other` need none."""
    card = folded.card
    used = {need.title.casefold() for need in needs(card)}
    files = _own_files(card)
    for supply in card.supplies.values():
        if supply.span is None or supply.span.file not in files:
            continue
        if supply.title.casefold() not in used and not _is_spoken_of(card, supply.title):
            message = f"nothing is done with the {supply.kind} {quoted(supply.title)}"
            hint = f"use `{supply.name}` in an operation, or take this line out"
            yield warning("unused-supply", supply.span, message, hint)


def check_mats(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A mat goes where the piece over it goes, but a base, a band and a loose piece go on nothing."""
    card = folded.card
    told = {step.piece for step in card.extra_steps}
    for mat in card.pieces:
        if mat.under is not None and not (mat.placements or mat.loose or mat.name in told):
            message = f"{mat.name} lies under {mat.under}, which is put on nothing: no step places it"
            hint = f"write `on {mat.under}`, or tell it by `step after {mat.name}`"
            yield warning("mat-on-nothing", mat.span, message, hint)


def check_overlaps(folded: FoldedCard) -> Iterator[Diagnostic]:
    """A band goes all round its card, and its ends should overlap by 3/8 in (10 mm) or more to hold."""
    card = folded.card
    for piece in card.pieces:
        least = LEAST_OVERLAP[card.unit]
        if piece.around and piece.around.overlap < 0:
            message = (
                f"{piece.name} is {with_unit(piece.width, card.unit)} long and does not go round "
                f"{piece.around.base}: that takes {with_unit(piece.around.wrap, card.unit)}"
            )
            hint = f"write `overlap {_typed_overlap(card)}` in place of the length"
            yield error("band-too-short", piece.span, message, hint)
        elif piece.around and piece.around.overlap < least:
            overlap = with_unit(piece.around.overlap, card.unit)
            message = (
                f"the ends of {piece.name} overlap by only {overlap}; "
                f"less than {with_unit(least, card.unit)} does not hold well"
            )
            hint = f"write `overlap {_typed_overlap(card)}` in place of the length"
            yield warning("band-overlap-short", piece.span, message, hint)


def check_work_order(folded: FoldedCard) -> Iterator[Diagnostic]:
    """Work on a piece must be possible after the work written before it."""
    for piece in folded.card.pieces:
        for index, later in enumerate(piece.works):
            for earlier in piece.works[:index]:
                reason = _why_too_late(earlier, later)
                if reason:
                    message = f"this comes too late on {piece.name}: {reason}"
                    hint = f"write `{_form(later)}` before `{_form(earlier)}`"
                    related = (Related(earlier.span, "this is done first"),)
                    yield warning("work-too-late", later.span, message, hint, related)
                    break


CHECKS: tuple[Check, ...] = (
    check_sheets,
    check_full_sheets,
    check_envelope,
    check_thick_letter,
    check_square_letter,
    check_unused_papers,
    check_unused_supplies,
    check_mats,
    check_overlaps,
    check_work_order,
)

PRESSED = ("stamp", "emboss", "die", "punch", "foil")
FORMS = {"color": "color with", "trim": "trim by hand", "ink-edges": "ink edges with"}


def _no_sheet_holds(card: SizedCard, piece: SizedPiece) -> Diagnostic:
    paper = card.papers[piece.paper or ""]
    sheets = listed(
        [size_written(sheet.width, sheet.height, card.unit) for sheet in paper.sheets], last="or"
    )
    message = (
        f"{piece.name} is {size_written(piece.width, piece.height, card.unit)}, "
        f"larger than a sheet of {paper.title} ({sheets})"
    )
    hint = "name a larger sheet after the paper's title, or make the piece smaller"
    related = (Related(paper.span, "the paper is declared here"),)
    return error("no-sheet-holds", piece.span, message, hint, related)


def _own_files(card: SizedCard) -> frozenset[str]:
    """The files that the card's pieces are written in, without those it only takes papers from."""
    return frozenset(piece.span.file for piece in card.pieces)


def _is_spoken_of(card: SizedCard, title: str) -> bool:
    """True where the maker's own words name the thing: a free-text work, a tip, an extra step."""
    texts = [work.text for piece in card.pieces for work in piece.works if work.verb == "do"]
    texts += [tip for piece in card.pieces for tip in (*piece.tips, *piece.tips_on)]
    texts += [step.text for step in card.extra_steps]
    return any(title.casefold() in text.casefold() for text in texts)


def _why_too_late(earlier: Work, later: Work) -> str:
    """Why `later` cannot be done well after `earlier`; "" where it can."""
    if earlier.verb == "add" and later.verb in PRESSED:
        return f"what stands up from it ({quoted(earlier.text)}) is in the way of pressing"
    if earlier.verb == "emboss" and earlier.middle is None and later.verb == "stamp":
        return "a stamp does not print evenly on an embossed face"
    if earlier.verb == "trim" and later.verb in ("stamp", "emboss"):
        return "it is trimmed along its outline before that outline is there"
    if earlier.verb == "die" and later.verb == "emboss" and later.middle is None:
        return "embossing draws a die-cut outline out of shape"
    return ""


def _form(work: Work) -> str:
    """The line as it begins in the recipe."""
    word = FORMS.get(work.verb, work.verb)
    return f'{word} "{work.text}"' if work.text else word


def _typed_overlap(card: SizedCard) -> str:
    return "1/2" if card.unit == "inch" else "12"
