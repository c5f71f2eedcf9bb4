"""What a template says of itself to those who cannot see it."""

import pytest

from cardrecipe.render.papers import PAGES
from cardrecipe.render.true_scale.templates import templates
from tests.recipes import HEAD, sized
from tests.render.true_scale import cards

BASE = HEAD + "base card from ink\n  flat 6 x 4\n  {}\n  corners round 1/4\n"


@pytest.mark.parametrize(("lines", "said"), [
    ("score 3 from left", "6 × 4 in, with one valley score."),
    ("score 3 from left\n  window 2 x 1 at (2, 1)", "6 × 4 in, with one valley score."),
    ("score 1 from left\n  cut 3 from left, between 1 and 3",
     "6 × 4 in, with one valley score and one slit."),
    ("score 1 from left\n  score 3 from left mountain\n  window 1 x 2 at (5/2, 1)",
     "6 × 4 in, with one valley score and one mountain score."),
    ("window 2 x 2 at (2, 1)", "6 × 4 in."),
])  # fmt: skip
def test_each_score_is_counted_once_however_often_an_opening_parts_it(lines: str, said: str) -> None:
    sheet = cards.sheet_of_templates(sized(BASE.format(lines)))
    pages = templates(sheet, PAGES["letter"])
    items = [item for page in pages for item in page["items"]]  # type: ignore[attr-defined]
    told = [each["alt"].replace("\N{NO-BREAK SPACE}", " ") for each in items if each["piece"] == "card"]
    assert len(told) == 1 and told[0].endswith(said), told
