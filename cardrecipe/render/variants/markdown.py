"""The one sheet as Markdown: that of the main card, with the comparison before it and the
variants after it."""

from collections.abc import Iterable, Iterator, Mapping

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.variant_rows import Cell
from cardrecipe.plan.variant_sheet import MarkedCut, Variant, VariantSheet, pieces_told
from cardrecipe.plan.variant_way import Detour, named_steps
from cardrecipe.render.markdown import (
    blocks_written,
    cutting_plan,
    escaped,
    render_markdown,
    score_lines,
    what_to_do,
)
from cardrecipe.render.prose import plain_text, prose
from cardrecipe.render.variants.columns import NO_VARIANTS, Table, note, tables
from cardrecipe.render.words import count_written, for_copies, paper_written, piece_written


def render_variants_markdown(sheet: VariantSheet) -> str:
    """The whole sheet as Markdown; text of the recipe is escaped, its own Markdown re-written."""
    title, _, rest = render_markdown(sheet.plain).partition("\n")
    lines = [title, "", *_comparison(sheet)]
    if sheet.variants:
        lines += ["## Main card", *rest.rstrip("\n").split("\n"), ""]
    else:
        lines += rest.lstrip("\n").rstrip("\n").split("\n")
    lines += [line for variant in sheet.variants for line in _variant(sheet.plain, variant)]
    return "\n".join(lines).rstrip("\n") + "\n"


def _comparison(sheet: VariantSheet) -> Iterator[str]:
    if not sheet.variants:
        yield from ("## Variants", "", NO_VARIANTS, "")
        return
    yield from (f"## The cards side by side{for_copies(sheet.plain)}", "")
    yield from (note(sheet).replace(", with a bar at its left", ""), "")
    for table in tables(sheet):
        yield from _table(sheet, table)


def _table(sheet: VariantSheet, table: Table) -> Iterator[str]:
    yield f"| | {' | '.join(map(escaped, table.titles))} |"
    yield "|" + " - |" * (len(table.titles) + 1)
    yield f"| About | {' | '.join(_about(sheet, place) for place in table.places)} |"
    for row in table.rows:
        yield f"| {escaped(row.label)} | {' | '.join(map(_cell, row.cells))} |"
    yield ""


def _about(sheet: VariantSheet, place: int) -> str:
    own = sheet.variants[place - 1].about_markdown if place else sheet.plain.about_markdown
    words = " ".join(plain_text(block.runs) or block.text for block in prose(own))
    return escaped(words) if words else "as the main card" if place else ""


def _cell(cell: Cell) -> str:
    return "<br>".join(escaped(line) if line in cell.known else f"**{escaped(line)}**" for line in cell.lines)


def _variant(plain: Sheet, variant: Variant) -> Iterator[str]:
    yield from (f"## {escaped(variant.title)}", "")
    yield from blocks_written(prose(variant.about_markdown, 3))
    yield from ("What is not told here is as for the main card.", "")
    for label, found in (("You also need", variant.more), ("You do not need", variant.less)):
        lines = [f"- {escaped(kind)}: {escaped(names)}" for kind, names in found]
        yield from (f"**{label}**", "", *lines, "") if lines else ()
    yield from _cuts(variant)
    yield from _cutting(variant)
    yield from _deeper(score_lines(variant.scores), variant)
    yield from _steps(plain, variant)
    if variant.notes:
        yield from (f"### Notes: {escaped(variant.title)}", "")
        yield from (*(f"- {escaped(note)}" for note in variant.notes), "")


def _deeper(lines: Iterable[str], variant: Variant) -> Iterator[str]:
    """The lines of a part of the sheet, one heading further down; its own heading says of which variant."""
    for line in lines:
        if line.startswith("## "):
            yield f"#{line}: {escaped(variant.title)}"
        else:
            yield f"#{line}" if line.startswith("###") else line


def _cuts(variant: Variant) -> Iterator[str]:
    if variant.cuts:
        yield from (f"### Cut list{for_copies(variant.sheet)}: {escaped(variant.title)}", "")
        yield from (
            "| Paper | Piece | Number | Size | Other unit | Otherwise | Notes |",
            "| - | - | -: | - | - | - | - |",
        )
        one = one_copy(variant.sheet.folded.card)
        yield from (*(_cut(cut, one) for cut in variant.cuts), "")
    if variant.left_out:
        yield from (f"**Left out:** {escaped(pieces_told(variant.left_out))}.", "")


def _cut(cut: MarkedCut, one: str) -> str:
    line = cut.line
    cells = (
        escaped(paper_written(line)),
        escaped(piece_written(line.piece)),
        escaped(count_written(line, one)),
        f"**{escaped(line.size)}**",
        escaped(line.other_size),
        _otherwise(cut),
        escaped("; ".join(line.notes)),
    )
    return f"| {' | '.join(cells)} |"


def _otherwise(cut: MarkedCut) -> str:
    was = f", instead of ~~{escaped(cut.was)}~~" if cut.was else ""
    return f"**{escaped(cut.mark)}**{was}" if cut.mark else ""


def _cutting(variant: Variant) -> Iterator[str]:
    if not variant.sheet.cutting:
        return
    own = cutting_plan(variant.layouts, variant.totals, for_copies(variant.sheet))
    heading, *lines = [*_deeper(own, variant)] or [f"### Cutting plan: {escaped(variant.title)}", ""]
    yield from (heading, "", *(escaped(text) for text in variant.same_layouts))
    yield from ([""] if variant.same_layouts else [])
    yield from lines[1:]


def _steps(plain: Sheet, variant: Variant) -> Iterator[str]:
    if not variant.sheet.steps:
        return
    yield from (f"### Steps: {escaped(variant.title)}", "")
    titles = {step.number: f"{step.number}. {step.title}" for step in plain.steps}
    for detour in variant.way.detours:
        yield from _detour(detour, titles)
    for text in variant.way.after:
        yield from (_onward(text, titles), "")


def _onward(text: str, titles: Mapping[int, str]) -> str:
    """A sentence on steps of the main card with a link to the first of those that are done."""
    steps = named_steps(text)
    if steps is None:
        return f"**{escaped(text)}**"
    said, as_main, rest = text.partition(" as for the main card")
    return f"**[{escaped(said)}](#{anchor(titles[steps[0]])})** {escaped((as_main + rest).strip())}"


def anchor(heading: str) -> str:
    """The end of the address of a heading, as pages of repositories make it: common practice, no published
    source."""
    kept = "".join(each for each in heading.lower() if each.isalnum() or each in " -_")
    return kept.replace(" ", "-")


def _detour(detour: Detour, titles: Mapping[int, str]) -> Iterator[str]:
    step = detour.step
    for text in detour.before:
        yield from (_onward(text, titles), "")
    for caution in step.cautions:
        yield from (f"> **Take care:** {escaped(caution)}", "")
    yield from (f"#### {detour.number}. {escaped(step.title)}", "", f"*{escaped(detour.place)}*", "")
    yield from what_to_do(step, 5)
