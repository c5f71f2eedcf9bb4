"""Text to tree. Parsing cannot fail: it gives a tree of what is there and a list of what is wrong."""

import re
from typing import NamedTuple

from cardrecipe.syntax import tree
from cardrecipe.syntax.build import LineProblem, NodeBuilder
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.lines import LogicalLine, logical_lines
from cardrecipe.syntax.mistakes import misread, unknown_word, wrong_place
from cardrecipe.syntax.read_line import Misread, read_line
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import BLOCK_OF, WORDS, forms_of

MAX_PARENTHESES = 64  # a sum that a maker can check has two or three
_NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")


def parse(source: Source) -> tuple[tree.Tree, list[Diagnostic]]:
    """The tree of a recipe and every mistake of its form, in the order of the text.

    A line that cannot be read costs one diagnostic and stands in the tree as a `Broken` node, with
    the block under it.
    """
    lines, diagnostics, unreadable = logical_lines(source)
    found = [_parsed(_read_line(source, line), line, source, diagnostics) for line in lines]
    found += [_broken(line, source) for line in unreadable]
    found.sort(key=lambda parsed: parsed.span.start)
    statements, misplaced = _blocks(found, source)
    diagnostics += misplaced
    diagnostics.sort(key=lambda each: each.span.start)
    return tree.Tree(source.name, statements), diagnostics


class _Parsed(NamedTuple):
    indent: int
    span: Span
    word: str
    node: tree.Node


def _parsed(
    result: tree.Node | Diagnostic, line: LogicalLine, source: Source, diagnostics: list[Diagnostic]
) -> _Parsed:
    if isinstance(result, Diagnostic):
        diagnostics.append(result)
        return _broken(line, source)
    return _Parsed(line.indent, _span(line, source), _first_word(line, source), result)


def _broken(line: LogicalLine, source: Source) -> _Parsed:
    words = frozenset(_NAME.findall(source.text[line.start : line.end]))
    return _Parsed(line.indent, _span(line, source), _first_word(line, source), tree.Broken(words))


def _span(line: LogicalLine, source: Source) -> Span:
    return Span(source.name, line.start, line.end)


def _first_word(line: LogicalLine, source: Source) -> str:
    match = _NAME.match(source.text, line.start)
    return match.group() if match else ""


# ---- one line ------------------------------------------------------------------------------------


def _read_line(source: Source, line: LogicalLine) -> tree.Node | Diagnostic:
    word = _first_word(line, source)
    if word not in WORDS:
        return unknown_word(source, line.start, line.end)
    text = source.text[line.start : line.end]
    if text.count("(") > MAX_PARENTHESES:
        return error("too-many-parentheses", _span(line, source),
                     f"this line has more than {MAX_PARENTHESES} parentheses",
                     "name parts of the sum with `let`")  # fmt: skip
    try:
        node: tree.Node = read_line(text, NodeBuilder(source.name, line.start))
    except LineProblem as problem:
        return problem.diagnostic
    except Misread as problem:
        return misread(source, line, word, problem)
    return node


# ---- blocks --------------------------------------------------------------------------------------


def _blocks(
    lines: list[_Parsed], source: Source
) -> tuple[tuple[tree.Statement, ...], list[Diagnostic]]:
    """Statements with the lines indented under them, and what stands where it does not belong."""
    diagnostics: list[Diagnostic] = []

    def block(at: int, indent: int, place: str) -> tuple[list[tree.Statement], int]:
        """Lines from `at` on that are indented by at least `indent`, as statements in `place`."""
        statements: list[tree.Statement] = []
        while at < len(lines) and lines[at].indent >= indent:
            line = lines[at]
            inner_place = "anything" if isinstance(line.node, tree.Broken) else place
            node = line.node
            problem = wrong_place(line.span, line.word, _place_word(node), inner_place)
            if problem:
                diagnostics.append(problem)
                node = tree.Broken(frozenset(_NAME.findall(source.words_at(line.span))))
            under = _block_place(line.word, node, bool(problem))
            children, at = block(at + 1, line.indent + 1, under)
            statements.append(tree.Statement(line.span, line.word, node, tuple(children)))
        return statements, at

    statements, _ = block(0, 0, "top")
    return tuple(statements), diagnostics


def _place_word(node: tree.Node) -> str | None:
    """Which of a word's forms this node is, by the example that parses to the same kind of node."""
    if isinstance(node, tree.Fold):
        return "fold double-gate"
    if isinstance(node, tree.FoldPose):
        return "fold 2"
    if isinstance(node, tree.Tip):
        return "tip on" if node.on else 'tip "'
    return None


def _block_place(word: str, node: tree.Node, misplaced: bool) -> str:
    """What the lines under this one stand in; nothing is known of what stands under a broken line."""
    if isinstance(node, tree.Broken) or misplaced:
        return "anything"
    return BLOCK_OF.get(word, f"under {word}")


__all__ = ["forms_of", "parse"]
