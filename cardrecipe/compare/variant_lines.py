"""The variants of a recipe as lines, for a diff of facts: what each says, however it is spaced."""

from collections.abc import Iterator, Sequence

from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Statement, Tree, Variant


def variant_lines(recipe: Tree, source: Source) -> tuple[str, ...]:
    """One line for each line of each variant: `variant Harvest: set plate.width 3 1/2`."""
    found: list[str] = []
    for statement in recipe.statements:
        if isinstance(statement.node, Variant):
            head = f"variant {statement.node.title.text}"
            found += [head, *(f"{head}: {line}" for line in _lines(statement.block, source))]
    return tuple(found)


def _lines(block: Sequence[Statement], source: Source) -> Iterator[str]:
    """In order of place; blocks may lie in each other more deeply than calls may."""
    waiting = [("", statement) for statement in reversed(block)]
    while waiting:
        above, statement = waiting.pop()
        said = " ".join(source.words_at(statement.span).split())
        yield f"{above}{said}"
        inside = f"{above}{said.split(' from ')[0]}, "
        waiting += [(inside, each) for each in reversed(statement.block)]
