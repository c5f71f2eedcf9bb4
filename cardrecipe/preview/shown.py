"""What the browser is shown now: written by the thread that watches, read by those that answer."""

import json
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import NamedTuple

from cardrecipe.preview.notes import Note, places_in, rows_of
from cardrecipe.preview.page import empty_page, preview_page
from cardrecipe.preview.places import Place
from cardrecipe.preview.rebuilding import Rebuilt

LAST_WORD = 0.5  # seconds that open pages are given to be told of the end


class News(NamedTuple):
    """What a page is told: `message` is JSON in one line. Numbers count up from 1."""

    number: int
    message: str


class Shown:
    """The last good page, with what is to be said about the recipe as it stands.

    While the recipe is broken the page stays, but places are always those of the text as it is now.
    """

    def __init__(self, name: str) -> None:
        self._html: str | None = None
        self._page_number = 1
        self._page = preview_page(empty_page(name), self._page_number)
        self._steps: Mapping[str, str] = {}
        self._places: Mapping[str, Place] = {}
        self._news = News(0, "")
        self._changed = threading.Condition()
        self._followers, self._has_ended = 0, False

    def show(self, rebuilt: Rebuilt) -> None:
        """Show what a save came to, and tell it to every open page."""
        with self._changed:
            if rebuilt.html is not None and rebuilt.html != self._html:
                self._html = rebuilt.html
                self._page_number += 1
                self._page = preview_page(rebuilt.html, self._page_number)
            if rebuilt.html is not None:
                self._steps = rebuilt.steps
            self._places = {**rebuilt.places, **places_in(rebuilt.notes)}
            self._news = News(self._news.number + 1, self._message(rebuilt.notes))
            self._changed.notify_all()

    @property
    def page(self) -> bytes:
        with self._changed:
            return self._page

    def place(self, name: str) -> Place | None:
        """The place of a piece, of a section, of a step (`step 3`), or of a note by the place it shows."""
        with self._changed:
            return self._places.get(self._steps.get(name, name))

    def news_after(self, number: int, seconds: float) -> News | None:
        """The news after those of `number`; the same again where none come in time; None at the end."""
        with self._changed:
            self._changed.wait_for(lambda: self._has_ended or self._news.number > number, seconds)
            return None if self._has_ended else self._news

    @contextmanager
    def followed(self) -> Iterator[None]:
        """A page is open and waits for news."""
        with self._changed:
            self._followers += 1
        try:
            yield
        finally:
            with self._changed:
                self._followers -= 1
                self._changed.notify_all()

    def end(self) -> None:
        """Tell every open page that nothing more will come."""
        with self._changed:
            self._has_ended = True
            self._changed.notify_all()
            self._changed.wait_for(lambda: self._followers == 0, LAST_WORD)

    def _message(self, notes: tuple[Note, ...]) -> str:
        kind = "" if not notes else "warning" if all(each.is_warning for each in notes) else "error"
        return json.dumps({
            "page": self._page_number,
            "kind": kind,
            "headline": self._headline(notes),
            "notes": rows_of(notes),
        })  # fmt: skip

    def _headline(self, notes: tuple[Note, ...]) -> str:
        warnings = sum(each.is_warning for each in notes)
        errors = len(notes) - warnings
        said = [_counted(errors, "mistake"), _counted(warnings, "warning")]
        words = " and ".join(filter(None, said))
        if not errors:
            return words
        if self._html is None:
            return f"{words}: no sheet could be made yet"
        return f"{words}: this is the last sheet that could be made"


def _counted(number: int, thing: str) -> str:
    return "" if number == 0 else f"1 {thing}" if number == 1 else f"{number} {thing}s"
