"""What is said of the word under the cursor."""

import re

import pytest

from cardrecipe.editor.rules import INNER, RULES
from cardrecipe.editor.telling.hover import hover, keyword
from cardrecipe.editor.telling.values import values
from cardrecipe.syntax.grammar import tables
from cardrecipe.syntax.words import WORDS
from tests.editor.marked import at_cursor, one_line, samples, snapshot, texts_by_chance
from tests.recipes import HEAD, METRIC

CARD = HEAD + (
    "let reveal = 1/16 in\nlet twice = 2 * reveal\n"
    'supply coal is ink "Coal *black*"\n'
    "base card from ink\n  fold double-gate, width 5, height 7, flap 3/4\n"
    "panel doors from ink on left-door outside, right-door outside\n"
    "panel parts from ink on left-flap, back\n"
    'panel note from ink on back\n  size 3 x ?\n  border reveal top\n  stamp "Fern" in coal\n'
    "band sash from ink around card\n  width sash.length / 8\n"
    "pose standing\n  fold 1 at 60\n"
    'variant "Low"\n  set card.height 6\n  panel mat from ink under note\n'
)


def said(text: str, files: dict[str, str] | None = None) -> str:
    """The hover as one line, its typographic fractions as they are typed."""
    found, offset = at_cursor(text, files)
    told = hover(found, offset)
    assert told is not None and told.span.start <= offset <= told.span.end
    return one_line(told.markdown).replace("\\", "")


def at(place: str, text: str = CARD) -> str:
    assert place.replace("‸", "") in text
    return said(text.replace(place.replace("‸", ""), place, 1))


def test_a_piece_tells_its_size_in_both_systems_and_the_sum() -> None:
    told = at("panel do‸ors")
    assert told.startswith("**panel** `doors` from *Ink* on `left-door outside`, `right-door outside`")
    assert "2 1/4 x 6 3/4 in · 57 x 172 mm" in told
    assert "doors.width = left-door.width 2 1/2 - 2 x border 1/8 = 2 1/4 in" in told


def test_a_piece_of_two_sizes_tells_both() -> None:
    told = at("panel pa‸rts")
    assert "1/2 x 6 3/4 in · 13 x 172 mm on left-flap" in told
    assert "4 3/4 x 6 3/4 in · 120 x 172 mm on back" in told


def test_a_size_a_section_a_let_and_a_question_mark() -> None:
    assert at("width sash.len‸gth").startswith("**size** `sash.length` = ")
    assert at("on left-flap, ba‸ck\n").startswith("**section** `back` of `card` width 5 in · 126 mm")
    assert at("let tw‸ice") == "**let** `twice` = `2 * reveal` It comes to 1/8 in · 4 mm."
    assert at("size 3 x ?‸").startswith("`?` = ")


def test_a_base_tells_how_large_it_is_folded_shut() -> None:
    assert "Folded shut it is 5 x 7 in." in at("base ca‸rd")
    assert "5 in" in said(CARD + "let shut = card.finished-‸width\n")


def test_an_asked_size_tells_what_it_is_for_each_piece() -> None:
    told = at("fold double-gate, wi‸dth")
    assert told.startswith("`width`, asked for by the fold `double-gate` For `card`: `width` = 5 in · 126 mm")


def test_papers_supplies_and_structures() -> None:
    assert at("base card from in‸k").startswith(
        "**paper** `ink`: cardstock *Ink* 12 x 12 in For `card`, `doors`"
    )
    assert at("in co‸al") == "**ink** `coal`: *Coal *black**"
    assert at("fold double-‸gate").startswith("**fold** `double-gate`, a shipped fold")
    assert "flap` (else `width / 4`)" in at("fold double-‸gate")
    assert "which no line declares" in said(CARD.replace("in coal", "in ru‸st"))


def test_the_words_of_a_maker_are_shown_as_they_are() -> None:
    found, offset = at_cursor(
        CARD.replace("Coal *black*", "<b>Coal</b> `x` [a](b)").replace("in coal", "in co‸al")
    )
    told = hover(found, offset)
    assert told is not None and "\\<b\\>Coal\\</b\\> \\`x\\` \\[a\\](b)" in told.markdown


