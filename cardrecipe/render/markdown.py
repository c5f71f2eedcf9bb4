"""The sheet as GitHub-flavoured Markdown: for a repository, a forum, a plain text reader."""

import re
from collections.abc import Iterable, Iterator, Sequence

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.poses import posed_bases
from cardrecipe.plan.post_lines import PostLine
from cardrecipe.plan.sheet import CutLine, EnvelopeFit, ScoreGuide, Sheet
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

# What would be read as markup anywhere in a line; `<` and `&` so that no HTML passes through.
_SIGNS = re.compile(r"([\\`*_\[\]<>&|~#])")
# What would be read as a list, a heading or a rule at the start of a line.
_FIRST = re.compile(r"^(\s*)([-+=])|^(\s*\d+)([.)])")


def render_markdown(sheet: Sheet) -> str:
    """The whole sheet as Markdown; text of the recipe is escaped, its own Markdown re-written."""
    parts = (
        _head(sheet),
        _supplies(sheet),
        _cuts(sheet),
        _list("Take care", sheet.cautions),
        _envelopes(sheet.envelopes),
        _post(shown_post(sheet)),
        _list("Notes", sheet.notes),
        _cutting(sheet),
        _scores(sheet.scores),
        _steps(sheet),
        _poses(sheet),
    )
    return "\n".join(line for part in parts for line in part).rstrip("\n") + "\n"


def _head(sheet: Sheet) -> Iterator[str]:
    yield from (f"# {_text(title_shown(sheet.title))}", "")
    yield from _blocks(prose(sheet.about_markdown))
    lines = [f"**{_text(fact.label)}:** {_text(fact.value)}" for fact in sheet.facts]
    yield from ("\\\n".join(lines), "")


def _supplies(sheet: Sheet) -> Iterator[str]:
    if not sheet.supplies:
        return
    yield from (f"## What you need{for_copies(sheet)}", "")
    for kind, lines in grouped_supplies(sheet.supplies):
        yield from (f"**{_text(SUPPLY_GROUPS.get(kind, kind))}**", "")
        for line in lines:
            amount = f" \u2014 {_text(line.amount)}" if line.amount else ""
            use = f" ({_text(use_written(line))})" if use_written(line) else ""
            yield f"- [ ] {_text(line.name)}{amount}{use}"
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
        _text(paper_written(line)),
        _text(piece_written(line.piece)),
        _text(count_written(line, one)),
        f"**{_text(line.size)}**",
        _text(line.other_size),
        _text("; ".join(line.notes)),
    )
    return f"| {' | '.join(cells)} |"


def _cutting(sheet: Sheet) -> Iterator[str]:
    if not sheet.cutting:
        return
    yield from (f"## Cutting plan{for_copies(sheet)}", "")
    for each in sheet.cutting:
        yield from (f"### {_text(sheet_heading(each))}", "")
        if cut_so(each):
            yield from (_text(cut_so(each)), "")
        for line in each.settings:
            yield f"{line.number}. **Set {_text(line.size)}.** {_text(line.text)}"
        if not each.settings:
            yield "No cut: the sheet is the piece."
        yield ""
    for total in sheet.paper_totals:
        yield f"- **{_text(total.title)}:** {_text(total_written(total))}"
    yield ""


def _scores(guides: Sequence[ScoreGuide]) -> Iterator[str]:
    if not guides:
        return
    yield from ("## Score guide", "")
    for guide in guides:
        near, far = ends_of(guide)
        yield from (f"### {_text(piece_written(guide.piece))}", "")
        yield from (f"| Score | From the {near} | From the {far} | Fold |", "| -: | - | - | - |")
        for line in guide.lines:
            fold = fold_written(line)
            yield f"| {number_written(line)} | {_text(line.at)} | {_text(line.from_other_end)} | {fold} |"
        yield ""
        if guide.short_way:
            yield from (f"**Short way:** {_text(guide.short_way)}", "")


def _steps(sheet: Sheet) -> Iterator[str]:
    if not sheet.steps:
        return
    yield from ("## Steps", "")
    if steps_note(sheet):
        yield from (steps_note(sheet), "")
    for step in sheet.steps:
        for caution in step.cautions:
            yield from (f"> **Take care before step {step.number}:** {_text(caution)}", "")
        yield from (f"### {step.number}. {_text(step.title)}", "")
        if step.picks_up:
            yield from (f"Pick up: {_text(', '.join(step.picks_up))}", "")
        yield from (_text(step.text), "")
        for tip in step.tips:
            yield from (f"> {line}" if line else ">" for line in _quoted("Tip", prose(tip, 4)))
            yield ""
        if step.check:
            yield from (f"**Check:** {_text(step.check)}", "")


def _poses(sheet: Sheet) -> Iterator[str]:
    posed = posed_bases(sheet.folded)
    if posed:
        yield from ("## Poses", "")
        yield from (f"- **{_text(each.caption)}:** {_text(each.told)}" for each in posed)
        yield ""


def _quoted(label: str, blocks: Sequence[Block]) -> list[str]:
    lines = [f"**{label}**", "", *_blocks(blocks)]
    return lines[:-1]


def _envelopes(fits: Sequence[EnvelopeFit]) -> Iterator[str]:
    shown_fits = shown_envelopes(fits)
    if not shown_fits:
        return
    yield from ("## Envelopes", "")
    for fit in shown_fits:
        note = f": {_text(fit.note)}" if fit.note else ""
        yield f"- **{_text(envelope_written(fit))}**{note}"
    yield ""


def _post(lines: Sequence[PostLine]) -> Iterator[str]:
    if not lines:
        return
    yield from ("## Post", "")
    for line in lines:
        yield f"- **{_text(line.title)}**: {_text(line.note)}"
    yield ""


def _list(title: str, texts: Iterable[str]) -> Iterator[str]:
    lines = [f"- {_text(text)}" for text in texts]
    if lines:
        yield from (f"## {title}", "", *lines, "")


def _text(text: str) -> str:
    """`text` on one line, such that every Markdown reader shows just its characters."""
    line = " ".join(shown(text).split("\n")).strip()
    escaped = _SIGNS.sub(_escaped, line)
    return _FIRST.sub(r"\1\3\\\2\4", escaped)


def _escaped(found: re.Match[str]) -> str:
    entity = {"<": "&lt;", ">": "&gt;", "&": "&amp;"}
    return entity.get(found[1], "\\" + found[1])


def _blocks(blocks: Iterable[Block]) -> Iterator[str]:
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
        yield from (f"> {line}".rstrip() for line in list(_blocks(block.blocks))[:-1])
    elif block.kind in ("bullets", "numbers"):
        yield from _items(block)
    elif block.kind == "table":
        yield from _table(block)


def _items(block: Block) -> Iterator[str]:
    for index, item in enumerate(block.blocks):
        mark = "- " if block.kind == "bullets" else f"{block.start + index}. "
        lines = list(_blocks(item.blocks))[:-1]
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
        return f"<code>{_text(run.text)}</code>"
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
    """`_text`, with the spaces at both ends that stand between this run and its neighbours."""
    before = " " if text[:1] == " " else ""
    after = " " if text[-1:] == " " and text.strip() else ""
    return before + _text(text) + after
