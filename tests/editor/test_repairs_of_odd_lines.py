"""Repairs where little is written, much is, or something stands in another file or in the recipe alone."""

import re

import pytest

from cardrecipe.editor.mending.case import Case
from cardrecipe.editor.mending.classes import have_two_papers
from cardrecipe.editor.mending.repairs import Repair
from cardrecipe.editor.mending.table import PROPOSERS
from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.spans import Span
from tests.editor.test_repairs import mended, offered, snapshot_of
from tests.recipes import HEAD, METRIC, NAME, Files, Texts, codes_of

BASE = "base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
PLAIN = HEAD.replace("  border 1/8\n", "")


def titles(text: str, code: str, files: Files | None = None) -> list[str]:
    """What is offered for the one mistake of that code."""
    [(_, found)] = offered(text, code, files)
    return [each.title for each in found]


def after(text: str, repair: Repair) -> str:
    return mended(text, repair)[0]


# ---- names and files -----------------------------------------------------------------------------


def test_of_many_near_names_three_are_offered() -> None:
    shelf = "".join(f'paper moss{letter} is cardstock "Green"\n' for letter in "abcde")
    text = f"{HEAD}{shelf}{BASE}panel m from moss on back\n"
    assert titles(text, "unknown-name") == [
        "Write `mossa`", "Write `mossb`", "Write `mossc`", 'Declare it: paper moss is cardstock "Moss"',
    ]  # fmt: skip


@pytest.mark.parametrize("head", ['# a card\nrecipe "A"\n  units inch nearest 1/16\n', ""])
def test_the_first_paper_is_declared_under_the_recipe_or_at_the_beginning(head: str) -> None:
    [(_, [repair])] = offered(head + BASE, "unknown-name")
    assert after(head + BASE, repair) == f'{head}paper ink is cardstock "Ink"\n{BASE}'


def test_a_paper_whose_file_is_gone_meanwhile_is_called_by_no_title() -> None:
    tag = "rectangle tag from ink\n  size 2 x 3\n  loose\n"
    files = {"a.recipe": HEAD + tag, "b.recipe": HEAD.replace('"Ink"', '"Black"') + tag}
    text = 'class "Bench"\n  make 3 of "a.recipe"\n  make 3 of "b.recipe"\n  have ink 3 sheets\n'
    assert sorted(titles(text, "have-two-papers", files)) == ['Write "Black"', 'Write "Ink"']
    snapshot = snapshot_of(text, files)
    [found] = [each for each in snapshot.diagnostics if each.code == "have-two-papers"]
    gone = Case(snapshot._replace(texts=Texts({"a.recipe": files["a.recipe"]})), found)
    assert [each.title for each in have_two_papers(gone)] == ['Write "Ink"']


def test_for_a_very_long_name_no_other_spelling_is_looked_for() -> None:
    name = "-".join(["very"] * 10 + ["long"])
    files = {f"{name}s.recipe": "let a = 1\n", "papers.recipe": "let a = 1\n"}
    assert titles(f'use "{name}.recipe"\n{HEAD}{BASE}', "use-missing", files) == ["Take this line out"]
    assert titles(f'use "paper.recipe"\n{HEAD}{BASE}', "use-missing", files)[0] == 'Use "papers.recipe"'


def test_what_a_shipped_fold_says_already_can_only_be_taken_out_of_the_recipe() -> None:
    text = f"{HEAD}base card from ink\n  fold gate, width 5, height 7\n  flat 10 x 7\n"
    assert titles(text, "said-twice") == ["Take out `flat 10 x 7`"]


# ---- texts ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("lines", "end"), [
    ("    A wish\n      and more\n", '    A wish\n      and more\n  """\n'),
    ("    A wish\n      and more\n  border 1/4\n", '    A wish\n      and more\n  """\n  border 1/4\n'),
])  # fmt: skip
def test_an_open_block_ends_where_its_lines_stand_further_left_or_with_the_recipe(
    lines: str, end: str
) -> None:
    text = f'{HEAD}{BASE}panel m from ink on back\n  write """\n'
    [(_, [repair, *_])] = offered(text + lines, "open-text")
    assert after(text + lines, repair) == text + end


