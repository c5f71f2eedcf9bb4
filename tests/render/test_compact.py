"""Drawings made small for one page: the same picture, said shorter."""

import re

import pytest

from cardrecipe.render.compact import Looks, same_words, words
from cardrecipe.render.drawings.svg import Drawing

LINE = '<path d="M0 0L1.23456 -0.5" fill="none" stroke="#5d5850" stroke-width="0.18"/>'


def drawing(name: str, body: str) -> Drawing:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{body}</svg>\n'
    return Drawing(name, name, "", svg, 9, 9)


def small(body: str) -> tuple[str, str]:
    looks = Looks()
    svg = looks.small(drawing("a", body).svg)
    return re.sub(r"^<svg[^>]*>|</svg>$", "", svg), looks.css


TEXT = '<text x="1">a</text>'
FILLED = '<path d="M1 1L2 2Z" fill="#5d5850"/>'


def test_looks_become_one_class() -> None:
    svg, css = small(LINE + TEXT + LINE)
    assert svg == f'<path d="M0 0L1.23 -.5" class="k0"/>{TEXT}<path d="M0 0L1.23 -.5" class="k0"/>'
    assert css == ".k0{fill:none;stroke:#5d5850;stroke-width:0.18}"


def test_neighbours_in_one_colour_are_one_path_for_each_look() -> None:
    svg, _ = small(LINE + FILLED + LINE)
    line, area = 2 * "M0 0L1.23 -.5", "M1 1L2 2Z"
    assert svg == f'<path d="{line}" class="k0"/><path d="{area}" class="k1"/>'


@pytest.mark.parametrize(
    "body",
    [
        LINE + FILLED.replace("5d5850", "ffffff") + LINE,  # what is painted between must stay there
        2 * FILLED.replace("/>", ' stroke="#5d5850"/>'),  # an edge may lie over the other's area
        2 * FILLED.replace("/>", ' fill-opacity="0.5"/>'),  # twice is darker than once
        2 * FILLED.replace("/>", ' fill-rule="evenodd"/>'),  # two together may leave a hole
    ],
)
def test_paths_whose_order_or_number_is_seen_stay_apart(body: str) -> None:
    assert small(body)[0].count("<path") == body.count("<path")


def test_another_look_is_another_class() -> None:
    svg, css = small(LINE + LINE.replace("0.18", "0.35"))
    assert svg.count('class="k0"') == svg.count('class="k1"') == 1
    assert css.count("{") == 2


def test_a_size_of_type_has_its_unit() -> None:
    assert small('<text x="1" font-size="3.351">a</text>') == (
        '<text x="1" class="k0">a</text>',
        ".k0{font-size:3.351px}",
    )


def test_a_reference_stays_where_it_is() -> None:
    svg, css = small('<path d="M0 0" fill="url(#p)" stroke="#000000"/>')
    assert svg == '<path d="M0 0" fill="url(#p)" class="k0"/>'
    assert css == ".k0{stroke:#000000}"


def test_text_is_left_alone() -> None:
    text = 'fill="none" 1.23456 stroke="#fff"'.replace('"', "&quot;")
    assert f">{text}<" in small(f'<text x="1">{text}</text>')[0]


@pytest.mark.parametrize(
    ("number", "expected"),
    [("0.004", "0"), ("-0.001", "0"), ("12.345", "12.35"), ("-0.52", "-.52"), ("100.0", "100"),
     ("10.25", "10.25"), ("-7.5", "-7.5"), ("0.996", "1")],
)  # fmt: skip
def test_numbers_keep_two_decimals(number: str, expected: str) -> None:
    assert small(f'<path d="M{number} 1"/>')[0] == f'<path d="M{expected} 1"/>'


def test_words_are_read_without_their_markup() -> None:
    body = '<text x="1">1<tspan dy="-1">1</tspan>\u2044<tspan>8</tspan></text><text>b</text>'
    assert words(drawing("a", body).svg) == ["11\u20448", "b"]


def test_pictures_are_shared_when_they_say_the_same() -> None:
    one = {"a": drawing("a", "<text>x</text>" + LINE), "b": drawing("b", "<text>1</text>")}
    other = {"a": drawing("a", "<text>x</text>"), "b": drawing("b", "<text>25</text>")}
    assert same_words(one, other) == {"a"}
