"""The one sheet as an HTML page: that of the main card, with the comparison before it and after it what is
otherwise in each variant. It needs nothing else, like the page of a single card.
"""

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from markupsafe import Markup, escape

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.variant_sheet import SHEET_NAMED, MarkedCut, Variant, VariantSheet, pieces_told
from cardrecipe.plan.variant_way import in_groups
from cardrecipe.render import words
from cardrecipe.render.compact import Looks
from cardrecipe.render.drawings.colors import paper_color
from cardrecipe.render.html import (
    Around,
    blocks_html,
    picture_html,
    render_html,
    template,
    tight_html,
)
from cardrecipe.render.page_style import style_of
from cardrecipe.render.prose import prose, shown
from cardrecipe.render.variants.columns import NO_VARIANTS, note, tables
from cardrecipe.render.variants.views import own_views

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Pictures = Mapping[str, "Drawing"]
_STEP = re.compile(r"[Ss]teps? (\d+)(?![\da-z])(?: (?:to|and) \d+)?")
_IDS = re.compile(r'(id="|aria-labelledby="|aria-describedby="|url\(#)')
_OF_PIECES = re.compile(r' data-piece="[^"]*"')


class Shown(NamedTuple):
    """A variant with its place in the page, and its pictures as markup."""

    key: str  # "variant-1": the end of its id
    variant: Variant
    pictures: Mapping[str, Markup]
    views: Sequence[tuple[str, str]]  # pictures of the finished card with their captions


def render_variants_html(
    sheet: VariantSheet, cards: Sequence[Pictures], other_cards: Sequence[Pictures], page: str
) -> str:
    """The whole page; `cards` are the drawings of the main card and of each variant, `other_cards` those
    in the other unit system. `page` is the paper it is printed on."""

    def around(unit: str, looks: Looks) -> Around:
        is_first = unit == sheet.plain.folded.card.unit
        own, drawn = (sheet, cards) if is_first or sheet.other is None else (sheet.other, other_cards)
        return _around(own, drawn, looks, unit)

    others = other_cards[0] if other_cards else {}
    return render_html(sheet.plain, cards[0], others, page, around, style_of("variants.css"))


def _around(sheet: VariantSheet, cards: Sequence[Pictures], looks: Looks, unit: str) -> Around:
    found = tables(sheet)
    finished = [
        [_finished(cards[place], looks, f"c{number}-") for place in table.places]
        for number, table in enumerate(found)
    ]
    variants = [
        _shown(number, sheet.plain, variant, drawn, looks)
        for number, (variant, drawn) in enumerate(zip(sheet.variants, cards[1:], strict=True), start=1)
    ]
    before = template("variants_before.html.j2").render(
        unit=unit, sheet=sheet, tables=found, finished=finished, variants=variants, about=_about,
        swatch=_swatch, no_variants=NO_VARIANTS, note=note(sheet), for_copies=words.for_copies(sheet.plain),
    )  # fmt: skip
    after = template("variants_after.html.j2").render(
        unit=unit, variants=variants, words=words, about=_about, told=pieces_told, linked=_linked,
        mark=_mark, groups=in_groups, one=one_copy(sheet.plain.folded.card),
        tip_html=lambda tip: blocks_html(prose(tip, 5)),
    )  # fmt: skip
    return Around(tight_html(before), tight_html(after) if variants else Markup())


def _finished(drawn: Pictures, looks: Looks, prefix: str) -> Markup:
    """The finished card for a table. It stands elsewhere in the page too, so its ids are others here."""
    drawing = drawn.get("finished")
    if drawing is None:
        return Markup()
    return _picture(drawing._replace(svg=_IDS.sub(rf"\1{prefix}", drawing.svg)), looks)


def _shown(number: int, plain: Sheet, variant: Variant, drawn: Pictures, looks: Looks) -> Shown:
    views = tuple(view for view in own_views(plain, variant.sheet) if view[0] in drawn)
    return Shown(f"variant-{number}", variant, _pictures(variant, views, drawn, looks), views)


def _pictures(
    variant: Variant, views: Sequence[tuple[str, str]], drawn: Pictures, looks: Looks
) -> dict[str, Markup]:
    """Those that the variant's part shows."""
    layouts = (layout.picture for layout in variant.layouts)
    scores = (f"score-{guide.piece}" for guide in variant.scores)
    steps = (detour.step.picture for detour in variant.way.detours)
    names = dict.fromkeys(("finished", *layouts, *scores, *steps, *(name for name, _ in views)))
    return {name: _picture(drawn[name], looks) for name in names if name in drawn}


def _picture(drawing: "Drawing", looks: Looks) -> Markup:
    """A drawing of which no piece is lit up: the lists and sums that this shows are the main card's."""
    return picture_html(drawing._replace(svg=_OF_PIECES.sub("", drawing.svg)), looks, False)


def _about(markdown: str) -> Markup:
    return blocks_html(prose(markdown, 3))


def _swatch(sheet: VariantSheet, place: int, paper: str) -> str:
    """The colour of a paper of the card in a column of the table."""
    cards = (sheet.plain, *(variant.sheet for variant in sheet.variants))
    return paper_color(cards[place].folded.card.papers, paper or None)


def _linked(text: str, unit: str) -> Markup:
    """A sentence with a link to the first step of the main card that it names, or to a sheet of its plan. A
    step of the variant, `3a`, is right above."""
    is_sheet = SHEET_NAMED.search(text)
    found = is_sheet or _STEP.search(text)
    if found is None:
        return escape(shown(text))
    kind, said = ("layout", found[0].removesuffix(".")) if is_sheet else ("step", found[0])
    link = Markup('<a href="#{}-{}-{}">{}</a>').format(unit, kind, found[1], said)
    return escape(shown(text[: found.start()])) + link + escape(shown(text[found.start() + len(said) :]))


def _mark(cut: MarkedCut) -> str:
    return cut.mark[:1].upper() + cut.mark[1:]