# ---- sizes ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("given", "rest"), [("width 5", "height 5 1/2"), ("height 5", "width 4 1/4")])
def test_of_a_fold_only_the_size_that_is_not_given_is_filled_in(given: str, rest: str) -> None:
    text = f"{HEAD}base card from ink\n  fold gate, {given}\n"
    assert titles(text, "unsolved") == [f"Write `fold gate, {given}, {rest}`"]


def test_a_size_below_the_first_mark_of_the_ruler_goes_to_that_mark() -> None:
    text = PLAIN + BASE.replace("score 5", "score 1/40")
    assert titles(text, "off-grid") == ["Write `score 1/16 from left`"]


def test_no_border_can_be_made_even_by_a_size_that_would_be_nothing() -> None:
    text = f"{HEAD}{BASE}panel m from ink on back\n  size ? x 1/8\n"
    assert titles(text, "border-not-equal") == ["Write `size ? x ?`"]
    assert titles(text.replace("? x 1/8", "? x 6"), "border-not-equal")[0] == "Write `size 4 x 6`"


# ---- scores and doors ----------------------------------------------------------------------------


def test_a_score_from_both_sides_is_not_moved_to_the_middle() -> None:
    text = f"{PLAIN}base card from ink\n  flat 10 x 7\n  score 12 from both sides\n"
    for _, found in offered(text, "score-off-sheet"):
        assert found and not [each.title for each in found if "middle" in each.title]
    assert any("middle" in each for each in titles(text.replace("both sides", "left"), "score-off-sheet"))


@pytest.mark.parametrize("base", [
    "base card from ink\n  flat 10 x 4\n  score 11 / 4 from both sides\n",
    "base card from ink\n  fold matchbook, width 3/4, height 4 1/2, strip 2, ease 1\n",
])  # fmt: skip
def test_doors_whose_scores_are_sums_or_a_fold_s_own_are_left_to_the_maker(base: str) -> None:
    assert titles(PLAIN + base, "doors-overlap") == []


# ---- glue ----------------------------------------------------------------------------------------


def test_of_several_glued_sections_on_one_line_each_may_be_left_out() -> None:
    text = HEAD + (
        "base card from ink\n  flat 8 1/2 x 7\n  window 4 1/2 x 1 at (4, 0)\n  window 4 1/2 x 1 at (4, 6)\n"
        "  score 4 from left, between 1 and 6\n  score 8 from left, between 1 and 6\n"
        "  score 1 from top, between 0 and 4\n  score 1 from bottom, between 0 and 4\n"
        "  sections upper, front, back, tab, lower\n  glue tab on front, lower on back, upper on back\n"
        "panel slip from ink on back\n  size 3 x 4\n  loose\n"
    )
    [(_, found)] = offered(text, "slider-shut-in")
    assert [each.title for each in found] == [
        "Write `glue lower on back, upper on back`", "Write `glue tab on front, upper on back`",
        "Write `glue tab on front, lower on back`",
        "Take out `glue tab on front, lower on back, upper on back`",
    ]  # fmt: skip
    assert "slider-shut-in" not in codes_of(after(text, found[1]))


def test_a_card_that_is_too_thick_for_the_post_keeps_its_tape() -> None:
    text = HEAD + BASE + (
        "rectangle low from ink on front outside\n  size 3 x 4\n  glue with tape\n"
        "rectangle high from ink on low\n  size 2 x 3\n  glue with foam 6 mm thick\n"
    )
    [(_, found)] = offered(text, "post-too-thick")
    assert [each.title for each in found] == ["Write `glue with foam 1 mm thick`", "Write `glue with tape`"]
    assert all("size 3 x 4\n  glue with tape\n" in after(text, each) for each in found)


