"""Repairs of lines that cannot be read: spelling, quotes, missing words, indentation."""

import re
import textwrap
from collections.abc import Iterator
from fractions import Fraction

from cardrecipe.editor.mending.case import Case, Repair
from cardrecipe.editor.snapshot import Edit
from cardrecipe.model.lengths import GRID, round_near, typed
from cardrecipe.syntax import trade_words, tree
from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.mistakes import as_exchange, reads
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.statements import in_order
from cardrecipe.syntax.unseen import unseen_signs
from cardrecipe.syntax.words import BLOCK_OF, WORDS, forms_of, may_stand

# What people write, and the language's word for it.
SLIPS = {
    "inches": "in", "inch": "in", "ins": "in", "millimetres": "mm", "millimeters": "mm", "millimetre": "mm",
    "millimeter": "mm", "centimetres": "cm", "centimeters": "cm", "by": "x", "*": "x", "and": ",", ";": ",",
    "&": ",", "–": "-", "−": "-", "—": "-", ":": "", "=": "", "g/m2": "gsm", "gm": "gsm", "colour": "color",
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8",
    "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "dozen": "12",
    "pounds": "lb", "lbs": "lb", "degrees": "", "deg": "", "°": "", "the": "", "a": "",
}  # fmt: skip
CURLY = {"“": '"', "”": '"', "„": '"', "«": '"', "»": '"'}
SINGLE = {"‘": '"', "’": '"', "'": '"'}
_TOKEN = re.compile(r'"[^"\n]*"|[0-9]+[ \t]+[0-9]+/[0-9]+|[A-Za-z0-9_./½¼¾-]+|\S')


def unknown_word(case: Case) -> Iterator[Repair]:
    """A misspelt first word, or a note of the maker's that was meant for nobody."""
    if case.line is not None and not case.words.isprintable():
        plain = _plain_spaces(case.text_of(case.line))
        yield Repair("Write plain spaces", (case.replaced(case.line.span, plain),), True)
        return
    lower = case.words.lower()
    if (trade := trade_words.LINES.get(lower)) and case.line is not None:
        word, *_ = trade.split()
        new = word + case.text_of(case.line)[len(case.words) :]
        # The rest of the line is the maker's: `strip waist from white on front` but hardly `hole 3`.
        if reads(new) and lower not in trade_words.NOT_THE_WORD_ALONE:
            yield Repair(f"Write `{word}`", (case.replaced(case.span, word),), True)
    elif meant := lower if lower in WORDS else nearest(lower.replace("_", "-"), WORDS):
        yield Repair(f"Write `{meant}`", (case.replaced(case.span, meant),), True)
    yield Repair("Make this line a comment", (case.put(case.span.start, "# "),))


def not_understood(case: Case) -> Iterator[Repair]:
    """The word that stops a line, written as the language has it, or left out."""
    line = case.line
    if line is None:
        return
    text, at, found = case.text_of(line), case.span.start - line.span.start, case.words
    for title, new in _other_lines(text, at, found):
        if new != text and reads(new):
            yield Repair(title, (case.replaced(line.span, new),), True)


def _other_lines(text: str, at: int, found: str) -> Iterator[tuple[str, str]]:
    """The whole line as it could have been meant, with what to call that.

    The word that stops a line may be right and the one before it wrong: `colour "#ffffff"`.
    """
    before = list(_TOKEN.finditer(text[:at]))[1:]
    places = [(at, at + len(found)), *(each.span() for each in before[-1:])]
    yield "Write plain spaces", _plain_spaces(text)
    yield "Exchange the paper", as_exchange(text)
    yield "Put the text in quotes", f'{text[:at]}"{text[at:]}"'
    for quotes in (CURLY, {**CURLY, **SINGLE}):  # an apostrophe is no quote
        yield "Use straight double quotes", "".join(quotes.get(char, char) for char in text)
    for start, end in places:
        yield from _other_word(text, start, end)
    yield from _names_as_written(text)
    yield from _points_of_card(text)
    yield "Put the file's name in quotes", re.sub(r'(?<!["\w./-])[\w./-]+\.recipe\b(?!")', r'"\g<0>"', text)
    yield "Write `in` for the inch marks", re.sub(r'(?<=[0-9½¼¾])\s*(?:"|″|\'\')', " in", text)
    yield "Put a comma here", f"{text[:at].rstrip()}, {text[at:]}"
    for word in (")", *tables().words):
        gap = "" if word == ")" else " "
        yield f"Write `{word}` before it", f"{text[:at].rstrip()}{gap}{word} {text[at:]}"
    for start, _ in places:
        yield f"Leave out `{text[start:]}`", text[:start].rstrip(" ,")


