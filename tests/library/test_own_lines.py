"""A mistake in a shipped fold is shown at the recipe's own line; a variant's mistake names the variant."""

from fractions import Fraction

from cardrecipe.cli import main
from cardrecipe.compile import compile_recipe
from cardrecipe.model.texts import NoTexts
from cardrecipe.report import as_json, as_text
from cardrecipe.syntax.source import Source

HEAD = 'recipe "Box"\n  units inch nearest 1/16\n\npaper c is cardstock "C" 12 x 12\n\n'
WIDE = "  fold exploding-box, width 4 1/4, height 5 1/2, wall 9\n"
SOUND = "  fold exploding-box, width 4 1/4, height 5 1/2, wall 2\n"


def test_a_mistake_in_a_shipped_fold_is_at_the_fold_line() -> None:
    text = HEAD + "base card from c\n" + WIDE
    result = compile_recipe(Source("a.recipe", text), NoTexts())
    wrong = next(each for each in result.diagnostics if each.code == "cannot-fold")
    assert text[wrong.span.start : wrong.span.end] == WIDE.strip()
    assert wrong.related[0].message == "in the fold `exploding-box`"
    assert wrong.related[0].span.file == "library:exploding-box"
    assert "a.recipe:7:3: error[cannot-fold]" in as_text(result.diagnostics, result.sources)
    assert '"file": "library:exploding-box"' in as_json(result.diagnostics, result.sources)


def test_two_bases_that_are_folded_alike_are_both_shown() -> None:
    text = HEAD + "base one from c\n" + SOUND + "base two from c\n" + WIDE
    result = compile_recipe(Source("a.recipe", text), NoTexts())
    wrong = next(each for each in result.diagnostics if each.code == "cannot-fold")
    places = [wrong.span, *(each.span for each in wrong.related)]
    shown = {text[each.start : each.end] for each in places if each.file == "a.recipe"}
    assert shown == {SOUND.strip(), WIDE.strip()}


def test_a_message_that_names_its_base_is_at_the_line_of_that_base() -> None:
    plain = "  fold side-fold, width 4, height 5\n"
    narrow = "  fold side-fold, width 1/32, height 5\n"
    text = HEAD + "base one from c\n" + plain + "base two from c\n" + narrow
    result = compile_recipe(Source("a.recipe", text), NoTexts())
    wrong = [each for each in result.diagnostics if "score of `two`" in each.message]
    assert wrong and all(text[each.span.start : each.span.end] == narrow.strip() for each in wrong)


def test_a_structure_of_the_recipe_keeps_its_own_lines() -> None:
    own = "structure exploding-box\n  ask width\n  flat width x 4\n  score 9 from left, valley\n\n"
    text = HEAD + own + "base card from c\n  fold exploding-box, width 5\n"
    result = compile_recipe(Source("a.recipe", text), NoTexts())
    wrong = next(each for each in result.diagnostics if each.code == "score-off-sheet")
    assert text[wrong.span.start : wrong.span.end].startswith("score 9")


def test_the_usual_wall_of_an_exploding_box_follows_its_shorter_side() -> None:
    for width, height in ((4, 2), (2, 4)):
        text = HEAD + f"base card from c\n  fold exploding-box, width {width}, height {height}\n"
        result = compile_recipe(Source("a.recipe", text), NoTexts())
        assert result.folded is not None, result.diagnostics
        assert result.solution is not None
        assert result.solution.values["card", "fold wall"] == Fraction(3, 2)


def test_check_names_the_variant_and_says_nothing_twice(tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    card = "base card from c\n  fold side-fold, width 4, height 5\n"
    note = "panel note from c on back\n  size 2 x 2\npaper spare is plain \"Spare\"\n"
    path = tmp_path / "a.recipe"
    path.write_text(HEAD + card + note + 'variant "Harvest"\n  set note.width 9\n')
    main(["check", str(path)])
    shown = capsys.readouterr().err
    heads = [line for line in shown.splitlines() if ": warning[" in line or ": error[" in line]
    assert ["unused-paper" in line for line in heads].count(True) == 1
    for line in heads:
        assert ('in variant "Harvest": ' in line) is ("unused-paper" not in line)
    assert sum("[overhang]" in line for line in heads) == 1
