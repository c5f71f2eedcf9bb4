"""The sheet as GitHub-flavoured Markdown: for a repository, a forum, a plain text reader."""

import re
from collections.abc import Iterable, Iterator, Sequence

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.poses import posed_bases
from cardrecipe.plan.post_lines import PostLine
from cardrecipe.plan.sheet import CutLine, CuttingSheet, EnvelopeFit, PaperTotal, ScoreGuide, Sheet, Step
from cardrecipe.render.prose import Block, Run, prose, shown, title_shown
from cardrecipe.render.words import (
    SUPPLY_GROUPS,
    count_written,
    cut_so,
    ends_of,
    envelope_written,
    fold_written,
    for_copies,
    grouped_cuts,
    grouped_supplies,
    number_written,
    paper_written,
    piece_written,
    sheet_heading,
    shown_envelopes,
    shown_post,
    steps_note,
    total_written,
    use_written,
)

# What would be read as markup anywhere in a line; `<` and `&` so that no HTML passes through, `$` and what
# begins an address so that no reader makes a formula of two prices, or a link of what was only mentioned.
_SIGNS = re.compile(r"([\\`*_\[\]<>&|~#$]|:(?=//)|(?<=www)\.|(?<=mailto):|(?<=xmpp):)")
# What would be read as a list, a heading or a rule at the start of a line.
_FIRST = re.compile(r"^(\s*)([-+=])|^(\s*\d+)([.)])")


def render_markdown(sheet: Sheet) -> str:
    """The whole sheet as Markdown; text of the recipe is escaped, its own Markdown re-written."""
    parts = (
        _head(sheet),
        _supplies(sheet),
        _cuts(sheet),
        list_under("Take care", sheet.cautions),
        _envelopes(sheet.envelopes),
        _post(shown_post(sheet)),
        list_under("Notes", sheet.notes),
        cutting_plan(sheet.cutting, sheet.paper_totals, for_copies(sheet)),
        score_lines(sheet.scores),
        _steps(sheet),
        _poses(sheet),
    )
    return "\n".join(line for part in parts for line in part).rstrip("\n") + "\n"


def _head(sheet: Sheet) -> Iterator[str]:
    yield from (f"# {escaped(title_shown(sheet.title))}", "")
    yield from blocks_written(prose(sheet.about_markdown))
    lines = [f"**{escaped(fact.label)}:** {escaped(fact.value)}" for fact in sheet.facts]
    yield from ("\\\n".join(lines), "")


def _supplies(sheet: Sheet) -> Iterator[str]:
    if not sheet.supplies:
        return
    yield from (f"## What you need{for_copies(sheet)}", "")
    for kind, lines in grouped_supplies(sheet.supplies):
        yield from (f"**{escaped(SUPPLY_GROUPS.get(kind, kind))}**", "")
        for line in lines:
            amount = f" \u2014 {escaped(line.amount)}" if line.amount else ""
            use = f" ({escaped(use_written(line))})" if use_written(line) else ""
            yield f"- [ ] {escaped(line.name)}{amount}{use}"
        yield ""


def _cuts(sheet: Sheet) -> Iterator[str]:
    if not sheet.cuts:
        return
    yield from (f"## Cut list{for_copies(sheet)}", "")
    yield from ("| Paper | Piece | Number | Size | Other unit | Notes |", "| - | - | -: | - | - | - |")
    for _, lines in grouped_cuts(sheet.cuts):
        for line in lines:
            yield _cut(line, one_copy(sheet.folded.card))
    yield ""


def _cut(line: CutLine, one: str) -> str:
    cells = (
        escaped(paper_written(line)),
        escaped(piece_written(line.piece)),
        escaped(count_written(line, one)),
        f"**{escaped(line.size)}**",
        escaped(line.other_size),
        escaped("; ".join(line.notes)),
    )
    return f"| {' | '.join(cells)} |"


def cutting_plan(
    sheets: Sequence[CuttingSheet], totals: Sequence[PaperTotal], for_whom: str = "", note: str = ""
) -> Iterator[str]:
    """Each way to cut a sheet, and what each paper comes to."""
    if not sheets:
        return
    yield from (f"## Cutting plan{for_whom}", "")
    if note:
        yield from (escaped(note), "")
    for each in sheets:
        yield from (f"### {escaped(sheet_heading(each))}", "")
        if cut_so(each):
            yield from (escaped(cut_so(each)), "")
        for line in each.settings:
            yield f"{line.number}. **Set {escaped(line.size)}.** {escaped(line.text)}"
        if not each.settings:
            yield "No cut: the sheet is the piece."
        yield ""
    for total in totals:
        yield f"- **{escaped(total.title)}:** {escaped(total_written(total))}"
    yield ""


def score_lines(guides: Sequence[ScoreGuide]) -> Iterator[str]:
    if not guides:
        return
    yield from ("## Score guide", "")
    for guide in guides:
        near, far = ends_of(guide)
        yield from (f"### {escaped(piece_written(guide.piece))}", "")
        yield from (f"| Score | From the {near} | From the {far} | Fold |", "| -: | - | - | - |")
        for line in guide.lines:
            fold = fold_written(line)
            yield f"| {number_written(line)} | {escaped(line.at)} | {escaped(line.from_other_end)} | {fold} |"
        yield ""
        if guide.short_way:
            yield from (f"**Short way:** {escaped(guide.short_way)}", "")


