"""An edit leaves alone what stands before it: the mistakes that are shown there, and the lines."""

from pathlib import Path

from cardrecipe.editor.desk.document import opened
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.editor.desks import Shown
from tests.recipes import HEAD, NAME

CARD = HEAD + (
    "base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
    'panel mat from ink on bakc\nvariant "Small"\n  drop mat\n'
)


def test_a_mistake_above_the_edit_is_shown_where_it_was(tmp_path: Path) -> None:
    shown = Shown(tmp_path)
    shown.open("a.recipe", CARD)
    shown.background.let_go()
    [before] = shown.published[shown.path("a.recipe")][1]
    shown.replace("a.recipe", "Small", "Rather small")
    assert shown.published[shown.path("a.recipe")][1] == (before,)
    assert CARD[before.span.start : before.span.end] == "bakc"


def test_what_is_typed_behind_the_last_line_end_is_read_with_the_block_above() -> None:
    document = opened(NAME, CARD)
    text = CARD
    for new in ("  set mat.border 1/4\n", "pannel a\n", "  ", "x"):
        document, text = document.edited(len(text), len(text), new), text + new
        tree, diagnostics = parse(Source(NAME, text))
        assert document.tree == tree and document.diagnostics == diagnostics
    assert [each.code for each in document.diagnostics] == ["unknown-word", "unknown-word"]
