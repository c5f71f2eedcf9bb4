"""Cards of many pieces: each step draws again what lies there, and what that costs is counted in calls."""

import random
from itertools import count

import pytest

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.render.compact import Looks
from cardrecipe.render.drawings.free_places import led_out
from cardrecipe.render.drawings.lettering import fitted, text_width
from cardrecipe.render.drawings.lying import lying_marks
from cardrecipe.render.drawings.marks import Box, Mark, room
from cardrecipe.render.drawings.placing import placing
from cardrecipe.render.drawings.scenes import lying_on
from cardrecipe.render.drawings.shapes import rectangle
from cardrecipe.render.drawings.svg import Markup
from cardrecipe.render.drawings.views import view_marks
from tests.counted import calls
from tests.recipes import HEAD, compile_text

MANY = 80
BASE = f"{HEAD}base card from ink\n  flat 12 x 8\n  score 6 from left\n  sections front, back\n"


def _card(kind: str = "panel", line: str = "") -> FoldedCard:
    """Small pieces side by side."""
    tiles = "".join(
        f"{kind} tile-{at} from ink on back\n  size 1/4 x 3/8\n"
        f"  place {at % 10 + 1}/2 from left, {at // 10 + 1}/2 from top\n{line}"
        for at in range(MANY)
    )
    folded = compile_text(BASE + tiles).folded
    assert folded is not None
    return folded


def _names(folded: FoldedCard) -> frozenset[str]:
    return frozenset(piece.name for piece in folded.card.pieces)


@pytest.mark.parametrize("line", ["", "  glue with foam 1/16 thick\n"])
@pytest.mark.parametrize("kind", ["panel", "oval"])
def test_what_lies_there_is_drawn_once_for_all_steps(kind: str, line: str) -> None:
    folded = _card(kind, line)
    card, done = folded.card, _names(folded)
    first, second = (card.piece(f"tile-{at}") for at in (0, 1))
    before = placing(card, first, done=done - {first.name, second.name})
    taken = calls(lambda: placing(card, second, done=done - {first.name, second.name}))
    assert before.svg.count("data-piece") > MANY - 2
    assert taken < 200 * MANY  # 160 or so; 500 where each is drawn anew


def test_the_views_of_the_steps_share_what_they_draw_quiet() -> None:
    folded = _card()
    view = next(each for each in folded.views if each.name == "open-inside")
    drawn = view_marks(folded.card, view, 3.0, "a", quiet=True)
    taken = calls(lambda: view_marks(folded.card, view, 3.0, "b", quiet=True, strong=("tile-3",)))
    assert len(drawn) > MANY and taken < 90 * MANY  # 64; 240 where each is drawn anew


def test_what_lies_on_a_piece_is_found_without_a_look_at_all_others() -> None:
    folded = _card()
    card, done = folded.card, _names(folded)
    alone = list(lying_on(card, card.piece("card"), 0, done))
    assert [each.piece.name for each in alone] == [f"tile-{at}" for at in range(MANY)]
    each, frame = alone[0], rectangle(0, 0, 3, 4)
    lying_marks(card, each, frame, 3.0, done)
    assert calls(lambda: lying_marks(card, each, frame, 3.0, done)) < MANY // 2


def test_no_lead_is_held_against_texts_that_lie_elsewhere() -> None:
    """Hundreds of texts on a sheet: each is grown once, and few are near any of the leads."""
    whole = Box(0, 0, 60, 70)
    places = [(x * 3.0, y * 3.5) for y in range(20) for x in range(20)]
    taken = [Mark(Markup(""), Box(x, y, x + 2.5, y + 2), True) for x, y in places]
    assert led_out([(31.0, 33.0)], whole, 1.95, 1.95, taken) is not None
    assert calls(lambda: led_out([(31.0, 33.0)], whole, 1.95, 1.95, taken)) < 30_000  # 230,000 where all are


def test_a_tag_that_was_met_is_not_taken_apart_again() -> None:
    looks, number = Looks(), count()
    svg = "".join(f'<circle cx="{next(number)}" cy="1" r="0.45" fill="#5d5850"/>' for _ in range(MANY))
    first = looks.small(svg)
    assert looks.small(svg) == first
    assert calls(lambda: looks.small(svg)) < 15 * MANY


def test_the_room_of_many_marks_is_the_box_round_all() -> None:
    marks = [Mark(Markup(""), Box(at, -at, at + 1, 7)) for at in range(MANY)]
    assert room(marks) == Box(0, 1 - MANY, MANY, 7)
    assert calls(lambda: room(marks)) < 3 * MANY
    with pytest.raises(ValueError):
        room([])


# ---- long texts --------------------------------------------------------------------------------------


def test_a_text_of_thousands_of_letters_is_cut_in_one_go() -> None:
    for text in ("W" * 9000, "to and fro " * 900, "1" * 9000):
        assert (
            calls(lambda text=text: fitted(text, 60.0, 2.8)) < 80_000
        )  # millions, one letter less at a time


def test_it_is_cut_as_late_as_may_be() -> None:
    chance = random.Random(5)
    for _ in range(3000):
        text = "".join(chance.choice("ab W--  12\u20443/\u6f22") for _ in range(chance.randint(0, 30)))
        width, bold = chance.uniform(0, 40), chance.random() < 0.5
        kept = fitted(text, width, 2.8, bold)
        longer = [text, *(text[:end].rstrip(" -") + "\u2026" for end in range(len(text) - 1, 0, -1))]
        assert kept == next((each for each in longer if text_width(each, 2.8, bold) <= width), "\u2026")
