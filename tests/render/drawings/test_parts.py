"""The parts that drawings are made of: lines, colours, lettering, the emitter, the score guide."""

from itertools import combinations, product

import pytest

from cardrecipe.fold.folded import FoldAction
from cardrecipe.render.drawings import drawings, lines
from cardrecipe.render.drawings.colors import (
    BY_KIND,
    INK,
    MOUNTAIN,
    NO_PAPER,
    PAGE,
    QUIET_INK,
    VALLEY,
    contrast,
    fold_color,
    ink_on,
    motif_on,
)
from cardrecipe.render.drawings.folding import goes_behind
from cardrecipe.render.drawings.lettering import fitted, text_width
from cardrecipe.render.drawings.score_guide import score_guide, short_distances
from cardrecipe.render.drawings.svg import element, escaped, number
from cardrecipe.render.drawings.swing import Plane, swings_of
from tests import hand_made as made
from tests.render.drawings import cards, read_back

F = made.F
FLAT = Plane((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
FILLS = [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in product(range(0, 256, 17), repeat=3)]


def test_every_kind_of_line_has_its_own_dashes() -> None:
    styles = [lines.EDGE, lines.FOLDS["valley"], lines.FOLDS["mountain"], lines.HIDDEN, lines.ZONE]
    for one, other in combinations(styles, 2):
        assert one.dash != other.dash
    assert lines.SLIT.dash is None and lines.SLIT.width >= 2 * lines.EDGE.width


def test_contrast_agrees_with_the_published_examples() -> None:
    # WCAG 2.2, definition of contrast ratio; the figures were worked out beside it.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.5422, abs=1e-4)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.4781, abs=1e-4)
    assert contrast("#ff0000", "#ffffff") == pytest.approx(3.9985, abs=1e-4)


def test_labels_can_be_read_on_any_paper_and_folds_can_be_seen() -> None:
    for fill in FILLS:
        assert contrast(ink_on(fill), fill) >= 4.5
        assert contrast(fold_color("valley", fill), fill) >= 3
        assert contrast(fold_color("mountain", fill), fill) >= 3


def test_labels_can_be_read_across_a_pattern_of_our_own_papers() -> None:
    ours = [NO_PAPER, *(color for colors in BY_KIND.values() for color in colors)]
    for fill in ours:
        assert contrast(ink_on(fill), motif_on(fill)) >= 4.5


@pytest.mark.parametrize("color", [INK, QUIET_INK, VALLEY, MOUNTAIN])
def test_every_ink_can_be_read_on_the_page(color: str) -> None:
    assert contrast(color, PAGE) >= 4.5


def test_numbers_have_at_most_three_decimals() -> None:
    assert [number(n) for n in (1, 1.5, -0.0001, 2 / 3, F(1, 3))] == [
        "1",
        "1.5",
        "0",
        "0.667",
        "0.333",
    ]


def test_attributes_and_words_are_escaped() -> None:
    made_element = element("text", escaped('<&">\x07'), id='a"<b')
    assert made_element == '<text id="a&quot;&lt;b">&lt;&amp;&quot;&gt;</text>'


def test_a_fraction_runs_narrower_than_its_digits_side_by_side() -> None:
    assert text_width("5\u202f1\u20442", 1) == pytest.approx(0.600 + 0.200 + 2 * 0.380 + 0.173)


def test_a_long_name_is_cut_short_to_its_room() -> None:
    short = fitted("a-very-long-name-for-a-piece", 12, 3)
    assert short.endswith("\u2026") and text_width(short, 3) <= 12
    assert fitted("tag", 12, 3) == "tag"


def test_words_of_the_maker_stay_words() -> None:
    nasty = 'Lamps <&"> </svg><script>'
    card = made.double_gate()
    papers = {name: paper._replace(title=nasty) for name, paper in card.papers.items()}
    base = card.pieces[0]
    sections = tuple(s._replace(name="<&" + s.name) for s in base.sections)
    unsafe = card._replace(title=nasty, papers=papers)
    for drawing in drawings(cards.folded(unsafe)).values():
        assert "<script" not in drawing.svg
        read_back.root(drawing.svg)
    guide = score_guide(card, base._replace(sections=sections))
    assert "<&back" in read_back.texts(guide.svg)
    assert read_back.root(drawings(cards.folded(unsafe))["finished"].svg)[0].text == nasty


def test_scores_stand_to_scale_in_the_dashes_of_their_direction() -> None:
    card = made.double_gate()
    base = card.pieces[0]
    guide = score_guide(card, base).svg
    found = read_back.strokes(guide)
    for direction in ("valley", "mountain"):
        dashed = [s for s in found if s.dash == lines.FOLDS[direction].dash]
        places = sorted(s.points[0][0] for s in dashed)
        wanted = [float(s.at) for s in base.scores if s.direction == direction]
        assert len(places) == len(wanted) == 2
        paper = read_back.numbers(read_back.root(guide).find(f"{read_back.SVG}path"))
        for place, at in zip(places, wanted, strict=True):
            assert place / max(paper) == pytest.approx(at / float(base.width), abs=1e-3)


def test_a_valley_sign_opens_upward_and_a_mountain_sign_downward() -> None:
    for direction, bend in (("valley", 1), ("mountain", -1)):
        (mark,) = lines.fold_sign((0, 0), direction)
        wing, middle, other = read_back.strokes(
            f'<svg xmlns="http://www.w3.org/2000/svg">{mark.markup}</svg>'
        )[0].points
        assert wing[1] == other[1] and (middle[1] - wing[1]) * bend > 0  # y runs downward


@pytest.mark.parametrize(("card", "fold", "rises"), [("gate", 1, True), ("z", 1, False)])
def test_a_valley_swings_up_toward_the_viewer_and_a_mountain_down_behind(
    card: str, fold: int, rises: bool
) -> None:
    made_drawings = drawings(cards.folded(cards.hand_made_cards()[card]))
    found = read_back.strokes(made_drawings[f"fold-card-{fold}"].svg)
    arrows = [
        s for s in found if s.width == lines.MOTION.width and s.dash is None and len(s.points) > 9
    ]
    assert arrows
    for arrow in arrows:
        (x0, y0), (x1, y1), (_, middle) = arrow.points[0], arrow.points[-1], arrow.points[8]
        assert x0 != x1 and (middle < (y0 + y1) / 2) == rises  # y runs downward
    behind = [s for s in found if s.dash == "0.01 1.3"]
    assert bool(behind) != rises


def test_the_short_way_of_a_double_gate() -> None:
    # Common practice, no published source: scored at 1 1/4 and 3 3/8 from both ends.
    base = made.double_gate().pieces[0]
    assert short_distances(base, "x") == [F(5, 4), F(27, 8)]
    texts = read_back.texts(score_guide(made.double_gate(), base).svg)
    assert texts.count("1\u202f1\u20444") >= 3 and texts.count("3\u202f3\u20448") >= 3


def test_there_is_no_short_way_where_the_ends_differ() -> None:
    assert short_distances(made.strip_base([1, 2, 3], "VV"), "x") == []
    assert short_distances(made.strip_base([2, 2], "V"), "x") == []


def test_a_piece_on_two_like_doors_is_drawn_once_and_names_both() -> None:
    drawing = drawings(cards.folded(made.double_gate()))["place-door-paper"]
    assert "on left door and right door, outside" in read_back.texts(drawing.svg)
    assert read_back.texts(drawing.svg).count("1\u20448") == 4


def test_what_hangs_over_is_told_as_over() -> None:
    drawing = drawings(cards.folded(made.double_gate()))["place-plate"]
    assert read_back.texts(drawing.svg).count("5\u20448 over") == 2


def test_two_numbers_that_would_meet_stand_on_two_lines() -> None:
    strip = made.placed("front", ("17/4", "11/2"), (5, "1/8"))
    speck = made.placed("strip", (5, "1/8"), (5, "1/4"), host_piece="strip", is_section=False)
    card = made.side_fold(
        made.piece("strip", "panel", "white", (5, "1/8"), strip),
        made.piece("cover", "panel", "glow", (5, "1/4"), speck),
    )
    found = read_back.words(drawings(cards.folded(card))["place-cover"].svg)
    one, other = (each.room for each in found if each.text == "1\u204416 over")
    assert one.overlap(other) == 0


def test_turned_copies_are_measured_from_middle_to_middle() -> None:
    host = ("17/4", "11/2")
    spots = [made.placed("front", host, (1, 1), at=(x, "1/2")) for x in ("1/4", "13/8", 3)]
    card = made.side_fold(made.piece("kite", "square", "glow", (1, 1), *spots, turned=F(45)))
    texts = read_back.texts(drawings(cards.folded(card))["place-kite"].svg)
    assert texts[:3] == ["3\u20444", "1", "1\u202f3\u20448"]  # from left, from top, to the next


def test_a_fold_whose_sections_do_not_meet_is_drawn_without_an_arrow() -> None:
    base = made.strip_base([4, 4], "V")
    apart = base._replace(sections=(base.sections[0]._replace(width=F(3)), *base.sections[1:]))
    action = FoldAction("card", (1,), "valley", (base.sections[0].name,), (), ())
    planes = {section.name: FLAT for section in base.sections}
    assert [swing.moving.name for swing in swings_of(base, action, planes)] == [base.sections[0].name]
    assert swings_of(apart, action, planes) == []


def test_paper_that_lies_face_down_swings_away_at_a_valley() -> None:
    base = made.strip_base([4, 4], "V")
    action = FoldAction("card", (1,), "valley", (base.sections[0].name,), (), ())
    for normal, is_behind in (((0.0, 0.0, 1.0), False), ((0.0, 0.0, -1.0), True)):
        planes = {section.name: FLAT._replace(normal=normal) for section in base.sections}
        assert goes_behind(action, swings_of(base, action, planes)) == is_behind


def test_a_fan_shows_every_score() -> None:
    fan = drawings(cards.folded(made.accordion(6)))["fold-card-fan"]
    assert sorted(read_back.texts(fan.svg)) == ["1", "2", "3", "4", "5"]


def test_the_legend_has_the_signs_that_the_card_needs() -> None:
    side_fold = drawings(cards.folded(made.side_fold()))["legend"].description
    double_gate = drawings(cards.folded(made.double_gate()))["legend"].description
    for words in ("mountain", "raised on foam", "behind the paper", "overlap"):
        assert words in double_gate and words not in side_fold
    assert "valley" in side_fold and "slit" not in double_gate


def test_a_piece_on_a_band_is_measured_on_the_front() -> None:
    card = made.double_gate()
    plate = drawings(cards.folded(card))["place-plate"]
    assert "on sash, the front" in read_back.texts(plate.svg)
    assert not [text for text in read_back.texts(plate.svg) if "\u2248" in text]


def test_several_cards_leave_the_number_to_the_words() -> None:
    one, many = made.double_gate(), made.double_gate()._replace(makes=12)
    for card, said in ((one, True), (many, False)):
        texts = read_back.texts(drawings(cards.folded(card))["piece-door-paper"].svg)
        assert any("× 2" in text for text in texts) == said
