"""The sheet as plain data for the typst template: lists, texts, numbers in mm and pictures as SVG.

The template never evaluates any of it. Decisions that need counting (rows of steps, columns, the
scale of pictures, greys) are made here and in `printed`, where they can be tested.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.plan.sheet import EnvelopeFit, ScoreGuide, Sheet
from cardrecipe.render.drawings.colors import INK, MOUNTAIN, QUIET_INK, VALLEY
from cardrecipe.render.papers import PAGES, Paper, Printing
from cardrecipe.render.printed.grey import grey, grey_pictures
from cardrecipe.render.printed.layouts import layouts
from cardrecipe.render.printed.lists import cut_columns, supply_columns, swatches
from cardrecipe.render.printed.look import Grid, TypeScale, grid, picture_growth, type_scale, white
from cardrecipe.render.printed.markdown_data import blocks_data
from cardrecipe.render.printed.page_fill import pages_taken, settle
from cardrecipe.render.printed.part_heights import Known, part_heights
from cardrecipe.render.printed.pictures import PictureRoom, picture, width_of
from cardrecipe.render.printed.step_rows import step_rows
from cardrecipe.render.prose import prose, title_shown
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.render.true_scale.told import told_of_templates
from cardrecipe.render.words import (
    ends_of,
    envelope_written,
    fold_written,
    for_copies,
    number_written,
    piece_written,
    shown_envelopes,
    shown_legend,
    shown_post,
    shown_views,
    steps_note,
    total_written,
)

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Data = dict[str, object]
Pictures = Mapping[str, "Drawing"]

TALLEST = 130.0  # mm of any picture: one that is taller gets smaller letters
TALLEST_LARGE = 0.72  # of the page, in large print
FINISHED_ROOM = (70.0, 58.0)
SCORE_COLUMN = 50.0  # what a table beside the score guide needs
CUTS_IN_ONE_BLOCK = 40  # more lines than this may be broken over pages
LABELS = (22.0, 46.0)  # the column of the facts' names, in usual and in large print
COLORS = {
    "ink": INK,
    "quiet": QUIET_INK,
    "accent": VALLEY,
    "warm": MOUNTAIN,
    "hair": "#b9b3a8",
    "wash": "#f3f1ec",
}


class Setting(NamedTuple):
    """All that the parts of the data are laid out by."""

    paper: Paper
    printing: Printing
    grid: Grid
    scale: TypeScale
    pictures: Pictures

    def room(self, width: float) -> PictureRoom:
        """The room of a picture in a column `width` wide."""
        tallest = TALLEST_LARGE * self.grid.height if self.printing.is_large else TALLEST
        return PictureRoom(width, tallest, picture_growth(self.printing))


def sheet_data(sheet: Sheet, pictures: Pictures, printing: Printing) -> Data:
    """All that the template shows."""
    paper, card = PAGES[printing.page], sheet.folded.card
    sheet = sheet._replace(steps=tuple(told_of_templates(sheet.steps, card)))
    if printing.in_grey:
        pictures = grey_pictures(pictures, card)
    setting = Setting(paper, printing, grid(paper, printing), type_scale(printing), pictures)
    looks = swatches(card, printing.in_grey)
    supplies = supply_columns(sheet, looks, setting.grid, setting.scale)
    cuts = cut_columns(sheet, looks, setting.grid, setting.scale)
    data = {
        **page_data(setting),
        **_head(sheet, setting),
        "supplies": supplies.groups,
        "cuts": cuts.groups,
        **_work(sheet, setting),
        **_after(sheet, setting),
        "templates": templates(sheet, paper, printing.is_large),
    }
    return {**data, **_placed(data, sheet, setting, supplies.height, cuts.height)}


def _placed(data: Data, sheet: Sheet, setting: Setting, supplies: float, cuts: float) -> Data:
    """What stands where: of the arrangements of the cutting plan the lowest that takes the fewest pages."""
    around, scale = setting.grid, setting.scale
    plans = layouts(sheet.cutting, setting.pictures, around, scale, setting.room(around.width))
    heights = [
        part_heights(data, sheet, Known(supplies, cuts, plan.heights), around, scale) for plan in plans
    ]
    parts, plan = min(zip(heights, plans, strict=True), key=lambda way: pages_taken(way[0], around.height))
    places = settle(parts, around.height)
    return {
        "cutting": plan.shown,
        "layouts_across": plan.across,
        "legend_before": places.legend,
        "after_first": places.after_first,
        "layers_first": places.layers_first,
    }


def page_data(setting: Setting) -> Data:
    """What `look.typ` asks for: the page, its one scale of type, its colours."""
    paper, in_grey = setting.paper, setting.printing.in_grey
    return {
        "page": paper.typst_name,
        "margin": {"x": paper.side, "top": paper.top, "bottom": paper.foot},
        "width": setting.grid.width,
        "large": setting.printing.is_large,
        "size": setting.scale._asdict(),
        "hang": setting.grid.hang,
        "white": white(setting.scale),
        "colors": {name: grey(color) if in_grey else color for name, color in COLORS.items()},
        "grey": in_grey,
    }


def _head(sheet: Sheet, setting: Setting) -> Data:
    return {
        "title": title_shown(sheet.title),
        "variant": sheet.folded.card.variant or "",
        "about": blocks_data(prose(sheet.about_markdown, 2)),
        "facts": [[fact.label, fact.value] for fact in sheet.facts],
        "label_column": LABELS[setting.printing.is_large],
        "finished": picture(setting.pictures.get("finished"), PictureRoom(*FINISHED_ROOM)),
    }


def _work(sheet: Sheet, setting: Setting) -> Data:
    """Cutting, scoring, the steps."""
    column = setting.room(setting.grid.column)
    return {
        "for_copies": for_copies(sheet),
        "unit": "inches" if sheet.folded.card.unit == "inch" else "millimetres",
        "whole_cut_list": len(sheet.cuts) <= CUTS_IN_ONE_BLOCK,
        "totals": [[each.title, total_written(each)] for each in sheet.paper_totals],
        "legend": picture(setting.pictures.get(shown_legend(sheet.folded)), setting.room(setting.grid.width)),
        "scores": guides(sheet.scores, setting),
        "layers": list(_layers(setting)),
        "layers_captions": [caption for name, caption in shown_views(sheet.folded)
                            if name.startswith("layers") and name in setting.pictures],
        "steps_note": steps_note(sheet),
        "rows": step_rows(sheet.steps, setting.pictures, setting.grid, setting.scale, column),
    }


def _after(sheet: Sheet, setting: Setting) -> Data:
    return {
        "views": list(_views(sheet, setting)),
        "cautions": list(sheet.cautions),
        "notes": list(sheet.notes),
        "envelopes": [_envelope(fit) for fit in shown_envelopes(sheet.envelopes)],
        "post": [{"name": line.title, "note": line.note} for line in shown_post(sheet)],
    }


def guides(scores: Sequence[ScoreGuide], setting: Setting) -> list[Data]:
    """A piece that is scored both ways has two tables and one picture."""
    shown: set[str] = set()
    found = []
    for guide in scores:
        found.append(_guide(guide, {} if guide.piece in shown else setting.pictures, setting))
        shown.add(guide.piece)
    return found


def _guide(guide: ScoreGuide, pictures: Pictures, setting: Setting) -> Data:
    near, far = ends_of(guide)
    shown = picture(pictures.get(f"score-{guide.piece}"), setting.room(setting.grid.width))
    is_large = setting.printing.is_large
    return {
        "piece": piece_written(guide.piece).capitalize(),
        "picture": shown,
        "beside": 0 < width_of(shown) <= setting.grid.width - SCORE_COLUMN and not is_large,
        "near": near,
        "far": far,
        "lines": [
            [number_written(line), line.at, line.from_other_end, fold_written(line)] for line in guide.lines
        ],
        "short_way": guide.short_way,
    }


def _layers(setting: Setting) -> Iterator[Data]:
    """The card taken apart, layer by layer, of each base that has such a drawing."""
    for name in setting.pictures:
        if name == "layers" or name.startswith("layers-"):
            shown = picture(setting.pictures[name], setting.room(setting.grid.width))
            assert shown is not None
            yield shown


def _views(sheet: Sheet, setting: Setting) -> Iterator[Data]:
    for name, caption in shown_views(sheet.folded):
        if name.startswith("layers"):
            continue  # these stand before the steps
        shown = picture(setting.pictures.get(name), setting.room(setting.grid.width))
        if shown is not None:
            yield {"picture": shown, "caption": caption}


def _envelope(fit: EnvelopeFit) -> Data:
    return {"name": envelope_written(fit), "note": fit.note}
