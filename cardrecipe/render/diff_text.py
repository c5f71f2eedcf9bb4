"""A comparison as plain text, for a terminal: grouped, short, and fit to be read aloud."""

from collections.abc import Iterator

from cardrecipe.compare.changes import Comparison
from cardrecipe.compare.telling import heading, in_short, told


def render_diff_text(comparison: Comparison) -> str:
    """All changes with their lines; one sentence where there are none."""
    return "\n".join(_lines(comparison)) + "\n"


def _lines(comparison: Comparison) -> Iterator[str]:
    yield _flat(heading(comparison))
    yield in_short(comparison)
    for part in told(comparison):
        yield ""
        yield part.title
        for each in part.lines:
            yield f"  {_flat(each.line)}"
            yield from (f"    {_flat(line)}" for line in (*each.below, *each.because))


def _flat(text: str) -> str:
    return " ".join(text.split("\n"))
