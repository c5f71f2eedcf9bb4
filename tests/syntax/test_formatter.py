"""The rules of the canonical text, one by one: a text in, a text out. Laws: `test_formatter_laws`."""

from pathlib import Path
from textwrap import dedent

import pytest

from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.source import Source
from tests.recipes import NAME, SAMPLES, STRUCTURES, recipes_in


def canonical(text: str) -> str:
    return formatted(Source(NAME, text))


def block(text: str) -> str:
    return dedent(text).removeprefix("\n")


@pytest.mark.parametrize(("typed", "canonical_line"), [
    # spaces
    ("let  a   =\t1", "let a = 1"),
    ("let a=1", "let a = 1"),
    ("ask width ,height,flap=width/4", "ask width, height, flap = width / 4"),
    ("size a-b - c x 3*( a+2 )", "size a-b - c x 3 * (a + 2)"),
    ("size min( a ,b ) x max (1,2)", "size min(a, b) x max(1, 2)"),
    ("size back . width x 3", "size back.width x 3"),
    ("window 2x3 at ( 1,1 )", "window 2 x 3 at (1, 1)"),
    ("score from(0,1)to(1,2),valley", "score from (0, 1) to (1, 2), valley"),
    ('stamp"Row  of lanterns"in coal , rust', 'stamp "Row  of lanterns" in coal, rust'),
    # the minus sign: between two values, or in front of one
    ("let a = 3-1", "let a = 3 - 1"),
    ("let a = 3 -1", "let a = 3 - 1"),
    ("let a = - 1", "let a = -1"),
    ("let a = 3 - - 1", "let a = 3 - -1"),
    ("let a = 3*- ( b )", "let a = 3 * -(b)"),
    ("fold gate, width - 3", "fold gate, width -3"),
    ("set plate.width - 3", "set plate.width -3"),
    ("set plate.width b -3", "set plate.width b - 3"),
    # numbers
    ("size 5½ x 5 ½", "size 5 1/2 x 5 1/2"),
    ("size ½ x ⅞in", "size 1/2 x 7/8 in"),
    ("size 5  1/2 x 5\t1/2", "size 5 1/2 x 5 1/2"),
    ("size 10/4 x 4/16", "size 10/4 x 4/16"),
    ("size 5.50 x 0.0625mm", "size 5.50 x 0.0625 mm"),
    ("size 5/2 x 5 / 2", "size 5/2 x 5 / 2"),
    ("size width/2/½ x 1/2/3", "size width / 2 / 1/2 x 1/2 / 3"),
    ("size 007 x 3", "size 007 x 3"),
    # width and height
    ("size 5 1/2×?", "size 5 1/2 x ?"),
    ("size 10xa", "size 10 x a"),
    ("size x x x", "size x x x"),
    # words that may be left out are neither added nor taken away
    ("score 1 from left valley", "score 1 from left valley"),
    ("score 1 from left ,valley", "score 1 from left, valley"),
    ('paper a is plain "A",12x12,80lb cover', 'paper a is plain "A", 12 x 12, 80 lb cover'),
    ("have ink 1 sheet", "have ink 1 sheet"),
])  # fmt: skip
def test_a_line(typed: str, canonical_line: str) -> None:
    blocks = {"size": "panel a", "window": "base a", "score": "base a", "stamp": "panel a", "fold": "base a",
              "ask": "structure a", "set": 'variant "A"', "have": 'class "A"'}  # fmt: skip
    above = blocks.get(canonical_line.split()[0])
    text, wanted = (
        (f"{above}\n  {typed}\n", f"{above}\n  {canonical_line}\n")
        if above
        else (typed, canonical_line + "\n")
    )
    assert canonical(text) == wanted


