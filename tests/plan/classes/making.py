"""Classes for the tests: texts in, compiled and planned classes out; and classes by chance."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from cardrecipe.class_compile import CompiledClass, compile_class
from cardrecipe.files import FolderTexts, read_source
from cardrecipe.plan.card import CuttingOptions
from cardrecipe.plan.classes.blanks import ClassCut, class_cut
from cardrecipe.plan.classes.cards import ClassCards
from cardrecipe.plan.classes.plan import plan_class
from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.plan.cutting.job import Part
from cardrecipe.plan.cutting.parts import is_offcut
from cardrecipe.syntax.source import Source
from tests.recipes import SAMPLES, Texts

BENCH = "bench.recipe"
HEAD = 'recipe "{}"\n  units inch nearest 1/16\n'
METRIC = 'recipe "{}"\n  units mm nearest 1\n'
SHELF = """\
paper ink is cardstock "Ink" 12 in x 12 in, price 0.50, pack of 10
paper moss is cardstock "Moss" 8.5 in x 11 in, grain long, price 0.30
paper glow is patterned "Glow" 12 in x 12 in, one-way
paper fog is cardstock "Fog" 8.5 in x 11 in or 12 in x 12 in, price 0.30 or 0.55
"""


def compiled(text: str, files: Mapping[str, str] | None = None) -> CompiledClass:
    return compile_class(Source(BENCH, text), Texts(files))


def cards(text: str, files: Mapping[str, str] | None = None) -> ClassCards:
    found = compiled(text, files)
    assert found.cards is not None, [(each.span, each.message) for each in found.diagnostics]
    return found.cards


def planned(
    text: str, files: Mapping[str, str] | None = None, options: CuttingOptions | None = None
) -> ClassSheet:
    return plan_class(cards(text, files), options)


def cut_of(text: str, files: Mapping[str, str] | None = None) -> ClassCut:
    return class_cut(cards(text, files))


def sample_class(text: str) -> CompiledClass:
    """A class of the samples, as if it lay in their folder."""
    path = str(SAMPLES / "bench.recipe")
    return compile_class(Source(path, text), FolderTexts(path))


@cache
def four_samples() -> ClassSheet:
    """Four recipes for 30 seats each, with spares and with paper at hand."""
    found = sample_class(FOUR)
    assert found.cards is not None, found.diagnostics
    return plan_class(found.cards)


FOUR = """\
class "Four at a long table"
  spare 2
  make 30 of "first-frost.recipe"
  make 30 of "mill-letter.recipe", 1 spare
  make 30 of "night-market.recipe" variant "Harvest"
  make 30 of "orchard-walk.recipe"
  have white 9 sheets
  have moss 4 sheets
  have moss 3 sheets 6 x 8
  have ink 40 sheets
"""


@cache
def saturday_bench() -> ClassSheet:
    """The shipped class."""
    path = str(SAMPLES / "saturday-bench.recipe")
    found = compile_class(read_source(path), FolderTexts(path))
    assert found.cards is not None, found.diagnostics
    return plan_class(found.cards)


# ---- layouts walked by hand ----------------------------------------------------------------------


def blanks_cut(sheet: ClassSheet) -> Counter[str]:
    """How many of each blank come of all layouts of a class, counted in their trees."""
    found: Counter[str] = Counter()
    for plan in sheet.paper_plans:
        for layout in plan.layouts:
            for part in leaves(layout.layout.root):
                if part.blank is not None:
                    found[part.blank] += layout.layout.count
    return found


def leaves(part: Part) -> list[Part]:
    """What a part comes to when all of its cuts are made."""
    if part.blank is not None or is_offcut(part):
        return [part]
    return [leaf for each in part.parts for leaf in leaves(each)]


# ---- by chance -----------------------------------------------------------------------------------


def class_by_chance(seed: int) -> tuple[list[str], dict[str, str]]:
    """The `make` lines of a class, and its recipes: loose pieces of the papers of one shelf, some metric."""
    chance = random.Random(seed)
    files = {"shelf.recipe": SHELF}
    lines = []
    for at in range(chance.randint(1, 4)):
        name = f"recipe-{at}.recipe"
        metric = chance.random() < 0.3
        files[name] = _recipe(chance, f"Card {at}", metric=metric)
        spare = f", {chance.randint(0, 2)} spare" if chance.random() < 0.4 else ""
        lines.append(f'  make {chance.randint(1, 9)} of "{name}"{spare}')
    return lines, files


def class_text(lines: list[str], *more: str) -> str:
    return "\n".join(['class "By chance"', *more, *lines, ""])


def _recipe(chance: random.Random, title: str, *, metric: bool) -> str:
    text = (METRIC if metric else HEAD).format(title) + 'use "shelf.recipe"\n'
    for at in range(chance.randint(1, 3)):
        kind = chance.choice(("rectangle", "rectangle", "oval"))
        paper = chance.choice(("ink", "moss", "glow", "fog"))
        sides = [chance.randint(30, 190) if metric else Fraction(chance.randint(8, 60), 8) for _ in range(2)]
        size = " x ".join(map(_typed, sides))
        text += f"{kind} piece-{at} from {paper}\n  size {size}\n  loose\n  count {chance.randint(1, 3)}\n"
    return text


def _typed(side: int | Fraction) -> str:
    whole, rest = divmod(Fraction(side), 1)
    return f"{whole} {rest}".removesuffix(" 0") if whole else str(rest)
