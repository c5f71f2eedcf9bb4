"""What is settled before typst sets the sheet: lines, columns, rows, layouts, and what stands where."""

from itertools import pairwise

import pytest

from cardrecipe.plan.sheet import CutSetting, CuttingSheet, Step
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.papers import PAGES, Printing
from cardrecipe.render.pdf import render_pdf
from cardrecipe.render.printed.columns import balanced
from cardrecipe.render.printed.layouts import layouts
from cardrecipe.render.printed.lines_taken import lines_taken
from cardrecipe.render.printed.look import LARGE_TYPE, USUAL_TYPE, grid, line_height
from cardrecipe.render.printed.page_fill import Parts, settle
from cardrecipe.render.printed.pictures import PictureRoom, picture
from cardrecipe.render.printed.step_rows import step_rows
from tests.render.hand_made_sheet import sheet
from tests.render.printed_samples import HAS_POPPLER, pages_of

GRID = grid(PAGES["letter"], Printing())
ROOM = PictureRoom(GRID.column, 130.0)
WORDS = "Lay the card inside up and press the crease down with the bone folder before you open it again. "


def drawn(name: str, width: float, height: float) -> Drawing:
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><title>{name}</title><desc>d</desc></svg>'
    )
    return Drawing(name, name, "", svg, width, height)


def step(number: int, text: str = WORDS, title: str = "Fold the front", picture: str = "p") -> Step:
    return Step(number, title, text, ("card",), (), picture)


@pytest.mark.skipif(not HAS_POPPLER, reason="needs pdftotext of poppler")
def test_lines_are_counted_as_typst_breaks_them() -> None:
    """The note of a sheet, read back: as many lines as were counted, give or take the last word."""
    note = WORDS * 4
    pdf = render_pdf(sheet()._replace(notes=(note,), envelopes=(), post=()), {}, Printing())
    words = {word for word in note.split() if len(word) > 5 and word != "folder"}
    (lines,) = (
        {word.top for word in page.words if word.text in words}
        for page in pages_of(pdf)
        if "Notes" in page.text
    )
    assert len(lines) == lines_taken(note.strip(), USUAL_TYPE.body, GRID.width)


@pytest.mark.parametrize("width", [20.0, 44.0, 89.0, 186.0])
def test_a_narrower_column_takes_no_fewer_lines(width: float) -> None:
    assert lines_taken(WORDS, 9.5, width) >= lines_taken(WORDS, 9.5, width + 5)
    assert lines_taken("", 9.5, width) == 0 and lines_taken("a", 9.5, width) == 1


def test_a_size_keeps_to_one_line() -> None:
    assert lines_taken("of 9 \u00d7 9", 9.5, 9.0) == 2


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_columns_keep_order_and_none_could_be_lower(count: int) -> None:
    heights = [7.0, 3.0, 9.0, 4.0, 4.0, 8.0, 2.0]
    columns = balanced(list(range(7)), heights, count)
    assert [item for column in columns for item in column] == list(range(7))
    assert len(columns) <= count
    tallest = max(sum(heights[item] for item in column) for column in columns)
    assert tallest <= sum(heights) / count + max(heights)
    if count == 2:
        cuts = (max(sum(heights[:at]), sum(heights[at:])) for at in range(8))
        assert tallest == min(cuts)


def test_nothing_in_no_columns() -> None:
    assert balanced([], [], 3) == []


def test_heads_of_a_row_end_at_one_height() -> None:
    """The shorter head gets what it lacks: a line of a title, a line of what is picked up."""
    long = step(2, title="Glue the two flap papers to the left flap and the right flap of the card")
    (row,) = step_rows([step(1), long], {"p": drawn("p", 40, 30)}, GRID, USUAL_TYPE, ROOM)
    first, second = row["steps"]  # type: ignore[misc]
    assert first["lead"] == pytest.approx(line_height(USUAL_TYPE.step), abs=0.01)
    assert second["lead"] == 0


@pytest.mark.parametrize(("width", "beside"), [(30.0, True), (46.0, True), (60.0, False), (72.0, False)])
def test_text_stands_beside_a_picture_that_leaves_room(width: float, beside: bool) -> None:
    (row,) = step_rows([step(1)], {"p": drawn("p", width, 43)}, GRID, USUAL_TYPE, ROOM)
    assert row["steps"][0]["beside"] is beside  # type: ignore[index]


def test_a_step_without_picture_has_text_alone() -> None:
    (row,) = step_rows([step(1, picture="none")], {}, GRID, USUAL_TYPE, ROOM)
    assert row["steps"][0]["picture"] is None  # type: ignore[index]
    assert row["breaks"] is False


def test_only_a_row_taller_than_a_page_may_break() -> None:
    (row,) = step_rows([step(1, WORDS * 60)], {"p": drawn("p", 60, 43)}, GRID, USUAL_TYPE, ROOM)
    assert row["breaks"] is True


