"""Every card that the laws are tried on as its sheet: samples with their variants, shipped structures, and
cards made by chance; with the drawings as they are made for its pages."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import NamedTuple

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.library.folds import fold_names
from cardrecipe.model.texts import NoTexts
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.drawings import Drawing, drawings
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.source import Source
from tests.recipes import SAMPLES, recipes_in

PAPERS = {"inch": ("inch nearest 1/16", "1/8", "48 x 48"), "mm": ("mm nearest 1", "3", "900 x 900")}
SIZES = {"inch": (4, 6), "mm": (104, 152)}
SQUARE = {"triangle"}  # asks for a width alone


class Shown(NamedTuple):
    """A card with its pictures; `sheet` is the one that is printed."""

    sheet: Sheet
    drawings: Mapping[str, Drawing]


def shown(sheet: Sheet) -> Shown:
    card = sheet.folded.card._replace(makes=sheet.copies)
    return Shown(sheet, drawings(sheet.folded._replace(card=card), "", sheet.paper_plans))


def sample_names() -> list[str]:
    """`night-market`, `night-market/Harvest` and so on, each also `… in the other unit`."""
    return [f"{name}{other}" for name in _compiled_samples() for other in ("", OTHER)]


OTHER = " in the other unit"


def sample(name: str) -> Shown:
    sheet = sheet_of(_compiled_samples()[name.removesuffix(OTHER)])
    if not name.endswith(OTHER):
        return shown(sheet)
    assert sheet.other is not None
    return shown(sheet.other)


def structure_names() -> list[str]:
    return [f"{name} {unit}" for name in fold_names() for unit in PAPERS]


def structure(name: str) -> Shown:
    return from_text(structure_recipe(*name.split(" ")))


def structure_recipe(name: str, unit: str) -> str:
    ruler, border, paper = PAPERS[unit]
    width, height = SIZES[unit]
    tall = "" if name in SQUARE else f", height {height}"
    return (
        f'recipe "A {name}"\n  units {ruler}\n  border {border}\npaper ink is cardstock "Ink" {paper}\n'
        f"base card from ink\n  fold {name}, width {width}{tall}\n"
    )


def from_text(text: str) -> Shown:
    result = compile_recipe(Source("card.recipe", text), NoTexts())
    assert result.folded is not None, [each.message for each in result.diagnostics]
    return compiled(result)


def compiled(result: Compiled) -> Shown:
    return shown(sheet_of(result))


@cache
def _compiled_samples() -> dict[str, Compiled]:
    return dict(_samples())


def _samples() -> Iterator[tuple[str, Compiled]]:
    for path in recipes_in(SAMPLES):
        source, texts = Source(str(path), path.read_text(encoding="utf-8")), FolderTexts(str(path))
        plain = compile_recipe(source, texts)
        if plain.folded is None or not plain.folded.card.pieces:
            continue
        yield path.stem, plain
        for title in plain.variants:
            yield f"{path.stem}/{title}", compile_recipe(source, texts, title)
