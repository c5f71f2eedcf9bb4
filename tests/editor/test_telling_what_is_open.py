"""What is said, by the word and beside the line, of sizes that are open, odd, or of another text."""

import pytest

from cardrecipe.editor.telling.hover import hover
from cardrecipe.editor.telling.values import values
from tests.editor.marked import CURSOR, at_cursor, one_line, snapshot
from tests.recipes import HEAD, codes_of

BOOK = HEAD + "base book from ink\n  fold side-fold, width 4, height 5\n"
NOTE = BOOK + "panel note from ink on front\n  border 1/4\n"
NESTED = HEAD + (
    "structure mine\n  ask width, height, lip = 1\n  fold side-fold, width width, height height\n"
    "base book from ink\n  fold mine, width 3, height 4\n"
    "base other from ink\n  fold mine, width ?, height 5\n"
    "panel note from ink on other.front\n  size 2 x 4\n"
)


def told(text: str, files: dict[str, str] | None = None) -> str:
    """The hover as one line, its typographic fractions as they are typed."""
    found, offset = at_cursor(text, files)
    said = hover(found, offset)
    assert said is not None
    return one_line(said.markdown)


def beside(text: str) -> list[str]:
    """What is shown beside the lines, each with the line."""
    lines = text.split("\n")
    return [f"{lines[text.count(chr(10), 0, each.offset)].strip()}: {each.text}"
            for each in values(snapshot(text))]  # fmt: skip


def marked(text: str, place: str) -> str:
    assert place.replace(CURSOR, "") in text
    return text.replace(place.replace(CURSOR, ""), place, 1)


# ---- question marks ------------------------------------------------------------------------------


def test_a_score_that_is_open_from_the_right_is_told_from_the_right() -> None:
    text = HEAD + (
        "base card from ink\n  flat 8 x 5\n  score ? from right\n  sections front, back\n"
        "panel a from ink on front\n  size 2 3/4 x 4\n"
    )
    assert told(marked(text, "score ?‸")) == "`?` = 5 in"
    assert beside(text) == ["score ? from right: 5 in"]


def test_a_score_that_is_open_from_the_edge_of_an_open_sheet_is_not_known() -> None:
    text = HEAD + "base card from ink\n  flat ? x 5\n  score ? from right\n"
    assert "not known" in told(marked(text, "score ?‸"))
    assert beside(text) == []


def test_each_of_two_question_marks_has_its_own_value() -> None:
    text = BOOK + "panel note from ink on front\n  size ? x ?\n"
    assert told(marked(text, "size ?‸")).startswith("`?` = 3 3/4 in")
    assert told(marked(text, "x ?‸")).startswith("`?` = 4 3/4 in")


@pytest.mark.parametrize("line", [
    "panel tag from ink on front\n  size 3 x 2 * ?‸",
    "panel tag from ink on front\n  glue with foam ?‸ thick",
    'variant "Low"\n  set nosuch.width ?‸', 'variant "Low"\n  set note.nosuch ?‸',
    "base two from ink\n  fold gate, nosuch ?‸",
])  # fmt: skip
def test_a_question_that_cannot_be_asked_has_no_answer(line: str) -> None:
    assert told(f"{NOTE}{line}\n") == "`?`: work it out. It is not known yet."


def test_an_angle_that_is_open_is_no_size_of_the_closed_card() -> None:
    assert told(marked(f"{NOTE}  turned ?\n", "turned ?‸")) == "`?` Its size is not known yet."


# ---- folds within folds --------------------------------------------------------------------------


def test_what_a_fold_within_a_fold_asks_for_is_told_of_each() -> None:
    outer, inner = told(marked(NESTED, "ask wi‸dth")), told(marked(NESTED, "side-fold, wi‸dth"))
    for said, fold in ((outer, "mine"), (inner, "side-fold")):
        assert said.startswith(f"`width`, asked for by the fold `{fold}`")
        assert "For `book`: `width` = 3 in · 76 mm" in said and "For `other`: `width` = 2 1/4 in" in said
    assert "- other fold width = " in outer and "- other.width 2 = " in inner
    assert told(marked(NESTED, "mine, width ?‸")).startswith("`?` = 2 1/4 in")


