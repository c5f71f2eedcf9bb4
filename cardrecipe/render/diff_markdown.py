"""A comparison as Markdown: for a pull request, a forum, a plain text reader. All texts are escaped."""

from collections.abc import Iterator

from cardrecipe.compare.changes import Comparison
from cardrecipe.compare.telling import heading, in_short, told
from cardrecipe.render.markdown import escaped


def render_diff_markdown(comparison: Comparison) -> str:
    """All changes with their lines, a heading for each group."""
    return "\n".join(_lines(comparison)) + "\n"


def _lines(comparison: Comparison) -> Iterator[str]:
    yield f"# {_flat(heading(comparison))}"
    yield ""
    yield _flat(in_short(comparison))
    for part in told(comparison):
        yield ""
        yield f"## {part.title}"
        yield ""
        for each in part.lines:
            yield f"- {_flat(each.line)}"
            yield from (f"  - {_flat(line)}" for line in (*each.below, *each.because))


def _flat(text: str) -> str:
    return escaped(" ".join(text.split("\n")))
