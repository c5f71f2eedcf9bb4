"""The one door from the tests of the editor's features to them: a text with a cursor `‸`, what came of it."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from random import Random

from cardrecipe.compile import compile_tree
from cardrecipe.editor.snapshot import Edit, Snapshot, applied
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.generated.recipes import recipe
from tests.recipes import NAME, SAMPLES, Files, Texts

CURSOR = "‸"


def one_line(markdown: str) -> str:
    """What a hover says as one line, its typographic signs as they are typed."""
    return " ".join(markdown.split()).replace("\u2044", "/").replace("×", "x").replace("−", "-")


def at_cursor(text: str, files: Files | None = None, name: str = NAME) -> tuple[Snapshot, int]:
    """The recipe without its cursor, and where that stood."""
    before, _, after = text.partition(CURSOR)
    return snapshot(before + after, files, name), len(before)


def snapshot(text: str, files: Files | None = None, name: str = NAME, compiled: bool = True) -> Snapshot:
    source, texts = Source(name, text), Texts(files)
    tree, form = parse(source)
    bare = Snapshot(source, tree, tuple(form), texts=texts)
    if not compiled:
        return bare
    plain = compile_tree(tree, form, source, texts)
    variants = {title: compile_tree(tree, form, source, texts, title) for title in plain.variants}
    return bare._replace(
        compiled=plain, variants=variants, diagnostics=tuple(plain.diagnostics), is_current=True
    )


def words(spans: tuple[Span, ...], files: Mapping[str, str]) -> list[str]:
    """Each place as `file:line: word`."""
    found = []
    for span in spans:
        source = Source(span.file, files[span.file])
        found.append(f"{span.file}:{source.line_of(span)}: {source.words_at(span)}")
    return found


def with_edits(files: Mapping[str, str], edits: tuple[Edit, ...]) -> dict[str, str]:
    return {name: applied(text, name, edits) for name, text in files.items()}


@cache
def samples() -> dict[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(SAMPLES.glob("*.recipe"))}


def texts_by_chance(number: int, seed: int = 0) -> Iterator[tuple[str, str]]:
    """Samples and generated recipes, some of them broken off or with a line spoilt, each with its name."""
    chance = Random(seed)
    names = list(samples())
    for at in range(number):
        name = chance.choice(names) if at % 2 else NAME
        text = samples()[name] if at % 2 else recipe(seed * 1000 + at)
        if chance.random() < 0.5:
            text = text[: chance.randrange(len(text))]
        if chance.random() < 0.3:
            lines = text.split("\n")
            spoilt = chance.randrange(len(lines))
            lines[spoilt] = re.sub(r"\w+", lambda found: found.group()[::-1], lines[spoilt], count=2)
            text = "\n".join(lines)
        yield name, text