def test_a_variant_may_leave_open_what_the_outer_fold_asks_for_and_not_what_the_inner_does() -> None:
    outer = NESTED + 'variant "Low"\n  set book.lip ?\n'
    assert told(marked(outer, "lip ?‸")).startswith("`?` = 1 in")
    assert "set book.lip ?: 1 in" in beside(outer)
    inner = NESTED.replace("fold side-fold, width width", "fold double-gate, width width, flap 1/2")
    inner += 'variant "Low"\n  set book.flap ?\n'
    assert "unknown-name" in codes_of(inner, variant="Low")
    assert told(marked(inner, "flap ?‸")) == "`?` Its size is not known yet."
    assert not [each for each in beside(inner) if each.startswith("set")]


# ---- lets ----------------------------------------------------------------------------------------


def test_a_let_of_which_nothing_comes_has_nothing_beside_it() -> None:
    lets = (
        "let a = nosuch + 1", "let b = a + 1", "let c = tag.width + 1", "let d = tag.width / tag.height",
        "let e = 2 in * 2 in", "let f = book.nosuch + 1", "let g = 2 * (3 + 1)",
    )  # fmt: skip
    text = BOOK + "\n".join(lets) + "\npanel tag from ink\n  loose\n"
    assert beside(text) == ["base book from ink: 8 x 5 in", "let g = 2 * (3 + 1): = 8"]
    for at, name in enumerate("abcdef"):
        place = lets[at].replace(f"let {name}", f"let {name}‸")
        assert "comes to" not in told(marked(text, place))


def test_a_let_that_another_variant_of_the_title_has_changed_is_told_by_its_name() -> None:
    text = BOOK + (
        'let reveal = 1/8\npanel note from ink on front\nvariant "Low"\n  let reveal = 1/4\n'
        'variant "Low"\n  set note.border reveal\n'
    )
    assert told(marked(text, "border re‸veal")).startswith("**let** `reveal`")
    assert told(marked(text, "  let re‸veal")).startswith("**let** `reveal` = `1/4`")


# ---- variants, files, closed cards ---------------------------------------------------------------


def test_beside_a_set_line_stands_nothing_where_there_is_no_such_piece_or_no_size() -> None:
    text = NOTE + (
        'panel tag from ink\n  loose\nvariant "Low"\n  set nosuch.border 1/8\n'
        'variant "High"\n  set tag.border 1/8\nvariant "Wide"\n  set note.border 1/2\n'
    )
    assert [each for each in beside(text) if each.startswith("set ")] == ["set note.border 1/2: 3 x 4 in"]


def test_a_file_that_is_not_there_is_told_by_its_path() -> None:
    assert told(f'use "go‸ne.recipe"\n{BOOK}') == "**file** `gone.recipe`"


def test_each_of_two_bases_tells_its_own_closed_size() -> None:
    text = BOOK + "base two from ink\n  flat 6 x 4\n  score 3 from left\n  sections left-leaf, right-leaf\n"
    assert "Folded shut it is 4 x 5 in." in told(marked(text, "base bo‸ok"))
    assert "Folded shut it is 3 x 4 in." in told(marked(text, "base t‸wo"))
    said = told(f"{text}let shut = two.finished-hei‸ght\n")
    assert said.endswith("4 in, as `two` comes out folded shut")


def test_a_closed_size_that_nothing_has_asked_for_yet_is_that_of_the_folded_card() -> None:
    """The last check was of a text that did not speak of it."""
    before = snapshot(BOOK).compiled
    wanted = {"finished-width": "4 in, as `book` comes out folded shut", "thickness": "0.024 in"}
    for size, said in wanted.items():
        found, offset = at_cursor(f"{BOOK}let shut = book.{size}‸\n")
        answer = hover(found._replace(compiled=before, is_current=False), offset)
        assert answer is not None and " ".join(answer.markdown.split()).endswith(said)
