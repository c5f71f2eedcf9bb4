"""What can be written at the cursor; nothing is offered that could not stand there."""

from random import Random

import pytest

from cardrecipe.editor.offering.completing import completions, inserted
from cardrecipe.editor.offering.line_before import reads
from cardrecipe.editor.offering.snippets import filled, snippet
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.words import FORMS, words_in
from tests.editor.marked import at_cursor, samples, snapshot, texts_by_chance
from tests.recipes import HEAD, NAME

CARD = HEAD + (
    'paper white is cardstock "White"\nsupply coal is ink "Coal"\nsupply fern is stamp "Fern"\n'
    "let reveal = 1/16\n"
    "base card from ink\n  fold double-gate, width 4, height 5\n"
    "panel note from white on back\n  size 3 x 4\n"
    "band sash from ink around card\n  width 1\n"
)


def offered(
    end: str, text: str = CARD, files: dict[str, str] | None = None, beside: tuple[str, ...] = ()
) -> list[str]:
    found, offset = at_cursor(text + end, files)
    return [each.label for each in completions(found, offset, beside)]


# ---- the place -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("start", "place"), [
    ("‸", "top"), ("panel a from ink on back\n  ‸", "panel"), ("base b from ink\n  ‸", "base"),
    ('variant "A"\n  ‸', "variant"), ("structure mine\n  ‸", "structure"), ("pose standing\n  ‸", "pose"),
    ('variant "A"\n  oval a from ink on back\n    ‸', "shape"),
])  # fmt: skip
def test_a_line_begins_with_the_words_of_its_block(start: str, place: str) -> None:
    found, offset = at_cursor(CARD + start)
    first = {each.text.split()[0] for each in completions(found, offset)}
    assert first == set(words_in(place)) - ({"recipe", "class"} if place == "top" else set())


def test_nothing_can_stand_under_a_line_that_has_no_block() -> None:
    assert offered("panel a from ink on back\n  size 3 x 2\n    ‸") == []


def test_a_form_comes_with_its_holes_and_a_line_that_stands_already_keeps_its_own_words() -> None:
    found, offset = at_cursor(CARD + "pan‸")
    panel = next(each for each in completions(found, offset) if each.label == "panel")
    assert (
        panel.is_snippet
        and panel.text == "panel ${1:message} from ${2:white} on ${3:back}"
        and panel.documentation
    )
    found, offset = at_cursor(CARD + "pan‸ a from ink on back")
    panel = next(each for each in completions(found, offset) if each.label == "panel")
    assert not panel.is_snippet and panel.text == "panel" and panel.span.end - panel.span.start == 3


def test_what_a_block_says_once_is_not_offered_again() -> None:
    assert "size" not in offered("panel a from ink on back\n  size 3 x 2\n  ‸")
    assert "stamp" in offered('panel a from ink on back\n  stamp "A"\n  ‸')


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.example)
def test_a_snippet_that_is_left_alone_is_the_example(form: object) -> None:
    example = str(getattr(form, "example", ""))
    assert filled(snippet(example)) == example


# ---- names ---------------------------------------------------------------------------------------


def test_each_word_asks_for_its_own_names() -> None:
    assert offered("panel a from ‸") == ["ink", "white"]
    assert offered("panel a from wh‸") == ["ink", "white"]
    assert offered("panel a ‸") == ["from", "on", "under"]
    assert offered("panel a from ink on back ‸") == ["inside", "outside"]
    hosts = offered("panel a from ink on ‸")
    assert (
        hosts[:6] == ["left-flap", "left-door", "back", "right-door", "right-flap", "card"]
        and "sash" in hosts
    )
    assert "a" not in hosts and offered("panel a from ink on back, ‸")[:2] == hosts[:2]
    assert offered("panel a from ink under ‸") == ["card", "note", "sash"]
    assert offered("band b from ink around ‸") == ["card"]
    assert offered("panel a from ink\n  glue with ‸") == ["tape", "liquid", "dots", "foam"]
    assert offered('panel a from ink\n  stamp "Fern" in ‸') == ["coal"]
    assert offered("tip on ‸") == ["card", "note", "sash"] == offered("step after ‸")


def test_kinds_units_and_edges() -> None:
    assert offered("paper a is ‸") == ["cardstock", "patterned", "plain", "vellum", "acetate"]
    assert offered("supply a is ‸")[:3] == ["stamp", "ink", "die"]
    assert offered('paper a is plain "A" 8 x 10, 80 lb ‸') == ["cover", "text", "bond", "index"]
    assert offered("base b from ink\n  score 3 from ‸") == ["both", "bottom", "left", "right", "top"]
    assert offered("panel a from ink\n  size 3 ‸") == ["cm", "in", "mm", "x"]


