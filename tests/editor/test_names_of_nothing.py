"""Names that nothing has, names with another meaning, and what that leaves of a definition or a rename."""

import pytest

from cardrecipe.editor.names.meanings import meanings
from cardrecipe.editor.names.names import CannotRename, definition, references, rename
from tests.editor.marked import CURSOR, at_cursor, snapshot, words
from tests.recipes import HEAD, NAME, codes_of

BOOK = HEAD + "base book from ink\n  fold side-fold, width 4, height 5\n"
OWN_FOLD = HEAD + (
    "structure mine\n  ask width\n  flat 2 * width x 5\n  score width from left\n  sections front, back\n"
    "  panel inner on base\n    size 1 x 1\n"
    "base book from ink\n  fold mine, width 3\n"
)


def meant(text: str, files: dict[str, str] | None = None) -> list[str]:
    """The word that declares what the name under the cursor means; nothing where nothing is called so."""
    found, offset = at_cursor(text, files)
    return words(definition(found, offset), {NAME: found.source.text, **(files or {})})


def refused(text: str, new: str) -> str:
    found, offset = at_cursor(text)
    with pytest.raises(CannotRename) as problem:
        rename(found, offset, new)
    return str(problem.value)


def marked(text: str, place: str) -> str:
    assert place.replace(CURSOR, "") in text
    return text.replace(place.replace(CURSOR, ""), place, 1)


# ---- where nothing is called so ------------------------------------------------------------------


@pytest.mark.parametrize("line", [
    "let a = no‸such + 1", "let a = nosuch.wid‸th + 1", "let a = nosu‸ch.width + 1", "let a = book.no‸such",
    "panel a from ink on no‸where", "band sash from ink around no‸thing",
    "base two from ink\n  fold no‸such, width 3", "base two from ink\n  fold nosuch, wi‸dth 3",
])  # fmt: skip
def test_a_name_that_nothing_has_leads_nowhere(line: str) -> None:
    assert meant(f"{BOOK}{line}\n") == []
    found, offset = at_cursor(f"{BOOK}{line}\n")
    assert references(found, offset) == ()
    assert "no name here" in refused(f"{BOOK}{line}\n", "leaf")


def test_a_piece_in_a_used_file_is_no_piece_of_this_card() -> None:
    files = {"shelf.recipe": 'paper moss is cardstock "Moss"\npanel a from moss\n  size 1 x 1\n'}
    text = f'use "shelf.recipe"\n{BOOK}panel b from moss on a\n  size 1 x 1\n'
    assert "use-piece" in codes_of(text, files)
    assert meant(marked(text, "on a‸"), files) == []
    assert meant(marked(text, "from mo‸ss"), files) == ["shelf.recipe:1: moss"]
    kinds = {each.kind for each in meanings(snapshot(text, files)).names if each.span.file == "shelf.recipe"}
    assert kinds == {"paper"}


# ---- another name of a thing ---------------------------------------------------------------------


def test_the_closed_size_of_the_card_is_that_of_its_one_base() -> None:
    text = f"{BOOK}let shut = card.finished-width\n"
    assert meant(marked(text, "ca‸rd.finished")) == [f"{NAME}:5: book"]
    assert "no name here" in refused(marked(text, "ca‸rd.finished"), "cover")
    two = f"{BOOK}base two from ink\n  flat 6 x 4\nlet shut = card.finished-width\n"
    assert meant(marked(two, "ca‸rd.finished")) == []


def test_the_base_that_a_structure_speaks_of_is_the_one_that_is_folded_by_it() -> None:
    assert meant(marked(OWN_FOLD, "inner on ba‸se")) == [f"{NAME}:12: book"]


def test_a_panel_of_a_structure_may_be_folded_by_another_that_brings_a_panel() -> None:
    text = HEAD + (
        "structure small\n  ask width\n  flat 2 * width x 1\n  score width from left\n  sections lid, floor\n"
        "  panel label on lid\n    size 1/2 x 1/2\n"
        "structure mine\n  ask width\n  flat 2 * width x 5\n  score width from left\n  sections front, back\n"
        "  panel box on front\n    fold small, width 1\n"
        "base book from ink\n  fold mine, width 3\n"
    )
    assert codes_of(text) == []
    assert meant(marked(text, "label on li‸d")) == [f"{NAME}:9: lid"]
    assert meant(marked(text, "panel la‸bel")) == [f"{NAME}:10: label"]
    assert meant(marked(text, "box on fro‸nt")) == [f"{NAME}:16: front"]


def test_two_variants_of_one_title_are_both_read() -> None:
    text = BOOK + (
        'panel a from ink on front\nvariant "Low"\n  set a.border 1/4\nvariant "Low"\n  drop a\n'
    )
    found = snapshot(text)
    lines = [each.split(":")[1] for each in words(references(found, text.index("a from")), {NAME: text})]
    assert lines == ["7", "9", "11"]
    titles = words(references(found, text.rindex("Low")), {NAME: text})
    assert titles == [f"{NAME}:8: Low", f"{NAME}:10: Low"]


# ---- names that cannot be given ------------------------------------------------------------------


def test_the_name_that_a_thing_has_is_no_change() -> None:
    found, offset = at_cursor(marked(OWN_FOLD, "sections fro‸nt"))
    assert rename(found, offset, "front") == ()


@pytest.mark.parametrize(("place", "new", "reason"), [
    ("sections fro‸nt", "back", "`back` has a meaning of its own"),
    ("structure mi‸ne", "gate", "`gate` is a shipped fold"),
    ("pose stan‸ding", "open", "`open` has a meaning of its own"),
    ("let re‸veal", "min", "could no longer be read"),
])  # fmt: skip
def test_a_name_that_the_language_has_taken_is_refused(place: str, new: str, reason: str) -> None:
    text = OWN_FOLD + (
        "pose standing\n  fold 1 at 60\nlet reveal = 1/8\npanel a from ink on front\n  size reveal * 8 x 3\n"
    )
    assert codes_of(text)[:1] != ["unknown-name"]
    assert reason in refused(marked(text, place), new)
