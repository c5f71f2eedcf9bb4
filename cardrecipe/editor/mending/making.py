"""Repairs of glue, sheets, envelopes and the order of work."""

import re
from collections.abc import Iterator

from cardrecipe.editor.mending.case import Case, Repair, lines_of, records_in
from cardrecipe.editor.mending.sizes import with_words
from cardrecipe.library.envelopes import all_envelopes
from cardrecipe.model.lengths import round_down, typed
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import ADHESIVES

# Sheets that are sold nearly everywhere: common practice, no published source for the inch sizes; A4 and A3
# are ISO 216.
SHEETS = {
    "inch": ("8 1/2 x 11", "12 x 12", "11 x 17", "12 x 18"),
    "mm": ("210 x 297", "305 x 305", "297 x 420"),
}


# ---- glue ----------------------------------------------------------------------------------------


def glue(case: Case) -> Iterator[Repair]:
    """Glue that holds to one thing only; or the piece is loose; or the compiler chooses where glue goes."""
    head = case.head
    if head is None or not isinstance(head.node, tree.PieceHeader):
        return
    lines = lines_of(head, tree.GlueLine)
    for line in lines:
        yield from _fewer(case, line)
    if case.diagnostic.code != "slider-shut-in":  # a pocket stays a pocket
        for text in _only_on(case, head.node, lines):
            yield from _glued_so(case, head, lines, text)
    for line in lines:
        yield case.without(line)
    sections = [name for each in case.pieces if each.kind == "base" for name in each.sections]
    for host in head.node.hosts[:1]:
        for name in sections[:6]:
            yield Repair(f"Put it on `{name}`", (case.replaced(host.name.span, name),))


def _only_on(case: Case, node: tree.PieceHeader, lines: list[tree.Statement]) -> list[str]:
    adhesives = [line.node.adhesive.text for line in lines
                 if isinstance(line.node, tree.GlueLine) and line.node.adhesive]  # fmt: skip
    adhesive = next((each for each in adhesives if each in ADHESIVES and each != "foam"), "tape")
    if node.kind == "band":
        return [f"glue with {adhesive}"]
    hosts = [each.name.text for each in node.hosts]
    return [f"glue with {adhesive} only on {name}" for name in dict.fromkeys(hosts)]


def _glued_so(
    case: Case, head: tree.Statement, lines: list[tree.Statement], text: str
) -> Iterator[Repair]:
    if lines:
        yield Repair(f"Write `{text}`", (case.replaced(lines[-1].span, text),), True)
    else:
        yield Repair(f"Write `{text}`", (case.put_under(head, text),), True)


def _fewer(case: Case, line: tree.Statement) -> Iterator[Repair]:
    """A glue line with one of its edges, or of its glued sections, left out."""
    node = line.node
    assert isinstance(node, tree.GlueLine)
    for edge in ("top", "right", "left", "bottom"):
        if edge in node.along and len(node.along) > 1:
            new = f"glue along {', '.join(each for each in node.along if each != edge)}"
            yield Repair(f"Write `{new}`", (case.replaced(line.span, new),), True)
    text = case.text_of(line)
    for each in node.sections if len(node.sections) > 1 else ():
        part = f"{each.section.text} on {each.host.text}"
        new = text.replace(f", {part}", "").replace(f"{part}, ", "")
        yield Repair(f"Write `{new}`", (case.replaced(line.span, new),))


def slider_too_wide(case: Case) -> Iterator[Repair]:
    """A size that has room in the sleeve, the largest first."""
    head, solution = case.head, case.solution
    if head is None or solution is None or not isinstance(head.node, tree.PieceHeader):
        return
    name, grid = head.node.name.text, solution.grid
    sizes = [solution.values.get((name, side)) for side in ("width", "height")]
    if sizes[0] is None or sizes[1] is None:
        return
    for steps in range(1, 9):
        for side in (0, 1):
            new = [typed(round_down(each or grid, grid) - (steps * grid if at == side else 0))
                   for at, each in enumerate(sizes)]  # fmt: skip
            line = f"size {new[0]} x {new[1]}"
            own = lines_of(head, tree.SizeLine)
            edit = case.replaced(own[0].span, line) if own else case.put_first_under(head, line)
            yield Repair(f"Write `{line}`", (edit,), among=("width", "height")[side])


def flat_glue(case: Case) -> Iterator[Repair]:
    """Tape in place of foam, where height is in the way; else thinner foam."""
    heads = [each for each in case.parsed.statements if isinstance(each.node, tree.PieceHeader)]
    glued = [each for each in heads if lines_of(each, tree.GlueLine)]
    for head in [case.head] if case.head in glued else glued:
        for line in lines_of(head, tree.GlueLine) if head else ():
            assert isinstance(line.node, tree.GlueLine)
            if line.node.adhesive is None or line.node.adhesive.text in ("tape", "liquid"):
                continue
            where = f" only on {line.node.only_on.text}" if line.node.only_on else ""
            thin = "1 mm thick" if line.node.thick is not None else ""
            for new in ([f"glue with foam {thin}{where}"] if thin else []) + [f"glue with tape{where}"]:
                yield Repair(f"Write `{new}`", (case.replaced(line.span, new),))


