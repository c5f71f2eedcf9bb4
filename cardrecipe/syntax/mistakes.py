"""What to say of a line that cannot be read: the place, a maker's words, and what to type instead."""

import re

from cardrecipe.syntax import trade_words
from cardrecipe.syntax.build import LineProblem, NodeBuilder
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.lines import LogicalLine
from cardrecipe.syntax.nearest import either, nearest
from cardrecipe.syntax.read_line import Misread, read_line
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.unseen import called
from cardrecipe.syntax.words import PLACE_NAMES, WORDS, forms_of, words_in

_WORD = re.compile(r'[0-9]+[./][0-9]+|[A-Za-z0-9_]+(?:-[A-Za-z0-9_]+)*|"[^"\n]*"?|\S')

_LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789_-"

# What a maker would call the next thing that the grammar could take.
_TERMINALS = {
    "NAME": "a name", "NUMBER": "a number", "STRING": 'a text in "quotes"',
    "TIMES": "`x` and a height", "COMMA": "a comma", "LPAR": None, "MIN": None, "MAX": None, "UNKNOWN": None,
    "MINUS": None, "PLUS": None, "STAR": None, "SLASH": None, "DOT": None, "RPAR": "`)`",
    "TEXT_BLOCK": None, "LENGTH_UNIT": None, "EQUAL": "`=`", "SIDE": "`inside` or `outside`",
    "DIRECTION": "`valley` or `mountain`", "WEIGHT_UNIT": "`gsm` or `lb`",
    "REPEAT_WAY": "`across` or `down`", "SHEETS": "`sheets`", "DOWNWARD": "`downward`",
    "STEP_PLACE": "`after` or `before`", "LEFT": "an edge", "RIGHT": "an edge", "TOP": "an edge",
    "BOTTOM": "an edge", "LINE": None, "SHAPE": None, "ALL": "`all over`",
}  # fmt: skip
# A point of card is a thousandth of an inch; a point of type is 1/72 of one. So no length is in points.
_NO_POINTS = (
    "there is no `pt`: a point of card is a thousandth of an inch, so 12 pt card is `thick 0.012 in`"
    " (a point of type is 1/72 in)"
)
_PLAIN_SPACE = "put a plain space in its place, or nothing: it cannot be seen, and came in with a copied text"
_SLIPS = {
    "pt": _NO_POINTS, "pts": _NO_POINTS, "point": _NO_POINTS, "points": _NO_POINTS,
    "inches": "write `in`, `mm` or `cm`, or no unit at all",
    "inch": "write `in`, `mm` or `cm`, or no unit at all",
    "millimetres": "write `mm`", "millimeters": "write `mm`", "centimetres": "write `cm`",
    "“": 'use straight quotes: "…"', "”": 'use straight quotes: "…"', "„": 'use straight quotes: "…"',
    "'": 'texts stand in double quotes: "…"', "–": "use the minus sign of the keyboard: -",
    "−": "use the minus sign of the keyboard: -", "and": "put a comma between the parts",
    "_": "names have hyphens: left-door", ";": "put a comma between the parts",
}  # fmt: skip


def unknown_word(source: Source, start: int, end: int) -> Diagnostic:
    """The line begins with no word of the language."""
    match = _WORD.match(source.text, start, end)
    word = match.group() if match else source.text[start:end]
    span = Span(source.name, start, start + len(word))
    if odd := _odd_sign(source.text[start:end]):
        odd_span = Span(source.name, start, start + 1)
        return error("unknown-word", odd_span, f"this line begins with {odd}", _PLAIN_SPACE)
    lower = word.lower()
    meant = lower if lower in WORDS else nearest(lower, WORDS)
    if line := trade_words.LINES.get(lower):
        hint = f"that is a `{line.split()[0]}` line here, for instance: {line}"
    elif meant:
        hint = f"did you mean `{meant}`? For instance: {forms_of(meant)[0].example}"
    else:
        hint = "a line begins with a word such as paper, base, panel, band, score, glue or tip"
    return error("unknown-word", span, f"no line of a recipe begins with `{word}`", hint)


def misread(
    source: Source, line: LogicalLine, word: str, problem: Misread
) -> Diagnostic:
    """The line begins well and then stops making sense."""
    offset = _offset_of(source, line, problem)
    expected = _expected(problem)
    if offset >= line.end:
        span = Span(source.name, max(line.start, line.end - 1), line.end)
        missing = f": {_listed(expected)} is missing" if expected else ""
        return error("line-incomplete", span, f"this `{word}` line ends too early{missing}",
                     _examples(word))  # fmt: skip
    match = _WORD.match(source.text, offset, line.end)
    found = match.group() if match and not _odd_sign(source.text[offset]) else source.text[offset]
    span = Span(source.name, offset, offset + len(found))
    return error("not-understood", span, _not_understood(word, found, expected),
                 _repair(word, found, problem, source, line))  # fmt: skip