def test_a_band_is_glued_to_itself_alone() -> None:
    text = f"{HEAD}{BASE}band sash from ink around card\n  width 1\n  glue with dots only on front\n"
    written, out = titles(text, "glue-locks")
    assert (written, out) == ("Write `glue with dots`", "Take out `glue with dots only on front`")


# ---- paper and corners ---------------------------------------------------------------------------


def test_a_paper_that_says_no_size_is_given_a_sheet_that_is_sold() -> None:
    text = f"{HEAD.replace(' 12 x 12', ', grain long')}base card from ink\n  flat 17 x 7\n"
    [(_, [repair, *_])] = offered(text, "no-sheet-holds")
    assert repair.title == "Take a sheet of 11 x 17"
    assert 'paper ink is cardstock "Ink" 11 x 17, grain long\n' in after(text, repair)


def test_corners_that_are_no_size_go() -> None:
    text = f"{HEAD}{BASE}panel m from ink on back\n  corners round 1/8 - 1/4\n"
    assert titles(text, "size-not-positive") == [
        "Write `1/4 - 1/8`", "Take out `corners round 1/8 - 1/4`",
    ]  # fmt: skip


# ---- what does not fit ---------------------------------------------------------------------------

OPEN = (
    "base card from ink\n  score 3 from left, between 1 and 9\n  score 2 from both sides\n"
    "panel slip from ink\n  size ? x 2\n  border 1/8\n  loose\n  corners 9\n"
    'variant "A"\n  set slip.width 3\n'
)
FOLDED = (
    "base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n  sections left, back, right\n"
    "panel slip from ink on back\n  size 3 x 4\n  glue along left, right\n  stamp \"A star\"\n"
)


@pytest.mark.parametrize("text", [HEAD + OPEN, METRIC + OPEN, HEAD + FOLDED], ids=["open", "mm", "folded"])
@pytest.mark.parametrize("name", PROPOSERS)
def test_of_a_mistake_that_is_gone_meanwhile_no_repair_fails(name: str, text: str) -> None:
    """The diagnostic speaks of something else by now, and what it points to besides is gone."""
    snapshot = snapshot_of(text)
    places = [Span(NAME, len(text) + 9, len(text) + 12), Span("gone.recipe", 3, 7), Span(NAME, 0, 4)]
    related = tuple(Related(each, "it was here") for each in places)
    for start in [line.start() for line in re.compile(r"\S.*").finditer(text, text.index("base"))]:
        found = Diagnostic(name, "error", Span(NAME, start, start + 3), "a mistake", None, related)
        for propose in PROPOSERS[name]:
            for repair in propose(Case(snapshot, found)):
                assert repair.title and all(each.span.file == NAME for each in repair.edits)


def test_a_price_that_has_been_taken_out_meanwhile_is_not_mended() -> None:
    """The check may be older than the text by a moment."""
    text = f"{HEAD}{BASE}"
    snapshot, place = snapshot_of(text), text.index("paper ink")
    found = Diagnostic("price-count", "error", Span(NAME, place, place + 5), "of an older text")
    assert [each for propose in PROPOSERS["price-count"] for each in propose(Case(snapshot, found))] == []


def test_round_corners_without_a_size_to_measure_by_are_taken_out() -> None:
    """A strip of half a mark has none, and the fold that a recipe writes itself is no piece."""
    strip = f"{HEAD}{BASE}rectangle strip from ink on back\n  size 1/16 x 3\n  corners round 1\n"
    assert titles(strip, "corners-too-round") == ["Take out `corners round 1`"]
    fold = "structure leaf\n  ask width, height\n  flat width x height\n  corners round 9\n"
    leaf = f"{HEAD}base card from ink\n  fold leaf, width 4, height 5\n{fold}"
    assert titles(leaf, "corners-too-round") == ["Take out `corners round 9`"]
