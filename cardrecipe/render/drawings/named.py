"""A name on paper, in ink that can be read there; on see-through paper it stands on a ground of its own."""

from cardrecipe.render.drawings.colors import ink_on
from cardrecipe.render.drawings.lettering import Lettering, label, label_box
from cardrecipe.render.drawings.marks import Mark
from cardrecipe.render.drawings.paint import Look
from cardrecipe.render.drawings.svg import element

AIR = 0.4  # mm of ground round the name


def name_on(look: Look, x: float, y: float, text: str, style: Lettering) -> list[Mark]:
    """`text` with its middle at (x, y), on paper that looks like that; what lies beneath may show through."""
    named = label(x, y, text, style._replace(color=ink_on(look.seen)))
    if look.opacity is None:
        return [named]
    box = label_box(x, y, text, style).grown(AIR)
    ground = element("rect", x=box.left, y=box.top, width=box.width, height=box.height, fill=look.seen)
    return [Mark(ground, box), named]
