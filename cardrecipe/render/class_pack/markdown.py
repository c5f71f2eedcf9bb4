"""The sheet of a class as GitHub-flavoured Markdown: every list with boxes to tick."""

from collections.abc import Iterator, Sequence

from cardrecipe.plan.class_sheet import Bag, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.render.class_pack.labels import labels
from cardrecipe.render.class_pack.words import (
    PLAN_NOTE,
    PREP_NOTE,
    bags_written,
    by_tool,
    clock,
    grouped_shopping,
    how_to_make,
    kits_written,
    notes_written,
    seats_written,
    shopping_columns,
    span_written,
    task_told,
    times_written,
    tool_written,
)
from cardrecipe.render.markdown import blocks_written, cutting_plan, escaped, list_under
from cardrecipe.render.prose import prose, title_shown
from cardrecipe.render.words import piece_written


def render_class_markdown(sheet: ClassSheet) -> str:
    """The whole pack as Markdown; text of the recipes is escaped."""
    parts = (
        _head(sheet),
        _kits(sheet.kits),
        _shopping(sheet),
        list_under("Take care", sheet.cautions),
        _prep(sheet),
        cutting_plan(sheet.cutting, sheet.paper_totals, note=PLAN_NOTE if sheet.prep else ""),
        _bags(sheet.bags),
        _labels(sheet),
        list_under("Notes", sheet.notes),
    )
    return "\n".join(line for part in parts for line in part).rstrip("\n") + "\n"


def _head(sheet: ClassSheet) -> Iterator[str]:
    yield from (f"# {escaped(title_shown(sheet.title))}", "")
    yield from blocks_written(prose(sheet.about_markdown))
    lines = [f"**{escaped(fact.label)}:** {escaped(fact.value)}" for fact in sheet.facts]
    if lines:
        yield from ("\\\n".join(lines), "")


def _kits(kits: Sequence[Kit]) -> Iterator[str]:
    yield from ("## The kits", "")
    for kit in kits:
        yield f"- **{kit.letter}: {escaped(title_shown(kit.title))}**, {seats_written(kit)}"
        yield f"  (the sheet with its steps: {escaped(how_to_make(kit))})"
    yield ""


def _shopping(sheet: ClassSheet) -> Iterator[str]:
    if not sheet.shopping:
        return
    yield from ("## Shopping list", "")
    columns = shopping_columns(sheet.shopping)
    for title, lines in grouped_shopping(sheet.shopping):
        yield from (f"**{escaped(title)}**", "")
        for line in lines:
            yield f"- [ ] {_to_get(line, sheet, columns)}"
        yield ""
    if sheet.cost:
        yield from (f"**{escaped('All that is bought: ' + sheet.cost)}**", "")


def _to_get(line: ShoppingLine, sheet: ClassSheet, columns: Sequence[tuple[str, str]]) -> str:
    told = [f"{title.lower()} {getattr(line, name)}" for name, title in columns if getattr(line, name)]
    use = kits_written(line.used_for, sheet.kits)
    amounts = f" \u2014 {escaped('; '.join(told))}" if told else ""
    return f"{escaped(line.title)}{amounts}" + (f" (for {use})" if use else "")


def _prep(sheet: ClassSheet) -> Iterator[str]:
    if not sheet.prep:
        return
    yield from ("## Before the class", "", escaped(PREP_NOTE), "")
    for tool, tasks in by_tool(sheet.prep):
        yield from (f"### {escaped(tool_written(tool))}, {span_written(tasks)}", "")
        for task in tasks:
            yield from _task(task, sheet)
        yield ""


def _task(task: PrepTask, sheet: ClassSheet) -> Iterator[str]:
    text, told = escaped(task.text), escaped(task_told(task, sheet.kits))
    yield f"- [ ] {clock(task.starts)} {f'**{text}**' if task.setting else text} ({told})"
    yield from (f"  - [ ] {escaped(line)}" for line in task.lines)


def _bags(bags: Sequence[Bag]) -> Iterator[str]:
    if not bags:
        return
    yield from ("## What goes into each bag", "")
    for bag in bags:
        yield from (f"### {bag.kit}: {escaped(title_shown(bag.title))}, {bags_written(bag)}", "")
        for line in bag.lines:
            size = f", **{escaped(line.size)}**" if line.size else ""
            notes = f" ({escaped(notes_written(line))})" if notes_written(line) else ""
            yield f"- [ ] {times_written(line)} {escaped(piece_written(line.what))}{size}{notes}"
        yield ""
        if bag.shared:
            yield from (f"On the table, for all: {escaped(', '.join(bag.shared))}.", "")


def _labels(sheet: ClassSheet) -> Iterator[str]:
    found = labels(sheet)
    if not found:
        return
    yield from ("## Labels for the bags", "")
    yield from ("| Number | Card | In it | |", "| - | - | - | - |")
    for label in found:
        cells = (label.number, escaped(title_shown(label.title)), escaped(", ".join(label.inside)))
        yield f"| {' | '.join(cells)} | {'spare' if label.is_spare else ''} |"
    yield ""
