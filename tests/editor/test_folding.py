"""What can be folded away, as the numbers of its first and last line."""

from cardrecipe.editor.outline.folding import foldings
from tests.editor.marked import samples, snapshot, texts_by_chance
from tests.generated.recipes import recipe


def folded(text: str) -> list[tuple[int, int, str]]:
    found = snapshot(text, compiled=False)
    line = found.source.line_and_column
    return [(line(each.span.start)[0], line(each.span.end)[0], each.kind) for each in foldings(found)]


def test_blocks_texts_and_runs_of_comments() -> None:
    text = ('recipe "A"\n  about """\n  # no comment\n  # none either\n  """\n  makes 2\n\n'
            "# one\n# two\n\npanel a from ink # beside\n"
            "  # of it\n  # and more\n  size 2 x 3\n# alone\n")  # fmt: skip
    assert folded(text) == [
        (1, 6, "block"),
        (2, 5, "text"),
        (8, 9, "comment"),
        (11, 14, "block"),
        (12, 13, "comment"),
    ]


def test_blocks_within_blocks_and_single_lines() -> None:
    assert folded('variant "A"\n  panel a from ink\n    size 2 x 3\n  drop b\npanel c from ink\n') == [
        (1, 4, "block"), (2, 3, "block")]  # fmt: skip
    assert folded("") == [] and folded("panel a from ink") == []


def test_a_run_of_comments_may_be_the_last_lines_without_a_line_end() -> None:
    assert folded('recipe "A"\n# one\n# two') == [(2, 3, "comment")]
    assert folded("# one\n  # two") == [(1, 2, "comment")]
    assert folded('recipe "A"\n# one') == []


def test_foldings_lie_in_the_text_and_never_cross() -> None:
    for text in [*samples().values(), *(text for _, text in texts_by_chance(60, seed=12)), recipe(5)]:
        found = foldings(snapshot(text, compiled=False))
        for each in found:
            assert 0 <= each.span.start < each.span.end <= len(text)
        for one in found:
            for other in found:
                if one.span.start < other.span.start < one.span.end and "comment" not in (
                    one.kind,
                    other.kind,
                ):
                    assert other.span.end <= one.span.end
