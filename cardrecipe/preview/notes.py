"""Diagnostics as the preview shows them: place, reason, the line with the words meant, repair."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from cardrecipe.preview.places import Place, place_of
from cardrecipe.report import MAX_SHOWN, visible
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span

Row = dict[str, object]  # what the preview's script reads


class Note(NamedTuple):
    """One thing to say. Without a place it is about a whole file, or about the command.

    `line` is the line meant in three parts, the middle one marked; a `related` note has no heading.
    """

    message: str
    heading: str = "error"
    place: Place | None = None
    line: tuple[str, str, str] = ("", "", "")
    hint: str = ""
    related: tuple["Note", ...] = ()

    @property
    def is_warning(self) -> bool:
        return self.heading.startswith("warning")


def notes_of(diagnostics: Iterable[Diagnostic], sources: Mapping[str, Source]) -> tuple[Note, ...]:
    """The diagnostics in their order; control characters in them are shown, as in the terminal."""
    return tuple(_note(each, sources) for each in diagnostics)


def rows_of(notes: Iterable[Note]) -> list[Row]:
    """The first of them as plain data; more than fit in anybody's head are counted."""
    listed = list(notes)
    rows = [_row(each) for each in listed[:MAX_SHOWN]]
    if len(listed) > MAX_SHOWN:
        rows.append(_row(Note(f"… {len(listed) - MAX_SHOWN} more", "")))
    return rows


def places_in(notes: Iterable[Note]) -> dict[str, Place]:
    """Every place that notes speak of, by what it is called."""
    return {str(each.place): each.place
            for note in notes for each in (note, *note.related) if each.place is not None}  # fmt: skip


def _note(diagnostic: Diagnostic, sources: Mapping[str, Source]) -> Note:
    return Note(
        visible(diagnostic.message),
        f"{diagnostic.severity}[{diagnostic.code}]",
        place_of(diagnostic.span, sources),
        _marked(diagnostic.span, sources),
        visible(diagnostic.hint),
        tuple(Note(visible(each.message), "", place_of(each.span, sources), _marked(each.span, sources))
              for each in diagnostic.related),
    )  # fmt: skip


def _marked(span: Span, sources: Mapping[str, Source]) -> tuple[str, str, str]:
    """The line that `span` begins in: what is before it, what it marks (a character at least), the rest."""
    source = sources[span.file]
    line, column = source.line_and_column(span.start)
    text = source.line_text(line)
    start, end = column - 1, max(column, column - 1 + span.end - span.start)
    return visible(text[:start]), visible(text[start:end] or " "), visible(text[end:])


def _row(note: Note) -> Row:
    return {
        "heading": note.heading,
        "place": str(note.place) if note.place is not None else "",
        "message": note.message,
        "line": list(note.line),
        "number": note.place.line if note.place is not None else 0,
        "hint": note.hint,
        "related": [_row(each) for each in note.related],
    }
