"""A comparison in print: text, Markdown and JSON tell the same, and nothing in a recipe can forge it."""

import json
import re
from functools import cache
from importlib.resources import files

import pytest
from jsonschema import Draft202012Validator

from cardrecipe.commands.comparing import as_plain_text
from cardrecipe.compare.changes import GROUPS, KINDS, Comparison
from cardrecipe.compare.compare import compare
from cardrecipe.compare.telling import in_short, told
from cardrecipe.render.diff_json import render_diff_json
from cardrecipe.render.diff_markdown import render_diff_markdown
from tests.compare.test_seeded_edits import CARD, EDITS
from tests.compare.versions import SAMPLE_NAMES, SHELF, difference, good, shipped

SCHEMA = json.loads((files("cardrecipe.render") / "diff.schema.json").read_text("utf-8"))
VALIDATOR = Draft202012Validator(SCHEMA)


def of_variants() -> dict[str, Comparison]:
    return {
        f"{name}, {title}": compare(good(SHELF[name], name=name), good(SHELF[name], title, name=name))
        for name in SAMPLE_NAMES
        for title in shipped()[name].variants
    }


@cache
def of_edits() -> dict[str, Comparison]:
    return {name: difference(CARD, CARD.replace(each.old, each.new, 1)) for name, each in EDITS.items()}


@pytest.fixture(scope="module")
def comparisons() -> dict[str, Comparison]:
    return of_variants() | of_edits()


def test_the_schema_is_a_schema_and_knows_every_group_and_kind() -> None:
    Draft202012Validator.check_schema(SCHEMA)
    change = SCHEMA["$defs"]["change"]["properties"]
    assert tuple(change["group"]["enum"]) == GROUPS
    assert tuple(change["kind"]["enum"]) == KINDS


def test_json_keeps_to_the_schema_and_holds_every_change(comparisons: dict[str, Comparison]) -> None:
    for each in comparisons.values():
        value = json.loads(render_diff_json(each))
        VALIDATOR.validate(value)
        assert [change["what"] for change in value["changes"]] == [change.what for change in each.changes]
        assert value["new"] == each.new._asdict()


def test_the_schema_refuses_a_change_without_its_thing() -> None:
    value = json.loads(render_diff_json(difference(CARD, CARD.replace("tape", "liquid"))))
    for field in ("what", "kind", "because"):
        broken = {
            **value,
            "changes": [{name: part for name, part in value["changes"][0].items() if name != field}],
        }
        assert not VALIDATOR.is_valid(broken)


def test_every_change_stands_in_the_text_and_in_the_markdown(comparisons: dict[str, Comparison]) -> None:
    for each in comparisons.values():
        text, markdown = as_plain_text(each), _unescaped(render_diff_markdown(each))
        for change in each.changes:
            for said in filter(None, (change.old, change.new)):
                line = " ".join(said.split("\n"))
                assert line in text, (line, text)
                assert line in markdown


def test_kinds_and_groups_are_those_that_are_declared(comparisons: dict[str, Comparison]) -> None:
    for each in comparisons.values():
        assert {change.group for change in each.changes} <= set(GROUPS)
        assert {change.kind for change in each.changes} <= set(KINDS)
        order = [GROUPS.index(change.group) for change in each.changes]
        assert order == sorted(order)


def test_every_cause_is_a_line_of_its_text(comparisons: dict[str, Comparison]) -> None:
    for name, each in of_edits().items():
        new = CARD.replace(EDITS[name].old, EDITS[name].new, 1)
        texts = {"old": CARD.split("\n"), "new": new.split("\n")}
        for change in each.changes:
            for cause in change.because:
                assert texts[cause.side][cause.line - 1].strip() == cause.text


def test_no_change_is_said_in_a_sentence() -> None:
    same = difference(CARD, f"# a comment\n{CARD}")
    assert told(same) == ()
    assert as_plain_text(same).endswith("Nothing changes for the maker.\n")
    assert render_diff_markdown(same).endswith("Nothing changes for the maker.\n")


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        ("a piece that comes in", "one piece is new"),
        ("a piece that is dropped", "One piece is gone"),
        ("a piece that is called otherwise", "One piece is called otherwise."),
        ("a paper's colour", "one paper is changed"),
        ("an envelope", "Only what stands below changes"),
    ],
)
def test_the_sum_of_it_is_said_first(edit: str, said: str) -> None:
    found = of_edits()[edit]
    assert said.lower() in in_short(found).lower()
    assert as_plain_text(found).split("\n")[1] == in_short(found)


HOSTILE = ("\u200bred", "\u200fturned", "<script>x</script>", "| a | b", "](http://example.org)", "# head")


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_of_a_recipe_rewrites_a_terminal_or_a_page(text: str) -> None:
    old = CARD.replace("Evening walk", f"{text} walk").replace("A wish", f"A wish {text}")
    found = difference(old, old.replace("wish", "word").replace(" walk", " way"))
    printed, markdown = as_plain_text(found), render_diff_markdown(found)
    assert "\u200b" not in printed and "\u200f" not in printed
    assert "<script" not in markdown and not re.search(r"(?<!\\)\]\(http", markdown)
    assert len([line for line in markdown.split("\n") if line.startswith("# ")]) == 1


def _unescaped(markdown: str) -> str:
    for entity, sign in {"&lt;": "<", "&gt;": ">", "&amp;": "&"}.items():
        markdown = markdown.replace(entity, sign)
    return re.sub(r"\\(.)", r"\1", markdown)