def test_large_print_has_one_step_to_a_row() -> None:
    large = grid(PAGES["a4"], Printing("a4", is_large=True))
    rows = step_rows([step(n) for n in (1, 2, 3)], {"p": drawn("p", 40, 30)}, large, LARGE_TYPE, ROOM)
    assert [len(row["steps"]) for row in rows] == [1, 1, 1]  # type: ignore[arg-type]


def test_a_picture_grows_as_wanted_and_shrinks_where_it_must() -> None:
    grown = picture(drawn("p", 40, 30), PictureRoom(186, 130, 1.9))
    assert grown is not None and grown["width"] == pytest.approx(76)
    small = picture(drawn("p", 40, 30), PictureRoom(20, 130, 1.9))
    assert small is not None and (small["width"], small["height"]) == (20, 15)
    assert picture(None, ROOM) is None


def cutting(count: int, words: str = "Cut once: that gives one card.") -> list[CuttingSheet]:
    settings = tuple(CutSetting(n, "5 in", words, False) for n in (1, 2))
    return [
        CuttingSheet(n, "ink", "Ink", "12 \u00d7 12 in", 1, settings, (), (), f"sheet-{n}")
        for n in range(1, count + 1)
    ]


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7])
@pytest.mark.parametrize("width", [40.0, 56.0, 70.0, 85.0])
def test_a_layout_is_never_wider_than_its_column(count: int, width: float) -> None:
    pictures = {f"sheet-{n}": drawn("s", width, 60) for n in range(1, count + 1)}
    ways = layouts(cutting(count), pictures, GRID, USUAL_TYPE, PictureRoom(GRID.width, 130.0))
    assert ways
    for made in ways:
        column = (GRID.width - (made.across - 1) * GRID.gutter) / made.across
        assert width <= column
        assert all(each["picture"]["width"] == width for each in made.shown)  # type: ignore[index]
        assert len(made.heights) == -(-count // made.across)


def test_four_small_layouts_stand_in_pairs() -> None:
    pictures = {f"sheet-{n}": drawn("s", 48, 55) for n in range(1, 5)}
    first, *others = layouts(cutting(4, WORDS), pictures, GRID, USUAL_TYPE, PictureRoom(GRID.width, 130.0))
    assert first.across == 2
    assert all(sum(first.heights) <= sum(other.heights) for other in others)


PAGE = 250.0
BARE = Parts(150.0, 60.0, 0.0, 0.0, (170.0,), 90.0, 0.0, (90.0, 80.0, 80.0), 60.0)


def test_the_first_page_takes_what_fits_between_its_lists() -> None:
    assert settle(BARE._replace(after=35.0), PAGE).after_first
    assert not settle(BARE._replace(after=45.0), PAGE).after_first
    crowded = BARE._replace(plan=(230.0,), rows=(90.0, 60.0), views=0.0)
    assert settle(crowded._replace(legend=30.0), PAGE).legend == "cuts"
    assert settle(crowded._replace(legend=45.0), PAGE).legend != "cuts"


@pytest.mark.parametrize("head", [0.0, 189.0, 190.0, 249.9, 250.0, 251.0, 700.0])
@pytest.mark.parametrize("slip", [0.0, 60.0, 250.0, 400.0])
def test_every_sheet_is_settled(head: float, slip: float) -> None:
    """However full the first page is, there are places, and what has no room on it is not put there."""
    places = settle(BARE._replace(head=head, slip=slip, after=35.0, legend=60.0, layers=50.0), PAGE)
    room = PAGE - head % PAGE
    if slip <= room:
        taken = slip + 35.0 * places.after_first + 60.0 * (places.legend == "cuts")
        assert taken <= max(room, slip)


def test_without_a_slip_nothing_has_to_fill_the_first_page() -> None:
    places = settle(BARE._replace(slip=0.0, after=20.0, legend=20.0), PAGE)
    assert not places.after_first and places.legend != "cuts"


def test_the_legend_fills_the_page_that_has_room_for_it() -> None:
    """Before the plan it is beneath nothing; before the guide it would begin a page of its own."""
    parts = BARE._replace(legend=70.0, plan=(150.0, 120.0), guide=125.0, rows=(240.0,))
    assert settle(parts, PAGE).legend == "plan"
    assert settle(parts._replace(plan=(150.0,), guide=170.0), PAGE).legend in ("plan", "guide")


def test_the_layers_go_where_they_cost_no_page() -> None:
    """Beneath the score guide they fill what is left of a page, behind the steps they would begin one."""
    full = BARE._replace(guide=180.0, layers=65.0, rows=(90.0, 75.0, 80.0, 120.0), views=125.0)
    assert settle(full, PAGE).layers_first
    late = BARE._replace(guide=150.0, layers=65.0, rows=(95.0, 90.0), views=80.0)
    assert not settle(late, PAGE).layers_first


def test_heights_only_ever_grow_with_the_words() -> None:
    heights = [
        float(str(step_rows([step(1, WORDS * n)], {}, GRID, USUAL_TYPE, ROOM)[0]["height"]))
        for n in range(1, 6)
    ]
    assert all(one < other for one, other in pairwise(heights))
