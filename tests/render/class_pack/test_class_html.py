"""The page of a class as text: all that the class says, escaped, the same at every run."""

from html import unescape
from html.parser import HTMLParser

import pytest

from cardrecipe.plan.classes.sheet import ClassSheet
from cardrecipe.render.class_pack.html import render_class_html
from cardrecipe.render.class_pack.labels import labels
from cardrecipe.render.class_pack.pictures import class_pictures
from cardrecipe.render.class_pack.words import in_no_run, kit_told
from tests.render.class_pack.hand_made_class import class_sheet
from tests.render.class_pack.hostile_class import hostile_class
from tests.render.hostile import TEXTS


def html_of(sheet: ClassSheet, page: str = "letter") -> str:
    return render_class_html(sheet, class_pictures(sheet), page)


class _Words(HTMLParser):
    """The tags with their attributes, and what a reader sees."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def read(html: str) -> _Words:
    found = _Words()
    found.feed(html)
    return found


def test_every_count_is_on_the_page() -> None:
    sheet = class_sheet()
    words = " ".join(read(html_of(sheet)).words.split())
    for said in ("12 seats and 1 spare kit", "8 seats", "13 bags", "8 bags", "0:40", "1:35 to 2:05", "31.40"):
        assert said in words
    for line in sheet.shopping:
        assert line.title in words and " ".join(line.need.split()) in words
    for kit in sheet.kits:
        assert " ".join(kit_told(kit).split()) in words


def test_each_label_once_and_each_box_by_itself() -> None:
    sheet = class_sheet()
    found = read(html_of(sheet))
    numbers = [label.number for label in labels(sheet)]
    assert all(found.words.count(number) == 1 for number in numbers)
    ticks = [attrs["data-tick"] for tag, attrs in found.tags if tag == "input"]
    assert len(set(ticks)) == len(ticks)
    settings = sum(len(each.settings) for each in in_no_run(sheet))
    assert settings and len(in_no_run(sheet)) < len(sheet.cutting)
    bagged = sum(bag.bags for bag in sheet.bags)
    tasks = sum(1 + len(task.lines) for task in sheet.prep)
    assert len(ticks) == len(sheet.shopping) + tasks + settings + bagged


def test_ids_are_not_given_twice_and_every_picture_is_there() -> None:
    tags = read(html_of(class_sheet())).tags
    ids = [attrs["id"] for _, attrs in tags if attrs.get("id")]
    assert len(set(ids)) == len(ids)
    assert {attrs["href"] for tag, attrs in tags if tag == "use"} == {"#kit-A"}
    assert len([tag for tag, attrs in tags if tag == "svg" and attrs.get("role") == "img"]) == 1 + len(
        class_sheet().cutting
    )


@pytest.mark.parametrize("name", TEXTS)
def test_hostile_text_is_only_text(name: str) -> None:
    plain, wrong = read(html_of(class_sheet())), read(html_of(hostile_class(TEXTS[name])))
    assert {tag for tag, _ in wrong.tags} <= {tag for tag, _ in plain.tags}
    assert not any(key.startswith("on") for _, attrs in wrong.tags for key in attrs)
    assert unescape(TEXTS[name]).split()[0] in wrong.words or TEXTS[name].split()[0] in wrong.words


def test_the_same_class_is_the_same_page() -> None:
    assert html_of(class_sheet()) == html_of(class_sheet())
    assert "size:210mm 297mm" in html_of(class_sheet(), "a4")