def _plain_spaces(text: str) -> str:
    """A plain space for each sign outside quotes that cannot be seen and is none."""
    parts = re.split(r'("[^"\n]*")', text)
    return "".join(part if part.startswith('"') else
                   "".join(char if char.isprintable() or char in "\t\r\n" else " " for char in part)
                   for part in parts)  # fmt: skip


def _other_word(text: str, start: int, end: int) -> Iterator[tuple[str, str]]:
    """One word of a line written as the language has it, or left out."""
    head, word, tail = text[:start], text[start:end], text[end:]
    slip = SLIPS.get(word.lower())
    if slip is not None:
        kept = head.rstrip() if slip in (",", "") else head
        yield f"Write `{slip}`" if slip else f"Leave out `{word}`", kept + slip + tail
    for meant in _near(word):
        yield f"Write `{meant}`", f"{head}{meant}{tail}"
    yield f"Leave out `{word}`", head.rstrip() + ("" if tail[:1] in ",)" else " ") + tail.lstrip()


def _names_as_written(text: str) -> Iterator[tuple[str, str]]:
    """Names in lower case, with hyphens; what stands in quotes stays as it is."""

    def as_name(match: re.Match[str]) -> str:
        word = match[0]
        return word if word.startswith('"') else re.sub(r"_+", "-", word).strip("-").lower()

    new = re.sub(r'"[^"\n]*"|[A-Za-z][A-Za-z0-9_-]*', as_name, text)
    yield "Write names in lower case with hyphens", new


def _points_of_card(text: str) -> Iterator[tuple[str, str]]:
    """`12 pt` of card is twelve thousandths of an inch thick."""
    new = re.sub(r"\b([0-9]{1,3})\s*(?:pts?|points?)\b", lambda found: f"{int(found[1]) / 1000:g} in", text)
    yield "Write the points of card in inches", new
    yield "Write how thick it is", re.sub(r"(?<!thick )(\b0\.[0-9]+ in\b)", r"thick \1", new)


def _near(found: str) -> Iterator[str]:
    words = [each for each in tables().words if each.isalpha() or "-" in each]
    while word := nearest(found.lower(), words):
        yield word
        words.remove(word)


def line_incomplete(case: Case) -> Iterator[Repair]:
    """The rest of the line, after the examples of its word."""
    line = case.line
    if line is None:
        return
    text = case.text_of(line)
    if re.search(r" \* ", text) and reads(text.replace(" * ", " x ", 1)):
        yield Repair("Write `x`", (case.replaced(line.span, text.replace(" * ", " x ", 1)),), True)
    open_ends = [")" * (text.count("(") - text.count(")")), " ?"]
    for end in dict.fromkeys([*open_ends, *_rests(line.word), *(f", {each}" for each in _rests(line.word))]):
        new = f"{text} {end}" if end[:1] not in ",) " else text + end
        if end and reads(new):
            yield Repair(f"Complete it: {_short(new)}", (case.put(line.span.end, new[len(text) :]),))
    trimmed = re.sub(r"[\s,+*/x×-]+$", "", text)
    if trimmed != text and reads(trimmed):
        yield Repair(f"Write `{_short(trimmed)}`", (case.replaced(line.span, trimmed),))


