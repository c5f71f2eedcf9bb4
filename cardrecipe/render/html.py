"""The sheet as one HTML file that needs nothing else: both unit systems, type and pictures inside.

It loads nothing, and says so itself: its content security policy allows the one style sheet and the
one script that stand in it, by their hashes. Text of a recipe is escaped wherever it is placed.
"""

import re
from base64 import b64encode
from collections.abc import Iterable, Mapping
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup, escape

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render import words
from cardrecipe.render.compact import Looks, same_words
from cardrecipe.render.prose import Block, Run, prose, shown, title_shown

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

PAGE_SIZES = {"letter": "8.5in 11in", "a4": "210mm 297mm"}
UNIT_NAMES = {"inch": "Inches", "mm": "Millimetres"}
WIDE_MM = 110.0  # a picture wider than this scrolls sideways on a small screen

_FRACTION = re.compile("[0-9]+\u2044[0-9]+")


class Version(NamedTuple):
    """The sheet in one unit system with its pictures as markup; `unit` also keeps ids apart."""

    unit: str
    unit_name: str
    sheet: Sheet
    pictures: dict[str, Markup]
    in_guide: frozenset[str]  # pictures that the score guide shows
    views: tuple[tuple[str, str], ...]  # of the finished card: picture and caption


def render_html(
    sheet: Sheet, pictures: Mapping[str, "Drawing"], other_pictures: Mapping[str, "Drawing"], page: str
) -> str:
    """The whole page; `page` ("letter" or "a4") is the paper it is printed on."""
    script, looks = _read("page.js"), Looks()
    versions = [_version(sheet, pictures, looks, frozenset())]
    if sheet.other is not None:
        shared = same_words(pictures, other_pictures).intersection(_used(sheet, pictures))
        versions.append(_version(sheet.other, other_pictures, looks, shared))
    style = _style(PAGE_SIZES[page]) + looks.css
    return _template().render(
        title=title_shown(sheet.title),
        variant=sheet.folded.card.variant or "",
        about=_blocks_html(prose(sheet.about_markdown, 2)),
        versions=versions,
        style=Markup(style),
        script=Markup(script),
        style_hash=_hash(style),
        script_hash=_hash(script),
        storage=f"cardrecipe: {sheet.title} / {sheet.folded.card.variant or ''}",
        words=words,
        tip_html=lambda tip: _blocks_html(prose(tip, 4)),
    )


def _version(
    sheet: Sheet, pictures: Mapping[str, "Drawing"], looks: Looks, shared: frozenset[str]
) -> Version:
    """One version; for the `shared` pictures the script brings over those of the other one."""
    unit = sheet.folded.card.unit
    in_guide = frozenset(f"score-{guide.piece}" for guide in sheet.scores)
    markup = {name: _picture(pictures[name], looks, name in shared) for name in _used(sheet, pictures)}
    views = tuple(view for view in words.shown_views(sheet.folded) if view[0] in markup)
    return Version(unit, UNIT_NAMES[unit], sheet, markup, in_guide, views)


def _used(sheet: Sheet, pictures: Mapping[str, "Drawing"]) -> list[str]:
    """The names of the pictures that the page shows, in its order."""
    scores = (f"score-{guide.piece}" for guide in sheet.scores)
    steps = (step.picture for step in sheet.steps)
    views = (name for name, _ in words.shown_views(sheet.folded))
    legend = words.shown_legend(sheet.folded)
    sheets = (each.picture for each in sheet.cutting)
    names = dict.fromkeys(("finished", *sheets, *scores, legend, *steps, *views))
    return [name for name in names if name in pictures]


