"""Our reader of a line against lark's own parser of the same grammar: same answers, same trees."""

import random
import re
from pathlib import Path
from typing import Any

import lark
import pytest

from cardrecipe.syntax.grammar import checksum, grammar_text, tables
from cardrecipe.syntax.make_tables import lark_parser, made_tables, source_of
from cardrecipe.syntax.read_line import Misread, Token, read_line
from cardrecipe.syntax.tables import TABLES
from cardrecipe.syntax.words import FORMS, WORDS

ROOT = Path(__file__).parents[2]
FIRST_WORD = re.compile(r"[a-z0-9-]*")
TOKEN = re.compile(r'"""[\s\S]*?"""|"[^"\n]*"|[0-9]+ [0-9]+/[0-9]+|[0-9./]+|[a-z0-9-]+|\S')
Shape = tuple[str, tuple[Any, ...]]


class _Shapes:
    """Builds (rule, children) for every rule that has a value of its own."""


for _rule in {method for _, method, _, _, _ in tables().rules if method}:
    setattr(_Shapes, _rule, lambda self, children, rule=_rule: (rule, tuple(children)))


@pytest.fixture(scope="module")
def oracle() -> lark.Lark:
    return lark_parser()


def lines() -> list[str]:
    recipes = [*ROOT.glob("samples/*.recipe"), *ROOT.glob("cardrecipe/library/structures/*.recipe")]
    texts = [path.read_text(encoding="utf-8") for path in sorted(recipes)]
    found = [line.split("  #")[0].strip() for text in texts for line in text.splitlines()]
    one_line = [line for line in found if line and '"""' not in line and not line.startswith("#")]
    return [form.example for form in FORMS] + one_line


def ours(line: str) -> Shape | None:
    try:
        return read_line(line, _Shapes())
    except Misread:
        return None


def larks(oracle: lark.Lark, line: str) -> Shape | None:
    try:
        return shape(oracle.parse(line))
    except lark.UnexpectedInput:
        return None


def shape(node: Any) -> Any:
    if isinstance(node, lark.Tree):
        return str(node.data), tuple(map(shape, node.children))
    return node


def test_every_line_of_the_samples_reads_alike(oracle: lark.Lark) -> None:
    read = [(line, ours(line)) for line in lines()]
    assert all(result is not None or larks(oracle, line) is None for line, result in read)
    assert [line for line, result in read if result != larks(oracle, line)] == []
    assert sum(result is not None for _, result in read) > 150


def test_lines_with_words_lost_doubled_or_swapped_read_alike(oracle: lark.Lark) -> None:
    chance = random.Random(20)
    words = sorted({word for line in lines() for word in TOKEN.findall(line)})
    verdicts = {True: 0, False: 0}
    for line in lines() * 6:
        tokens = TOKEN.findall(line)
        at = chance.randrange(len(tokens))
        twice, other, swapped = [tokens[at]] * 2, [chance.choice(words)], tokens[at : at + 2][::-1]
        tokens[at : at + 1] = chance.choice([[], twice, other, swapped])
        changed = " ".join(tokens)
        first = FIRST_WORD.match(changed)
        if first and first[0] not in WORDS:  # lark would read `window-width` and `panels` as two words
            assert ours(changed) is None, changed
            verdicts[False] += 1
            continue
        assert ours(changed) == larks(oracle, changed), changed
        verdicts[ours(changed) is not None] += 1
    assert min(verdicts.values()) > 100


def test_the_saved_tables_are_those_of_the_grammar() -> None:
    """After an edit of the grammar: python -m cardrecipe.syntax.make_tables"""
    assert TABLES.checksum == checksum(grammar_text())
    saved = (ROOT / "cardrecipe" / "syntax" / "tables.py").read_text(encoding="utf-8")
    assert saved == source_of(made_tables())


@pytest.mark.parametrize(
    ("line", "offset", "word"),
    [
        ("flat 10 y 7", 8, "TIMES"),
        ("score 2 form left", 8, "FROM"),
        ("flat 10 x", 9, "NUMBER"),
        ("glue with", 9, "NAME"),
    ],
)
def test_a_wrong_line_tells_where_and_what_could_stand_there(line: str, offset: int, word: str) -> None:
    with pytest.raises(Misread) as caught:
        read_line(line, _Shapes())
    assert caught.value.offset == offset
    assert word in caught.value.expected


def test_a_size_may_be_written_close() -> None:
    assert ours("flat 10x7") == ours("flat 10 x 7")
    assert ours("flat 10×7") == ours("flat 10 × 7")
    assert None not in (ours("flat 10x7"), ours("flat 10×7"))


def test_a_token_is_a_text_that_knows_its_place() -> None:
    first = {name: lambda self, children: children[0] for name in ("makes", "start")}
    token = read_line("makes  12", type("Takes", (), first)())
    assert (token, type(token), token.start_pos) == ("12", Token, 7)