def _rests(word: str) -> Iterator[str]:
    """How the examples of a word end, the shortest first."""
    tokens = [[(m.start(), form.example) for m in _TOKEN.finditer(form.example)] for form in forms_of(word)]
    ends = [example[start:] for each in tokens for start, example in each[1:]]
    return iter(sorted(dict.fromkeys(ends), key=len))


def _short(text: str) -> str:
    line = text.split("\n")[0]
    return line if len(line) <= 60 else line[:57] + "…"


def open_text(case: Case) -> Iterator[Repair]:
    """The closing quote, before a comment or what else is clearly no part of the text; or a block's end."""
    if re.search(r"[0-9½¼¾]$", case.source.text[: case.span.start]):
        mark = Span(case.span.file, case.span.start, case.span.start + 1)
        yield Repair("Write `in` for the inch mark", (case.replaced(mark, " in"),), True)
    if case.words != '"""':
        yield Repair('Close the text with "', (case.put(case.span.end, '"'),), True)
        for match in re.finditer(r"\s+#|,|\s+in\s", case.words):
            yield Repair('Close the text with "', (case.put(case.span.start + match.start(), '"'),))
        return
    text, newline = case.source.text, case.newline
    own = _indent_at(text, case.span.start)
    for match in re.finditer(r"^( *)\S", text[case.span.end :], re.M):
        at = case.span.end + match.start()
        if len(match[1]) <= own and match.start() > 0 and not text.startswith('"""', at):
            yield Repair('End the block with """', (case.put(at, " " * own + '"""' + newline),), True)
            break
    end = "" if text.endswith("\n") else newline
    yield Repair('End the block with """', (case.put(len(text), f'{end}{" " * own}"""{newline}'),))


def _indent_at(text: str, offset: int) -> int:
    start = text.rfind("\n", 0, offset) + 1
    return len(text[start:offset]) - len(text[start:offset].lstrip())


def tab_indent(case: Case) -> Iterator[Repair]:
    """Spaces for tabs: in the whole file, else as far in as the line before."""
    text = case.source.text
    tabs = list(re.finditer(r"^[ \t]*\t[ \t]*", text, re.M))
    edits = [case.replaced(Span(case.span.file, *m.span()), m[0].replace("\t", "  ")) for m in tabs]
    yield Repair("Indent with spaces", tuple(edits), True)
    before = text[: case.span.start].split("\n")[-2:-1]
    indent = len(before[0]) - len(before[0].lstrip()) if before else 0
    yield Repair("Indent it as the line above", (case.replaced(case.span, " " * (indent or 2)),))


def unseen_sign(case: Case) -> Iterator[Repair]:
    """The whole file without what cannot be seen, or with plain spaces in its place."""
    text = case.source.text
    signs = [Span(case.span.file, at, at + 1) for at in unseen_signs(text, 0, len(text))]
    for title, new in (("Take out what cannot be seen", ""), ("Write plain spaces", " ")):
        yield Repair(title, tuple(case.replaced(each, new) for each in signs), not new)


def number_too_long(case: Case) -> Iterator[Repair]:
    """The nearest mark of the ruler."""
    found = re.fullmatch(r"[0-9]{1,20}\.[0-9]{1,40}", case.words)
    if found:
        value = round_near(Fraction(found[0]), GRID[case.unit])
        yield Repair(f"Write {typed(value)}", (case.replaced(case.span, typed(value)),), True)


def too_many_parentheses(case: Case) -> Iterator[Repair]:
    """Parentheses in parentheses say nothing more."""
    before, text = "", case.words
    while before != text:
        before, text = text, re.sub(r"\(\s*(\([^()]*\))\s*\)", r"\1", text)
    yield Repair("Leave out doubled parentheses", (case.replaced(case.span, text),), True)


