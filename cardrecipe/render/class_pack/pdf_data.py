"""The sheet of a class as plain data for the typst templates, as `render.pdf_data` does it for a card."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cardrecipe.plan.class_sheet import Bag, BagLine, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.plan.entries import SupplyLine
from cardrecipe.render.class_pack.labels import Label, LabelGrid, label_grid, labels
from cardrecipe.render.class_pack.words import (
    PLAN_NOTE,
    PREP_NOTE,
    bags_written,
    by_tool,
    clock,
    grouped_shopping,
    how_to_make,
    kits_written,
    lasting,
    notes_written,
    seats_written,
    shopping_columns,
    span_written,
    task_told,
    times_written,
    tool_written,
)
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.pdf_data import LABELS, Data, Setting, page_data
from cardrecipe.render.printed.fitted import fitted, fitted_list
from cardrecipe.render.printed.grey import grey_pictures
from cardrecipe.render.printed.layouts import layouts
from cardrecipe.render.printed.lists import Swatches, swatches
from cardrecipe.render.printed.look import grid, line_height, type_scale
from cardrecipe.render.printed.markdown_data import blocks_data
from cardrecipe.render.printed.pictures import PictureRoom, picture, width_of
from cardrecipe.render.prose import prose, title_shown
from cardrecipe.render.words import piece_written, total_written

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Pictures = Mapping[str, "Drawing"]
KIT_ROOM = (34.0, 27.0)  # mm of a small picture of the finished card
LABEL_PICTURE = 0.32  # of a label's width
LABEL_PADDING = 4.0  # mm
LABEL_GUTTER = 3.0  # mm between its picture and its words
LABEL_WHITE = 6.0  # mm between its number, title, list and name
TITLE_LINES = 2
BAG_LINES_IN_ONE_BLOCK = 24  # more than this may be broken over pages
TASK_LINES_IN_ONE_BLOCK = 5


def class_data(sheet: ClassSheet, pictures: Pictures, printing: Printing) -> Data:
    """All that the templates of a class show."""
    paper = PAGES[printing.page]
    if printing.in_grey:
        pictures = _in_grey(sheet, pictures)
    setting = Setting(paper, printing, grid(paper, printing), type_scale(printing), pictures)
    return {
        **page_data(setting),
        "title": title_shown(sheet.title),
        "about": blocks_data(prose(sheet.about_markdown, 2)),
        "facts": [[fact.label, fact.value] for fact in sheet.facts],
        "label_column": LABELS[printing.is_large],
        "kits": [_kit(kit, setting) for kit in sheet.kits],
        **_shopping(sheet, setting),
        "cautions": list(sheet.cautions),
        "notes": list(sheet.notes),
        "prep_note": PREP_NOTE,
        "prep": [_run(tool, tasks, sheet) for tool, tasks in by_tool(sheet.prep)],
        **_cutting(sheet, setting),
        "bags": [_bag(bag, setting) for bag in sheet.bags],
        "labels": _labels(sheet, setting),
    }


def _in_grey(sheet: ClassSheet, pictures: Pictures) -> Pictures:
    """Each card is hatched by its own papers, a sheet by those of the class."""
    made = dict(grey_pictures(pictures, sheet.card))
    for kit in sheet.kits:
        name = f"kit-{kit.letter}"
        own = {name: pictures[name]} if name in pictures else {}
        made |= grey_pictures(own, kit.sheet.folded.card)
    return made


def _kit(kit: Kit, setting: Setting) -> Data:
    growth = 1.4 if setting.printing.is_large else 1.0
    room = PictureRoom(KIT_ROOM[0] * growth, KIT_ROOM[1] * growth)
    return {
        "letter": kit.letter,
        "title": title_shown(kit.title),
        "seats": seats_written(kit),
        "how": how_to_make(kit),
        "picture": picture(setting.pictures.get(f"kit-{kit.letter}"), room),
    }


def _shopping(sheet: ClassSheet, setting: Setting) -> Data:
    looks = swatches(sheet.card, setting.printing.in_grey)
    return {
        "shopping": [
            {"title": title, "lines": [_to_get(line, sheet, looks) for line in lines]}
            for title, lines in grouped_shopping(sheet.shopping)
        ],
        "shopping_columns": shopping_columns(sheet.shopping),
        "cost": sheet.cost,
    }


def _to_get(line: ShoppingLine, sheet: ClassSheet, looks: Swatches) -> Data:
    supply = SupplyLine(line.kind, line.title, "")
    return {
        "title": line.title,
        "used_for": kits_written(line.used_for, sheet.kits),
        "swatch": looks.of_line(supply),
        "need": line.need,
        "have": line.have,
        "buy": line.buy,
        "cost": line.cost,
    }


def _run(tool: str, tasks: Sequence[PrepTask], sheet: ClassSheet) -> Data:
    return {
        "tool": tool_written(tool),
        "span": span_written(tasks),
        "tasks": [
            {
                "clock": clock(task.starts),
                "set": bool(task.setting),
                "text": task.text,
                "lines": list(task.lines),
                "whole": len(task.lines) <= TASK_LINES_IN_ONE_BLOCK,
                "amount": task.amount,
                "takes": lasting(task.minutes),
                "kits": _for(kits_written(task.kits, sheet.kits)),
                "told": task_told(task, sheet.kits),
            }
            for task in tasks
        ],
    }


def _for(kits: str) -> str:
    return f"for {kits}" if kits else ""


def _cutting(sheet: ClassSheet, setting: Setting) -> Data:
    around = setting.grid
    ways = layouts(sheet.cutting, setting.pictures, around, setting.scale, setting.room(around.width))
    way = min(ways, key=lambda each: (_pages_taken(each.heights, around.height), sum(each.heights)))
    return {
        "for_copies": "",
        **({"plan_note": PLAN_NOTE} if sheet.prep else {}),
        "totals": [[each.title, total_written(each)] for each in sheet.paper_totals],
        "cutting": way.shown,
        "layouts_across": way.across,
    }


def _pages_taken(rows: Sequence[float], height: float) -> int:
    """Pages of rows that are not broken, from the top of one."""
    pages, left = 0, 0.0
    for row in rows:
        if row > left:
            pages, left = pages + 1, height
        left -= row
    return pages


def _bag(bag: Bag, setting: Setting) -> Data:
    return {
        "kit": bag.kit,
        "title": title_shown(bag.title),
        "bags": bags_written(bag),
        "lines": [_in_the_bag(line) for line in bag.lines],
        "shared": list(bag.shared),
        "whole": len(bag.lines) + len(bag.shared) <= BAG_LINES_IN_ONE_BLOCK,
    }


def _in_the_bag(line: BagLine) -> Data:
    return {
        "times": times_written(line),
        "what": piece_written(line.what),
        "size": line.size,
        "notes": notes_written(line),
    }


# ---- labels ----


def _labels(sheet: ClassSheet, setting: Setting) -> Data:
    of = label_grid(sheet.unit, setting.paper, setting.printing)
    shown = list(_shown_labels(sheet, of, setting))
    pages = [shown[first : first + of.on_a_page] for first in range(0, len(shown), of.on_a_page)]
    return {
        "pages": pages,
        "across": of.across,
        "down": of.down,
        "width": of.width,
        "height": of.height,
        "left": (setting.paper.width - of.across * of.width) / 2,
        "top": (setting.paper.height - of.down * of.height) / 2,
        "padding": LABEL_PADDING,
        "size": of.size,
        "pictures": _label_pictures(sheet, of, setting),
    }


def _label_pictures(sheet: ClassSheet, of: LabelGrid, setting: Setting) -> Data:
    """The picture of each kit, once: a label names its kit."""
    room = PictureRoom(of.width * LABEL_PICTURE, of.height - 2 * LABEL_PADDING)
    return {kit.letter: picture(setting.pictures.get(f"kit-{kit.letter}"), room) for kit in sheet.kits}


def _shown_labels(sheet: ClassSheet, of: LabelGrid, setting: Setting) -> Iterator[Data]:
    """What has room on each label: the labels of a kit differ in their numbers alone."""
    pictures = _label_pictures(sheet, of, setting)
    known: dict[str, Data] = {}
    for label in labels(sheet):
        if label.kit not in known:
            shown = width_of(pictures[label.kit])
            width = of.width - 2 * LABEL_PADDING - (shown + LABEL_GUTTER if shown else 0.0)
            known[label.kit] = _words(label, of, width, setting)
        yield {"number": label.number, "kit": label.kit, "spare": label.is_spare, **known[label.kit]}


def _words(label: Label, of: LabelGrid, width: float, setting: Setting) -> Data:
    """The lines that have room between the number and the line for a name."""
    scale = setting.scale
    title = fitted(title_shown(label.title), scale.step, width, TITLE_LINES, bold=True)
    left = of.height - 2 * LABEL_PADDING - line_height(scale.part) - len(title) * line_height(scale.step)
    left -= line_height(scale.small) + LABEL_WHITE
    lines = max(1, int(left / line_height(scale.body)))
    return {"title": title, "inside": fitted_list(label.inside, scale.body, width, lines)}
