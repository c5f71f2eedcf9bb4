"""Somebody who has the printed list alone cuts the sheets: every sentence is read, every part measured."""

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest

from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts, read_source
from cardrecipe.plan.sheet import CuttingSheet, Sheet
from cardrecipe.sheets import sheet_of
from tests.plan.test_steps import plain
from tests.recipes import sample_cards

RECIPES = sample_cards()
WORDS = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
NUMBER = rf"({'|'.join(WORDS[1:])}|\d+)"
SIZE = r"([\d /]+ × [\d /]+) (?:in|mm)"
WHAT = r"(?:each sheet|the sheet|(?:each )?strip ([A-Z]\d*))"
LAY = re.compile(rf"(?:Turn: l|L)ay {WHAT}(?: \({SIZE}\))? with its ([\d /]+) (?:in|mm) side along the ruler")
CUT = re.compile(rf"Cut(?: the rest of {WHAT})? (once|twice|{NUMBER} times): that gives (.*)\.")
Size = tuple[Fraction, Fraction]


def length(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def size(text: str) -> Size:
    width, height = text.split(" × ")
    return length(width), length(height)


def count(text: str) -> int:
    return WORDS.index(text) if text in WORDS else int(text)


class Maker:
    """A trimmer, and a table with strips in heaps by their letters."""

    def __init__(self, layout: CuttingSheet, blanks: dict[str, Size]) -> None:
        self.blanks = blanks
        self.heaps: dict[str, list[Size]] = {"": [size(plain(layout.size).rsplit(" ", 1)[0])]}
        self.got: Counter[str] = Counter()
        self.is_upright = True  # the side along the ruler is the width of what is in hand
        for each in layout.settings:
            self.follow(plain(each.text), length(plain(each.size).rsplit(" ", 1)[0]))

    def follow(self, text: str, setting: Fraction) -> None:
        for sentence in re.split(r"(?<=\.) (?=[A-Z])", text):
            if lay := LAY.match(sentence):
                letter, told, side = lay[1] or "", lay[2], length(lay[3])
                assert told is None or {size(told)} == set(self.heaps[letter]), sentence
                (width, height), self.letter = self.heaps[letter][0], letter
                assert side in (width, height), sentence
                self.is_upright = side == width
            elif cut := CUT.match(sentence):
                assert cut[2] is not None and (cut[1] or "") == (self.letter if "rest of" in sentence else "")
                times = {"once": 1, "twice": 2}.get(cut[2]) or count(cut[3])
                self.cut(self.heaps.pop(self.letter), times, setting, cut[4])
            else:
                raise AssertionError(f"nobody can follow: {sentence}")

    def cut(self, heap: list[Size], times: int, setting: Fraction, told: str) -> None:
        """What the words say comes off is what the trimmer leaves, part for part."""
        for width, height in heap:
            along, across = (width, height) if self.is_upright else (height, width)
            rest = along - times * setting
            assert rest > 0, told
            parts = [sorted((setting, across))] * times
            named = [sorted(each) for each in self.named(told)]
            if len(named) == times:
                left = (rest, across) if self.is_upright else (across, rest)
                self.heaps.setdefault(self.letter, []).append(left)
            else:
                parts.append(sorted((rest, across)))
            assert sorted(named) == sorted(parts), told

    def named(self, told: str) -> list[Size]:
        """The parts of a sentence, put on their heaps."""
        told = re.sub(r" \((room for|for tags)[^)]*\)", "", told)
        found: list[Size] = []
        for number, letter, each in re.findall(rf"(?:{NUMBER} strips|strip) ([A-Z]\d*) \({SIZE}", told):
            strips = [size(each)] * (count(number) if number else 1)
            self.heaps.setdefault(letter, []).extend(strips)
            found += strips
        for each in re.findall(rf"(?:scrap|a piece to keep), {SIZE}", told):
            found.append(size(each))
        for name, blank in self.blanks.items():
            said = rf"\b{NUMBER} {name.replace('-', ' ')}(?:s|es)?(?= \(|,|;| and |$)"
            for number in re.findall(said, told):
                self.got[name] += count(number)
                found += [blank] * count(number)
        return found


def blanks_of(sheet: Sheet) -> dict[str, Size]:
    """What the cut list says to cut: the size, or the rectangle before it is a shape."""
    found = {}
    for line in sheet.cuts:
        notes = [note for note in map(plain, line.notes) if note.startswith("first a rectangle of ")]
        told = notes[0].removeprefix("first a rectangle of ") if notes else plain(line.size)
        found[line.piece] = size(told.rsplit(" ", 1)[0])
    return found


@pytest.mark.parametrize("copies", [1, 7, 30])
@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_the_printed_list_alone_gives_every_piece(path: Path, copies: int) -> None:
    result = compile_recipe(read_source(str(path)), FolderTexts(str(path)))
    sheet = sheet_of(result, copies=copies)
    got: Counter[str] = Counter()
    for layout in sheet.cutting:
        maker = Maker(layout, blanks_of(sheet))
        if not layout.settings:
            maker.got.update(dict(layout.holds))
        assert maker.got == dict(layout.holds)
        for name, number in maker.got.items():
            got[name] += number * layout.count
    assert all(got[line.piece] >= line.total for line in sheet.cuts if line.paper)