def test_folds_and_what_they_still_ask_for() -> None:
    folds = offered("base b from ink\n  fold ‸")
    assert "double-gate" in folds and "side-fold" in folds
    assert offered("base b from ink\n  fold double-gate, ‸") == ["width", "height", "flap"]
    assert offered("base b from ink\n  fold double-gate, width 4, ‸") == ["height", "flap"]
    mine = "structure mine\n  ask width, height, lip\n  flat width x height\n"
    assert offered("base b from ink\n  fold mine, width 4, ‸", CARD + mine) == ["height", "lip"]


def test_sizes_after_a_dot_and_in_a_sum() -> None:
    sections = ["left-flap", "left-door", "back", "right-door", "right-flap"]
    sizes = ["width", "height", "finished-width", "finished-height", "thickness", "flap"]
    assert offered("let a = card.‸") == sizes + sections
    assert offered("let a = back.‸") == ["width", "height"] and offered("let a = sash.‸") == [
        "width",
        "length",
        "overlap",
    ]
    sums = offered("let a = 2 * ‸")
    assert "reveal" in sums and "back.width" in sums and "sash.length" in sums and "min" in sums
    asked = offered("structure mine\n  ask width, height\n  flat 2 * ‸\n", CARD)
    assert asked[:2] == ["width", "height"]


def test_a_variant_sets_drops_and_replaces_what_there_is() -> None:
    head = 'variant "A"\n  '
    assert offered(f"{head}drop ‸") == ["card", "note", "sash"]
    assert offered(f"{head}replace ‸") == ["ink", "white"]
    assert offered(f"{head}set ‸")[:4] == ["card", "note", "sash", "reveal"]
    assert offered(f"{head}set note.‸") == ["width", "height", "border", "turned"]
    assert "flap" in offered(f"{head}set card.‸")


def test_envelopes_that_fit_come_first() -> None:
    text = CARD.replace("  border 1/8\n", "  border 1/8\n  envelope ‸\n")
    assert offered("", text)[0] == "us-a2" and "iso-c6" in offered("", text)


def test_files_beside_and_the_variants_in_them() -> None:
    files = {"walk.recipe": 'recipe "Walk"\nvariant "Harvest"\n  about "A"\n'}
    assert offered('use "‸', CARD, files, ("papers.recipe", NAME)) == ["papers.recipe"]
    bench = 'class "Bench"\n  make 3 of "walk.recipe" variant "‸"\n'
    assert offered("", bench, files) == ["Harvest"]
    assert offered("", 'class "Bench"\n  make 3 of "‸', files, ("walk.recipe",)) == ["walk.recipe"]


def test_numbers_comments_and_texts_have_nothing() -> None:
    for line in ("panel a from ink\n  size 3‸", "panel a from ink # on ‸", 'tip on note "Pr‸ess"', "# pan‸",
                 'recipe "A"\n  about """\n  pan‸\n  """\n', "panel a from ink\n  size 3 1/‸"):  # fmt: skip
        assert offered(line) == []


# ---- laws ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("chunk", range(4))
def test_what_is_offered_can_stand_there(chunk: int) -> None:
    chance = Random(chunk)
    seen = 0
    for name, text in texts_by_chance(30, seed=20 + chunk):
        found = snapshot(text, samples(), name, compiled=False)
        for offset in sorted(chance.sample(range(len(text) + 1), min(12, len(text)))):
            for each in completions(found, offset, tuple(samples())):
                seen += 1
                assert each.span.start <= offset <= each.span.end
                new = inserted(text, each)
                end = each.span.start + len(new) - len(text) + each.span.end - each.span.start
                _stands(text, new, each.span.start, end, each.kind == "word" and each.is_snippet)
    assert seen > 1_000


def _stands(text: str, new: str, start: int, end: int, is_line: bool) -> None:
    begin = new.rfind("\n", 0, start) + 1
    line = new[begin:end].lstrip()
    assert reads(line) or '"' in line, (text, line)
    if is_line:
        _, diagnostics = parse(Source(NAME, new))
        wrong = [each for each in diagnostics if each.span.start == start]
        assert not wrong, (new, wrong)


def test_no_place_of_any_text_gives_an_exception() -> None:
    for name, text in texts_by_chance(12, seed=31):
        found = snapshot(text, samples(), name)
        for offset in range(0, len(text) + 1, 2):
            completions(found, offset, ("a.recipe",))
