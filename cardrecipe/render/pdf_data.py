"""The sheet as plain data for the typst template: lists, texts, numbers in mm and pictures as SVG.

The template never evaluates any of it. Decisions that need counting (rows of steps, columns, the
scale of pictures) are made here, where they can be tested.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.sheet import CutLine, CuttingSheet, EnvelopeFit, ScoreGuide, Sheet, Step, SupplyLine
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.prose import Block, Run, plain_text, prose, title_shown
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.render.words import (
    SUPPLY_GROUPS,
    cut_so,
    ends_of,
    envelope_written,
    fold_written,
    for_copies,
    grouped_cuts,
    grouped_supplies,
    number_written,
    piece_written,
    sheet_heading,
    shown_envelopes,
    shown_legend,
    shown_post,
    shown_views,
    steps_note,
    times_written,
    total_written,
    use_written,
)

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Data = dict[str, object]


GAP = 4.0  # between a picture and the text beside it
GUTTER = 8.0  # between the two columns of steps
NUMBER_COLUMN = 11.0  # where a step's number hangs
TEXT_COLUMN = 32.0  # the narrowest a step's text may get beside its picture
TALLEST = 130.0  # mm of any picture: one that is taller gets smaller letters
FINISHED_ROOM = (70.0, 58.0)
SCORE_COLUMN = 50.0  # what a table beside the score guide needs
FEW_SETTINGS = 6  # of a layout that may stand in a third of the page
CUTS_IN_ONE_BLOCK = 26  # more lines than this may be broken over pages


def sheet_data(sheet: Sheet, pictures: Mapping[str, "Drawing"], printing: Printing) -> Data:
    """All that the template shows, in its order."""
    paper = PAGES[printing.page]
    width = paper.width - 2 * paper.side
    guides = _guides(sheet, pictures, width)
    return {
        "page": paper.typst_name,
        "margin": {"x": paper.side, "top": paper.top, "bottom": paper.foot},
        "title": title_shown(sheet.title),
        "variant": sheet.folded.card.variant or "",
        "about": _blocks(prose(sheet.about_markdown, 2)),
        "facts": [[fact.label, fact.value] for fact in sheet.facts],
        "finished": _picture(pictures.get("finished"), *FINISHED_ROOM),
        "supplies": [_supply_group(*group) for group in grouped_supplies(sheet.supplies)],
        "for_copies": for_copies(sheet),
        "cuts": _cuts(sheet),
        "whole_cut_list": len(sheet.cuts) <= CUTS_IN_ONE_BLOCK,
        "cutting": [_cutting(each, pictures, width) for each in sheet.cutting],
        "layouts_across": _layouts_across(sheet, pictures, width),
        "totals": [[each.title, total_written(each)] for each in sheet.paper_totals],
        "scores": guides,
        "width": width,
        "steps_note": steps_note(sheet),
        "number_column": NUMBER_COLUMN,
        "legend": _picture(pictures.get(shown_legend(sheet.folded)), width, 120.0),
        "views": list(_views(sheet, pictures, width)),
        "steps": _steps(sheet, pictures, width),
        "cautions": list(sheet.cautions),
        "notes": list(sheet.notes),
        "envelopes": [_envelope(fit) for fit in shown_envelopes(sheet.envelopes)],
        "post": [{"name": line.title, "note": line.note} for line in shown_post(sheet)],
        "templates": templates(sheet, paper),
    }


def _picture(drawing: "Drawing | None", most_width: float, most_height: float) -> Data | None:
    """A drawing with the size it gets: its own, or smaller where the room is smaller."""
    if drawing is None:
        return None
    scale = min(1.0, most_width / drawing.width_mm, most_height / drawing.height_mm)
    alt = f"{drawing.title}. {drawing.description}".strip()
    return {
        "svg": drawing.svg,
        "alt": alt,
        "width": round(drawing.width_mm * scale, 3),
        "height": round(drawing.height_mm * scale, 3),
    }


def _supply_group(kind: str, lines: Sequence[SupplyLine]) -> Data:
    return {
        "title": SUPPLY_GROUPS.get(kind, piece_written(kind).capitalize()),
        "lines": [
            {
                "name": line.name,
                "amount": line.amount,
                "used_for": use_written(line),
                "color": line.color,
                "swatch": kind == "paper",
            }
            for line in lines
        ],
    }


def _layouts_across(sheet: Sheet, pictures: Mapping[str, "Drawing"], width: float) -> int:
    """How many layouts stand side by side: three where each is cut with a few settings and its picture has
    room at full size, as smaller words could not be read."""
    third = (width - 2 * GUTTER) / 3
    shown = (pictures.get(each.picture) for each in sheet.cutting)
    has_room = all(picture is None or picture.width_mm <= third for picture in shown)
    is_small = has_room and all(len(each.settings) <= FEW_SETTINGS for each in sheet.cutting)
    return 3 if is_small and len(sheet.cutting) > 2 else 2


def _cutting(sheet: CuttingSheet, pictures: Mapping[str, "Drawing"], width: float) -> Data:
    """One layout: its picture, and the settings beneath it."""
    return {
        "heading": sheet_heading(sheet),
        "count": cut_so(sheet),
        "picture": _picture(pictures.get(sheet.picture), (width - GUTTER) / 2, TALLEST),
        "settings": [[each.number, each.size, each.text] for each in sheet.settings],
    }


def _cuts(sheet: Sheet) -> list[Data]:
    from cardrecipe.render.drawings.colors import paper_color

    papers = sheet.folded.card.papers
    return [
        {
            "paper": paper,
            "color": paper_color(papers, lines[0].paper),
            "lines": [_cut(line, one_copy(sheet.folded.card)) for line in lines],
        }
        for paper, lines in grouped_cuts(sheet.cuts)
    ]


def _cut(line: CutLine, one: str) -> Data:
    each = [f"{line.count} a {one}"] if line.total != line.count else []
    return {
        "times": times_written(line),
        "piece": piece_written(line.piece),
        "size": line.size,
        "other": line.other_size,
        "notes": ", ".join((*each, *line.notes)),
    }


def _guides(sheet: Sheet, pictures: Mapping[str, "Drawing"], width: float) -> list[Data]:
    """A piece that is scored both ways has two tables and one picture."""
    shown: set[str] = set()
    found = []
    for guide in sheet.scores:
        found.append(_guide(guide, {} if guide.piece in shown else pictures, width))
        shown.add(guide.piece)
    return found


def _guide(guide: ScoreGuide, pictures: Mapping[str, "Drawing"], width: float) -> Data:
    near, far = ends_of(guide)
    picture = _picture(pictures.get(f"score-{guide.piece}"), width, TALLEST)
    return {
        "piece": piece_written(guide.piece).capitalize(),
        "picture": picture,
        "beside": 0 < _width(picture) <= width - SCORE_COLUMN,
        "near": near,
        "far": far,
        "lines": [
            [number_written(line), line.at, line.from_other_end, fold_written(line)]
            for line in guide.lines
        ],
        "short_way": guide.short_way,
    }


def _steps(sheet: Sheet, pictures: Mapping[str, "Drawing"], width: float) -> list[Data]:
    column = (width - GUTTER) / 2
    guides = {f"score-{guide.piece}" for guide in sheet.scores}.intersection(pictures)
    return [_step(step, pictures, column, step.picture in guides) for step in sheet.steps]


def _width(picture: object) -> float:
    return float(picture["width"]) if isinstance(picture, dict) else 0.0


def _step(step: Step, pictures: Mapping[str, "Drawing"], room: float, in_guide: bool) -> Data:
    """One step in a column `room` wide; beside a narrow picture there is room for the text."""
    picture = _picture(None if in_guide else pictures.get(step.picture), room, TALLEST)
    return {
        "number": step.number,
        "title": step.title,
        "text": step.text,
        "picks_up": ", ".join(step.picks_up),
        "picture": picture,
        "beside": 0 < _width(picture) <= room - GAP - TEXT_COLUMN,
        "indent": max(0.0, min(NUMBER_COLUMN, room - _width(picture))),
        "see_guide": in_guide,
        "cautions": list(step.cautions),
        "check": step.check,
        "tips": [_blocks(prose(tip, 4)) for tip in step.tips],
    }


def _views(sheet: Sheet, pictures: Mapping[str, "Drawing"], width: float) -> Iterator[Data]:
    for name, caption in shown_views(sheet.folded):
        picture = _picture(pictures.get(name), width, TALLEST)
        if picture is not None:
            yield {"picture": picture, "caption": caption}


def _envelope(fit: EnvelopeFit) -> Data:
    return {"name": envelope_written(fit), "note": fit.note}


def _blocks(blocks: Iterable[Block]) -> list[Data]:
    return [
        {
            "kind": block.kind,
            "runs": _runs(block.runs),
            "blocks": _blocks(block.blocks),
            "text": block.text,
            "level": block.level,
            "start": block.start,
        }
        for block in blocks
    ]


def _runs(runs: Iterable[Run]) -> list[Data]:
    return [
        {
            "kind": run.kind,
            "text": run.text,
            "href": run.href,
            "bare": plain_text(run.runs),
            "runs": _runs(run.runs),
        }
        for run in runs
    ]
