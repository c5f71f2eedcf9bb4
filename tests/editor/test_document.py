"""A text that is edited has at every moment the tree and the diagnostics that a fresh `parse` gives."""

from random import Random

import pytest

from cardrecipe.editor.desk.document import Document, opened
from cardrecipe.editor.desk.line_memory import SPARE_LETTERS, SPARE_LINES
from cardrecipe.syntax.lines import MAX_FILE, MAX_LINE
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.tree import Statement
from tests.bench.editing import editing
from tests.editor.edits import edit_by_chance, text_by_chance
from tests.recipes import HEAD, NAME

SEQUENCES, PARTS = 5_000, 20


def disagreements(document: Document) -> list[str]:
    """What differs from a fresh parse of the same text."""
    tree, diagnostics = parse(Source(NAME, document.source.text))
    return [what for what, is_same in (
        ("diagnostics", document.diagnostics == diagnostics), ("tree", document.tree == tree)
    ) if not is_same]  # fmt: skip


def after(text: str, *edits: tuple[str, str]) -> Document:
    """`text` with the first place of each `old` typed over by `new`, and checked after each."""
    document = opened(NAME, text)
    assert not disagreements(document)
    for old, new in edits:
        at = document.source.text.index(old)
        document = document.edited(at, at + len(old), new)
        assert not disagreements(document), (old, new)
    return document


@pytest.mark.parametrize("part", range(PARTS))
def test_edits_by_chance(part: int) -> None:
    """5,000 sequences of one to six edits; the tree is asked for after some edits and not after others."""
    for number in range(part, SEQUENCES, PARTS):
        chance = Random(number)
        document = opened(NAME, text_by_chance(chance))
        for _ in range(chance.randint(1, 6)):
            before, edit = document.source.text, edit_by_chance(chance, document.source.text)
            document = document.edited(*edit)
            assert document.source.text == before[: edit.start] + edit.new + before[edit.end :]
            tree, diagnostics = parse(Source(NAME, document.source.text))
            assert document.diagnostics == diagnostics, (number, edit)
            if chance.random() < 0.7:
                assert document.tree == tree, (number, edit)
        assert not disagreements(document), number


# ---- one thing at a time -------------------------------------------------------------------------

CARD = HEAD + 'base card from ink\n  flat 10 x 7\n  tip "Press."\npanel mat from ink on card\n  size 2 x 2\n'


def test_a_text_block_swallows_what_follows_until_it_is_closed() -> None:
    found = after(CARD, ("paper", '"""\npaper'), ("base", '"""\nbase'), ('"""\npaper', "paper"))
    assert [each.code for each in found.diagnostics] == ["open-text"]
    assert not after(CARD, ("paper", '"""\npaper'), ('"""\npaper', "paper")).diagnostics


def test_a_quote_that_is_typed_letter_by_letter() -> None:
    text = CARD.replace('"Press."', "")
    document = opened(NAME, text)
    at = text.index("tip ") + 4
    codes = []
    for letter in '"Go."':
        document = document.edited(at, at, letter)
        at += 1
        assert not disagreements(document)
        codes.append([each.code for each in document.diagnostics])
    assert codes == [["open-text"]] * 4 + [[]]


def test_a_header_that_goes_leaves_its_block_to_the_one_before() -> None:
    found = after(CARD, ("panel mat from ink on card\n", ""))
    assert [each.word for each in found.tree.statements] == ["recipe", "paper", "base"]
    assert [each.word for each in found.tree.statements[-1].block] == ["flat", "tip", "size"]


def test_a_line_that_is_indented_joins_the_block_above_and_leaves_it_again() -> None:
    found = after(CARD, ("panel mat", "  panel mat"), ("  panel mat", "panel mat"))
    assert not found.diagnostics


def test_a_header_that_is_typed_above_lines_that_stood_under_nothing() -> None:
    document = opened(NAME, "  flat 10 x 7\n# first\nlet a = 1\n")
    assert [each.code for each in document.diagnostics] == ["wrong-place"]
    document = document.edited(0, 0, "base card from ink\n")
    assert not document.diagnostics and not disagreements(document)


def test_lines_are_joined_and_split() -> None:
    after(CARD, ("ink\n  flat", "ink flat"), ("ink flat", "ink\n  flat"), ("flat 10", "flat\n  10"))


def test_tabs_and_line_ends() -> None:
    line_ends = (("\n", "\r\n"), ("7\n", "7\r\n"), ("\r\n", "\n"))
    found = after(CARD, ("  flat", "\tflat"), ("\tflat", "  flat"), *line_ends)
    assert not found.diagnostics


