"""Drawings made small for one page: the same picture, said shorter."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgelements import Path

from cardrecipe.render.compact import Looks, same_words, words
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.short_paths import PER_MM, short_path, whole

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
CIRCLE = '<circle cx="1" cy="1" r="0.45" fill="#5d5850"/>'
# Two lines of LINE, the second told from the end of the first: 1.23456 mm are 25 twentieths.
ONE, TWO = "m0,0,25-10", "m0,0,25-10m-25,10,25-10"


def test_looks_become_one_class() -> None:
    svg, css = small(LINE + CIRCLE + LINE)
    assert svg == f"<path class=A d={ONE} /><circle cx=20 cy=20 r=9 class=B /><path class=A d={ONE} />"
    assert ".A{fill:none;stroke:#5d5850;stroke-width:3.6}" in css


def test_neighbours_in_one_colour_are_one_path_for_each_look() -> None:
    svg, _ = small(LINE + FILLED + LINE)
    assert svg == f"<path class=A d={TWO} /><path class=B d=m20,20,20,20z />"


def test_lettering_between_lines_is_written_after_them() -> None:
    svg, _ = small(LINE + TEXT + LINE)
    assert svg == f"<path class=A d={TWO} /><text x=20 class=B>a</text>"
    covered = LINE + TEXT + FILLED.replace("/>", ' stroke="#000000"/>') + LINE
    assert small(covered)[0].index("<text") < small(covered)[0].index("class=C")


@pytest.mark.parametrize(
    "body",
    [
        LINE + FILLED.replace("5d5850", "ffffff") + LINE,  # what is painted between must stay there
        2 * FILLED.replace("/>", ' stroke="#5d5850"/>'),  # an edge may lie over the other's area
        2 * FILLED.replace("/>", ' fill-opacity="0.5"/>'),  # twice is darker than once
        2 * FILLED.replace("/>", ' fill-rule="evenodd"/>'),  # two together may leave a hole
        2 * FILLED.replace("/>", ' data-piece="mat"/>'),  # each can be lit
    ],
)
def test_paths_whose_order_or_number_is_seen_stay_apart(body: str) -> None:
    assert small(body)[0].count("<path") == body.count("<path")


def test_another_look_is_another_class() -> None:
    svg, css = small(LINE + LINE.replace("0.18", "0.35"))
    assert svg.count("class=A") == svg.count("class=B") == 1
    assert css.count("{fill:none") == 2


def test_lettering_says_only_what_is_unusual() -> None:
    usual = 'font-family="Nunito, sans-serif" font-weight="400" text-anchor="middle"'
    svg, css = small(f'<text x="1" {usual} font-size="3.351">a</text>')
    assert svg == "<text x=20 class=A>a</text>"
    rule = "svg text{font-family:Nunito, sans-serif;font-weight:400;text-anchor:middle}"
    assert css == f"{rule}svg path{{fill-rule:evenodd}}.A{{font-size:67px}}"
    assert ".A{text-anchor:start}" in small(TEXT)[1]  # as SVG has it where nothing is said


def test_a_turn_by_its_own_place_takes_the_place_in() -> None:
    svg, _ = small('<text x="1" y="2.5" transform="rotate(-90 1 2.5)">a</text>')
    assert svg == "<text transform=translate(20,50)rotate(-90) class=A>a</text>"
    other, _ = small('<text x="1" y="2.5" transform="rotate(-90 3 2.5)">a</text>')
    assert other == "<text x=20 y=50 transform=rotate(-90,60,50) class=A>a</text>"


def test_a_reference_stays_where_it_is() -> None:
    svg, css = small('<path d="M0 0" fill="url(#p)" stroke="#000000"/>')
    assert svg == "<path fill=url(#p) class=A d=m0,0 />"
    assert ".A{fill-rule:nonzero;stroke:#000}" in css


def test_how_an_area_is_filled_is_said_where_it_is_unusual() -> None:
    assert ".A{fill-rule:nonzero;fill:#5d5850}" in small(FILLED)[1]
    assert ".A{fill:#5d5850}" in small(FILLED.replace("/>", ' fill-rule="evenodd"/>'))[1]


def test_a_shadow_is_one_shape_again_and_again() -> None:
    part = '<path d="M0 0L5 0L5 5Z" fill="#000000" fill-opacity="0.13" transform="translate({} {})"/>'
    svg, _ = small("".join(part.format(*(2 * [each])) for each in (1, 0.75, 0.5)))
    first = "<path id=s1 transform=translate(20,20) class=A d=m0,0h100v100z />"
    assert svg == f"{first}<use href=#s1 x=-5 y=-5 /><use href=#s1 x=-10 y=-10 />"
    apart, _ = small(part.format(1, 1) + part.format(2, 2).replace("L5 5", "L5 6"))
    assert apart.count("<path") == 2


def test_a_piece_is_a_number_among_all_pieces() -> None:
    looks = Looks()
    names = ("mat", "a&lt;b", "mat")
    svg = looks.small("".join(FILLED.replace("/>", f' data-piece="{each}"/>') for each in names))
    assert re.findall(r"data-p=(\d)", svg) == ["0", "1", "0"]
    assert list(looks.pieces) == ["mat", "a<b"]


def test_text_is_left_alone() -> None:
    text = 'fill="none" 1.23456 stroke="#fff"'.replace('"', "&quot;")
    assert f">{text}<" in small(f'<text x="1">{text}</text>')[0]


PATTERN = (
    '<defs><pattern id="{}" width="4" height="4" patternUnits="userSpaceOnUse" '
    'patternTransform="translate({} 1.000) rotate({})"><path d="M2 3.3V1" fill="none"/></pattern></defs>'
)


def test_patterns_share_their_motif() -> None:
    looks = Looks()
    one, two = (looks.small(PATTERN.format(*each)) for each in (("a", 1, "0.000"), ("b", 2, "90.000")))
    assert one == '<pattern id=p0 href=#motif-0 patternTransform=translate(20,20) />'
    assert two == '<pattern id=p1 href=#motif-0 patternTransform=translate(40,20)rotate(90) />'
    motif = "<path class=A d=m40,66v-46 />"
    size = "width=80 height=80 patternUnits=userSpaceOnUse"
    assert looks.patterns == f"<pattern id=motif-0 {size}>{motif}</pattern>"


COMMANDS = st.one_of(
    st.tuples(st.sampled_from("MLLLC"), st.lists(st.floats(-300, 300), min_size=6, max_size=6)),
    st.tuples(st.sampled_from("HVAQZ"), st.lists(st.floats(0.2, 300), min_size=6, max_size=6)),
)
NUMBERS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "Z": 0}


def said(command: tuple[str, list[float]]) -> str:
    letter, numbers = command
    if letter == "A":
        radius = max(numbers)
        return f"A{radius:.3f} {radius:.3f} 0 0 1 {numbers[0]:.3f} {numbers[1]:.3f}"
    return letter + " ".join(f"{number:.3f}" for number in numbers[: NUMBERS[letter]])


@given(st.lists(COMMANDS, min_size=1, max_size=12))
def test_a_short_path_goes_through_the_same_points(commands: list[tuple[str, list[float]]]) -> None:
    """Read back by an independent library: every point within the half of a twentieth of a mm."""
    data = "M1.250 2.500" + "".join(map(said, commands))
    long, short = Path(data), Path(short_path(data))
    assert [type(part) for part in long] == [type(part) for part in short]
    for one, other in zip(long, short, strict=True):
        for name in ("start", "end", "control", "control1", "control2"):
            here, there = getattr(one, name, None), getattr(other, name, None)
            if here is not None and there is not None:
                assert (there.x / PER_MM, there.y / PER_MM) == pytest.approx((here.x, here.y), abs=0.0251)


@pytest.mark.parametrize(
    ("numbers", "expected"),
    [("0.004", "0"), ("-0.001", "0"), ("12.345", "247"), ("-0.52", "-10"), ("1 -2.5 3", "20,-50,60")],
)
def test_places_are_whole_twentieths(numbers: str, expected: str) -> None:
    assert whole(numbers) == expected


def test_a_picture_keeps_its_size_on_the_page() -> None:
    svg = Looks().small('<svg width="42.694mm" height="60mm" viewBox="-1.375 -9.095 42.694 60"/>')
    assert svg == "<svg width=42.69mm height=60mm viewBox=-28,-182,854,1200 />"


def test_words_are_read_without_their_markup() -> None:
    body = '<text x="1">1<tspan dy="-1">1</tspan>\u2044<tspan>8</tspan></text><text>b</text>'
    assert words(drawing("a", body).svg) == ["11\u20448", "b"]


def test_pictures_are_shared_when_they_say_the_same() -> None:
    one = {"a": drawing("a", "<text>x</text>" + LINE), "b": drawing("b", "<text>1</text>")}
    other = {"a": drawing("a", "<text>x</text>"), "b": drawing("b", "<text>25</text>")}
    assert same_words(one, other) == {"a"}
