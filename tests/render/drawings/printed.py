"""The pictures as a printed sheet shows them: at their size on the page, in colour or in grey."""

from collections.abc import Iterator

from cardrecipe.render.drawings import Drawing
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf_data import sheet_data
from tests.render.drawings.everything import Shown
from tests.render.drawings.read_back import picture, root


def printed(shown: Shown, printing: Printing) -> Iterator[tuple[Drawing, float]]:
    """Each picture of the sheet with the share of its own size at which it is printed."""
    seen = set()
    for part in _pictures(sheet_data(shown.sheet, shown.drawings, printing)):
        svg, width = str(part["svg"]), float(str(part["width"]))
        if svg in seen:
            continue
        seen.add(svg)
        box, title = picture(svg), root(svg)[0].text or ""
        own = box.right - box.left
        yield Drawing(title, title, str(part["alt"]), svg, own, box.bottom - box.top), width / own


def _pictures(data: object) -> Iterator[dict[str, object]]:
    if isinstance(data, dict):
        if "svg" in data and "width" in data:
            yield data
        for part in data.values():
            yield from _pictures(part)
    elif isinstance(data, list | tuple):
        for part in data:
            yield from _pictures(part)
