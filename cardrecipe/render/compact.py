"""Drawings made small for one HTML page: looks that repeat become classes of its style sheet.

A drawing by itself states every look as attributes, so that any reader shows it. Some dozen of them
in one page say the same few looks a thousand times; CSS says each once.
"""

import re
from collections.abc import Mapping
from itertools import groupby
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

_LOOK = (
    "fill|fill-opacity|fill-rule|stroke|stroke-width|stroke-dasharray|stroke-linecap"
    "|stroke-linejoin|stroke-opacity|opacity|font-family|font-size|font-weight|font-style|text-anchor"
)
_ATTRIBUTE = re.compile(f' ({_LOOK})="([^"&]*)"')
_TAG = re.compile(r"<[a-z]+[^<>]*>")
# A picture's title and description name it without pointing at them (SVG accessibility mappings).
_NEEDLESS = re.compile(
    r' (?:xmlns|aria-(?:labelledby|describedby))="[^"]*"|(?<=<title) id="[^"]*"'
    r'|(?<=<desc) id="[^"]*"'
)
_NUMBER = re.compile(r"-?\d+\.\d+")
_PATH_DATA = re.compile(r' (?:d|x|y|x1|x2|y1|y2|cx|cy|transform)="[^"]*"')
_TEXT = re.compile(r"<text[^>]*>(.*?)</text>", re.DOTALL)
_PATHS = re.compile(r'(?:<path d="[^"]*" class="k\d+"/>){2,}')
_PATH = re.compile(r'<path d="([^"]*)" class="(k\d+)"/>')
_MARKUP = re.compile(r"<[^>]*>")
DECIMALS = 2  # of a mm: a hundredth is a twenty-fifth of a pixel


class Looks:
    """The classes of one page, in the order in which their looks are met first."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}
        self._colors: dict[str, str | None] = {}

    def small(self, svg: str) -> str:
        """`svg` with classes for its looks; it is right only beside `css`."""
        bare = _NEEDLESS.sub("", svg.strip())
        short = _PATH_DATA.sub(lambda data: _rounded(data[0]), bare)
        return _PATHS.sub(self._joined, _TAG.sub(self._with_class, short))

    @property
    def css(self) -> str:
        """One rule for each look."""
        return "".join(f".{name}{{{look}}}" for look, name in self._names.items())

    def _joined(self, paths: re.Match[str]) -> str:
        """Neighbouring paths in one colour, whose order cannot be seen, as one path for each look."""
        made: list[str] = []
        for color, same in groupby(_PATH.findall(paths[0]), lambda path: self._colors[path[1]]):
            if color is None:
                made += [_path(*path) for path in same]
                continue
            by_look: dict[str, list[str]] = {}
            for data, name in same:
                by_look.setdefault(name, []).append(data)
            made += [_path("".join(data), name) for name, data in by_look.items()]
        return "".join(made)

    def _with_class(self, tag: re.Match[str]) -> str:
        found = [pair for pair in _ATTRIBUTE.findall(tag[0]) if "url(" not in pair[1]]
        if not found:
            return tag[0]
        name = self._name(";".join(_declared(*pair) for pair in found))
        bare = _ATTRIBUTE.sub(lambda at: at[0] if "url(" in at[2] else "", tag[0])
        end = "/>" if bare.endswith("/>") else ">"
        return f'{bare[: -len(end)]} class="{name}"{end}'

    def _name(self, look: str) -> str:
        if look not in self._names:
            self._names[look] = f"k{len(self._names)}"
            self._colors[self._names[look]] = _one_color(look)
        return self._names[look]


def same_words(pictures: Mapping[str, "Drawing"], others: Mapping[str, "Drawing"]) -> frozenset[str]:
    """The pictures that say the same in both unit systems: one of the two will do for both."""
    return frozenset(
        name
        for name in pictures.keys() & others.keys()
        if words(pictures[name].svg) == words(others[name].svg)
    )


def words(svg: str) -> list[str]:
    """What is written in a drawing, text by text."""
    return [_MARKUP.sub("", text) for text in _TEXT.findall(svg)]


def _one_color(look: str) -> str | None:
    """The colour of a look that is one opaque line or one opaque area; None for any other."""
    said = dict(part.split(":", 1) for part in look.split(";"))
    if any(name.endswith("opacity") for name in said):
        return None
    fill, stroke = said.get("fill", ""), said.get("stroke", "none")
    if fill != "none" and (stroke != "none" or "fill-rule" in said):
        return None
    return stroke if fill == "none" else fill


def _path(data: str, name: str) -> str:
    return f'<path d="{data}" class="{name}"/>'


def _declared(attribute: str, value: str) -> str:
    unit = "px" if attribute == "font-size" else ""
    return f"{attribute}:{value}{unit}"


def _rounded(data: str) -> str:
    return _NUMBER.sub(lambda found: _short(float(found[0])), data)


def _short(value: float) -> str:
    text = f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("0.", ".", 1) if abs(value) < 1 else text