def wrong_place(span: Span, word: str, form: str | None, place: str) -> Diagnostic:
    """The line is well formed but does not belong where it stands (see `words.may_stand`)."""
    forms = [each for each in forms_of(word) if form is None or each.example.startswith(form)]
    where = Span(span.file, span.start, span.start + len(word))
    places = " or ".join(dict.fromkeys(PLACE_NAMES[p] for each in forms for p in each.places))
    if place.startswith("under "):
        upper = place.removeprefix("under ")
        way = "put it among the lines there, as far in as they are"
        if any("top" in each.places for each in forms):
            way = "take away the spaces before it"
        return error("wrong-place", where, f"nothing can stand under a `{upper}` line",
                     f"`{word}` belongs {places}; {way}")  # fmt: skip
    others = [each for each in forms_of(word) if place in each.places]
    if others:
        return error("wrong-place", where, f"this `{word}` line does not belong {PLACE_NAMES[place]}",
                     f"there it is written: {others[0].example}")  # fmt: skip
    if place == "top":
        hint = f"indent it with two spaces under what it belongs to; it stands {places}"
    else:
        hint = f"`{word}` stands {places}; here one can write {', '.join(words_in(place)[:8])} …"
    return error("wrong-place", where, f"`{word}` does not belong {PLACE_NAMES[place]}", hint)


# ---- details -------------------------------------------------------------------------------------


def _offset_of(source: Source, line: LogicalLine, problem: Misread) -> int:
    if problem.at_end:
        return line.end
    offset = line.start + problem.offset
    # The beginning of `left_door` is a word of the language; the whole of it is meant.
    if offset > line.start and re.fullmatch(r"\w_|_\w", source.text[offset - 1 : offset + 1]):
        offset -= len(source.text[:offset]) - len(source.text[:offset].rstrip(_LETTERS))
    return offset


def _expected(problem: Misread) -> list[str]:
    words = {_TERMINALS.get(name, f"`{name.lower()}`") for name in problem.expected
             if name.isalpha() or name in _TERMINALS}  # fmt: skip
    return sorted(word for word in words if word)


def _listed(words: list[str]) -> str:
    return "something" if len(words) > 4 else either(words)


def _not_understood(word: str, found: str, expected: list[str]) -> str:
    message = f"this `{word}` line cannot be read from {_odd_sign(found) or f'`{found}`'} on"
    return f"{message}: {_listed(expected)} could stand here" if 0 < len(expected) <= 3 else message


def _repair(
    word: str, found: str, problem: Misread, source: Source, line: LogicalLine
) -> str:
    if _odd_sign(found):
        return _PLAIN_SPACE
    if exchange := as_exchange(source.text[line.start : line.end]):
        return f"a paper is exchanged by: {exchange}"
    if quoted := _in_quotes(found, problem, source, line):
        return quoted
    if found.strip('"').lower() in _SLIPS:
        return _SLIPS[found.strip('"').lower()]
    if found[0].isupper() and found.lower() != found:
        return f"names are written in lower case: {found.lower()}"
    if "_" in found:
        return f"names have hyphens: {found.lower().replace('_', '-')}"
    words = [each for each, names in tables().words.items()
             if each.isalpha() and not problem.expected.isdisjoint(names)]  # fmt: skip
    meant = nearest(found, words)
    if meant:
        return f"did you mean `{meant}`? {_examples(word)}"
    return _examples(word)


def _odd_sign(found: str) -> str:
    """What is called a sign that looks like a space, or like nothing at all; "" for any other."""
    sign = found[:1]
    return "" if sign.isprintable() or sign in " \t\r\n" else called(sign)


def _in_quotes(found: str, problem: Misread, source: Source, line: LogicalLine) -> str:
    """The line with quotes round the words that need them; "" where something else is missing."""
    offset = source.text.find(found, line.start + problem.offset)
    if "STRING" not in problem.expected or "NAME" in problem.expected or not found[0].isalnum():
        return ""
    before, words = source.text[line.start : offset], source.text[offset : line.end]
    with_quotes = f'{before}"{words}"'
    if '"' not in words and reads(with_quotes):
        return f"texts stand in quotes: {with_quotes}"
    return f'texts stand in quotes: "{found}"' if _expected(problem) == [_TERMINALS["STRING"]] else ""


def reads(text: str) -> bool:
    """Tell whether a line alone can be read."""
    try:
        read_line(text, NodeBuilder("", 0))
    except (Misread, LineProblem):
        return False
    return True


def as_exchange(text: str) -> str:
    """`set ink is cardstock "Ice"` as the line that exchanges a paper; "" for any other line."""
    match = re.fullmatch(r"set\s+(\S+)\s+(?:(?:is|=|to|with|from)\s+)?(.*)", text)
    line = f"replace {match[1]} with {match[2]}" if match else ""
    return line if line and reads(line) else ""


def _examples(word: str) -> str:
    return "it is written like: " + "   or   ".join(form.example for form in forms_of(word))