def loose(case: Case) -> Iterator[Repair]:
    """The piece is not glued."""
    head = case.head
    if head is None:
        return
    lines = lines_of(head, tree.GlueLine)
    edit = case.replaced(lines[0].span, "loose") if lines else case.put_under(head, "loose")
    yield Repair("Say `loose`", (edit,), True)


# ---- sheets of paper -----------------------------------------------------------------------------


def larger_sheet(case: Case) -> Iterator[Repair]:
    """A sheet that is sold nearly everywhere and large enough; or the pattern may be turned."""
    for line in _paper_lines(case):
        for facts in records_in(line.node):
            if isinstance(facts, tree.PaperFacts):
                if case.diagnostic.code == "one-way-turned":
                    yield from _any_way(case, line)
                yield from _sheets(case, facts)


def _paper_lines(case: Case) -> list[tree.Statement]:
    """The line that declares the paper of the piece, where it stands in this file."""
    node = case.head.node if case.head else None
    paper = node.paper.text if isinstance(node, tree.PieceHeader) and node.paper else None
    return [each for each in case.parsed.statements
            if isinstance(each.node, tree.PaperLine) and each.node.name.text == paper]  # fmt: skip


def _any_way(case: Case, line: tree.Statement) -> Iterator[Repair]:
    new = re.sub(r",\s*one-way", "", case.text_of(line))
    yield Repair("Leave out `one-way`: the pattern may be turned", (case.replaced(line.span, new),))


def _sheets(case: Case, facts: tree.PaperFacts) -> Iterator[Repair]:
    for sheet in SHEETS[case.unit]:
        if facts.sizes:
            whole = Span(case.span.file, facts.sizes[0].span.start, facts.sizes[-1].span.end)
            yield Repair(f"Take a sheet of {sheet}", (case.replaced(whole, sheet),))
        else:
            yield Repair(f"Take a sheet of {sheet}", (case.put(facts.title.span.end, f" {sheet}"),))


# ---- envelopes, bands, work ----------------------------------------------------------------------


def envelope(case: Case) -> Iterator[Repair]:
    """The smallest envelope that the card goes into; or the sheet lists what fits."""
    line = next((inner for each in case.parsed.statements for inner in each.block
                 if isinstance(inner.node, tree.EnvelopeWanted)), None)  # fmt: skip
    recipes = [each for each in case.parsed.statements if isinstance(each.node, tree.Recipe)]
    known = sorted((each for each in all_envelopes() if each.width != each.height and each.unit == case.unit),
                   key=lambda each: each.width * each.height)  # fmt: skip
    for each in known:
        new = f"envelope {each.name}"
        if line is not None and case.text_of(line) != new:
            yield Repair(f"Write `{new}`: {each.title}", (case.replaced(line.span, new),))
        elif line is None and recipes:
            yield Repair(f"Write `{new}`: {each.title}", (case.put_first_under(recipes[0], new),))
    if line is not None:
        yield Repair("Let the sheet list what fits", (case.taken_out(line),))


def overlap(case: Case) -> Iterator[Repair]:
    """An overlap that holds, written in place of a shorter one or of the length."""
    head = case.head
    if head is None:
        return
    for new in {"inch": ("overlap 3/8", "overlap 1/2"), "mm": ("overlap 10", "overlap 12")}[case.unit]:
        for line in lines_of(head, tree.Measure):
            if isinstance(line.node, tree.Measure) and line.node.word in ("overlap", "length"):
                yield Repair(f"Write `{new}`", (case.replaced(line.span, new),), True)


def band_off_card(case: Case) -> Iterator[Repair]:
    """In the middle of the card: where else it was meant to lie nobody knows."""
    if case.line is not None:
        yield case.without(case.line, True)


def copies_overlap(case: Case) -> Iterator[Repair]:
    """As many copies as there is room for."""
    line = case.line
    if line is None or not isinstance(line.node, tree.Repeat):
        return
    number = line.node.number
    for fewer in range(int(number.value) - 1, 1, -1):
        new = with_words(case, line, number.span, str(fewer))
        yield Repair(f"Write `{new}`", (case.replaced(number.span, str(fewer)),), True)
    yield case.without(line)


def work_too_late(case: Case) -> Iterator[Repair]:
    """The two lines change places."""
    line = case.line
    for related in case.diagnostic.related:
        trail = case.trail_to(related.span)
        if line is not None and trail:
            first, second = case.text_of(trail[-1]), case.text_of(line)
            edits = (case.replaced(trail[-1].span, second), case.replaced(line.span, first))
            yield Repair(f"Do `{second}` before `{first}`", edits, True)
