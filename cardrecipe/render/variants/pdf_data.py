"""The one sheet as plain data for typst: that of the main card, the comparison, and each variant's part."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.plan.sheet import Sheet, Step
from cardrecipe.plan.variant_rows import Cell
from cardrecipe.plan.variant_sheet import MAIN, SHEET_NAMED, Variant, VariantSheet, pieces_told
from cardrecipe.plan.variant_way import Detour, in_groups, named_steps
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.pdf_data import Data, Setting, guides, sheet_data
from cardrecipe.render.printed.grey import grey_pictures
from cardrecipe.render.printed.layouts import layouts
from cardrecipe.render.printed.lists import Swatches, cut_columns, swatches
from cardrecipe.render.printed.look import grid, type_scale
from cardrecipe.render.printed.markdown_data import blocks_data
from cardrecipe.render.printed.pictures import PictureRoom, picture
from cardrecipe.render.printed.step_rows import step_rows
from cardrecipe.render.prose import prose, title_shown
from cardrecipe.render.true_scale.outlines import lines_of
from cardrecipe.render.true_scale.templates import OfCard, templates, templates_together
from cardrecipe.render.true_scale.told import told_of_templates
from cardrecipe.render.variants.columns import MOST_VARIANTS, NO_VARIANTS, Table, note, tables
from cardrecipe.render.variants.views import own_views
from cardrecipe.render.words import piece_written, total_written

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Pictures = Mapping[str, "Drawing"]
LABELS = (24.0, 46.0)  # mm: the column of the rows' names, in usual and in large print
INSET = 4.0  # mm of a cell that are not its words'
HIGHEST = 22.0  # mm of a finished card in the table
OF_VARIANT = (56.0, 40.0)  # mm of it at the head of the variant's part


class _Card(NamedTuple):
    """A card of the sheet with all that its part is laid out by."""

    sheet: Sheet
    setting: Setting
    looks: Swatches


def variants_data(sheet: VariantSheet, cards: Sequence[Pictures], printing: Printing) -> Data:
    """All that the templates show; `cards` are the drawings of the main card and of each variant."""
    sheets = (sheet.plain, *(variant.sheet for variant in sheet.variants))
    laid = [_card(each, drawn, printing) for each, drawn in zip(sheets, cards, strict=True)]
    most = 1 if printing.is_large else MOST_VARIANTS
    main = sheet_data(sheet.plain, cards[0], printing)
    _name_layouts(main["cutting"], sheet.plain)
    return {
        **main,
        "card": MAIN if sheet.variants else title_shown(sheet.plain.title),
        "no_variants": "" if sheet.variants else NO_VARIANTS,
        "tables": [_table(table, sheet, laid) for table in tables(sheet, most)],
        "tables_note": f"{note(sheet, most)} The variants themselves stand after the main card.",
        "label_wide": LABELS[printing.is_large],
        "variants": [
            _variant(sheet.plain, variant, card)
            for variant, card in zip(sheet.variants, laid[1:], strict=True)
        ],
        "templates": list(_templates(sheet, printing)),
    }


def _name_layouts(shown: object, plain: Sheet) -> None:
    """Names by which the variants find the page of a sheet that they cut in the same way."""
    assert isinstance(shown, list)
    for layout, sheet in zip(shown, plain.cutting, strict=True):
        layout["anchor"] = f"layout-{sheet.number}"


def _card(sheet: Sheet, pictures: Pictures, printing: Printing) -> _Card:
    card, paper = sheet.folded.card, PAGES[printing.page]
    drawn = grey_pictures(pictures, card) if printing.in_grey else pictures
    setting = Setting(paper, printing, grid(paper, printing), type_scale(printing), drawn)
    return _Card(sheet, setting, swatches(card, printing.in_grey))


# ---- the comparison ------------------------------------------------------------------------------


def _table(table: Table, sheet: VariantSheet, cards: Sequence[_Card]) -> Data:
    shown = [cards[place] for place in table.places]
    setting = shown[0].setting
    wide = (setting.grid.width - LABELS[setting.printing.is_large]) / len(shown) - INSET
    return {
        "titles": list(table.titles),
        "finished": [
            picture(card.setting.pictures.get("finished"), PictureRoom(wide, HIGHEST)) for card in shown
        ],
        "about": [_about(sheet, place) for place in table.places],
        "rows": [
            {
                "label": row.label,
                "cells": [_cell(cell, card) for cell, card in zip(row.cells, shown, strict=True)],
            }
            for row in table.rows
        ],
    }


def _about(sheet: VariantSheet, place: int) -> list[Data]:
    own = sheet.variants[place - 1].about_markdown if place else sheet.plain.about_markdown
    return blocks_data(prose(own, 3)) if own else blocks_data(prose("as the main card", 3)) if place else []


def _cell(cell: Cell, card: _Card) -> Data:
    papers = cell.papers or ("",) * len(cell.lines)
    return {
        "differs": cell.differs,
        "lines": [
            {
                "text": line,
                "new": line not in cell.known,
                "swatch": card.looks.of(paper) if cell.papers else None,
            }
            for line, paper in zip(cell.lines, papers, strict=True)
        ],
    }


# ---- a variant's part ----------------------------------------------------------------------------


def _variant(plain: Sheet, variant: Variant, card: _Card) -> Data:
    setting = card.setting
    room = setting.room(setting.grid.width)
    plan = layouts(variant.layouts, setting.pictures, setting.grid, setting.scale, room)[0]
    return {
        "title": variant.title,
        "about": blocks_data(prose(variant.about_markdown, 2)),
        "finished": picture(setting.pictures.get("finished"), PictureRoom(*OF_VARIANT)),
        "more": [list(each) for each in variant.more],
        "less": [list(each) for each in variant.less],
        "cuts": _cuts(variant, card),
        "left_out": pieces_told(variant.left_out),
        "same_layouts": list(map(_same_layout, variant.same_layouts)),
        "totals": [[each.title, total_written(each)] for each in variant.totals],
        "cutting": plan.shown,
        "layouts_across": plan.across,
        "scores": guides(variant.scores, setting),
        "groups": list(_groups(variant, card)),
        "after": [_onward(text) for text in variant.way.after],
        "views": list(_views(plain, variant, setting)),
        "notes": list(variant.notes),
    }


def _views(plain: Sheet, variant: Variant, setting: Setting) -> Iterator[Data]:
    for name, caption in own_views(plain, variant.sheet):
        shown = picture(setting.pictures.get(name), setting.room(setting.grid.column))
        assert shown is not None  # all that a sheet shows is drawn for it
        yield {"picture": shown, "caption": caption}


def _cuts(variant: Variant, card: _Card) -> list[list[Data]]:
    """The cut list in columns, each line with the word on how it is otherwise, and what it was."""
    marks = {(piece_written(cut.line.piece), cut.line.size): cut for cut in variant.cuts}
    columns = cut_columns(card.sheet, card.looks, card.setting.grid, card.setting.scale).groups
    for column in columns:
        for group in column:
            lines = group["lines"]
            assert isinstance(lines, list)
            found = [(line, marks[line["piece"], line["size"]]) for line in lines]
            group["lines"] = [{**line, "mark": cut.mark, "was": cut.was} for line, cut in found]
    return columns


def _groups(variant: Variant, card: _Card) -> Iterator[Data]:
    """The detours between two sentences on the others, in rows as steps stand in them; a sentence stands
    across the page, so that all is read in one order. Cautions belong to their own step."""
    setting = card.setting
    own = {detour.step.number: detour.step for detour in variant.way.detours}
    every = [own.get(step.number, step) for step in card.sheet.steps]
    told = {step.number: step for step in told_of_templates(every, card.sheet.folded.card)}
    for before, detours in in_groups(variant.way):
        yield {
            "before": [_onward(text) for text in before],
            "cautions": [caution for detour in detours for caution in detour.step.cautions],
            "rows": list(_rows(detours, told, setting)),
        }


def _rows(detours: Sequence[Detour], told: Mapping[int, Step], setting: Setting) -> Iterator[Data]:
    """As many side by side as steps stand; one that is left alone has the width of the page."""
    across = setting.grid.columns
    for first in range(0, len(detours), across):
        some = detours[first : first + across]
        grid = setting.grid
        if len(some) < across:
            grid = grid._replace(columns=1)
        steps = [told[each.step.number]._replace(cautions=()) for each in some]
        room = setting.room(setting.grid.column)
        (row,) = step_rows(steps, setting.pictures, grid, setting.scale, room)
        yield {**row, "heads": [{"number": each.number, "place": each.place} for each in some]}


def _onward(text: str) -> Data:
    """A sentence on steps of the main card, and between which of them its pages are looked up."""
    steps = named_steps(text)
    return {"text": text, "steps": list(steps) if steps else []}


def _same_layout(text: str) -> Data:
    found = SHEET_NAMED.search(text)
    return {"text": text, "sheet": int(found[1]) if found else 0}


# ---- templates -----------------------------------------------------------------------------------


def _templates(sheet: VariantSheet, printing: Printing) -> Iterator[Data]:
    """The main card's, and those of each variant's pieces that are not the same. They come last and belong to
    no variant, so that their headings are of the first order."""
    paper, is_large = PAGES[printing.page], printing.is_large
    if not sheet.variants:
        yield from templates(sheet.plain, paper, is_large)
        return
    cards = [OfCard(sheet.plain, MAIN)]
    for variant in sheet.variants:
        cards.append(OfCard(variant.sheet, variant.title, _same_outlines(sheet.plain, variant.sheet)))
    for page in templates_together(cards, paper, is_large):
        level = page["level"]
        assert isinstance(level, int)
        yield {**page, "level": level - 1}


def _same_outlines(plain: Sheet, sheet: Sheet) -> frozenset[str]:
    """The pieces whose template would be that of the main card."""
    known = {piece.name: lines_of(piece) for piece in plain.folded.card.pieces}
    return frozenset(
        piece.name for piece in sheet.folded.card.pieces if known.get(piece.name) == lines_of(piece)
    )
