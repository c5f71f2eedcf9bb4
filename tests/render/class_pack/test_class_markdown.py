"""The class as Markdown, read as another program reads it."""

import re

import pytest
from markdown_it import MarkdownIt

from cardrecipe.render.class_pack.labels import labels
from cardrecipe.render.class_pack.markdown import render_class_markdown
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.class_pack.hostile_class import hostile_class
from tests.render.hostile import TEXTS

READER = MarkdownIt("js-default")


def test_every_list_is_there_with_its_boxes() -> None:
    sheet = class_sheet()
    text = render_class_markdown(sheet)
    boxes = re.findall(r"^ *- \[ \] ", text, re.MULTILINE)
    lines = sum(len(task.lines) for task in sheet.prep)
    bagged = sum(bag.bags for bag in sheet.bags)
    assert len(boxes) == len(sheet.shopping) + len(sheet.prep) + lines + bagged
    assert "- [ ] 0:40 **Set the trimmer to 2 1\u20444 in.** (36 pieces, 35 min, for kit A)" in text
    assert "### A: Night market lanterns, 13 bags" in text and "### B: Market tags, 8 bags" in text


def test_every_label_has_its_row_and_spare_ones_say_so() -> None:
    sheet = class_sheet()
    rows = re.findall(r"^\| ([A-Z]+-\d+) \|.*\| (spare)? ?\|$", render_class_markdown(sheet), re.MULTILINE)
    assert rows == [(label.number, "spare" if label.is_spare else "") for label in labels(sheet)]


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_stays_text(name: str) -> None:
    html = READER.render(render_class_markdown(hostile_class(TEXTS[name])))
    assert not re.search(r"<(script|img|a|svg|style|textarea|b|i)\b", html)
    assert html.count("<h1>") == 1
