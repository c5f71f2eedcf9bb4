"""The one SVG emitter: elements to text, escaped, with numbers written the same way everywhere.

Only what browsers and typst both draw is used: shapes, paths, text with tspans, patterns and
transforms; no style sheets, filters, markers or foreign objects.
"""

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple, NewType

Markup = NewType("Markup", str)
Value = str | float | Fraction | None
XY = tuple[float, float]

_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")  # XML 1.0, 2.2

_SPECIAL = re.compile(f'[&<>"]|{_FORBIDDEN.pattern}')


class Drawing(NamedTuple):
    """A finished picture; `svg` states its true width and height in mm."""

    name: str
    title: str
    description: str
    svg: str
    width_mm: float
    height_mm: float


def escaped(text: str) -> Markup:
    """`text` as character data or an attribute's value; characters that XML forbids are dropped."""
    if not _SPECIAL.search(text):
        return Markup(text)
    safe = _FORBIDDEN.sub("", text).replace("&", "&amp;").replace("<", "&lt;")
    return Markup(safe.replace(">", "&gt;").replace('"', "&quot;"))


def number(value: float | Fraction) -> str:
    """`value` with at most three decimals and no trailing zeros: a thousandth of a mm."""
    text = f"{float(value):.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def element(tag: str, *children: Markup, **attributes: Value) -> Markup:
    """One element; `stroke_width=0.35` becomes `stroke-width="0.35"`, None leaves one out."""
    opened = tag + "".join(
        f' {name.rstrip("_").replace("_", "-")}="{_written(value)}"'
        for name, value in attributes.items()
        if value is not None
    )
    if not children:
        return Markup(f"<{opened}/>")
    return Markup(f"<{opened}>{''.join(children)}</{tag}>")


def ring(points: Iterable[XY]) -> str:
    """Path data of the closed polygon through `points`."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"


def line(points: Iterable[XY]) -> str:
    """Path data of the open line through `points`."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def document(
    name: str,
    title: str,
    description: str,
    view: tuple[float, float, float, float],
    body: Iterable[Markup],
    id_prefix: str,
) -> Drawing:
    """A whole picture of the mm rectangle `view` (left, top, width, height).

    `id_prefix` keeps ids apart where several pictures stand in one page.
    """
    left, top, width, height = (round(value, 3) for value in view)
    base = f"{id_prefix}{name}"
    content = (
        element("title", escaped(title), id=f"{base}-title"),
        element("desc", escaped(description), id=f"{base}-desc"),
        *body,
    )
    opened = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}mm" '
        f'height="{number(height)}mm" viewBox="{number(left)} {number(top)} {number(width)} '
        f'{number(height)}" role="img" aria-labelledby="{escaped(base)}-title" '
        f'aria-describedby="{escaped(base)}-desc">'
    )
    svg = opened + "".join(content) + "</svg>\n"
    return Drawing(name, title, description, svg, width, height)


def _written(value: str | float | Fraction) -> str:
    return escaped(value) if isinstance(value, str) else number(value)
