"""What cannot be seen and does something is refused wherever it stands; marks that writing needs are not."""

import pytest

from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.unseen import json_text, marked
from tests.injection.hostile_texts import MARKS, REFUSED

PLACES = {
    "a text": 'recipe "a{}b"\n  units mm\n', "a block": 'recipe """\n  a\n  b{}\n  """\n',
    "a comment": "# a{}b\nunits mm\n", "a comment behind": 'recipe "a"  # b{}\n',
    "between words": "base{} card\n", "before a line": '{}recipe "a"\n', "behind a line": 'recipe "a"{}\n',
    "a line by itself": '{}\nrecipe "a"\n',
    "a name": "base ca{}rd from ink\n", "the last line": 'recipe "a"\n# b{}',
}  # fmt: skip


@pytest.mark.parametrize("sign", REFUSED.values(), ids=REFUSED)
@pytest.mark.parametrize("place", PLACES)
def test_it_is_refused_with_its_place_and_its_number(place: str, sign: str) -> None:
    text = PLACES[place].format(sign)
    found = [each for each in parse(Source("a", text))[1] if each.code == "unseen-sign"]
    assert found
    for each in found:
        assert f"(U+{ord(text[each.span.start]):04X})" in each.message
        assert text[each.span.start] in sign
        assert each.hint.startswith("take it out")


@pytest.mark.parametrize("place", PLACES)
def test_marks_that_writing_needs_are_kept(place: str) -> None:
    assert "unseen-sign" not in {each.code for each in parse(Source("a", PLACES[place].format(MARKS)))[1]}


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_line_ends_and_tabs_are_no_such_signs(end: str) -> None:
    text = end.join(['recipe "a\tb"', "", "  units mm", '  about """', "  c", '  """', "# d", ""])
    assert parse(Source("a", text))[1] == []


def test_a_comment_with_one_ends_no_block() -> None:
    tree, mistakes = parse(Source("a", 'recipe "a"\n# \x07\n  units mm\n'))
    assert [each.code for each in mistakes] == ["unseen-sign"]
    assert [each.word for each in tree.statements[0].block] == ["units"]


def test_a_letter_in_tags_alone_is_no_flag() -> None:
    flag = "\U0001f3f4\U000e0067\U000e0062\U000e0077\U000e006c\U000e0073\U000e007f"
    assert parse(Source("a", f'recipe "{flag}"\n'))[1] == []
    for broken in (flag[1:], flag[:-1], flag[0] + flag[1:-1] * 3 + flag[-1]):
        assert [each.code for each in parse(Source("a", f'recipe "{broken}"\n'))[1]] == ["unseen-sign"]


@pytest.mark.parametrize("sign", REFUSED.values(), ids=REFUSED)
def test_pages_and_json_have_one_rule_for_it_too(sign: str) -> None:
    """Where it comes from elsewhere: out of a file's name."""
    assert not set(marked(f"a{sign}b")) & {each for each in sign if not each.isprintable()}
    assert "\ufffd" in marked(f"a{sign}b")
    assert json_text(sign[0]).isascii()
    assert (marked(MARKS), json_text(MARKS)) == (MARKS, f'"{MARKS}"\n')


@pytest.mark.parametrize("place", PLACES)
def test_a_formatter_changes_nothing_of_it(place: str) -> None:
    text = PLACES[place].format("\u202e")
    assert formatted(Source("a", text)).count("\u202e") == 1
