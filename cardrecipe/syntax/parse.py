"""Text to tree. Parsing cannot fail: it gives a tree of what is there and a list of what is wrong."""

import re
from types import ModuleType
from typing import NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.build import LineProblem, NodeBuilder
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.lines import LogicalLine, logical_lines
from cardrecipe.syntax.read_line import Misread, read_line
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import BLOCK_OF, WORDS, may_stand

MAX_PARENTHESES = 64  # a sum that a maker can check has two or three
_TEXT = re.compile(r'"""(?s:.*?)"""|"[^"\n]*"')
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


def parse(source: Source) -> tuple[tree.Tree, list[Diagnostic]]:
    """The tree of a recipe and every mistake of its form, in the order of the text.

    A line that cannot be read costs one diagnostic and stands in the tree as a `Broken` node, with
    the block under it.
    """
    lines, diagnostics, unreadable = logical_lines(source)
    found = [parsed_line(line, source, diagnostics) for line in lines]
    found += [broken_line(line, source) for line in unreadable]
    found.sort(key=lambda parsed: parsed.span.start)
    statements, misplaced = in_blocks(found, source)
    diagnostics += misplaced
    diagnostics.sort(key=lambda each: each.span.start)
    return tree.Tree(source.name, statements), with_merges_once(diagnostics, source)


def with_merges_once(diagnostics: list[Diagnostic], source: Source) -> list[Diagnostic]:
    """The mistakes of all lines, in order; an unfinished merge is one mistake, whatever its lines are."""
    if not is_unmerged(diagnostics):
        return diagnostics
    from cardrecipe.syntax.merges import settled  # most recipes hold none

    return settled(diagnostics, source)


def is_unmerged(diagnostics: list[Diagnostic]) -> bool:
    """Tell whether two versions of some lines stand in the file, so that nobody can judge what it means."""
    return any(each.code == "merge-unfinished" for each in diagnostics)


class ParsedLine(NamedTuple):
    """A line by itself, before it is known in which block it stands."""

    indent: int
    span: Span
    word: str
    node: tree.Node


def parsed_line(line: LogicalLine, source: Source, diagnostics: list[Diagnostic]) -> ParsedLine:
    """What a line says; what is wrong with it is added to `diagnostics`. It depends on no other line."""
    result = _read_line(source, line)
    if isinstance(result, Diagnostic):
        diagnostics.append(result)
        return broken_line(line, source)
    return ParsedLine(line.indent, _span(line, source), _first_word(line, source), result)


def broken_line(line: LogicalLine, source: Source) -> ParsedLine:
    """A line that cannot be read."""
    words = frozenset(_NAME.findall(source.text[line.start : line.end]))
    return ParsedLine(line.indent, _span(line, source), _first_word(line, source), tree.Broken(words))


def _span(line: LogicalLine, source: Source) -> Span:
    return Span(source.name, line.start, line.end)


def _first_word(line: LogicalLine, source: Source) -> str:
    match = _NAME.match(source.text, line.start)
    return match.group() if match else ""


# ---- one line ------------------------------------------------------------------------------------


def _read_line(source: Source, line: LogicalLine) -> tree.Node | Diagnostic:
    word = _first_word(line, source)
    if word not in WORDS:
        unknown: Diagnostic = _mistakes().unknown_word(source, line.start, line.end)
        return unknown
    text = source.text[line.start : line.end]
    if text.count("(") > MAX_PARENTHESES and _TEXT.sub("", text).count("(") > MAX_PARENTHESES:
        return error("too-many-parentheses", _span(line, source),
                     f"this line has more than {MAX_PARENTHESES} parentheses",
                     "name parts of the sum with `let`")  # fmt: skip
    try:
        node: tree.Node = read_line(text, NodeBuilder(source.name, line.start))
    except LineProblem as problem:
        return problem.diagnostic
    except Misread as problem:
        wrong: Diagnostic = _mistakes().misread(source, line, word, problem)
        return wrong
    return node


def _mistakes() -> ModuleType:
    """What to say of a wrong line: loaded for the first mistake, since most recipes have none."""
    from cardrecipe.syntax import mistakes

    return mistakes


# ---- blocks --------------------------------------------------------------------------------------


def in_blocks(
    lines: list[ParsedLine], source: Source
) -> tuple[tuple[tree.Statement, ...], list[Diagnostic]]:
    """Statements with the lines indented under them, and what stands where it does not belong.

    Open blocks stand on a list of their own: a file may be indented as deeply as it is long.
    """
    diagnostics: list[Diagnostic] = []
    top = _Open(-1, "top", None, [])
    trail = [top]
    for line in lines:
        while trail[-1].indent >= line.indent:
            _close(trail)
        place = "anything" if isinstance(line.node, tree.Broken) else trail[-1].place
        form, node = _form(line.node), line.node
        misplaced = not may_stand(line.word, form, place)
        if misplaced:
            diagnostics.append(_mistakes().wrong_place(line.span, line.word, form, place))
            node = tree.Broken(frozenset(_NAME.findall(source.words_at(line.span))))
        under = _block_place(line.word, node, misplaced)
        trail.append(_Open(line.indent, under, line._replace(node=node), []))
    while len(trail) > 1:
        _close(trail)
    return tuple(top.statements), diagnostics


class _Open(NamedTuple):
    """A line whose block is still being read: what stands in it so far."""

    indent: int
    place: str
    line: ParsedLine | None
    statements: list[tree.Statement]


def _close(trail: list[_Open]) -> None:
    """The last open line becomes a statement of the block it stands in."""
    last = trail.pop()
    assert last.line is not None
    block = tuple(last.statements)
    trail[-1].statements.append(
        tree.Statement(last.line.span, last.line.word, last.line.node, block)
    )


def _form(node: tree.Node) -> str | None:
    """Which of its word's forms a line has, by how the example of that form begins; None: the only one."""
    if isinstance(node, tree.Fold):
        return "fold double-gate"
    if isinstance(node, tree.FoldPose):
        return "fold 2"
    if isinstance(node, tree.GlueLine):
        return "glue left" if node.sections else "glue with"
    if isinstance(node, tree.Tip):
        return "tip on" if node.on else 'tip "'
    return None


def _block_place(word: str, node: tree.Node, misplaced: bool) -> str:
    """What the lines under this one stand in; nothing is known of what stands under a broken line."""
    if isinstance(node, tree.Broken) or misplaced:
        return "anything"
    return BLOCK_OF.get(word, f"under {word}")

