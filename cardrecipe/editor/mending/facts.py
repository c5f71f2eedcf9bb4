"""Repairs of papers, supplies and other facts: kinds, weights, colors, prices, counts."""

import re
from collections.abc import Iterator
from math import ceil

from cardrecipe.editor.mending.case import Case, Repair, expressions_in, records_in
from cardrecipe.library.envelopes import near_envelopes
from cardrecipe.syntax import tree
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import BASIS_KINDS, PAPER_KINDS, SUPPLY_KINDS, UNITS

# The sixteen basic color words of CSS Color Module Level 4, section 6.1, with their values there.
COLORS = {
    "black": "#000000", "silver": "#c0c0c0", "gray": "#808080", "grey": "#808080", "white": "#ffffff",
    "maroon": "#800000", "red": "#ff0000", "purple": "#800080", "fuchsia": "#ff00ff", "green": "#008000",
    "lime": "#00ff00", "olive": "#808000", "yellow": "#ffff00", "navy": "#000080", "blue": "#0000ff",
    "teal": "#008080", "aqua": "#00ffff",
}  # fmt: skip


_SELDOM = ("folder", "punch", "ribbon", "cord", "gem", "adhesive", "tool")


def unknown_kind(case: Case) -> Iterator[Repair]:
    """A known kind: the nearest first."""
    known = _kinds(case)
    near = nearest(case.words.lower(), known)
    for kind in dict.fromkeys([*([near] if near else []), *known]):
        yield Repair(f"Write `{kind}`", (case.replaced(case.span, kind),), kind == near)


def _kinds(case: Case) -> tuple[str, ...]:
    node = case.line.node if case.line else None
    if isinstance(node, tree.Units):
        return UNITS
    if isinstance(node, tree.SupplyLine):
        return tuple(sorted(SUPPLY_KINDS, key=lambda kind: kind in _SELDOM))
    facts = [each for each in records_in(node) if isinstance(each, tree.PaperFacts)]
    is_kind = any(each.kind.span == case.span for each in facts)
    return PAPER_KINDS if is_kind else ("long", "short")


def unknown_envelope(case: Case) -> Iterator[Repair]:
    """Each envelope that the name may mean, or none wanted."""
    for each in near_envelopes(case.words):
        yield Repair(f"Write `{each.name}`: {each.title}", (case.replaced(case.span, each.name),))
    if case.line is not None:
        yield Repair("Let the sheet list what fits", (case.taken_out(case.line),))


def weight_kind(case: Case) -> Iterator[Repair]:
    """The weight of each kind of paper; gsm needs none."""
    weights = [each for each in records_in(case.line.node if case.line else None)
               if isinstance(each, tree.WeightFact)]  # fmt: skip
    for fact in weights:
        number = case.source.words_at(fact.number.span)
        kinds = [f" lb {kind}" for kind in BASIS_KINDS] if fact.unit == "lb" else [" gsm"]
        for kind in kinds:
            yield Repair(f"Write `{number}{kind}`", (case.replaced(fact.span, number + kind),))


def not_a_color(case: Case) -> Iterator[Repair]:
    """The six digits of a common color word, or what is missing of them; or no color."""
    said = case.words.strip('"').strip().lower()
    digits = said.removeprefix("#").removeprefix("0x")
    code = COLORS.get(said) or COLORS.get(said.split()[-1] if said else "")
    if re.fullmatch(r"[0-9a-f]{3}", digits):
        code = "#" + "".join(2 * each for each in digits)
    elif re.fullmatch(r"[0-9a-f]{6}(?:[0-9a-f]{2})?", digits):
        code = f"#{digits[:6]}"
    if code:
        yield Repair(f'Write "{code}"', (case.replaced(case.span, f'"{code}"'),), True)
    yield from _without_fact(case, r'\s*,?\s*color\s*$')


def _without_fact(case: Case, before: str) -> Iterator[Repair]:
    """The fact that ends with the place gone, with the comma and the words before it."""
    found = re.search(before, case.source.text[: case.span.start])
    if found:
        gone = Span(case.span.file, found.start(), case.span.end)
        yield Repair(f"Leave out `{case.source.words_at(gone).strip(' ,')}`", (case.replaced(gone, ""),))


def price_count(case: Case) -> Iterator[Repair]:
    """One price; or as many as there are sizes."""
    for facts in records_in(case.line.node if case.line else None):
        if isinstance(facts, tree.PaperFacts) and facts.prices:  # the text may have moved on
            for keep in dict.fromkeys([max(1, len(facts.sizes)), 1]):
                kept = " or ".join(case.source.words_at(each.span) for each in facts.prices[:keep])
                gone = Span(case.span.file, facts.prices[0].span.start, facts.prices[-1].span.end)
                yield Repair(f"Write `price {kept}`", (case.replaced(gone, kept),))


def not_a_count(case: Case) -> Iterator[Repair]:
    """The next whole number within bounds."""
    node = case.line.node if case.line else None
    numbers = [each for each in expressions_in(node) if isinstance(each, tree.Number)] if node else []
    numbers += [each for each in records_in(node) if isinstance(each, tree.Number)]
    value = next((each.value for each in numbers if each.span == case.span), None)
    most = re.search(r"to ([0-9,]+)", case.diagnostic.message)
    if value is not None and most is not None:
        whole = min(max(1, ceil(value)), int(most[1].replace(",", "")))
        yield Repair(f"Write {whole}", (case.replaced(case.span, str(whole)),), True)


def border_one(case: Case) -> Iterator[Repair]:
    """The first length for all edges."""
    node = case.line.node if case.line else None
    for entry in node.entries if isinstance(node, tree.Border) else ():
        value = case.source.words_at(entry.value.span)
        yield Repair(f"Write `border {value}`", (case.replaced(case.span, f"border {value}"),))