def test_long_lines() -> None:
    words = "x" * MAX_LINE
    found = after(CARD, ("flat", f"# {words}\n  flat"), ("Press.", words))
    assert [each.code for each in found.diagnostics] == ["line-too-long", "line-too-long"]
    assert not after(found.source.text, (words, ""), (words, "")).diagnostics


def test_a_file_that_grows_too_long_and_shrinks_again() -> None:
    comment = "# " + "x" * 98 + "\n"
    text = CARD + comment * ((MAX_FILE - len(CARD)) // len(comment))
    document = opened(NAME, text)
    assert not document.diagnostics
    longer = document.edited(0, 0, comment)
    assert [each.code for each in longer.diagnostics] == ["file-too-long"]
    assert not disagreements(longer)
    assert not disagreements(longer.edited(0, 5, "# y"))
    assert not disagreements(longer.edited(0, len(comment), ""))


def test_an_empty_text_is_typed_into_and_emptied() -> None:
    document = opened(NAME, "")
    typed = ((0, 0, "r"), (1, 1, "ecipe"), (6, 6, ' "A"\n'))
    for edit in (*typed, (0, 11, ""), (0, 0, CARD), (0, len(CARD), "")):
        document = document.edited(*edit)
        assert not disagreements(document)


def test_blocks_as_deep_as_the_file_is_long() -> None:
    lines = [f"{' ' * depth}panel p{depth} from ink" for depth in range(1_500)]
    document = opened(NAME, "\n".join(lines))
    at = document.source.text.index("p700 ")
    document = document.edited(at, at, "x")
    fresh = parse(Source(NAME, document.source.text))
    assert document.diagnostics == fresh[1]
    assert _spine(document.tree.statements) == _spine(fresh[0].statements)


def _spine(statements: tuple[Statement, ...]) -> list[Statement]:
    """Each statement of a tree that is too deep to be compared whole, without its block."""
    found = []
    while statements:
        found += [each.replace(block=()) for each in statements]
        statements = statements[-1].block
    return found


def test_earlier_documents_stay_as_they_were() -> None:
    first = opened(NAME, CARD)
    tree, diagnostics = first.tree, first.diagnostics
    second = first.edited(0, 6, "recipes")
    assert second.diagnostics and second.tree != tree
    assert (first.tree, first.diagnostics) == (tree, diagnostics)
    assert not disagreements(first) and not disagreements(first.edited(0, 0, "\n"))


def test_an_edit_reads_only_the_lines_that_it_touches(monkeypatch: pytest.MonkeyPatch) -> None:
    from cardrecipe.editor.desk import line_memory

    read: list[str] = []
    real = line_memory.parsed_line
    monkeypatch.setattr(line_memory, "parsed_line", lambda line, source, found: (
        read.append(source.text), real(line, source, found))[1])  # fmt: skip
    document = opened(NAME, CARD)
    assert "flat 10 x 7" in read
    read.clear()
    at = CARD.index("10 x 7")
    document = document.edited(at, at + 2, "11")
    assert not disagreements(document)
    assert read == ["flat 11 x 7"]


def test_lines_that_are_gone_are_forgotten_in_the_end() -> None:
    document = opened(NAME, CARD)
    at = CARD.index("10 x 7")
    for number in range(3 * SPARE_LINES):
        document = document.edited(at, at + 2, str(10 + number % 90))
        document = document.edited(0, document.source.text.index("\n") + 1, f'recipe "{number}"\n')
        at = document.source.text.index(" x 7") - 2
    assert len(document._memory._read) <= 2 * SPARE_LINES + 100
    assert not disagreements(document)


def test_a_long_text_block_is_not_remembered_after_each_letter() -> None:
    """A block that is not closed is one line to the end of the file, another one after each letter."""
    rest = "# nothing of note stands here\n" * 3_000
    document = opened(NAME, f'{CARD}tip """\n{rest}')
    for _ in range(3 * SPARE_LETTERS // len(rest)):
        document = document.edited(len(CARD) + 8, len(CARD) + 8, "x")
    assert sum(map(len, document._memory._read)) <= SPARE_LETTERS + 2 * len(rest)
    assert not disagreements(document)


def test_an_edit_of_a_thousand_lines_takes_at_most_three_tenths_of_a_parse() -> None:
    """It takes about a hundredth; `python -m tests.bench` prints how it grows."""
    measured = editing(1_000)
    assert measured.edit <= 0.3 * measured.parse
