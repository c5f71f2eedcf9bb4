"""The post on every page format: a line for each country of the sheet's own system, and card.json whole."""

import json
from importlib.resources import files

from jsonschema import Draft202012Validator

from cardrecipe.plan.post import post
from cardrecipe.plan.sheet import Sheet
from cardrecipe.render.card_json import render_json
from cardrecipe.render.html import render_html
from cardrecipe.render.markdown import render_markdown
from cardrecipe.render.papers import Printing
from cardrecipe.render.pdf_data import sheet_data
from tests.hand_made import side_fold
from tests.plan.cards import folded
from tests.render.hand_made_sheet import pictures, sheet
from tests.render.the_page import with_the_other

SCHEMA = json.loads((files("cardrecipe.render") / "card.schema.json").read_text("utf-8"))
LINE = "Figures of 4 January 2010; check with your carrier."


def posted() -> Sheet:
    return sheet()._replace(post=post(folded(side_fold())))


def test_card_json() -> None:
    value = json.loads(render_json(posted()))
    Draft202012Validator(SCHEMA).validate(value)
    assert value["post"][0] == {"service": "us-letter", "fits": True, "because": [], "check": LINE}
    flat = next(each for each in value["post"] if each["service"] == "us-flat")
    assert not flat["fits"] and flat["because"] == ["it is over no maximum of a US letter"]


def test_markdown() -> None:
    text = render_markdown(posted())
    assert f"## Post\n\n- **US letter**: {LINE}\n" in text
    assert "UK letter" not in text and "## Post" not in render_markdown(sheet())


def test_html_shows_each_version_its_own_system() -> None:
    inch, metric = posted(), sheet().other
    assert metric is not None
    both = inch._replace(other=metric._replace(post=inch.post))
    page = with_the_other(render_html(both, pictures(inch), pictures(metric), "letter"))
    assert page.count("<h2>Post</h2>") == 2
    assert page.count(f"<li><strong>US letter</strong>: {LINE}</li>") == 1
    assert page.count("<li><strong>UK letter</strong>: ") == 1
    assert "<h2>Post</h2>" not in render_html(sheet(), pictures(inch), pictures(metric), "letter")


def test_the_data_of_the_pdf() -> None:
    letter, hint = sheet_data(posted(), pictures(posted()), Printing("letter"))["post"]
    assert letter == {"name": "US letter", "note": LINE}
    assert hint["name"] == "Hints for a US letter" and hint["note"].endswith(LINE)
