"""Marks that say which piece they are, so that a page can light it up and a test can find it."""

from functools import lru_cache

from cardrecipe.render.drawings.marks import Mark
from cardrecipe.render.drawings.shapes import KEPT
from cardrecipe.render.drawings.svg import Markup, escaped


@lru_cache(maxsize=KEPT)
def of_piece(mark: Mark, name: str) -> Mark:
    """The same mark with the piece's name on its last shape."""
    before, tag, after = mark.markup.rpartition("<path ")
    if not tag or after.startswith("data-piece="):
        return mark
    return mark._replace(markup=Markup(f'{before}{tag}data-piece="{escaped(name)}" {after}'))
