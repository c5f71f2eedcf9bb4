"""The pictures of a cutting plan on the printed page: side by side only where they have room at full size."""

import pytest

from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.render.drawings import drawings
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf_data import sheet_data
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.source import Source
from tests.recipes import SAMPLES


@pytest.mark.parametrize("page", ["letter", "a4"])
@pytest.mark.parametrize("copies", [1, 30])
def test_a_layout_keeps_to_its_column(copies: int, page: str) -> None:
    path = SAMPLES / "night-market.recipe"
    compiled = compile_recipe(Source(str(path), path.read_text(encoding="utf-8")), FolderTexts(str(path)))
    sheet = sheet_of(compiled, None, copies)
    made = drawings(sheet.folded, plans=sheet.paper_plans)
    data = sheet_data(sheet, made, Printing(page))
    across = data["layouts_across"]
    column = (data["width"] - (across - 1) * 8.0) / across
    assert data["cutting"]
    assert all(each["picture"]["width"] <= column + 0.001 for each in data["cutting"])
