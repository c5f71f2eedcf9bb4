"""The sheet as one HTML file that needs nothing else: both unit systems, type and pictures inside.

It loads nothing, and says so itself: its content security policy allows the one style sheet and the
one script that stand in it, by their hashes. Text of a recipe is escaped wherever it is placed. The first
version of the sheet is there for every reader; the other one, and the sums, are packed for the script.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from jinja2 import Environment, StrictUndefined, Template
from markupsafe import Markup, escape

from cardrecipe.plan.sheet import Sheet
from cardrecipe.render import words
from cardrecipe.render.compact import Looks, same_words
from cardrecipe.render.folding_view import folding_view
from cardrecipe.render.packed import packed
from cardrecipe.render.page_style import (
    boot_script,
    live_style,
    named_by_hash,
    page_script,
    page_style,
    template_text,
)
from cardrecipe.render.prose import Block, Run, prose, shown, title_shown

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

UNIT_NAMES = {"inch": "Inches", "mm": "Millimetres"}
WIDE_MM = 110.0  # a picture wider than this scrolls sideways on a small screen

_QUOTED = re.compile(r"""( [a-z-]+)="([^\s"'=<>`/]+)"(?!/)""")


class Version(NamedTuple):
    """The sheet in one unit system with its pictures as markup; `unit` also keeps ids apart."""

    unit: str
    sheet: Sheet
    pictures: dict[str, Markup]
    in_guide: frozenset[str]  # pictures that the score guide shows
    views: tuple[tuple[str, str], ...]  # of the finished card: picture and caption
    lines: dict[str, int]  # of the recipe, by the pieces that it names there

    @property
    def parts(self) -> list[tuple[str, str]]:
        """What can be jumped to: the end of an id, and its name."""
        sheet = self.sheet
        all_parts = (
            ("supplies", "What you need", sheet.supplies),
            ("cuts", "Cut list", sheet.cuts),
            ("plan", "Cutting plan", sheet.cutting),
            ("scores", "Score guide", sheet.scores),
            ("steps", "Steps", sheet.steps),
            ("finished", "The finished card", self.views),
        )
        return [(part, name) for part, name, held in all_parts if held]


class Around(NamedTuple):
    """What stands before and after a version of the sheet, in a page that shows more than one card."""

    before: Markup = Markup()
    after: Markup = Markup()


def alone(_unit: str, _looks: Looks) -> Around:
    """Nothing round the sheet: it is all of the page."""
    return Around()


def render_html(
    sheet: Sheet,
    pictures: Mapping[str, "Drawing"],
    other_pictures: Mapping[str, "Drawing"],
    page: str,
    around: Callable[[str, Looks], Around] = alone,
    more_style: str = "",
) -> str:
    """The whole page; `page` ("letter" or "a4") is the paper it is printed on. `around` gives what else is
    shown in a unit, with pictures of the same looks; `more_style` is the style sheet of that."""
    looks, folding = Looks(), folding_view(sheet)
    place = Markup() if folding is not None else None  # filled by the script, which alone can fold
    unit = sheet.folded.card.unit
    first = _version_html(_version(sheet, pictures, looks, frozenset()), place, around(unit, looks))
    live, script = live_style(), page_script()
    units = [unit]
    hidden: dict[str, Any] = {"style": live, "script": script, "folding": folding or ""}
    hidden["sums"] = {units[0]: _sums(sheet)}
    if sheet.other is not None:
        shared = same_words(pictures, other_pictures).intersection(_used(sheet, pictures))
        other = _version(sheet.other, other_pictures, looks, shared)
        hidden["other"] = _version_html(other, place, around(other.unit, looks), is_first=False)
        hidden["sums"][other.unit] = _sums(sheet.other)
        units.append(other.unit)
    hidden["pieces"] = list(looks.pieces)
    title, variant = title_shown(sheet.title), sheet.folded.card.variant or ""
    about = blocks_html(prose(sheet.about_markdown, 2))
    patterns = Markup(looks.patterns)  # before `css`: they have looks too
    style = page_style(page, f"{title}{variant}{about}{first}{hidden}") + more_style + looks.css
    return template("page.html.j2").render(
        title=title,
        variant=variant,
        about=about,
        units=[(unit, UNIT_NAMES[unit]) for unit in units],
        first=first,
        packed=packed(hidden),
        patterns=patterns,
        style=Markup(style),
        script=Markup(boot_script()),
        style_hashes=Markup(" ".join(map(named_by_hash, (style, live)))),
        script_hashes=Markup(" ".join(map(named_by_hash, (boot_script(), script)))),
        storage=f"cardrecipe: {sheet.title} / {variant}",
    )