def line_too_long(case: Case) -> Iterator[Repair]:
    """A long text as a block of several lines."""
    start = case.span.start
    end = case.source.text.find("\n", start)
    line = case.source.text[start : end if end >= 0 else len(case.source.text)].rstrip("\r")
    found = re.fullmatch(r'([^"]*)"([^"]*)"(\s*)', line)
    if found:
        indent = " " * _indent_at(case.source.text, start)
        lines = textwrap.wrap(found[2], 100) or [""]
        block = case.newline.join([f'{found[1]}"""', *(indent + each for each in lines), f'{indent}"""'])
        yield Repair("Write it as a block of text", (case.replaced(
            Span(case.span.file, start, start + len(line)), block),), True)  # fmt: skip


# ---- places --------------------------------------------------------------------------------------


def wrong_place(case: Case) -> Iterator[Repair]:
    """The line further left or right, or under something that it can belong to, or nowhere."""
    line = case.line
    if line is None:
        return
    for indent in _other_indents(case, line):
        way = "further left" if indent < case.indent_of(line) else "further right"
        yield Repair(f"Indent it {way}", _indented(case, line, indent), True)
    if not line.block:
        yield from _elsewhere(case, line)
    yield Repair("Take this line out", (case.taken_out(line),))


def _other_indents(case: Case, line: tree.Statement) -> list[int]:
    """How far in the lines above stand, and how far in a line under the one just above would stand."""
    above = [each for _, each in in_order(case.parsed.statements) if each.span.end <= line.span.start]
    own = case.indent_of(line)
    indents = [case.indent_of(each) for each in reversed(above[-8:])]
    deeper = [case.indent_of(above[-1]) + 2] if above else []
    return [each for each in dict.fromkeys([*deeper, *indents]) if each != own][:3]


def _indented(case: Case, line: tree.Statement, indent: int) -> tuple[Edit, ...]:
    """A line with its block moved to the left or to the right."""
    by = indent - case.indent_of(line)
    edits = []
    for _, each in in_order((line,)):
        start, own = each.span.start, case.indent_of(each)
        edits.append(case.replaced(Span(case.span.file, start - own, start), " " * max(0, own + by)))
    return tuple(edits)


def _elsewhere(case: Case, line: tree.Statement) -> Iterator[Repair]:
    others = [each for each in case.parsed.statements
              if each != case.head and not isinstance(each.node, tree.Broken)
              and may_stand(line.word, None, BLOCK_OF.get(each.word, f"under {each.word}"))]  # fmt: skip
    others.sort(key=lambda each: abs(each.span.start - line.span.start))
    for each in others[:3]:
        under = case.text_of(each).split("\n")[0]
        edits = (case.taken_out(line), case.put_under(each, case.text_of(line)))
        yield Repair(f"Move it under `{_short(under)}`", edits)


def said_twice(case: Case) -> Iterator[Repair]:
    """One of the two lines goes, or one of the two values in a line."""
    line = case.line
    if line is None:
        return
    if isinstance(line.node, tree.Fold) and case.span != line.span:
        yield from _argument_twice(case, line.node)
        return
    yield Repair(f"Take out `{_short(case.text_of(line))}`", (case.taken_out(line),), True)
    for related in case.diagnostic.related:
        trail = case.trail_to(related.span)
        if trail and related.span.file == case.span.file:
            yield Repair(f"Take out `{_short(case.text_of(trail[-1]))}`", (case.taken_out(trail[-1]),))


def _argument_twice(case: Case, fold: tree.Fold) -> Iterator[Repair]:
    """The second of two arguments of one name, with the comma before it."""
    text = case.source.text
    for each in fold.arguments:
        if each.name.span == case.span:
            start = text.rindex(",", 0, each.name.span.start)
            gone = Span(case.span.file, start, each.value.span.end)
            title = f"Take out `{text[each.name.span.start : gone.end]}`"
            yield Repair(title, (case.replaced(gone, ""),), True)