def test_words_of_the_language_tell_their_forms_and_where_they_stand() -> None:
    told = at("pan‸el doors")
    assert told.startswith("**panel** — A rectangle") and "`panel message from white on back`" in told
    assert "at the left edge of the file, in a variant, in a structure" in told
    assert at("on left-door out‸side").startswith("`outside` — ")


@pytest.mark.parametrize("word", WORDS)
def test_every_word_that_begins_a_line_has_its_rule(word: str) -> None:
    assert RULES[word] and keyword(word)


def test_rules_and_help_are_of_words_that_there_are() -> None:
    assert set(RULES) == set(WORDS)
    known = {part for word in tables().words for part in word.split()} | {
        "tape",
        "liquid",
        "dots",
        "foam",
        "inch",
    }
    assert set(INNER) <= known


def test_an_envelope_tells_its_size_and_where_that_is_from() -> None:
    told = at("envelope us-‸a7", METRIC.replace("  border 3\n", "  border 3\n  envelope us-a7\n"))
    assert told.startswith("**envelope** `us-a7`: US A7 Inside it is 5 1/4 x 7 1/4 in, about 133 x 184 mm.")
    assert re.search(r"From .*; November 2026\.$", told)
    assert "`us-a2`, an envelope" in at("envelope a‸2", HEAD.replace("  border", "  envelope a2\n  border"))


def test_a_variant_tells_its_own_sizes() -> None:
    assert "5 13/16 in" in at("under no‸te") and "6 13/16 in" in at("panel no‸te")


def test_what_a_variant_sets_of_a_fold_is_what_the_fold_asks_for() -> None:
    told = at("set card.hei‸ght")
    assert told.startswith("`height`, asked for by the fold `double-gate` For `card`: `height` = 6 in")
    assert at("set card.height ?‸", CARD.replace("card.height 6", "card.height ?")).startswith("`?`")


def test_variants_files_and_what_a_variant_leaves_out() -> None:
    text = CARD.replace("  set card.height 6\n", "  set card.height 6\n  set note.border 1/4\n  drop doors\n")
    told = at('variant "L‸ow', text)
    assert told.startswith("**variant** Low - `set card.height 6` - `set note.border 1/4`")
    assert "2 1/4 x 6 3/4 in" in at("drop do‸ors", text)
    told = at("set note.bor‸der", text)
    assert told.startswith("**panel** `note`") and "3 x 5 1/2 in" in told
    files = {"papers.recipe": 'paper moss is cardstock "Moss"\nsupply coal is ink "Coal"\n'}
    told = said('use "pap‸ers.recipe"\n' + HEAD, files)
    assert told == "**file** `papers.recipe` - paper: `moss` - supply: `coal`"


def test_of_a_broken_recipe_what_is_known_is_told() -> None:
    broken = CARD.replace("fold double-gate, width 5", "fold double-gate, width five 5")
    assert at("panel do‸ors", broken).startswith("**panel** `doors` from *Ink*")
    assert "It is not known yet" in at("x ?‸", broken) or "not known" in at("x ?‸", broken)


def test_no_place_of_any_text_gives_an_exception() -> None:
    for name, text in texts_by_chance(24, seed=7):
        found = snapshot(text, samples(), name)
        for offset in range(len(text) + 1):
            told = hover(found, offset)
            assert told is None or (told.markdown and told.span.start <= offset <= told.span.end)


def test_before_the_first_check_names_and_words_are_told() -> None:
    for name, text in texts_by_chance(10, seed=8):
        found = snapshot(text, samples(), name, compiled=False)
        for offset in range(0, len(text) + 1, 3):
            hover(found, offset)


def test_with_the_card_of_an_older_text_names_are_looked_up_in_it() -> None:
    older = None
    for name, text in texts_by_chance(16, seed=9):
        found = snapshot(text, samples(), name)
        if older is not None:
            stale = found._replace(compiled=older.compiled, variants=older.variants, is_current=False)
            for offset in range(0, len(text) + 1, 3):
                hover(stale, offset)
            values(stale)
        older = found
    before = snapshot(CARD)
    after = snapshot("# moved\n" + CARD, compiled=False)._replace(compiled=before.compiled)
    told = hover(after, after.source.text.index("doors"))
    assert told is not None and "2 1\u20444" in told.markdown.replace("\u202f", " ")
