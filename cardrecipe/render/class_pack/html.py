"""The sheet of a class as one HTML file that needs nothing else, to tick off on a phone or to print.

As the page of a card it loads nothing, and its content security policy says so. It is whole without
its script, which keeps the ticks.
"""

import re
from typing import Any

from markupsafe import Markup

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.class_pack import words as class_words
from cardrecipe.render.class_pack.labels import LabelGrid, label_grid, label_numbers, label_pages, labels
from cardrecipe.render.class_pack.pictures import Pictures
from cardrecipe.render.compact import Looks
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.html import blocks_html, picture_html, template
from cardrecipe.render.page_style import class_script, class_style, named_by_hash, page_style
from cardrecipe.render.papers import PAGES, Paper, Printing
from cardrecipe.render.prose import prose, title_shown
from cardrecipe.render.words import cut_so, sheet_heading, total_written

LINE = 0.4  # mm, at most, of the lines round all labels of a page
_OUTER = re.compile(r"^<svg [^>]*>(?:<title.*?</title>)?(?:<desc.*?</desc>)?(.*)</svg>\s*$", re.DOTALL)


def render_class_html(sheet: ClassSheet, pictures: Pictures, page: str) -> str:
    """The whole page; `page` ("letter" or "a4") is the paper it is printed on."""
    looks = Looks()
    layouts = {name: each for name, each in pictures.items() if name.startswith("sheet-")}
    of = label_grid(sheet.unit, PAGES[page], Printing(page))
    facts: dict[str, Any] = {
        "sheet": sheet,
        "title": title_shown(sheet.title),
        "about": blocks_html(prose(sheet.about_markdown, 2)),
        "cards": {kit.letter: pictures.get(f"kit-{kit.letter}") for kit in sheet.kits},
        "layouts": {name: picture_html(each, looks, False) for name, each in layouts.items()},
        "label_pages": label_pages(labels(sheet), of.across, of.on_a_page),
        "numbers": {kit.letter: label_numbers(kit) for kit in sheet.kits},
        "parts": _parts(sheet),
        "drawn_once": Markup().join(_symbol(each) for name, each in pictures.items() if name not in layouts),
        "patterns": Markup(looks.patterns),
        "words": class_words,
        "sheet_heading": sheet_heading,
        "cut_so": cut_so,
        "total_written": total_written,
        "titled": title_shown,
    }  # fmt: skip
    text = template("class_body.html.j2").render(facts)
    style = "".join(
        (page_style(page, f"{facts['title']}{text}"), class_style(), looks.css, _print_style(of, PAGES[page]))
    )
    return template("class.html.j2").render(
        facts,
        body=Markup(text),
        style=Markup(style),
        script=Markup(class_script()),
        style_hash=Markup(named_by_hash(style)),
        script_hash=Markup(named_by_hash(class_script())),
        storage=f"cardrecipe class: {sheet.title}",
    )


def _parts(sheet: ClassSheet) -> list[tuple[str, str]]:
    """What can be jumped to: its id and its name."""
    every = (
        ("kits", "The kits", sheet.kits),
        ("shopping", "Shopping list", sheet.shopping),
        ("prep", "Before the class", sheet.prep),
        ("plan", "Cutting plan", class_words.in_no_run(sheet)),
        ("bags", "Bags", sheet.bags),
        ("labels", "Labels", sheet.kits),
    )
    return [(part, name) for part, name, held in every if held]


def _symbol(drawing: Drawing) -> Markup:
    """A picture that the page shows many times, drawn once."""
    found = _OUTER.match(drawing.svg)
    assert found is not None
    box = re.search('viewBox="([^"]*)"', drawing.svg)
    assert box is not None
    parts = (drawing.name, Markup(box[1]), Markup(found[1]))
    return Markup('<symbol id="{}" viewBox="{}">{}</symbol>').format(*parts)


def _print_style(of: LabelGrid, paper: Paper) -> str:
    """The labels at their true size in the middle of the printed page, with room for the lines round them."""
    side = (paper.width - of.across * of.width - LINE) / 2
    top = (paper.height - of.down * of.height - LINE) / 2
    return (
        f"@page labels{{margin:{top:.2f}mm {side:.2f}mm}}"
        f"@media print{{.label{{width:{of.width:.2f}mm;height:{of.height:.2f}mm}}}}"
    )
