"""Sheets of rare cards: code and line breaks in a text, variants without paper, tabs too small for glue."""

import json
import re

from cardrecipe.fold.card import glued
from cardrecipe.plan.card import plan
from cardrecipe.plan.entries import EnvelopeFit
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.card_json import render_json
from cardrecipe.render.markdown import escaped
from cardrecipe.render.pages import render, render_variants
from cardrecipe.render.signs import COMMENT
from cardrecipe.render.words import envelope_written
from tests.recipes import HEAD, compile_text
from tests.variant_recipes import together

FOLD = "  fold side-fold, width 4 1/4, height 5 1/2\n"
LOOSE = "rectangle tag from ink\n  size 2 x 3\n  loose\n"
VARIANT = 'variant "Larger"\n  set tag.height 4\n'


def sheet_of(text: str) -> Sheet:
    folded = compile_text(text).folded
    assert folded is not None, compile_text(text).diagnostics
    return plan(glued(folded)[0])[0]


def test_code_and_line_breaks_in_a_text_are_kept_on_the_page() -> None:
    about = '  about """\n  One line\\\n  and another.\n\n      a < b\n        c\n  """\n'
    made = render(sheet_of(HEAD.replace("paper", f"{about}paper", 1) + LOOSE), ("html", "md"))
    assert "<p>One line<br>and another.</p>" in made[".html"].decode()
    assert re.search(r"<pre>a &lt; b\n\s+c</pre>", made[".html"].decode())
    assert re.search(r"^    a < b\n {5,}c$", made[".md"].decode(), re.M)


def test_a_tab_that_is_too_small_to_measure_has_no_zone_in_the_json() -> None:
    bridge = (
        f"{HEAD}base card from ink\n{FOLD}panel bridge from ink on card\n  size 4 x {{}}\n"
        "  place 2 3/4 from left, 2 from top\n  score 1/16 from left\n  score 2 1/2 from left, mountain\n"
        "  score 3 15/16 from left\n  sections left-tab, box-side, box-front, right-tab\n"
        "  glue left-tab on front, right-tab on back with tape\n"
    )
    zones = []
    for high in ("1", "1/16"):
        card = json.loads(render_json(sheet_of(bridge.format(high))))
        (piece,) = (each for each in card["pieces"] if each["name"] == "bridge")
        zones.append('"zone"' in json.dumps(piece))
    assert zones == [True, False]


def test_the_json_of_loose_pieces_has_no_finished_card() -> None:
    finished = [
        json.loads(render_json(sheet_of(HEAD + lines)))["finished"]
        for lines in (LOOSE, f"base card from ink\n{FOLD}")
    ]
    assert finished[0] is None
    assert set(finished[1]) == {"width", "height", "thickness_mm"} and finished[1]["width"] == "17/4"


def test_an_envelope_that_is_wanted_and_too_small_is_called_so() -> None:
    fit = EnvelopeFit("us-a2", "US A2", 0, 0, fits=True, note="", wanted=True)  # type: ignore[arg-type]
    assert envelope_written(fit) == "US A2 (this recipe's choice)"
    assert envelope_written(fit._replace(fits=False)) == "US A2 (too small)"


# ---- variants ------------------------------------------------------------------------------------


def test_loose_pieces_with_variants_have_no_picture_of_a_finished_card() -> None:
    base = f"base card from ink\n{FOLD}"
    pages = [render_variants(together(HEAD + lines + VARIANT), ["html"])[".html"].decode()
             for lines in (LOOSE, base + LOOSE)]  # fmt: skip
    assert ["data-picture=finished" in page or 'id="finished' in page for page in pages] == [False, True]


def test_a_variant_of_any_paper_has_no_cutting_plan() -> None:
    for paper, has_plan in (("", False), (" from ink", True)):
        tag = LOOSE.replace(" from ink", paper)
        text = render_variants(together(HEAD + tag + VARIANT), ["md"])[".md"].decode()
        assert ("### Cut list: Larger" in text, "### Cutting plan: Larger" in text) == (True, has_plan)


def test_what_a_variant_alone_is_warned_of_stands_under_its_notes() -> None:
    tags = f"base card from ink\n{FOLD}panel note from ink on back\n"
    odd = 'variant "Odd"\n  panel label from ink on note\n    size 1 x 1\n    place 3 1/2 from left\n'
    made = together(HEAD + tags + odd)
    text = render_variants(made, ["md"])[".md"].decode()
    notes = made.variants[0].notes
    assert len(notes) == 1 and "label" in notes[0]
    assert text.endswith(f"### Notes: Odd\n\n- {escaped(notes[0])}\n\n{COMMENT}\n")