def _version_html(
    version: Version, folding: Markup | None, around: Around, is_first: bool = True
) -> Markup:
    """One version of the sheet; `folding` is the place of the card that folds, empty in the second."""
    html = template("version.html.j2").render(
        version=version,
        is_first=is_first,
        folding=folding,
        around=around,
        words=words,
        tip_html=lambda tip: blocks_html(prose(tip, 4)),
    )
    return tight_html(html)


def tight_html(html: str) -> Markup:
    """The same page in fewer bytes. Between two tags no blank of a template is seen; a quote in a text is
    escaped, so that those which go are of tags."""
    return Markup(_QUOTED.sub(r"\1=\2", html.replace(">\n<", "><")))


def _sums(sheet: Sheet) -> dict[str, Any]:
    """For each piece its sums, of width and height, as the script reads them."""
    return {each.piece: [each.width, each.height] for each in sheet.sums}


def _version(
    sheet: Sheet, pictures: Mapping[str, "Drawing"], looks: Looks, shared: frozenset[str]
) -> Version:
    """One version; for the `shared` pictures the script brings over those of the other one."""
    unit = sheet.folded.card.unit
    in_guide = frozenset(f"score-{guide.piece}" for guide in sheet.scores)
    markup = {name: picture_html(pictures[name], looks, name in shared) for name in _used(sheet, pictures)}
    views = tuple(view for view in words.shown_views(sheet.folded) if view[0] in markup)
    lines = {each.piece: each.line for each in sheet.sums if each.line}
    return Version(unit, sheet, markup, in_guide, views, lines)


def _used(sheet: Sheet, pictures: Mapping[str, "Drawing"]) -> list[str]:
    """The names of the pictures that the page shows, in its order."""
    scores = (f"score-{guide.piece}" for guide in sheet.scores)
    steps = (step.picture for step in sheet.steps)
    views = (name for name, _ in words.shown_views(sheet.folded))
    legend = words.shown_legend(sheet.folded)
    sheets = (each.picture for each in sheet.cutting)
    names = dict.fromkeys(("finished", *sheets, *scores, legend, *steps, *views))
    return [name for name in names if name in pictures]


def picture_html(drawing: "Drawing", looks: Looks, is_shared: bool) -> Markup:
    """The drawing's own SVG in a box; a wide one may be moved sideways, by keyboard too."""
    svg = Markup() if is_shared else Markup(looks.small(drawing.svg))
    kind = Markup(' class="picture"')
    if drawing.width_mm > WIDE_MM:
        kind = Markup(' class="picture wide" tabindex="0" role="group" aria-label="{}"').format(
            shown(drawing.title)
        )
    return Markup('<div{} data-picture="{}">{}</div>').format(kind, drawing.name, svg)


def _text(value: object) -> Markup:
    """`value` escaped; text shapers set a fraction as one by themselves, for others the script marks it."""
    return value if isinstance(value, Markup) else escape(words.unbroken(shown(str(value))))


def _attribute(value: object) -> Markup:
    """`value` escaped for an attribute or a title, where no markup can stand."""
    return escape(shown(str(value)))


@cache
def template(name: str) -> Template:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, finalize=_text, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["attribute"] = _attribute
    return environment.from_string(template_text(name))


_TAGS = {"bullets": "ul", "numbers": "ol", "item": "li", "quote": "blockquote", "row": "tr"}


def blocks_html(blocks: Iterable[Block]) -> Markup:
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
    inside = blocks_html(block.blocks)
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
