"""`python -m tests.contact_sheet FOLDER [NAME …]`: all drawings and printed pages as PNG, to look at.

Every sample with its variants, every shipped structure, and some cards made by chance; or those whose name
holds one of the words given. Typst draws the pictures, as in the PDF; pages of samples come from pdftoppm.
"""

import json
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import typst

import cardrecipe.render
from cardrecipe.render.drawings import Drawing
from cardrecipe.render.pages import render
from cardrecipe.render.papers import Printing
from tests.render.drawings import everything, generated

FONTS = Path(cardrecipe.render.__file__).parent / "fonts"
GENERATED = 24
PPI = 110
SHEET = """
#set page(width: 420mm, height: auto, margin: 6mm, fill: luma(235))
#set text(font: "Nunito", size: 8pt)
#let all = json(bytes(sys.inputs.data))
= #all.title
#for each in all.pictures {
  box(inset: 2mm, stack(spacing: 1mm, text(weight: 700, each.name),
    box(fill: white, image(bytes(each.svg), format: "svg", width: each.width * 1mm))))
}
"""


def main(folder: Path, words: list[str]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name, shown in _all(words):
        stem = folder / re.sub("[^a-z0-9]+", "-", name.lower()).strip("-")
        for number, page in enumerate(_sheets(name, shown.drawings)):
            stem.with_name(f"{stem.name}-drawings-{number + 1}.png").write_bytes(page)
        if name in everything.sample_names():
            _pages(shown, stem)
        print(stem.name)


def _all(words: list[str]) -> Iterator[tuple[str, everything.Shown]]:
    makers = [
        (everything.sample, everything.sample_names()),
        (everything.structure, everything.structure_names()),
    ]
    for make, names in makers:
        yield from ((name, make(name)) for name in names if _is_wanted(name, words))
    for name, result in generated.cards(0, GENERATED):
        if _is_wanted(name, words):
            yield name, everything.compiled(result)


def _is_wanted(name: str, words: list[str]) -> bool:
    return not words or any(word in name for word in words)


def _sheets(title: str, drawings: Mapping[str, Drawing]) -> list[bytes]:
    """All drawings of a card at their own size, each under its name."""
    pictures = [{"name": each.name, "svg": each.svg, "width": each.width_mm} for each in drawings.values()]
    data = json.dumps({"title": title, "pictures": pictures})
    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[FONTS])
    compiler = typst.Compiler(font_paths=fonts, sys_inputs={"data": data})
    made = compiler.compile(SHEET.encode(), format="png", ppi=PPI)
    return made if isinstance(made, list) else [made]


def _pages(shown: everything.Shown, stem: Path) -> None:
    """The printed pages; the PDF is kept beside them."""
    page = "a4" if shown.sheet.folded.card.unit == "mm" else "letter"
    pdf = stem.with_suffix(".pdf")
    pdf.write_bytes(render(shown.sheet, ["pdf"], [Printing(page)])[".pdf"])
    subprocess.run(["pdftoppm", "-r", "80", "-png", str(pdf), f"{stem}-page"], check=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
