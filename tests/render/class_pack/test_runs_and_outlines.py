"""What stands by what: pictures by the tasks that cut them, outlines of all kits at true size."""

import pytest

from cardrecipe.model.lengths import to_mm
from cardrecipe.render.class_pack.outlines import outline_pages, outlined
from cardrecipe.render.class_pack.pdf_data import class_data
from cardrecipe.render.class_pack.pictures import class_pictures
from cardrecipe.render.class_pack.words import cost_written, in_no_run, runs, told_in_short
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.printed.look import grid
from tests.plan.classes.making import class_text, four_samples, planned, saturday_bench
from tests.recipes import SAMPLES
from tests.render.class_pack.hand_made_class import class_sheet

PRINTINGS = (Printing("letter"), Printing("a4"), Printing("letter", is_large=True))


def test_each_sheet_is_shown_once_by_the_tasks_that_cut_it_or_by_itself() -> None:
    for sheet in (saturday_bench(), four_samples(), class_sheet()):
        shown = [each for run in runs(sheet) for each in run.sheets] + list(in_no_run(sheet))
        assert sorted(each.number for each in shown) == [each.number for each in sheet.cutting]
        assert [task for run in runs(sheet) for task in run.tasks] == list(sheet.prep)
        for run in runs(sheet):
            assert {each.paper for each in run.sheets} <= {task.paper for task in run.tasks}


@pytest.mark.parametrize("printing", PRINTINGS)
def test_pictures_in_a_row_have_room_and_none_is_made_smaller(printing: Printing) -> None:
    sheet = saturday_bench()
    pictures = class_pictures(sheet)
    data = class_data(sheet, pictures, printing)
    names = []
    for run in data["prep"]:  # type: ignore[attr-defined]
        for row in run["rows"]:
            assert sum(each["width"] + 5.0 for each in row) - 5.0 <= _width(printing)
            names += [each["name"].split(" ")[1] for each in row]
            for each in row:
                drawn = pictures[f"sheet-{each['name'].split(' ')[1]}"]
                assert each["picture"]["width"] >= round(drawn.width_mm, 3) or printing.is_large
    assert names == [str(each.number) for each in sheet.cutting]


def _width(printing: Printing) -> float:
    return grid(PAGES[printing.page], printing).width


def test_every_shape_of_a_class_is_drawn_once_at_its_true_size() -> None:
    sheet = saturday_bench()
    found = [item for page in outline_pages(sheet, PAGES["letter"]) for item in page["items"]]  # type: ignore[attr-defined]
    sizes = {item["piece"]: (item["width"], item["height"]) for item in found}
    assert set(sizes) == {"L seal", "M plate", "N plate"}
    for kit in sheet.kits:
        for piece in outlined(kit):
            unit = kit.sheet.folded.card.unit
            width, height = float(to_mm(piece.width, unit)), float(to_mm(piece.height, unit))
            assert sizes[f"{kit.letter} {piece.name}"] == pytest.approx((width, height))


def test_kits_that_share_a_shape_share_its_outline_and_its_count() -> None:
    files = {path.name: path.read_text("utf-8") for path in SAMPLES.glob("*.recipe")}
    lines = ['  make 3 of "mill-letter.recipe"', '  make 2 of "other-letter.recipe", 1 spare']
    files["other-letter.recipe"] = files["mill-letter.recipe"].replace("from the mill", "of its own")
    sheet = planned(class_text(lines), files)
    (page,) = outline_pages(sheet, PAGES["a4"])
    (item,) = page["items"]  # type: ignore[misc]
    assert item["piece"] == "K+L seal" and "cut 6" in page["note"]  # type: ignore[operator]


def test_a_phrase_says_all_that_is_told_of_a_thing_to_get() -> None:
    for sheet in (saturday_bench(), class_sheet()):
        for line in sheet.shopping:
            told = told_in_short(line)
            assert all(part in told for part in (line.need, line.have, line.buy, line.cost))
    assert cost_written(class_sheet()) == "31.40 for the papers"
    assert cost_written(saturday_bench()).startswith("23.90 for the papers with a price")
