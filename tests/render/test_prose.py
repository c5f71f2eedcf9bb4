"""The maker's Markdown: what each text becomes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardrecipe.render import prose as prose_module
from cardrecipe.render.prose import MOST_NESTED, Block, Run, plain_text, prose


def outline(blocks: tuple[Block, ...]) -> list[list[object]]:
    """Blocks as short nested lists: easy to read beside the Markdown."""
    result: list[list[object]] = []
    for block in blocks:
        inside: object = outline(block.blocks) if block.blocks else plain_text(block.runs) or block.text
        result.append([block.kind + (str(block.level) if block.level else ""), inside])
    return result


@pytest.mark.parametrize(
    ("markdown", "expected"),
    [
        ("", []),
        ("one\ntwo\n\nthree", [["paragraph", "one two"], ["paragraph", "three"]]),
        ("- a\n- b", [["bullets", [["item", [["paragraph", "a"]]], ["item", [["paragraph", "b"]]]]]]),
        ("3. a", [["numbers", [["item", [["paragraph", "a"]]]]]]),
        ("> a", [["quote", [["paragraph", "a"]]]]),
        ("```\na < b\n```", [["code", "a < b"]]),
        ("a\n\n---\n\nb", [["paragraph", "a"], ["rule", ""], ["paragraph", "b"]]),
        ("<b>a</b>", [["paragraph", "<b>a</b>"]]),
        ("<div>\n*a*\n</div>", [["paragraph", "<div> a </div>"]]),
        ("![boats](http://example.org/x.png)", [["paragraph", "boats"]]),
        ("a\x00b", [["paragraph", "a\ufffdb"]]),
        ("pen & ink, 5 * 3", [["paragraph", "pen & ink, 5 * 3"]]),
    ],
)
def test_blocks(markdown: str, expected: list[object]) -> None:
    assert outline(prose(markdown)) == expected


def test_tables_are_rows_of_cells() -> None:
    cells = [["cell", "1"], ["cell", "2"]]
    head = [["cell", "a"], ["cell", "b"]]
    assert outline(prose("|a|b|\n|-|-|\n|1|2|")) == [["table", [["row", head], ["row", cells]]]]


@pytest.mark.parametrize(
    ("levels", "expected"),
    [([1, 2, 3], [2, 3, 4]), ([1, 4, 1], [2, 3, 2]), ([5, 6], [2, 3]), ([3, 1], [2, 2])],
)
def test_no_heading_level_is_skipped(levels: list[int], expected: list[int]) -> None:
    text = "\n\n".join(f"{'#' * level} h" for level in levels)
    assert [block.level for block in prose(text, 2)] == expected


def test_headings_in_lists_and_quotes_are_no_headings() -> None:
    assert outline(prose("> # a"))[0] == ["quote", [["paragraph", "a"]]]


@pytest.mark.parametrize(
    "url", ["https://example.org/a", "http://example.org", "mailto:a@example.org", "tel:+491"]
)
def test_safe_links_keep_their_address(url: str) -> None:
    assert prose(f"[a]({url})")[0].runs == (Run("link", href=url, runs=(Run("text", "a"),)),)


@pytest.mark.parametrize(
    "url",
    ["javascript:alert(1)", "JaVaScript:x", "data:text/html,x", "file:///etc/passwd", "//e.org/x",
     "ftp://example.org", "vbscript:x", "x.html", "&#106;avascript:alert(1)", "java\tscript:x"],
)  # fmt: skip
def test_other_links_stay_text(url: str) -> None:
    runs = prose(f"[a]({url})")[0].runs
    assert all(run.kind == "text" for run in runs)


def test_deep_nesting_ends() -> None:
    assert prose("> " * 5000 + "a")
    assert prose("- " * 5000 + "a")
    assert plain_text(prose("*" * 5000 + "a" + "*" * 5000)[0].runs) == "a"


def _depth(runs: tuple[Run, ...]) -> int:
    return 1 + max(map(_depth, (run.runs for run in runs)), default=0)


@pytest.mark.parametrize("extra", [0, 1])
def test_runs_nest_so_far_and_no_further(extra: int) -> None:
    marks = "**" * (MOST_NESTED + extra)
    runs = prose(f"{marks}a{marks}")[0].runs
    assert (_depth(runs), plain_text(runs)) == (MOST_NESTED + 2, "a")


PLAIN_WORDS = st.text("abc é中 .,;:!?'\"()/+-=#>12\u2044\u202f", max_size=30)


@given(st.lists(PLAIN_WORDS, max_size=5))
def test_text_taken_for_plain_is_plain_to_the_parser_too(lines: list[str]) -> None:
    source = "\n".join(lines).strip("\n")
    if prose_module._MARKUP.search(source):
        return
    parsed = tuple(prose_module._blocks(prose_module._parser().parse(source)))
    plain = tuple(prose_module._plain(source))
    assert [kind for kind, _ in outline(parsed)] == [kind for kind, _ in outline(plain)]
    assert _words(parsed) == _words(plain)


def _words(blocks: tuple[Block, ...]) -> list[list[str]]:
    return [plain_text(block.runs).split() for block in blocks]