def _steps(sheet: Sheet) -> Iterator[str]:
    if not sheet.steps:
        return
    yield from ("## Steps", "")
    if steps_note(sheet):
        yield from (steps_note(sheet), "")
    for step in sheet.steps:
        for caution in step.cautions:
            yield from (f"> **Take care before step {step.number}:** {escaped(caution)}", "")
        yield from (f"### {step.number}. {escaped(step.title)}", "")
        yield from what_to_do(step, 4)


def what_to_do(step: Step, level: int) -> Iterator[str]:
    """A step below its heading; headings in its tips are of `level` or deeper."""
    if step.picks_up:
        yield from (f"Pick up: {escaped(', '.join(step.picks_up))}", "")
    yield from (escaped(step.text), "")
    for tip in step.tips:
        yield from (f"> {line}" if line else ">" for line in quoted_lines("Tip", prose(tip, level)))
        yield ""
    if step.check:
        yield from (f"**Check:** {escaped(step.check)}", "")


def _poses(sheet: Sheet) -> Iterator[str]:
    posed = posed_bases(sheet.folded)
    if posed:
        yield from ("## Poses", "")
        yield from (f"- **{escaped(each.caption)}:** {escaped(each.told)}" for each in posed)
        yield ""


def quoted_lines(label: str, blocks: Sequence[Block]) -> list[str]:
    lines = [f"**{label}**", "", *blocks_written(blocks)]
    return lines[:-1]


def _envelopes(fits: Sequence[EnvelopeFit]) -> Iterator[str]:
    shown_fits = shown_envelopes(fits)
    if not shown_fits:
        return
    yield from ("## Envelopes", "")
    for fit in shown_fits:
        note = f": {escaped(fit.note)}" if fit.note else ""
        yield f"- **{escaped(envelope_written(fit))}**{note}"
    yield ""


def _post(lines: Sequence[PostLine]) -> Iterator[str]:
    if not lines:
        return
    yield from ("## Post", "")
    for line in lines:
        yield f"- **{escaped(line.title)}**: {escaped(line.note)}"
    yield ""


def list_under(title: str, texts: Iterable[str]) -> Iterator[str]:
    """There is always some."""
    yield from (f"## {title}", "", *(f"- {escaped(text)}" for text in texts), "")


def escaped(text: str) -> str:
    """`text` on one line, such that every Markdown reader shows just its characters."""
    line = " ".join(shown(text).split("\n")).strip()
    escaped = _SIGNS.sub(_escaped, line)
    return _FIRST.sub(r"\1\3\\\2\4", escaped)


def _escaped(found: re.Match[str]) -> str:
    entity = {"<": "&lt;", ">": "&gt;", "&": "&amp;"}
    return entity.get(found[1], "\\" + found[1])


def blocks_written(blocks: Iterable[Block]) -> Iterator[str]:
    """The lines of `blocks`, an empty one after each."""
    for block in blocks:
        yield from _block(block)
        yield ""


def _block(block: Block) -> Iterator[str]:
    if block.kind == "heading":
        yield f"{'#' * block.level} {_line(block.runs)}"
    elif block.kind == "paragraph":
        yield _line(block.runs)
    elif block.kind == "rule":
        yield "---"
    elif block.kind == "code":
        yield from (f"    {line}" for line in block.text.split("\n"))
    elif block.kind == "quote":
        yield from (f"> {line}".rstrip() for line in list(blocks_written(block.blocks))[:-1])
    elif block.kind in ("bullets", "numbers"):
        yield from _items(block)
    else:
        assert block.kind == "table"
        yield from _table(block)


def _items(block: Block) -> Iterator[str]:
    for index, item in enumerate(block.blocks):
        mark = "- " if block.kind == "bullets" else f"{block.start + index}. "
        lines = list(blocks_written(item.blocks))[:-1]
        for at, line in enumerate(lines or [""]):
            yield (mark + line if at == 0 else " " * len(mark) + line).rstrip()


def _table(block: Block) -> Iterator[str]:
    for index, row in enumerate(block.blocks):
        yield f"| {' | '.join(_line(cell.runs) for cell in row.blocks)} |"
        if index == 0:
            yield "|" + " - |" * len(row.blocks)


def _line(runs: Iterable[Run]) -> str:
    return "".join(map(_run, runs))


def _run(run: Run) -> str:
    if run.kind == "code":
        return f"<code>{escaped(run.text)}</code>"
    if run.kind == "break":
        return "<br>"
    inside = _line(run.runs)
    if run.kind == "link":
        address = run.href.replace("&", "&amp;").replace("(", "%28").replace(")", "%29")
        return f"[{inside}]({address})"
    marks = {"strong": "**", "emphasis": "*", "strike": "~~"}
    if run.kind in marks:
        return f"{marks[run.kind]}{inside}{marks[run.kind]}"
    return _spaced(run.text)


def _spaced(text: str) -> str:
    """`escaped`, with the spaces at both ends that stand between this run and its neighbours."""
    before = " " if text[:1] == " " else ""
    after = " " if text[-1:] == " " and text.strip() else ""
    return before + escaped(text) + after
