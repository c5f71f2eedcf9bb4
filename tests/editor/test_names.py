"""Definition, references and rename, by the rules of the model; the law of a rename on cards by chance."""

import re
from random import Random

import pytest

from cardrecipe.editor.names.meanings import meanings
from cardrecipe.editor.names.names import CannotRename, definition, references, renamable, rename
from cardrecipe.editor.snapshot import Snapshot
from tests.editor.marked import at_cursor, samples, snapshot, texts_by_chance, with_edits, words
from tests.editor.together import TOGETHER
from tests.generated.recipes import recipe
from tests.recipes import HEAD, NAME, codes_of, compile_text

CARD = HEAD + (
    "let reveal = 1/16\n"
    "base card from ink\n  fold side-fold, width 4, height 5\n"
    "panel plate from ink on front outside\n  border reveal\n"
    "circle dot from ink on plate\n  diameter plate.width / 2\n"
    'tip on plate "Press."\n'
    'variant "Bare"\n  set plate.width 3\n  drop dot\n'
)
TWO_SCOPES = HEAD + (
    "let width = 3\n"
    "structure mine\n  ask width, height, flap = width / 4\n  flat 2 * width + flap x height\n"
    "  score width from left\n  sections front, back\n  panel inner on front\n    size width / 2 x 1\n"
    "base card from ink\n  fold mine, width 2 * width, height 5, flap 1\n"
    "panel sheet from ink on back\n  size width x card.flap\n"
)


def defined(text: str, files: dict[str, str] | None = None) -> list[str]:
    found, offset = at_cursor(text, files)
    return [f"{span.file}:{span.start}" if span.file.startswith("library:") else
            words((span,), {NAME: found.source.text, **(files or {})})[0]
            for span in definition(found, offset)]  # fmt: skip


def referred(text: str, declared: bool = True, files: dict[str, str] | None = None) -> list[str]:
    found, offset = at_cursor(text, files)
    return words(references(found, offset, declared), {NAME: found.source.text, **(files or {})})


def renamed(text: str, new: str, files: dict[str, str] | None = None) -> dict[str, str]:
    found, offset = at_cursor(text, files)
    return with_edits({NAME: found.source.text, **(files or {})}, rename(found, offset, new))


# ---- places --------------------------------------------------------------------------------------


def test_a_piece_is_found_from_hosts_sizes_tips_and_variants() -> None:
    for place in ("on pl‸ate\n", "diameter ‸plate.width", "tip on plate‸ ", "set pla‸te.width"):
        assert defined(CARD.replace(place.replace("‸", ""), place)) == [f"{NAME}:8: plate"]
    where = [line.split(":")[1] for line in referred(CARD.replace("panel plate", "panel ‸plate"))]
    assert where == ["8", "10", "11", "12", "14"]


def test_the_declaration_may_be_left_out() -> None:
    text = CARD.replace("let reveal", "let re‸veal")
    assert referred(text) == [f"{NAME}:5: reveal", f"{NAME}:9: reveal"]
    assert referred(text, declared=False) == [f"{NAME}:9: reveal"]


def test_sections_and_sizes_of_a_shipped_fold_are_declared_in_its_own_file() -> None:
    assert defined(CARD.replace("on front", "on fro‸nt"))[0].startswith("library:side-fold:")
    assert defined(CARD.replace("fold side-fold, width", "fold side-fold, wi‸dth"))[0].startswith(
        "library:side-fold:"
    )
    assert defined(CARD.replace("fold side-fold", "fold side-‸fold"))[0].startswith("library:side-fold:")


def test_a_let_and_a_size_that_a_structure_asks_for_are_two_things() -> None:
    let = referred(TWO_SCOPES.replace("let width", "let wi‸dth"))
    assert [each.split(":")[1] for each in let] == ["5", "14", "16"]
    asked = referred(TWO_SCOPES.replace("ask width", "ask ‸width"))
    assert [each.split(":")[1] for each in asked] == ["7", "7", "8", "9", "12", "14"]


def test_an_asked_size_is_found_behind_the_name_of_its_base() -> None:
    assert defined(TWO_SCOPES.replace("card.flap", "card.fl‸ap")) == [f"{NAME}:7: flap"]


def test_two_sections_of_one_name_are_told_apart() -> None:
    text = HEAD + ("base one from ink\n  flat 8 x 5\n  score 4 from left\n  sections front, back\n"
                   "base two from ink\n  flat 6 x 4\n  score 3 from left\n  sections front, back\n"
                   "panel a from ink on one.front\npanel b from ink on two.front\n"
                   "  size two.front.width / 2 x 1\n")  # fmt: skip
    assert referred(text.replace("two.front\n", "two.fro‸nt\n")) == [
        f"{NAME}:12: front", f"{NAME}:14: front", f"{NAME}:15: front"]  # fmt: skip
    changed = renamed(text.replace("two.front\n", "two.fro‸nt\n"), "cover")[NAME]
    assert "on one.front" in changed and "on two.cover" in changed and "two.cover.width" in changed


