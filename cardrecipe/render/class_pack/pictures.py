"""The pictures of a class pack by name: `kit-A`, the finished card of each kit, and `sheet-1`, each way to
cut a sheet."""

from collections.abc import Iterator, Mapping

from cardrecipe.fold.folded import View
from cardrecipe.plan.class_sheet import ClassSheet, Kit
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import finished

Pictures = Mapping[str, Drawing]


def class_pictures(sheet: ClassSheet) -> dict[str, Drawing]:
    """Every picture that the pack shows; loose pieces have no finished card to show."""
    return {drawing.name: drawing for drawing in (*_cards(sheet), *_layouts(sheet))}


def _cards(sheet: ClassSheet) -> Iterator[Drawing]:
    for kit in sheet.kits:
        drawing = _finished(kit)
        if drawing is not None:
            yield drawing


def _finished(kit: Kit) -> Drawing | None:
    """The closed card from the front; where nothing is seen there but the base, the open one inside."""
    folded = kit.sheet.folded
    first = folded.views[0].base if folded.views else ""
    views = {view.name: view for view in folded.views if view.base == first}
    front, inside = views.get("closed-front"), views.get("open-inside")
    view = inside if inside is not None and front is not None and _is_bare(front) else front
    return finished(folded, view, f"kit-{kit.letter}") if view is not None else None


def _is_bare(view: View) -> bool:
    return all(part.section is not None for part in view.parts)


def _layouts(sheet: ClassSheet) -> Iterator[Drawing]:
    for paper in sheet.paper_plans:
        for layout in paper.layouts:
            yield sheet_drawing(sheet.card_of(paper.of.paper.name), paper, layout)
