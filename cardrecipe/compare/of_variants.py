"""What happened to a recipe's variants, by their lines: of two plain cards nothing else tells of them."""

from collections.abc import Iterable, Iterator

from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.compare.statements import Line, lines_of
from cardrecipe.compare.version import Version
from cardrecipe.syntax.tree import Statement


def variant_changes(both: Both) -> Iterator[Change]:
    """New and dropped variants, and those with other lines."""
    if both.old_card.variant is not None or both.new_card.variant is not None:
        return
    before, after = both.old.variants, both.new.variants
    for title in dict.fromkeys((*after, *before)):
        if title not in before:
            yield Change(
                "variants", "new", title, "", "", "", _causes(both.new, "new", lines_of((after[title],))[:1])
            )
        elif title not in after:
            yield Change(
                "variants",
                "gone",
                title,
                "",
                "",
                "",
                _causes(both.old, "old", lines_of((before[title],))[:1]),
            )
        else:
            yield from _changed(both, before[title], after[title], title)


def _changed(both: Both, before: Statement, after: Statement, title: str) -> Iterator[Change]:
    """Lines that only one of the two has; where all are in both, their order is another."""
    old, new = lines_of((before,)), lines_of((after,))
    if [line.says for line in old] == [line.says for line in new]:
        return
    gone = [line for line in old if line.says not in {each.says for each in new}]
    come = [line for line in new if line.says not in {each.says for each in old}]
    causes = *_causes(both.old, "old", gone), *_causes(both.new, "new", come)
    said = _lines(causes, "old"), _lines(causes, "new")
    if not causes:
        said = "its lines in one order", "in another"
    yield Change("variants", "changed", title, *said, "", causes)


def _lines(causes: Iterable[Cause], side: str) -> str:
    return "; ".join(cause.text for cause in causes if cause.side == side) or "no such line"


def _causes(version: Version, side: str, lines: list[Line] | tuple[Line, ...]) -> tuple[Cause, ...]:
    found = []
    for line in lines:
        span = line.statement.span
        source = version.sources[span.file]
        text = source.words_at(span).partition("\n")[0].strip()
        found.append(Cause(side, span.file, source.line_of(span), text))
    return tuple(found)