def test_names_of_used_files_lead_there_and_the_path_leads_to_the_file() -> None:
    files = {"papers.recipe": 'paper moss is cardstock "Moss"\nsupply coal is ink "Coal"\n'}
    text = HEAD + 'use "papers.recipe"\npanel a from moss\n  size 2 x 2\n  loose\n  stamp "Fern" in coal\n'
    assert defined(text.replace("from moss", "from m‸oss"), files) == ["papers.recipe:1: moss"]
    assert defined(text.replace("in coal", "in coa‸l"), files) == ["papers.recipe:2: coal"]
    found, offset = at_cursor(text.replace('"papers', '"pap‸ers'), files)
    assert [span.file for span in definition(found, offset)] == ["papers.recipe"]


def test_another_name_of_a_thing_leads_to_it_and_stays_as_it_is() -> None:
    text = (
        HEAD
        + "base book from ink\n  fold side-fold, width 4, height 5\n"
        + "band sash from ink around card\n  width 1\n"
    )
    assert defined(text.replace("around card", "around ca‸rd")) == [f"{NAME}:5: book"]
    assert "around card" in renamed(text.replace("base book", "base bo‸ok"), "cover")[NAME]
    with pytest.raises(CannotRename):
        renamed(text.replace("base book", "base bo‸ok"), "card")


def test_a_variant_is_renamed_in_the_class_that_makes_it() -> None:
    card = snapshot(CARD)
    bench = snapshot(f'class "Bench"\n  make 3 of "{NAME}" variant "Bare"\n', {NAME: CARD}, "bench.recipe")
    edits = rename(card._replace(users=(bench,)), CARD.index("Bare"), "Plain one")
    files = with_edits({NAME: CARD, "bench.recipe": bench.source.text}, edits)
    assert 'variant "Plain one"' in files[NAME] and 'variant "Plain one"' in files["bench.recipe"]


def test_a_class_names_recipes_their_variants_and_what_is_on_the_shelf() -> None:
    files = {"walk.recipe": HEAD + 'supply coal is ink "Coal"\nvariant "Low"\n  about "A"\n'}
    bench = 'class "Bench"\n  make 3 of "walk.recipe" variant "Low"\n  have ink 2 sheets\n  have coal\n'
    for place, word in (("w‸alk", ""), ("L‸ow", "Low"), ("have i‸nk", "ink"), ("have c‸oal", "coal")):
        found, offset = at_cursor(bench.replace(place.replace("‸", ""), place), files, "bench.recipe")
        (span,) = definition(found, offset)
        assert span.file == "walk.recipe" and files[span.file][span.start : span.end] == word
    walk = snapshot(files["walk.recipe"], files, "walk.recipe")._replace(
        users=(snapshot(bench, files, "bench.recipe"),))  # fmt: skip
    edits = rename(walk, files["walk.recipe"].index("ink is"), "night")
    changed = with_edits({**files, "bench.recipe": bench}, edits)
    assert "paper night is" in changed["walk.recipe"] and "have night 2 sheets" in changed["bench.recipe"]
    own = snapshot(bench, files, "bench.recipe")
    assert rename(own, bench.index("ink"), "night") == edits


def test_a_paper_is_renamed_in_every_recipe_that_uses_its_file() -> None:
    shelf = 'paper moss is cardstock "Moss"\n'
    files = {
        "papers.recipe": shelf,
        "two.recipe": 'use "papers.recipe"\nrecipe "Two"\npanel b from moss\n  size 1 x 1\n',
    }
    one = HEAD + 'use "papers.recipe"\npanel a from moss\n  size 2 x 2\n  loose\n'
    other = snapshot(files["two.recipe"], files, "two.recipe")
    here = snapshot(one, files)
    edits = rename(here._replace(users=(other,)), one.index("moss"), "fern")
    changed = with_edits({NAME: one, **files}, edits)
    assert [text.count("fern") for text in changed.values()] == [1, 1, 1]
    assert not any("from moss" in text for text in changed.values())


@pytest.mark.parametrize("marked", TOGETHER.values(), ids=list(TOGETHER))
def test_a_name_is_found_in_all_its_places_and_in_no_other(marked: str) -> None:
    places = [match.start() - 2 * at for at, match in enumerate(re.finditer("«", marked))]
    text = marked.replace("«", "").replace("»", "")
    found = snapshot(HEAD + text)
    starts = [len(HEAD) + place for place in places]
    for start in starts:
        assert [span.start for span in references(found, start)] == starts
        assert [edit.span.start for edit in rename(found, start, "zz-9")] == starts


# ---- refusals ------------------------------------------------------------------------------------


