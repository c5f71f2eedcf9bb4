"""What is wrong with a recipe, as data. Three printers (terminal, JSON, editor) show the same value."""

from __future__ import annotations

from typing import NamedTuple

from cardrecipe.syntax.spans import Span


class Related(NamedTuple):
    """A second place that belongs to the mistake, with a few words on why."""

    span: Span
    message: str


class Diagnostic(NamedTuple):
    """One mistake or warning: `code` is in the registry `cardrecipe.syntax.codes`."""

    code: str
    severity: str  # "error" | "warning"
    span: Span
    message: str
    hint: str = ""  # what to type instead
    related: tuple[Related, ...] = ()

    @property
    def mistake(self) -> Diagnostic:
        """It without its hint, which may name other pieces in a variant that drops some."""
        return self._replace(hint="")


def error(
    code: str, span: Span, message: str, hint: str = "", related: tuple[Related, ...] = ()
) -> Diagnostic:
    """A mistake: no sheet is written."""
    return Diagnostic(code, "error", span, message, hint, related)


def warning(
    code: str, span: Span, message: str, hint: str = "", related: tuple[Related, ...] = ()
) -> Diagnostic:
    """Something that a maker should look at; the sheet is written."""
    return Diagnostic(code, "warning", span, message, hint, related)


def has_errors(diagnostics: list[Diagnostic]) -> bool:
    return any(each.severity == "error" for each in diagnostics)
