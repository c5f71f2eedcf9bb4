"""Drawings made small for one HTML page: looks that repeat become classes of its style sheet, lines are
written from point to point, and nothing is quoted that needs no quotes.

A drawing by itself states every look as attributes, so that any reader shows it. Some dozen of them
in one page say the same few looks a thousand times; CSS says each once.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from html import unescape
from itertools import groupby
from string import ascii_uppercase
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.render.short_paths import measured, short_path, short_transform, whole

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

_LOOKS = frozenset((
    "fill", "fill-opacity", "fill-rule", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap",
    "stroke-linejoin", "stroke-opacity", "opacity", "font-family", "font-size", "font-weight", "font-style",
    "text-anchor",
))  # fmt: skip
# A picture's title and description name it without pointing at them (SVG accessibility mappings).
_NEEDLESS = {"svg": ("xmlns", "aria-labelledby", "aria-describedby"), "title": ("id",), "desc": ("id",)}
_PLACES = frozenset(("x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "dx", "dy", "width", "height", "points",
                     "viewBox"))  # fmt: skip
_SIZES = frozenset(("r", "rx", "ry", "stroke-width", "stroke-dasharray", "font-size"))
_TRANSFORMS = frozenset(("transform", "patternTransform"))
# What nearly all lettering and paper is, said once; what one does not say itself is as SVG has it.
_RULES = {
    "text": {"font-family": "Nunito, sans-serif", "font-weight": "400", "text-anchor": "middle"},
    "path": {"fill-rule": "evenodd"},
}
_USUAL = {"text": {"font-weight": "400", "text-anchor": "start"}, "path": {"fill-rule": "nonzero"}}
_TAG = re.compile(r"<text((?: [^<>]*)?)>([^<]*)</text>|<([a-z]+)((?: [^<>]*?)?)(/?)>")
_ATTRIBUTE = re.compile(r' ([\w:-]+)="([^"]*)"')
_TEXT = re.compile(r"<text[^>]*>(.*?)</text>", re.DOTALL)
_MARKUP = re.compile(r"<[^>]*>")
_BARE = re.compile(r"[^\s\"'=<>`]+")  # HTML: attribute values that need no quotes
# Pattern by pattern of one motif: only their places differ.
_PATTERN = re.compile(
    r'<defs><pattern id="([^"]*)" (width="[^"]*" height="[^"]*" patternUnits="userSpaceOnUse")'
    r' patternTransform="([^"]*)">(.*?)</pattern></defs>'
)
# A shadow is one shape three times; what is drawn again is only told where.
_AGAIN = re.compile(
    r'<path d="([^"]*)"([^<>]*) transform="translate\(([\d.]+) ([\d.]+)\)"/>'
    r'((?:<path d="\1"\2 transform="translate\([\d.]+ [\d.]+\)"/>)+)'
)
_MOVED = re.compile(r"translate\(([\d.]+) ([\d.]+)\)")
_FILLED = re.compile(r'"url\(#([^"]*)\)"')
_TURNED = re.compile(r"rotate\((.+),(.+),(.+)\)")
_SHORT_COLOR = re.compile(r"#(.)\1(.)\2(.)\3\b")


class _Path(NamedTuple):
    """A path with nothing but its look."""

    data: str
    look: str


class _Lettering(NamedTuple):
    """A text, written short."""

    markup: str


_Part = str | _Path | _Lettering


class _Tag(NamedTuple):
    """A tag taken apart: its look, its path data, whose piece it is, and what else it says, written short."""

    look: str
    data: str
    piece: str
    said: str


class Looks:
    """The classes of one page, in the order in which their looks are met first."""

    def __init__(self) -> None:
        self._names: dict[str, str] = {}
        self._colors: dict[str, str | None] = {}
        self._motifs: dict[tuple[str, str], str] = {}
        self._shapes = 0
        self._made: dict[str, str | _Path] = {}  # of tags that were met before: most are, step after step
        self._ids: dict[str, str] = {}  # of patterns: theirs are long
        self.pieces: dict[str, int] = {}  # the number that stands for a piece's name in the drawings

    def small(self, svg: str) -> str:
        """`svg` with classes for its looks; it is right only beside `css` and `patterns`, in an HTML page."""
        own = _AGAIN.sub(self._again, _PATTERN.sub(self._pattern, svg.strip()))
        return self._short(_FILLED.sub(lambda found: f'"url(#{self._ids.get(found[1], found[1])})"', own))

    @property
    def patterns(self) -> str:
        """The motifs that the patterns of the drawings repeat."""
        return "".join(
            self._short(f'<pattern id="{name}" {size}>{motif}</pattern>')
            for (size, motif), name in self._motifs.items()
        )

    @property
    def css(self) -> str:
        """One rule for each look."""
        common = (f"svg {name}{{{_look(rule)}}}" for name, rule in _RULES.items())
        rules = "".join(f".{name}{{{look}}}" for look, name in self._names.items())
        return "".join(common) + _SHORT_COLOR.sub(r"#\1\2\3", rules)

    def _short(self, svg: str) -> str:
        return "".join(map(_written, self._joined(self._parts(svg))))

    def _pattern(self, found: re.Match[str]) -> str:
        motif = self._motifs.setdefault((found[2], found[4]), f"motif-{len(self._motifs)}")
        own = self._ids[found[1]] = f"p{len(self._ids)}"
        return f'<pattern id="{own}" href="#{motif}" patternTransform="{found[3]}"/>'

    def _again(self, found: re.Match[str]) -> str:
        data, look, right, down, more = found.groups()
        self._shapes += 1
        own = f"s{self._shapes}"
        first = f'<path id="{own}" d="{data}"{look} transform="translate({right} {down})"/>'
        uses = (
            f'<use href="#{own}" x="{float(x) - float(right):.3f}" y="{float(y) - float(down):.3f}"/>'
            for x, y in _MOVED.findall(more)
        )
        return first + "".join(uses)

    def _parts(self, svg: str) -> Iterator[_Part]:
        """The tags of a drawing, its lettering, and the text between them, in order."""
        end = 0
        for tag in _TAG.finditer(svg):
            if tag.start() > end:
                yield svg[end : tag.start()]
            end = tag.end()
            if tag[3]:
                part = self._made.get(tag[0])
                if part is None:
                    part = self._made[tag[0]] = self._part(tag[3], tag[4], tag[5])
                yield part
            else:
                yield _Lettering(f"{self._tag('text', tag[1], '')}{tag[2]}</text>")
        yield svg[end:]

    def _part(self, name: str, attributes: str, closed: str) -> str | _Path:
        tag = _read(name, attributes)
        if name == "path" and closed and tag.look and tag.data and not tag.said and not tag.piece:
            return _Path(tag.data, self._name(tag.look))
        return self._tag(name, attributes, closed)

    def _tag(self, name: str, attributes: str, closed: str) -> str:
        tag = _read(name, attributes)
        said = tag.said + (f" class={self._name(tag.look)}" if tag.look else "")
        if tag.piece:
            said += f" data-p={self.pieces.setdefault(tag.piece, len(self.pieces))}"
        if tag.data:
            said += f" d={short_path(tag.data)}"
        # A slash right behind a value without quotes would belong to the value.
        apart = " " if closed and said and not said.endswith('"') else ""
        return f"<{name}{said}{apart}{closed}>"

    def _joined(self, parts: Iterator[_Part]) -> Iterator[_Part]:
        """Neighbouring paths in one colour, whose order cannot be seen, as one path for each look.

        Lettering among them is written after them: no line is ever meant to hide a letter.
        """
        run: list[_Path | _Lettering] = []
        for part in parts:
            if isinstance(part, _Lettering) or (isinstance(part, _Path) and self._colors[part.look]):
                run.append(part)
                continue
            yield from self._run(run)
            run = []
            yield part
        yield from self._run(run)

    def _run(self, run: list[_Path | _Lettering]) -> Iterator[_Part]:
        paths = (part for part in run if isinstance(part, _Path))
        for _, same in groupby(paths, lambda path: self._colors[path.look]):
            by_look: dict[str, list[str]] = {}
            for path in same:
                by_look.setdefault(path.look, []).append(path.data)
            yield from (_Path("".join(data), look) for look, data in by_look.items())
        yield from (part for part in run if isinstance(part, _Lettering))

    def _name(self, look: str) -> str:
        if look not in self._names:
            self._names[look] = _class_name(len(self._names))
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


def _written(part: _Part) -> str:
    if isinstance(part, _Path):
        return f"<path class={part.look} d={short_path(part.data)} />"
    return part if isinstance(part, str) else part.markup


@lru_cache(maxsize=1 << 14)
def _read(name: str, attributes: str) -> _Tag:
    looks, kept = dict(_USUAL.get(name, {})), dict[str, str]()
    for each, value in _ATTRIBUTE.findall(attributes):
        if each in _LOOKS and "url(" not in value:
            looks[each] = measured(value) if each in _SIZES else value
        elif each not in _NEEDLESS.get(name, ()):
            kept[each] = _in_units(each, value)
    if name == "text":
        _turn_in_place(kept)
    if looks.get("fill") == "none":
        looks.pop("fill-rule", None)
    rule = _RULES.get(name, {})
    look = _look({each: value for each, value in looks.items() if rule.get(each) != value})
    data, piece = kept.pop("d", ""), unescape(kept.pop("data-piece", ""))
    return _Tag(look, data, piece, "".join(map(_attribute, kept.items())))


def _in_units(attribute: str, value: str) -> str:
    if value.endswith("mm"):  # the picture itself keeps its size on the page
        return f"{float(value[:-2]):.4g}mm"
    if attribute in _PLACES:
        return whole(value)
    if attribute in _TRANSFORMS:
        return short_transform(value)
    return measured(value) if attribute in _SIZES else value


def _turn_in_place(attributes: dict[str, str]) -> None:
    """A text turned about its own place: its place moves into the turn."""
    turned = _TURNED.fullmatch(attributes.get("transform", ""))
    if turned and (attributes.get("x"), attributes.get("y")) == (turned[2], turned[3]):
        del attributes["x"], attributes["y"]
        attributes["transform"] = f"translate({turned[2]},{turned[3]})rotate({turned[1]})"


@lru_cache(maxsize=512)
def _one_color(look: str) -> str | None:
    """The colour of a look that is one opaque line or one opaque area; None for any other."""
    said = dict(part.split(":", 1) for part in look.split(";"))
    if any(name.endswith("opacity") for name in said):
        return None
    fill, stroke = said.get("fill", ""), said.get("stroke", "none")
    if fill != "none" and (stroke != "none" or said.get("fill-rule") != "nonzero"):
        return None
    return stroke if fill == "none" else fill


def _class_name(number: int) -> str:
    """A, B, …, Z, A0, A1, …: the page's own classes begin with small letters."""
    more, first = divmod(number, len(ascii_uppercase))
    return ascii_uppercase[first] + (str(more - 1) if more else "")


def _attribute(pair: tuple[str, str]) -> str:
    name, value = pair
    return f" {name}={value}" if _BARE.fullmatch(value) else f' {name}="{value}"'


def _look(attributes: Mapping[str, str]) -> str:
    return ";".join(_declared(*pair) for pair in attributes.items())


def _declared(attribute: str, value: str) -> str:
    unit = "px" if attribute == "font-size" else ""
    return f"{attribute}:{value}{unit}"
