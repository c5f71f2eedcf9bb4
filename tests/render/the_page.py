"""The HTML page taken apart for tests: its elements, its words, and what is packed in it for the script."""

import json
import re
import zlib
from base64 import b85decode
from html import unescape
from html.parser import HTMLParser
from typing import Any

VOID = {"meta", "input", "br", "hr"}
_HIDDEN = {"style", "script", "template"}


class Page(HTMLParser):
    """Elements with their attributes, and the text outside style, script and template."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self._open: list[str] = []
        self.feed(html)
        assert not self._open, f"{self._open} are never closed"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag, f"</{tag}> closes nothing"

    def handle_data(self, data: str) -> None:
        if not _HIDDEN.intersection(self._open):
            self.words.append(data)

    @property
    def text(self) -> str:
        """All text, without spaces."""
        return "".join("".join(self.words).split())

    @property
    def shape(self) -> list[tuple[str, tuple[str, ...]]]:
        return [(tag, tuple(attrs)) for tag, attrs in self.elements]


def unpacked(html: str) -> dict[str, Any]:
    """What the page has for its script: `style`, `script`, `folding`, `sums`, and perhaps `other`."""
    found = re.search(r'<template id="packed">(.*?)</template>', html)
    assert found
    letters = unescape(found[1]).translate(str.maketrans(".,", "&<"))
    value: dict[str, Any] = json.loads(zlib.decompress(b85decode(letters)))
    return value


def with_the_other(html: str) -> str:
    """The page as it is once the script has put the other version beside the first."""
    return html.replace("</main>", f"{unpacked(html).get('other', '')}</main>")
