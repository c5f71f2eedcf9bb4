"""Everything that the program makes of the recipe and the class of these tests, each made once."""

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from cardrecipe.class_compile import compile_class
from cardrecipe.commands.comparing import made_from, read_text
from cardrecipe.compare.changes import Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.variant_sheet import variant_sheet
from cardrecipe.render.class_pack.pages import render_class
from cardrecipe.render.diff_json import render_diff_json
from cardrecipe.render.diff_markdown import render_diff_markdown
from cardrecipe.render.diff_text import render_diff_text
from cardrecipe.render.pages import render, render_variants
from cardrecipe.render.side_by_side import render_side_by_side
from cardrecipe.sheets import sheet_of
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.source import Source
from tests.injection.every_text import CLASS, NAME, files_with, filled, texts_of
from tests.recipes import Texts

Files = dict[str, bytes]


class Said(NamedTuple):
    """What stands in the free texts, and what in those that are Markdown."""

    free: str
    markdown: str


@cache
def compiled(said: Said, variant: bool = False) -> Compiled:
    texts = texts_of(*said)
    files = files_with(texts)
    found = compile_recipe(Source(NAME, files[NAME]), Texts(files), texts["variant"] if variant else None)
    assert found.folded is not None, [each.message for each in found.diagnostics]
    return found


@cache
def sheet(said: Said, variant: bool = False) -> Sheet:
    return sheet_of(compiled(said, variant))


@cache
def card_files(said: Said) -> Files:
    """The sheet in every format but the printed one; that of the variant too, called `variant`."""
    formats = ("html", "md", "json", "svg", "dxf")
    plain = render(sheet(said), formats, diagnostics=compiled(said).diagnostics)
    other = render(sheet(said, True), ("md", "json"), diagnostics=compiled(said, True).diagnostics)
    return {**plain, **{f"variant{name}": content for name, content in other.items()}}


@cache
def variants_files(said: Said) -> Files:
    """The one sheet of the card and its variant."""
    return render_variants(variant_sheet(sheet(said), [sheet(said, True)]), ("html", "md"))


@cache
def printed_files(said: Said) -> Files:
    """The PDFs of the card, of the card with its variant, and of the class."""
    together = variant_sheet(sheet(said), [sheet(said, True)])
    made = {"card": render(sheet(said), ("pdf",)), "variants": render_variants(together, ("pdf",)),
            "class": render_class(class_sheet(said)[0], ("pdf",))}  # fmt: skip
    return {f"{name}.pdf": files[".pdf"] for name, files in made.items()}


@cache
def class_files(said: Said) -> Files:
    """The pack of the class in every format but the printed one."""
    planned, diagnostics = class_sheet(said)
    return render_class(planned, ("html", "md", "json", "svg"), diagnostics=diagnostics)


@cache
def class_sheet(said: Said) -> tuple[ClassSheet, Sequence[Diagnostic]]:
    texts = texts_of(*said)
    found = compile_class(Source("bench.recipe", filled(CLASS, texts)), Texts(files_with(texts)))
    assert found.cards is not None, [each.message for each in found.diagnostics]
    return plan_class(found.cards), found.diagnostics


@cache
def difference(said: Said) -> tuple[Comparison, Sheet, Sheet]:
    """What changed from a recipe to one in which each text has one word more."""
    sides, sheets = [], []
    for more in ("", " more"):
        files = files_with({name: f"{text}{more}" if text[-3:-1] == "qq" else text
                            for name, text in texts_of(*said).items()})  # fmt: skip
        made = made_from(read_text(Source(NAME, files[NAME]), Texts(files)), None)
        assert made.version is not None
        sides.append(made.version)
        sheets.append(sheet_of(made.compiled))
    return compare(*sides), sheets[0], sheets[1]


@cache
def diff_files(said: Said) -> Files:
    """The difference in its four formats."""
    found, old, new = difference(said)
    texts = {".txt": render_diff_text(found), ".md": render_diff_markdown(found),
             ".json": render_diff_json(found), ".html": render_side_by_side(old, new, found)}  # fmt: skip
    return {name: text.encode() for name, text in texts.items()}