@pytest.mark.parametrize(("place", "new", "reason"), [
    ("panel ‸plate", "Plate", "is no name"), ("panel ‸plate", "a--b", "is no name"),
    ("panel ‸plate", "dot", "called `dot` already"), ("panel ‸plate", "reveal", "called `reveal` already"),
    ("on fro‸nt", "cover", "shipped fold"), ("set plate.wi‸dth", "height", "no name here"),
    ("from i‸nk\n", "in", None), ("fold side-‸fold", "mine", "shipped fold"),
    ("circle do‸t", "x", None), ('variant "Ba‸re', 'Two "quoted"', "no quotes"),
])  # fmt: skip
def test_what_cannot_be_renamed_says_why(place: str, new: str, reason: str | None) -> None:
    text = CARD.replace(place.replace("‸", ""), place, 1)
    if reason is None:
        assert codes_of(renamed(text, new)[NAME]) == codes_of(CARD)
        return
    with pytest.raises(CannotRename, match=reason):
        renamed(text, new)


def test_what_a_shipped_fold_brings_keeps_its_name() -> None:
    text = (
        HEAD + "base card from ink\n  fold double-easel, width 4, height 5\npose stand‸ing\n  fold 1 at 90\n"
    )
    with pytest.raises(CannotRename, match="double-easel"):
        renamed(text, "upright")
    with pytest.raises(CannotRename, match="nothing declares"):
        renamed(
            HEAD + "base card from ink\n  flat 8 x 5\n  score 4 from left\npanel a from ink on section-‸2\n",
            "lid",
        )


def test_a_name_that_another_thing_would_catch_is_refused() -> None:
    text = TWO_SCOPES.replace("ask width, height, flap", "ask width, height, fl‸ap")
    text = text.replace("    size width / 2 x 1", "    size width / 2 + reveal x 1")
    text = text.replace("let width = 3", "let width = 3\nlet reveal = 1/8")
    with pytest.raises(CannotRename, match="another thing is called so"):
        renamed(text, "reveal")


def test_a_line_that_cannot_be_read_stops_a_rename_that_it_may_concern() -> None:
    with pytest.raises(CannotRename, match="line 12 cannot be read"):
        renamed(CARD.replace('tip on plate "', "tip on plate ").replace("on plate\n", "on pl‸ate\n"), "disc")


# ---- laws ----------------------------------------------------------------------------------------


def _told(text: str, files: dict[str, str], old: str) -> list[list[str]]:
    """All that comes of a recipe and its variants, without the places of words, the new name put back."""
    plain = compile_text(text, files)
    runs = [plain, *(compile_text(text, files, title) for title in plain.variants)]
    return [sorted(re.sub(r"Span\([^)]*\)|<[^>]*>", "", repr(each)).replace("zz-9", old) for each in (
                run.folded, *(run.solution.values.items() if run.solution else ()),
                *((each.severity, each.code, each.message) for each in run.diagnostics)))
            for run in runs]  # fmt: skip


def _a_name(found: Snapshot, chance: Random) -> int | None:
    places = [each.span for each in meanings(found).names
              if each.span.file == NAME and renamable(found, each.span.start) == each.span]  # fmt: skip
    return chance.choice(places).start if places else None


@pytest.mark.parametrize("chunk", range(4))
def test_a_rename_leaves_the_card_and_back_again_the_text(chunk: int) -> None:
    chance = Random(chunk)
    done = 0
    for at in range(36):
        text, files = (
            (recipe(chunk * 100 + at), {})
            if at % 4
            else (samples()[chance.choice(list(samples()))], samples())
        )
        found = snapshot(text, files, compiled=False)
        offset = _a_name(found, chance)
        if offset is None:
            continue
        try:
            edits = rename(found, offset, "zz-9")
        except CannotRename as refused:
            assert "cannot be read" in str(refused) or "called so" in str(refused), text
            continue
        assert tuple(each.span for each in edits) == references(found, offset)
        all_files = {**files, NAME: text}
        changed = with_edits(all_files, edits)
        old = text[edits[0].span.start : edits[0].span.end] if edits[0].span.file == NAME else None
        old = old or files[edits[0].span.file][edits[0].span.start : edits[0].span.end]
        assert _told(changed[NAME], changed, old) == _told(text, all_files, old), (text, old)
        back = snapshot(changed[NAME], changed, compiled=False)
        moved = next(each for each in rename(back, changed[NAME].index("zz-9"), old))
        assert moved.text == old
        assert with_edits(changed, rename(back, changed[NAME].index("zz-9"), old)) == all_files
        done += 1
    assert done > 20


def test_no_place_of_a_broken_recipe_gives_an_exception() -> None:
    for name, text in texts_by_chance(40, seed=3):
        found = snapshot(text, samples(), name, compiled=False)
        for offset in range(len(text) + 1):
            definition(found, offset)
        for offset in range(0, len(text) + 1, 37):
            references(found, offset)
            if renamable(found, offset) is not None:
                try:
                    rename(found, offset, "zz-9")
                except CannotRename as refused:
                    assert str(refused)
