"""A file with the marks of an unfinished merge: one mistake for each, and nothing that follows from it."""

import pytest

from cardrecipe.editor.desk.document import opened
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.recipes import HEAD, NAME, checked, compile_text

CARD = f"{HEAD}base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
PLATE = f"{CARD}oval plate from ink on back\n"


def told(text: str, files: dict[str, str] | None = None) -> list[tuple[str, int, str]]:
    return [(each.file, each.line, each.code) for each in checked(text, files)]


def lines_told(text: str) -> list[int]:
    assert {code for _, _, code in told(text)} <= {"merge-unfinished"}, told(text)
    return [line for _, line, _ in told(text)]


def first_line(text: str, words: str) -> int:
    return text[: text.index(words)].count("\n") + 1


@pytest.mark.parametrize("ours", ["  size 3 x 2\n", "", "  size 3 by 2\n", '  stamp "A star\n', "\tloose\n"])
@pytest.mark.parametrize("theirs", ["  size 3 x 3\n", "", '  about """\n  So.\n'])
@pytest.mark.parametrize("before", ["", "||||||| before\n  size 3 x 1\n"])
def test_a_merge_is_one_mistake_whatever_stands_in_it(ours: str, theirs: str, before: str) -> None:
    text = f"{PLATE}<<<<<<< ours\n{ours}{before}=======\n{theirs}>>>>>>> theirs\n  glue with tape\n"
    assert lines_told(text) == [first_line(text, "<<<")]


def test_it_says_where_the_merge_ends() -> None:
    text = f"{PLATE}<<<<<<< ours\n  size 3 x 2\n=======\n>>>>>>> theirs\n"
    (found,) = compile_text(text).diagnostics
    (related,) = found.related
    assert text[related.span.start : related.span.end] == ">>>>>>> theirs"
    assert text[found.span.start : found.span.end] == "<<<<<<< ours"


@pytest.mark.parametrize("label", ['it\'s "ours', '"""', "# ours", "ours   ", "feature/a-b (Write \"so\")"])
def test_what_git_writes_behind_a_mark_opens_no_text(label: str) -> None:
    text = f"{PLATE}<<<<<<< {label}\n  size 3 x 2\n=======\n  size 3 x 3\n>>>>>>> {label}\nlet a = 1 +\n"
    assert [code for _, _, code in told(text)] == ["merge-unfinished", "line-incomplete"]


def test_each_merge_of_a_file_is_told_and_so_is_a_mark_that_is_left() -> None:
    one = "<<<<<<< ours\n  loose\n=======\n>>>>>>> theirs\n"
    text = f"{PLATE}  size 3 x 2\n{one}let a = 1\n{one}=======\nlet b = 1\n>>>>>>> theirs\n"
    assert lines_told(text) == [11, 16, 20, 22]


@pytest.mark.parametrize("lines", ["<<<<<<< ours\n", "<<<<<<< ours\n=======\n", "=======\n", ">>>>>>> b\n"])
def test_marks_that_are_not_whole_are_told_once(lines: str) -> None:
    assert lines_told(f"{PLATE}{lines}  size 3 x 2\n") == [first_line(PLATE + lines, lines)]


def test_marks_in_a_text_are_no_words_of_the_maker() -> None:
    block = '  tip """\n<<<<<<< ours\n  Press.\n=======\n  Wait.\n>>>>>>> theirs\n  """\n'
    text = f"{PLATE}  size 3 x 2\n{block}"
    assert lines_told(text) == [first_line(text, "<<<")]


@pytest.mark.parametrize("line", ["=======", "  <<<<<<< ours", "<<<<<<", "<<<<<<<<", "-------"])
def test_a_text_may_hold_lines_of_signs(line: str) -> None:
    assert told(f'{PLATE}  size 3 x 2\n  tip """\n{line}\n  """\n') == []


@pytest.mark.parametrize("line", ["<<<<<<", "<<<<<<<<", "========", "<<<<<<<ours", "  <<<<<<< ours"])
def test_other_signs_are_no_marks(line: str) -> None:
    assert [code for _, _, code in told(f"{PLATE}  size 3 x 2\n{line}\n")] == ["unknown-word"]


def test_a_merge_in_a_used_file_is_told_there_alone() -> None:
    shelf = '<<<<<<< a\npaper tan is cardstock "Tan"\n=======\npaper tan is cardstock "Sand"\n>>>>>>> b\n'
    text = f'use "shelf.recipe"\n{PLATE}  size 3 x 2\npanel note from tan on front\n'
    assert told(text, {"shelf.recipe": shelf}) == [("shelf.recipe", 1, "merge-unfinished")]


def test_a_merge_in_a_class_or_in_what_it_makes() -> None:
    tag = f"{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n"
    merge = '<<<<<<< ours\n  make 3 of "tag.recipe"\n=======\n  make 4 of "tga.recipe"\n>>>>>>> theirs\n'
    assert told(f'class "Bench"\n{merge}', {"tag.recipe": tag}) == [("card.recipe", 2, "merge-unfinished")]
    torn = f"{tag}<<<<<<< ours\n  count 2\n=======\n  count 3\n>>>>>>> theirs\n"
    found = told('class "Bench"\n  make 3 of "tag.recipe"\n', {"tag.recipe": torn})
    assert found == [("card.recipe", 2, "make-broken"), ("tag.recipe", 8, "merge-unfinished")]


def test_a_merge_that_is_typed_and_taken_out_letter_by_letter() -> None:
    document = opened(NAME, PLATE + "  size 3 x 2\n")
    wanted = '<<<<<<< "ours\n  loose\n=======\n  tip """\n  So.\n>>>>>>> theirs\n'
    at = start = len(PLATE)
    for letter in wanted:
        document = document.edited(at, at, letter)
        at += 1
        assert_as_parsed(document.source.text, document.diagnostics, document.tree)
    assert [each.code for each in document.diagnostics] == ["merge-unfinished"]
    while at > start:
        document = document.edited(start, start + 1, "")
        at -= 1
        assert_as_parsed(document.source.text, document.diagnostics, document.tree)
    assert document.diagnostics == []


def assert_as_parsed(text: str, diagnostics: object, tree: object) -> None:
    assert (tree, diagnostics) == parse(Source(NAME, text))
