"""The pictures of a class pack by name: `kit-A`, the finished card of each kit, and `sheet-1`, each way to
cut a sheet."""

from collections.abc import Iterator, Mapping

from cardrecipe.fold.folded import View
from cardrecipe.plan.classes.sheet import ClassSheet, Kit
from cardrecipe.plan.cutting.card_plans import NumberedLayout
from cardrecipe.plan.cutting.cut_list import letters
from cardrecipe.plan.cutting.job import blanks_in
from cardrecipe.plan.cutting.paper_jobs import has_margin
from cardrecipe.render.drawings.cut_sheets import sheet_drawing
from cardrecipe.render.drawings.sizes import COLUMN
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.drawings.views import finished
from cardrecipe.solve.sized import SizedCard

Pictures = Mapping[str, Drawing]
THIRD = 56.5  # mm: three stand side by side on A4 and on Letter
FEW_STRIPS = 6  # with the sheet itself: what has more letters is drawn larger


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
            card = sheet.card_of(paper.of.paper.name)
            yield sheet_drawing(card, paper, layout, widest=_widest(card, layout))


def _widest(card: SizedCard, layout: NumberedLayout) -> float:
    """Many letters, and names within shapes, need more room."""
    root = layout.layout.root
    is_plain = not any(has_margin(card.piece(name)) for name in blanks_in(root))
    return THIRD if is_plain and len(letters(root)) <= FEW_STRIPS else COLUMN
