"""The sheet of a class as plain data for the typst templates, as `render.pdf_data` does it for a card."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cardrecipe.plan.classes.sheet import Bag, BagLine, ClassSheet, Kit, ShoppingLine
from cardrecipe.plan.entries import SupplyLine
from cardrecipe.plan.sheet import CuttingSheet
from cardrecipe.render.class_pack.labels import (
    Label,
    LabelGrid,
    label_grid,
    label_numbers,
    label_pages,
    labels,
)
from cardrecipe.render.class_pack.outlines import outline_pages
from cardrecipe.render.class_pack.words import (
    KITS_NOTE,
    Run,
    bags_written,
    clock,
    cost_written,
    grouped_shopping,
    in_all_written,
    in_no_run,
    kit_told,
    kits_written,
    notes_written,
    plan_note,
    prep_note,
    runs,
    seats_written,
    sheet_caption,
    shopping_columns,
    signs_note,
    span_written,
    task_told,
    times_written,
    told_in_short,
    totals_in_no_run,
    what_written,
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
from cardrecipe.render.words import total_written

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Pictures = Mapping[str, "Drawing"]
KIT_ROOM = (34.0, 23.0)  # mm of a small picture of the finished card
LABEL_PICTURE = 0.32  # of a label's width
LABEL_PADDING = 4.0  # mm
LABEL_GUTTER = 3.0  # mm between its picture and its words
LABEL_WHITE = 4.0  # mm between its number, title, list and name
TITLE_LINES = 2
SHEET_GUTTER = 5.0  # mm between two pictures of sheets
SHEET_LEAST = 30.0  # mm for the name of one
BAG_LINES_IN_ONE_BLOCK = 24  # more than this may be broken over pages
TASK_LINES_IN_ONE_BLOCK = 3


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
        "kits_note": KITS_NOTE,
        **_shopping(sheet, setting),
        "cautions": list(sheet.cautions),
        "notes": list(sheet.notes),
        "prep_note": prep_note(sheet),
        "signs_note": signs_note(sheet),
        "prep": [_run(run, sheet, setting) for run in runs(sheet)],
        **_cutting(sheet, setting),
        "bags": [_bag(bag, kit) for bag, kit in _with_kits(sheet)],
        "labels": _labels(sheet, setting),
        "templates": outline_pages(sheet, paper, printing.is_large),
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
        "told": kit_told(kit),
        "picture": picture(setting.pictures.get(f"kit-{kit.letter}"), room),
    }


def _shopping(sheet: ClassSheet, setting: Setting) -> Data:
    looks = swatches(sheet.card, setting.printing.in_grey)
    groups = [(title, [_to_get(line, sheet, looks) for line in lines], lines[0].kind)
              for title, lines in grouped_shopping(sheet.shopping)]  # fmt: skip
    papers: list[Data] = []
    others: list[Data] = []
    for title, lines, kind in groups:
        (papers if kind == "paper" else others).append({"title": title, "lines": lines})
    return {
        "shopping": papers,
        "shopping_columns": shopping_columns([line for line in sheet.shopping if line.kind == "paper"]),
        "other_shopping": _halved(others, setting),
        "cost": cost_written(sheet),
    }


def _halved(groups: list[Data], setting: Setting) -> list[list[Data]]:
    """The groups in the columns of the page, the first as long as the others together or a little longer."""
    sizes = [len(lines) + 1 for lines in (group["lines"] for group in groups) if isinstance(lines, list)]
    if setting.printing.is_large or len(groups) < 2:
        return [groups]
    at = min(range(1, len(groups)), key=lambda at: abs(sum(sizes[:at]) - sum(sizes[at:])))
    return [groups[:at], groups[at:]]


def _to_get(line: ShoppingLine, sheet: ClassSheet, looks: Swatches) -> Data:
    supply = SupplyLine(line.kind, line.title, "")
    return {
        "title": line.title,
        "used_for": kits_written(line.used_for, sheet.kits),
        "swatch": looks.of_line(supply),
        "told": told_in_short(line),
        "need": line.need,
        "have": line.have,
        "buy": line.buy,
        "cost": line.cost,
    }


def _run(run: Run, sheet: ClassSheet, setting: Setting) -> Data:
    return {
        "heading": run.heading,
        "span": span_written(run.tasks),
        "rows": (rows := _rows([_shown_sheet(each, setting) for each in run.sheets], setting)),
        "beside": not setting.printing.is_large and len(rows) == 1 and len(rows[0]) == 1,
        "tasks": [
            {
                "clock": clock(task.starts),
                "set": bool(task.setting),
                "text": task.text,
                "lines": list(task.lines),
                "whole": len(task.lines) <= TASK_LINES_IN_ONE_BLOCK,
                "told": task_told(task, sheet.kits),
            }
            for task in run.tasks
        ],
    }


def _shown_sheet(each: CuttingSheet, setting: Setting) -> Data:
    """The picture of a sheet with its name; how it is cut stands in the tasks under it."""
    name, told = sheet_caption(each)
    shown = picture(setting.pictures.get(each.picture), setting.room(setting.grid.width))
    return {"name": name, "told": told, "picture": shown, "width": max(SHEET_LEAST, width_of(shown))}


def _rows(shown: Sequence[Data], setting: Setting) -> list[list[Data]]:
    """Pictures side by side, as many as have room."""
    rows: list[list[Data]] = []
    left = 0.0
    for each in shown:
        width = float(str(each["width"])) + SHEET_GUTTER
        if not rows or width > left:
            rows.append([])
            left = setting.grid.width + SHEET_GUTTER
        rows[-1].append(each)
        left -= width
    return rows


def _cutting(sheet: ClassSheet, setting: Setting) -> Data:
    around, cutting = setting.grid, in_no_run(sheet)
    ways = layouts(cutting, setting.pictures, around, setting.scale, setting.room(around.width))
    way = min(ways, key=lambda each: (_pages_taken(each.heights, around.height), sum(each.heights)))
    return {
        "for_copies": "",
        **({"plan_note": note} if (note := plan_note(sheet)) else {}),
        "totals": [[each.title, total_written(each)] for each in totals_in_no_run(sheet)],
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


def _with_kits(sheet: ClassSheet) -> Iterator[tuple[Bag, Kit]]:
    kits = {kit.letter: kit for kit in sheet.kits}
    return ((bag, kits[bag.kit]) for bag in sheet.bags)


def _bag(bag: Bag, kit: Kit) -> Data:
    return {
        "kit": bag.kit,
        "title": title_shown(bag.title),
        "bags": bags_written(bag),
        "ticks": [number.removeprefix(f"{kit.letter}-") for number in label_numbers(kit)],
        "lines": [_in_the_bag(line, bag) for line in bag.lines],
        "shared": list(bag.shared),
        "whole": len(bag.lines) + len(bag.shared) <= BAG_LINES_IN_ONE_BLOCK,
    }


def _in_the_bag(line: BagLine, bag: Bag) -> Data:
    return {
        "in_all": in_all_written(line, bag),
        "times": times_written(line),
        "what": what_written(line),
        "size": line.size,
        "notes": notes_written(line),
    }


# ---- labels ----


def _labels(sheet: ClassSheet, setting: Setting) -> Data:
    of = label_grid(sheet.unit, setting.paper, setting.printing)
    every = labels(sheet)
    shown = {str(data["number"]): data for data in _shown_labels(sheet, of, setting)}
    pages = label_pages(every, of.across, of.on_a_page)
    return {
        "pages": [[shown[label.number] if label else None for label in page] for page in pages],
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