CASES = {
    "blocks are indented by two spaces": ("""
        panel a
             size 1 x 2
             loose
        variant "B"
            panel b
                 size 1 x 2
           drop a
        """, """
        panel a
          size 1 x 2
          loose
        variant "B"
          panel b
            size 1 x 2
          drop a
        """),
    "a group of blank lines is one blank line": ("""


        panel a

        \t

          loose



        panel b


        """, """
        panel a

          loose

        panel b
        """),
    "a comment goes with the statement under it": ("""
        # a
        panel a
        # size
              # exactly
          size 1 x 2
         # loose
          loose
        """, """
        # a
        panel a
          # size
          # exactly
          size 1 x 2
          # loose
          loose
        """),
    "a comment that is indented further than the next statement ends a block": ("""
        variant "A"
            panel a
              loose
              # of a's block
            # of the variant
          # of the variant as well
        # of b
        panel b
           # all there is in b
        panel c
        """, """
        variant "A"
          panel a
            loose
            # of a's block
          # of the variant
          # of the variant as well
        # of b
        panel b
          # all there is in b
        panel c
        """),
    "comments at the end": ("""
        panel a
            loose
            # in the block
        # after it

        # last""", """
        panel a
          loose
          # in the block
        # after it

        # last
        """),
    "a comment after a statement has two spaces before it, and its own stay": ("""
        let a = 1# one
        let bcd = 2          #  two   #  more\x20\x20
        panel e# three "
        """, """
        let a = 1  # one
        let bcd = 2  #  two   #  more
        panel e  # three "
        """),
    "a text block moves with its line": ('''
        recipe "A"
              about   """
             First.

               Further in.\x20\x20
        # not a comment
        \t
             """# a comment
        ''', '''
        recipe "A"
          about """
               First.

                 Further in.\x20\x20
          # not a comment
          """  # a comment
        '''),
    "a text block's lines stand between the lines of quotes": ('''
        panel a
          write """  One.
                Two.
                  Three."""
          stamp """Four.""" in coal
          do """"""
        ''', '''
        panel a
          write """
          One.
          Two.
            Three.
          """
          stamp """
          Four.
          """ in coal
          do """

          """
        '''),
    "a line that cannot be read stays as it is, in its block": ("""
        panel a
              sise 1  x 2  # really
              size 1  by 2½
              size 1  x 2½
        pannel   b
           size 3x4
        oval c
            score 1  from left
              overhangs
        """, """
        panel a
          sise 1  x 2  # really
          size 1  by 2½
          size 1 x 2 1/2
        pannel   b
          size 3 x 4
        oval c
          score 1  from left
            overhangs
        """),
    "a text that is never closed stays as it is": ("""
        panel a
            write "open  # no comment
            do   \"""
          never   closed
        """, """
        panel a
          write "open  # no comment
          do   \"""
          never   closed
        """),
    "a tab stays where it is what is wrong": ("panel a\n\tloose\n loose  \n", "panel a\n \tloose\n  loose\n"),
    "line feeds alone": ("panel a\r\n  # b\r\n\r\n  loose \r\nuse \"a.recipe\"\r\n",
                         "panel a\n  # b\n\n  loose\nuse \"a.recipe\"\n"),
    "the last line has an end": ("use \"a.recipe\"", "use \"a.recipe\"\n"),
    "nothing": ("", ""),
    "nothing but blank lines": ("\n  \n\n", ""),
    "nothing but a comment": ("\n  # so\n\n", "# so\n"),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_a_text(case: str) -> None:
    typed, wanted = map(block, CASES[case])
    assert canonical(typed) == wanted
    assert canonical(wanted) == wanted


def test_a_file_that_is_too_long_to_read_stays_whole() -> None:
    text = "#  so long  \n" * 100_000
    assert canonical(text) == text


def test_blocks_as_deep_as_the_file_is_long() -> None:
    text = "".join(f"{' ' * depth}what\n" for depth in range(900))
    assert canonical(text) == "".join(f"{'  ' * depth}what\n" for depth in range(900))


@pytest.mark.parametrize("path", recipes_in(SAMPLES, STRUCTURES), ids=lambda path: path.stem)
def test_what_is_shipped_is_canonical(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert canonical(text) == text
