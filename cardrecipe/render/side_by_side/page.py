"""The page of a diff: what changed for the maker as a list, and both cards drawn side by side.

It is one file without a script; its content security policy allows its one style sheet alone.
"""

from typing import NamedTuple

from markupsafe import Markup

from cardrecipe.compare.changes import Comparison, Side
from cardrecipe.compare.telling import heading, in_short, told
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.words import capital
from cardrecipe.render.compact import Looks
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.html import picture_html, template
from cardrecipe.render.page_style import named_by_hash, page_style, style_of
from cardrecipe.render.prose import title_shown
from cardrecipe.render.side_by_side.pairs import (
    Changed,
    Pair,
    changed_pieces,
    layout_pairs,
    piece_pairs,
    view_pairs,
)

PAPER_OF = {"inch": "letter", "mm": "a4"}  # that the page is printed on


class _Drawn(NamedTuple):
    """A pair as markup; a side is "" where it has no drawing."""

    title: str
    number: int  # 0 where it has none
    kinds: tuple[str, ...]
    old: Markup
    new: Markup


def render_side_by_side(old: Sheet, new: Sheet, comparison: Comparison) -> str:
    """The whole page; where nothing changed it says so and shows the card once."""
    looks, title = Looks(), title_shown(capital(heading(comparison)))
    pieces = changed_pieces(comparison.changes)
    views = [_drawn(pair, looks) for pair in view_pairs(old, new, pieces)]
    changed = [_drawn(pair, looks, each) for each, pair in piece_pairs(old, new, pieces)]
    layouts = [_drawn(pair, looks) for pair in layout_pairs(old, new, pieces)]
    body = template("side_by_side.html.j2").render(
        title=title,
        sides=(("Before", _named(comparison.old)), ("After", _named(comparison.new))),
        in_short=in_short(comparison),
        parts=told(comparison),
        pieces=pieces,
        views=views,
        changed=changed,
        layouts=layouts,
        line=_line,
    )
    patterns = Markup(looks.patterns)  # before `css`: they have looks too
    style = page_style(PAPER_OF[new.folded.card.unit], body) + style_of("side_by_side.css") + looks.css
    return template("side_by_side_frame.html.j2").render(
        title=title,
        style=Markup(style),
        style_hash=Markup(named_by_hash(style)),
        body=Markup(body),
        patterns=patterns,
    )


def _named(side: Side) -> str:
    """A side as its maker calls it: the file, and the variant where it is one."""
    return f"{side.file}, variant {side.variant}" if side.variant else side.file


def _drawn(pair: Pair, looks: Looks, of: Changed | None = None) -> _Drawn:
    number, kinds = (of.number, of.kinds) if of is not None else (0, ())
    return _Drawn(pair.title, number, kinds, _markup(pair.old, looks), _markup(pair.new, looks))


def _markup(drawing: Drawing | None, looks: Looks) -> Markup:
    return picture_html(drawing, looks, False) if drawing is not None else Markup()


def _line(text: str) -> tuple[str, str]:
    """A line of the list in two: the thing that it is about, and what is said of it."""
    thing, colon, rest = text.partition(": ")
    return (thing + colon, rest) if colon else (text, "")
