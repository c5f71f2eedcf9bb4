"""Paper and supply lines to facts: units, weights, colours, kinds."""

import re
from collections.abc import Callable
from fractions import Fraction

from cardrecipe.model.card import Scope, Scoped
from cardrecipe.model.counts import MAX_PACK
from cardrecipe.model.lengths import convert
from cardrecipe.model.papers import Paper, StockSheet, Supply, Weight
from cardrecipe.model.values import Names, Reader, Unreadable
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import BASIS_KINDS, PAPER_KINDS, SUPPLY_KINDS

# The sheet that a paper has when the recipe does not say: Letter (ANSI/ASME Y14.1 size A) or A4 (ISO 216).
DEFAULT_SHEET = {
    "inch": (Fraction(17, 2), Fraction(11)),
    "mm": (Fraction(210), Fraction(297)),
}
_COLOR = re.compile(r"#[0-9a-fA-F]{6}")


def paper_of(
    span: Span, name: tree.Word, facts: tree.PaperFacts, scope: Scope, unit: str,
    diagnostics: list[Diagnostic],
) -> Paper:  # fmt: skip
    """The paper that a `paper` or `replace` line describes; mistakes go to `diagnostics`."""

    def length(expression: tree.Expression) -> Fraction | None:
        try:
            reader = Reader(unit, unit, Names({}))
            return _positive(reader.constant_length(Scoped(expression, scope, span)), expression.span)
        except Unreadable as problem:
            diagnostics.append(problem.diagnostic)
        return None

    return Paper(
        name=name.text,
        kind=_kind(facts.kind, PAPER_KINDS, "paper", diagnostics),
        title=facts.title.text,
        sheets=_sheets(facts, length, unit, diagnostics),
        span=span,
        weight=_weight(facts.weight, diagnostics),
        thick=length(facts.thick) if facts.thick is not None else None,
        grain=_kind(facts.grain, ("long", "short"), "grain", diagnostics) if facts.grain else None,
        one_way=facts.one_way,
        color=_color(facts.color, diagnostics),
        pack=whole(facts.pack, diagnostics, MAX_PACK) if facts.pack else None,
    )


def supply_of(span: Span, line: tree.SupplyLine, diagnostics: list[Diagnostic]) -> Supply:
    kind = _kind(line.kind, SUPPLY_KINDS, "supply", diagnostics)
    return Supply(line.name.text, kind, line.title.text, span)


def whole(number: tree.Number, diagnostics: list[Diagnostic], most: int, least: int = 1) -> int:
    """A whole number from `least` to `most`; 1 and a diagnostic where it is not one."""
    if number.unit is None and number.value.denominator == 1 and least <= number.value <= most:
        return number.value.numerator
    diagnostics.append(error("not-a-count", number.span,
                             f"this must be a whole number from {least} to {most:,}",
                             "write a number such as 3"))  # fmt: skip
    return 1


def in_unit(paper: Paper, unit: str, into: str) -> Paper:
    """The same paper measured in `into`: a sheet is as large as it is, so nothing is rounded.

    A paper whose size the recipe leaves open is the other system's usual sheet there.
    """
    if unit == into:
        return paper
    width, height = DEFAULT_SHEET[unit]
    sheets = tuple(
        StockSheet(*DEFAULT_SHEET[into], sheet.price)
        if (sheet.width, sheet.height) == (width, height)
        else StockSheet(convert(sheet.width, unit, into), convert(sheet.height, unit, into), sheet.price)
        for sheet in paper.sheets
    )
    thick = convert(paper.thick, unit, into) if paper.thick is not None else None
    return paper._replace(sheets=sheets, thick=thick)


# ---- details -------------------------------------------------------------------------------------


def _positive(value: Fraction, span: Span) -> Fraction:
    if value > 0:
        return value
    raise Unreadable(error("size-not-positive", span, "this must be more than nothing",
                           "write a length such as 8 1/2"))  # fmt: skip


def _kind(
    word: tree.Word, known: tuple[str, ...], what: str, diagnostics: list[Diagnostic]
) -> str:
    if word.text in known:
        return word.text
    meant = nearest(word.text, known)
    hint = f"did you mean `{meant}`?" if meant else f"the kinds are {', '.join(known)}"
    diagnostics.append(error("unknown-kind", word.span, f"`{word.text}` is no kind of {what}", hint))
    return known[0]


def _sheets(
    facts: tree.PaperFacts,
    length: Callable[[tree.Expression], Fraction | None],
    unit: str,
    diagnostics: list[Diagnostic],
) -> tuple[StockSheet, ...]:
    sizes = [(length(size.width), length(size.height)) for size in facts.sizes]
    known = [(w, h) for w, h in sizes if w is not None and h is not None]
    prices: list[Fraction | None] = [price.value for price in facts.prices]
    if prices and len(prices) not in (1, len(known)) and len(known) == len(sizes):
        diagnostics.append(error("price-count", facts.prices[0].span,
                                 "there are not as many prices as sheet sizes",
                                 "give one price, or one for each size: price 0.40 or 0.75"))  # fmt: skip
    known = known or [DEFAULT_SHEET[unit]]
    if len(prices) != len(known):
        prices = (prices[:1] or [None]) * len(known)
    return tuple(StockSheet(w, h, price) for (w, h), price in zip(known, prices, strict=True))


def _weight(fact: tree.WeightFact | None, diagnostics: list[Diagnostic]) -> Weight | None:
    if fact is None:
        return None
    if fact.number.value <= 0:
        diagnostics.append(error("size-not-positive", fact.number.span, "this must be more than nothing",
                                 "write a weight such as 216 gsm, or leave it out"))  # fmt: skip
        return None
    if fact.unit == "gsm" and fact.basis is None:
        return Weight(fact.number.value, "gsm")
    amount = f"{float(fact.number.value):g}"
    if fact.unit == "gsm" and fact.basis is not None:
        diagnostics.append(error("weight-kind", fact.basis.span, "gsm says it all by itself",
                                 f"write {amount} gsm"))  # fmt: skip
        return None
    if fact.basis is not None and fact.basis.text in BASIS_KINDS:
        return Weight(fact.number.value, "lb", fact.basis.text)
    kinds = ", ".join(f"{amount} lb {kind}" for kind in BASIS_KINDS)
    span = fact.basis.span if fact.basis is not None else fact.span
    diagnostics.append(error("weight-kind", span, f"{amount} lb is four different papers",
                             f"write one of {kinds}, or the weight in gsm"))  # fmt: skip
    return None


def _color(text: tree.Text | None, diagnostics: list[Diagnostic]) -> str | None:
    if text is None:
        return None
    if _COLOR.fullmatch(text.text):
        return text.text.lower()
    diagnostics.append(error("not-a-color", text.span, f'"{text.text}" is not a color',
                             'write six hexadecimal digits: "#22304a"'))  # fmt: skip
    return None
