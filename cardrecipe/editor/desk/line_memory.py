"""Lines of a text that is being edited, each read once for all the places and moments where it stands."""

from collections.abc import Iterable

from cardrecipe.editor.desk.moving import moved_diagnostic, moved_node
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.lines import LogicalLine, next_line
from cardrecipe.syntax.parse import ParsedLine, broken_line, parsed_line
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

# Lines that are gone are remembered for a while, since they come back: a text block that is typed swallows
# all that follows until it is closed. Beyond so many they are forgotten, or long work would fill the memory;
# each letter that is typed in such a block makes it another line, of half a file, so letters are counted too.
SPARE_LINES = 2_000
SPARE_LETTERS = 4_000_000


class EditedLine:
    """A logical line with the blank lines' worth of characters up to the next: `length` of them in all.

    `parsed` (None for a line that says nothing) and `problem` are counted from the statement's first
    character, which stands at `lead` in the line.
    """

    __slots__ = ("_placed", "is_ended", "lead", "length", "parsed", "problem", "words")

    def __init__(
        self, length: int, lead: int, is_ended: bool, words: str,
        parsed: ParsedLine | None, problem: Diagnostic | None,
    ) -> None:  # fmt: skip
        self.length, self.lead, self.is_ended, self.words = length, lead, is_ended, words
        self.parsed, self.problem = parsed, problem
        self._placed: tuple[int, ParsedLine] | None = None

    def placed(self, at: int) -> ParsedLine:
        """The line as `parse` gives it where it begins at `at`.

        The last place is remembered as one value: two texts with the same line may be read in two threads.
        """
        last = self._placed
        if last is not None and last[0] == at:
            return last[1]
        assert self.parsed is not None
        indent, span, word, node = self.parsed
        by = at + self.lead
        placed = ParsedLine(indent, Span(span.file, by, by + span.end), word, moved_node(node, by))
        self._placed = at, placed
        return placed


class LineMemory:
    """What the lines of one text say, by their words alone."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._read: dict[str, tuple[ParsedLine, Diagnostic | None]] = {}
        self._most, self._letters = SPARE_LINES, 0  # the letters since lines were last forgotten

    def line_at(self, source: Source, at: int) -> EditedLine:
        """The line that begins at `at`."""
        line, after, problem = next_line(source, at)
        lead, is_ended = line.start - at, after <= len(source.text)
        length = min(after, len(source.text)) - at
        wrong = moved_diagnostic(problem, -line.start) if problem is not None else None
        if line.end == line.start:
            return EditedLine(length, lead, is_ended, "", None, wrong)
        if problem is not None:
            parsed = broken_line(LogicalLine(line.indent, line.start, line.end), source)
            parsed = parsed._replace(span=Span(self._name, 0, line.end - line.start))
            return EditedLine(length, lead, is_ended, "", parsed, wrong)
        words = source.text[line.start : line.end]
        parsed, mistake = self._said_by(words)
        if parsed.indent != line.indent:
            parsed = parsed._replace(indent=line.indent)
        return EditedLine(length, lead, is_ended, words, parsed, mistake)

    def forget_all_but(self, lines: Iterable[EditedLine]) -> None:
        """Forget what is not among `lines`, once that has become much."""
        if len(self._read) > self._most or self._letters > SPARE_LETTERS:
            here = {line.words for line in lines}
            self._read = {words: said for words, said in self._read.items() if words in here}
            self._most, self._letters = len(self._read) + SPARE_LINES, 0

    def _said_by(self, words: str) -> tuple[ParsedLine, Diagnostic | None]:
        known = self._read.get(words)
        if known is None:
            self._letters += len(words)
            mistakes: list[Diagnostic] = []
            alone = Source(self._name, words)
            parsed = parsed_line(LogicalLine(0, 0, len(words)), alone, mistakes)
            known = self._read[words] = parsed, mistakes[0] if mistakes else None
        return known
