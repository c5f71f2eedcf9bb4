"""The sheet of a class as GitHub-flavoured Markdown: every list with boxes to tick."""

from collections.abc import Iterator, Sequence

from cardrecipe.plan.classes.sheet import ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.render.class_pack.labels import label_numbers, labels
from cardrecipe.render.class_pack.words import (
    KITS_NOTE,
    bags_written,
    clock,
    cost_written,
    grouped_shopping,
    in_all_written,
    in_no_run,
    kit_told,
    kits_written,
    notes_written,
    plan_note,
    prep_note,
    runs,
    seats_written,
    shopping_columns,
    span_written,
    task_told,
    times_written,
    totals_in_no_run,
    what_written,
)
from cardrecipe.render.markdown import blocks_written, cutting_plan, escaped, list_under
from cardrecipe.render.prose import prose, title_shown


def render_class_markdown(sheet: ClassSheet) -> str:
    """The whole pack as Markdown; text of the recipes is escaped."""
    parts = (
        _head(sheet),
        _kits(sheet.kits),
        _shopping(sheet),
        list_under("Take care", sheet.cautions),
        _prep(sheet),
        cutting_plan(in_no_run(sheet), totals_in_no_run(sheet), note=plan_note(sheet)),
        _bags(sheet),
        _labels(sheet),
        list_under("Notes", sheet.notes),
    )
    return "\n".join(line for part in parts for line in part).rstrip("\n") + "\n"


def _head(sheet: ClassSheet) -> Iterator[str]:
    yield from (f"# {escaped(title_shown(sheet.title))}", "")
    yield from blocks_written(prose(sheet.about_markdown))
    lines = [f"**{escaped(fact.label)}:** {escaped(fact.value)}" for fact in sheet.facts]
    yield from ("\\\n".join(lines), "")


def _kits(kits: Sequence[Kit]) -> Iterator[str]:
    yield from ("## The kits", "")
    for kit in kits:
        yield f"- **{kit.letter}: {escaped(title_shown(kit.title))}**, {seats_written(kit)}"
        yield f"  ({escaped(kit_told(kit))})"
    yield from ("", escaped(KITS_NOTE), "")


def _shopping(sheet: ClassSheet) -> Iterator[str]:
    yield from ("## Shopping list", "")
    columns = shopping_columns(sheet.shopping)
    for title, lines in grouped_shopping(sheet.shopping):
        yield from (f"**{escaped(title)}**", "")
        for line in lines:
            yield f"- [ ] {_to_get(line, sheet, columns)}"
        yield ""
    if cost_written(sheet):
        yield from (f"To pay: **{escaped(cost_written(sheet))}**", "")


def _to_get(line: ShoppingLine, sheet: ClassSheet, columns: Sequence[tuple[str, str]]) -> str:
    told = [f"{title.lower()} {getattr(line, name)}" for name, title in columns if getattr(line, name)]
    use = kits_written(line.used_for, sheet.kits)
    amounts = f" \u2014 {escaped('; '.join(told))}" if told else ""
    return f"{escaped(line.title)}{amounts}" + (f" (for {use})" if use else "")


def _prep(sheet: ClassSheet) -> Iterator[str]:
    yield from ("## Before the class", "", escaped(prep_note(sheet)), "")
    for run in runs(sheet):
        yield from (f"### {escaped(run.heading)}, {span_written(run.tasks)}", "")
        for task in run.tasks:
            yield from _task(task, sheet)
        yield ""


def _task(task: PrepTask, sheet: ClassSheet) -> Iterator[str]:
    text, told = escaped(task.text), escaped(task_told(task, sheet.kits))
    yield f"- [ ] {clock(task.starts)} {f'**{text}**' if task.setting else text} ({told})"
    yield from (f"  - [ ] {escaped(line)}" for line in task.lines)


def _bags(sheet: ClassSheet) -> Iterator[str]:
    yield from ("## What goes into each bag", "")
    numbers = {kit.letter: label_numbers(kit) for kit in sheet.kits}
    for bag in sheet.bags:
        yield from (f"### {bag.kit}: {escaped(title_shown(bag.title))}, {bags_written(bag)}", "")
        for line in bag.lines:
            size = f", **{escaped(line.size)}**" if line.size else ""
            notes = f" ({escaped(notes_written(line))})" if notes_written(line) else ""
            in_all = f", in all {in_all_written(line, bag)}"
            yield f"- {times_written(line)} {escaped(what_written(line))}{size}{notes}{in_all}"
        yield ""
        yield from (f"- [ ] {number}" for number in numbers[bag.kit])
        yield ""
        if bag.shared:
            yield from (f"On the table, for all: {escaped(', '.join(bag.shared))}.", "")


def _labels(sheet: ClassSheet) -> Iterator[str]:
    yield from ("## Labels for the bags", "")
    yield from ("| Number | Card | In it | |", "| - | - | - | - |")
    for label in labels(sheet):
        cells = (label.number, escaped(title_shown(label.title)), escaped(", ".join(label.inside)))
        yield f"| {' | '.join(cells)} | {'spare' if label.is_spare else ''} |"
    yield ""