def _picture(drawing: "Drawing", looks: Looks, is_shared: bool) -> Markup:
    """The drawing's own SVG in a box; a wide one may be moved sideways, by keyboard too."""
    svg = Markup() if is_shared else Markup(looks.small(drawing.svg))
    kind = Markup(' class="picture"')
    if drawing.width_mm > WIDE_MM:
        kind = Markup(' class="picture wide" tabindex="0" role="region" aria-label="{}"').format(
            shown(drawing.title)
        )
    return Markup('<div{} data-picture="{}">{}</div>').format(kind, drawing.name, svg)


def _text(value: object) -> Markup:
    """`value` escaped, with every fraction marked: the font's `frac` is for the fraction alone."""
    if isinstance(value, Markup):
        return value
    safe = str(escape(words.unbroken(shown(str(value)))))
    return Markup(_FRACTION.sub(r'<span class="fraction">\g<0></span>', safe))


def _attribute(value: object) -> Markup:
    """`value` escaped for an attribute or a title, where no markup can stand."""
    return escape(shown(str(value)))


@cache
def _template() -> Template:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, finalize=_text, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["attribute"] = _attribute
    return environment.from_string(_read("page.html.j2"))


def _read(name: str) -> str:
    return (files("cardrecipe.render") / "templates" / name).read_text(encoding="utf-8")


def _style(size: str) -> str:
    faces = "".join(
        f'@font-face{{font-family:"Nunito";font-weight:{weight};'
        f"src:url(data:font/woff2;base64,{_font(name)}) format('woff2')}}\n"
        for name, weight in (("Regular", 400), ("Bold", 700))
    )
    return f"{faces}@page{{size:{size}}}\n{_read('page.css')}"


def _font(name: str) -> str:
    path = files("cardrecipe.render") / "fonts" / f"Nunito-{name}.subset.woff2"
    return b64encode(path.read_bytes()).decode("ascii")


def _hash(text: str) -> str:
    return f"sha256-{b64encode(sha256(text.encode()).digest()).decode('ascii')}"


_TAGS = {"bullets": "ul", "numbers": "ol", "item": "li", "quote": "blockquote", "row": "tr"}


def _blocks_html(blocks: Iterable[Block]) -> Markup:
    return Markup("\n").join(map(_block_html, blocks))


def _block_html(block: Block) -> Markup:
    if block.kind == "rule":
        return Markup("<hr>")
    if block.kind == "code":
        return Markup("<pre>{}</pre>").format(block.text)
    if block.kind == "table":
        return _table_html(block)
    if block.kind in ("paragraph", "heading"):
        tag = "p" if block.kind == "paragraph" else f"h{block.level}"
        return Markup("<{0}>{1}</{0}>").format(Markup(tag), _runs_html(block.runs))
    start = Markup(' start="{}"').format(block.start) if block.start != 1 else Markup()
    inside = _blocks_html(block.blocks)
    return Markup("<{0}{1}>{2}</{0}>").format(Markup(_TAGS[block.kind]), start, inside)


def _table_html(block: Block) -> Markup:
    rows = (
        Markup("<tr>{}</tr>").format(
            Markup().join(
                Markup("<{0}>{1}</{0}>").format(Markup("td" if index else "th"), _runs_html(c.runs))
                for c in row.blocks
            )
        )
        for index, row in enumerate(block.blocks)
    )
    return Markup("<table>{}</table>").format(Markup("\n").join(rows))


_RUN_TAGS = {"strong": "strong", "emphasis": "em", "strike": "s"}


def _runs_html(runs: Iterable[Run]) -> Markup:
    return Markup().join(map(_run_html, runs))


def _run_html(run: Run) -> Markup:
    if run.kind == "break":
        return Markup("<br>")
    if run.kind == "code":
        return Markup("<code>{}</code>").format(run.text)
    if run.kind == "link":
        return Markup('<a href="{}" rel="noreferrer">{}</a>').format(run.href, _runs_html(run.runs))
    if run.kind in _RUN_TAGS:
        return Markup("<{0}>{1}</{0}>").format(Markup(_RUN_TAGS[run.kind]), _runs_html(run.runs))
    return _text(run.text)
