"""A class file to the cards that it makes: counts, spares, papers, limits, and where mistakes are told."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from tests.plan.classes.making import BENCH, HEAD, METRIC, cards, class_text, compiled, cut_of, planned
from tests.recipes import SAMPLES, checked, compile_text, run

INK = 'paper ink is cardstock "Ink" 12 x 12, price 0.50, pack of 10\n'


def tag(title: str, paper: str = INK, size: str = "2 x 3", head: str = HEAD) -> str:
    return f"{head.format(title)}{paper}rectangle tag from ink\n  size {size}\n  loose\n"


FILES = {"a.recipe": tag("A"), "b.recipe": tag("B", size="4 x 5")}


def made(text: str) -> list[tuple[str, int, int]]:
    return [(each.path, each.seats, each.spare) for each in cards(text, FILES).cards]


# ---- counts --------------------------------------------------------------------------------------


def test_seats_stand_in_written_order() -> None:
    text = class_text(['  make 3 of "b.recipe"', '  make 2 of "a.recipe"'])
    assert made(text) == [("b.recipe", 3, 0), ("a.recipe", 2, 0)]


def test_the_spares_of_the_class_are_for_each_recipe_and_those_of_a_line_win() -> None:
    text = class_text(['  make 3 of "a.recipe"', '  make 2 of "b.recipe", 0 spare'], "  spare 2")
    assert made(text) == [("a.recipe", 3, 2), ("b.recipe", 2, 0)]


def test_a_recipe_on_two_lines_is_one_kit_with_the_spares_of_the_class_once() -> None:
    text = class_text(['  make 3 of "a.recipe"', '  make 4 of "a.recipe"'], "  spare 2")
    assert made(text) == [("a.recipe", 7, 2)]


def test_spares_on_two_lines_of_one_recipe_add_up() -> None:
    text = class_text(['  make 3 of "a.recipe", 1 spare', '  make 4 of "a.recipe", 2 spare'], "  spare 9")
    assert made(text) == [("a.recipe", 7, 3)]


def test_a_class_of_one_seat() -> None:
    sheet = planned(class_text(['  make 1 of "a.recipe"']), FILES)
    assert [(kit.seats, kit.spare, kit.kits) for kit in sheet.kits] == [(1, 0, 1)]
    assert sheet.facts[0].value == "1\u00a0card in 1\u00a0kit"
    assert [task.amount for task in sheet.prep if task.tool == "table"] == [
        "1\u00a0label", "1\u00a0bag", "1\u00a0kit",
    ]  # fmt: skip


def test_the_recipe_makes_says_nothing_of_a_class() -> None:
    """`make 12 of` is twelve cards, whatever the recipe makes by itself."""
    files = {"a.recipe": FILES["a.recipe"].replace("nearest 1/16", "nearest 1/16\n  makes 6")}
    (card,) = cards(class_text(['  make 2 of "a.recipe"']), files).cards
    assert card.kits == 2


# ---- units and papers ----------------------------------------------------------------------------


def test_the_unit_is_that_of_the_first_recipe_unless_the_class_says_it() -> None:
    files = {
        **FILES,
        "m.recipe": tag("M", head=METRIC, paper='paper ink is cardstock "Ink"\n', size="20 x 30"),
    }
    lines = ['  make 1 of "m.recipe"', '  make 1 of "a.recipe"']
    assert cards(class_text(lines), files).unit == "mm"
    assert cards(class_text(lines, "  units inch nearest 1/32"), files).unit == "inch"
    assert cards(class_text(lines, "  units inch nearest 1/32"), files).nearest == Fraction(1, 32)


def papers(*recipes: str) -> list[tuple[str, str, tuple[str, ...]]]:
    files = {f"{at}.recipe": text for at, text in enumerate(recipes)}
    cut = cut_of(class_text([f'  make 1 of "{name}"' for name in files]), files)
    return [(each.paper.name, each.paper.title, each.kits) for each in cut.papers]


def test_the_same_packet_is_one_paper_whatever_its_name() -> None:
    other = tag("B").replace("ink", "night")
    assert papers(tag("A"), other) == [("ink", "Ink", ("K", "L"))]


def test_the_same_packet_in_another_unit_is_one_paper() -> None:
    metric = tag("B", head=METRIC, paper=INK.replace("12 x 12", "304.8 x 304.8"), size="20 x 30")
    assert papers(tag("A"), metric) == [("ink", "Ink", ("K", "L"))]


@pytest.mark.parametrize("paper", [
    'paper ink is cardstock "Inky" 12 x 12', 'paper ink is plain "Ink" 12 x 12',
    'paper ink is cardstock "Ink" 8 x 12', 'paper ink is cardstock "Ink" 12 x 12, 200 gsm',
    'paper ink is cardstock "Ink" 12 x 12, one-way', 'paper ink is cardstock "Ink" 12 x 12, grain long',
])  # fmt: skip
def test_papers_that_differ_in_a_shop_are_two_under_one_name(paper: str) -> None:
    found = papers(tag("A"), tag("B", paper=paper + "\n"))
    assert [(name, kits) for name, _, kits in found] == [("ink", ("K",)), ("ink-2", ("L",))]


def test_what_only_one_recipe_says_of_a_paper_holds_and_what_they_disagree_on_is_told() -> None:
    plain = 'paper ink is cardstock "Ink" 12 x 12\n'
    files = {
        "a.recipe": tag("A", plain),
        "b.recipe": tag("B"),
        "c.recipe": tag("C", INK.replace("0.50", "0.70")),
    }
    lines = [f'  make 5 of "{name}"' for name in files]
    (line,) = (each for each in planned(class_text(lines[:2]), files).shopping if each.kind == "paper")
    assert line.cost == "5.00" and "one pack of 10" in line.buy
    told = "The recipes do not agree on the price or the pack of “Ink”; those of the first are taken."
    assert told not in planned(class_text(lines[:2]), files).notes
    assert told in planned(class_text(lines), files).notes


def test_pieces_of_one_name_and_size_are_one_blank_of_several_kits() -> None:
    cut = cut_of(
        class_text(['  make 3 of "a.recipe"', '  make 4 of "c.recipe"']), {**FILES, "c.recipe": tag("C")}
    )
    assert [(each.rect.name, each.rect.count, each.counts) for each in cut.blanks] == [
        ("K+L tag", 7, (("K", 3), ("L", 4)))
    ]


def test_a_metric_recipe_in_an_inch_class_is_cut_to_its_millimetres() -> None:
    metric = tag("M", head=METRIC, paper=INK.replace("12 x 12", "304.8 x 304.8"), size="52 x 74")
    sheet = planned(
        class_text(['  make 9 of "a.recipe"', '  make 9 of "m.recipe"']), {**FILES, "m.recipe": metric}
    )
    (bag,) = (each for each in sheet.bags if each.kit == "L")
    assert bag.unit == "mm" and (bag.lines[0].size, bag.lines[0].width) == ("52 × 74\u00a0mm", Fraction(52))
    assert {blank.width for blank in sheet.card.pieces} == {Fraction(2), Fraction(260, 127)}
    settings = {each.size for cutting in sheet.cutting for each in cutting.settings}
    assert "74\u00a0mm" in settings and "3\u00a0in" in settings
    told = " ".join(line for task in sheet.prep for line in task.lines)
    assert "≈" not in told and not [task.setting for task in sheet.prep if "≈" in task.setting]
    assert any("other side of the ruler" in note for note in sheet.notes)


def test_two_variants_of_a_recipe_are_two_kits_with_papers_of_their_own() -> None:
    other = 'variant "Dark"\n  replace ink with cardstock "Ink black" 12 x 12\n'
    files = {"a.recipe": FILES["a.recipe"] + other}
    lines = ['  make 3 of "a.recipe"', '  make 2 of "a.recipe" variant "Dark"']
    cut = cut_of(class_text(lines), files)
    assert [(each.paper.name, each.paper.title, each.kits) for each in cut.papers] == [
        ("ink", "Ink", ("K",)), ("ink-2", "Ink black", ("L",))
    ]  # fmt: skip
    assert [kit.title for kit in planned(class_text(lines), files).kits] == ["A", "A, Dark"]


def test_the_shipped_class_has_no_mistakes() -> None:
    found = run("check", str(SAMPLES / "saturday-bench.recipe"))
    assert (found.status, found.out, found.err) == (0, "", "")


def test_a_name_of_the_class_itself_wins_over_those_of_its_recipes() -> None:
    files = {"a.recipe": tag("A"), "b.recipe": tag("B", INK.replace("Ink", "Ash")), "shelf.recipe": INK}
    lines = ['  make 9 of "a.recipe"', '  make 9 of "b.recipe"', "  have ink 3 sheets"]
    assert [each.code for each in checked(class_text(lines), files, BENCH)] == ["have-two-papers"]
    found = planned(f'use "shelf.recipe"\n{class_text(lines)}', files)
    assert [(line.title, line.have) for line in found.shopping if line.kind == "paper"] == [
        ("Ink", "3\u00a0sheets"), ("Ash", "")
    ]  # fmt: skip


# ---- files ---------------------------------------------------------------------------------------


def test_a_recipe_in_a_folder_below_uses_what_lies_beside_it() -> None:
    files = {"cards/a.recipe": tag("A", 'use "shelf.recipe"\n'), "cards/shelf.recipe": INK}
    found = compiled(class_text(['  make 2 of "cards/a.recipe"']), files)
    assert found.cards is not None and set(found.sources) == {BENCH, *files}


def test_the_mistakes_of_a_recipe_are_told_in_its_own_file_and_once_at_each_line_that_makes_it() -> None:
    files = {"torn.recipe": tag("Torn", size="2 x 3 by")}
    lines = ['  make 2 of "torn.recipe"', '  make 3 of "torn.recipe"']
    told = [(each.file, each.line, each.code) for each in checked(class_text(lines), files, BENCH)]
    assert told == [
        (BENCH, 2, "make-broken"),
        (BENCH, 3, "make-broken"),
        ("torn.recipe", 5, "not-understood"),
    ]


def test_a_warning_of_a_variant_says_of_which() -> None:
    files = {"a.recipe": f'{FILES["a.recipe"]}variant "Odd"\n  set tag.width 2 1/30\n'}
    lines = ['  make 2 of "a.recipe"', '  make 3 of "a.recipe" variant "Odd"']
    (told,) = checked(class_text(lines), files, BENCH)
    assert told.code == "off-grid" and told.message.startswith('in variant "Odd": ')


def test_names_at_hand_are_not_judged_while_a_recipe_is_broken() -> None:
    files = {"torn.recipe": tag("Torn", size="2 x 3 by")}
    lines = ['  make 2 of "torn.recipe"', "  have nobody-knows 3 sheets"]
    assert [each.code for each in checked(class_text(lines), files, BENCH)] == [
        "make-broken",
        "not-understood",
    ]


def test_fifty_recipes_are_made_and_no_more() -> None:
    files = {f"{at}.recipe": tag(str(at)) for at in range(51)}
    lines = [f'  make 1 of "{name}"' for name in files]
    assert checked(class_text(lines[:50]), files, BENCH) == []
    assert [(each.line, each.code) for each in checked(class_text(lines), files, BENCH)] == [
        (52, "use-too-many")
    ]


def test_ten_thousand_kits_are_made_and_no_more() -> None:
    lines = ['  make 9000 of "a.recipe"', '  make 999 of "b.recipe"']
    assert checked(class_text([*lines, '  make 1 of "b.recipe"']), FILES, BENCH) == []
    told = checked(class_text([*lines, '  make 1 of "b.recipe", 1 spare']), FILES, BENCH)
    assert [each.code for each in told] == ["class-too-large"]


def test_two_thousand_pieces_are_made_and_no_more() -> None:
    pieces = "".join(f"rectangle tag-{at} from ink\n  size 1 x 1\n  loose\n" for at in range(1000))
    files = {"a.recipe": HEAD.format("A") + INK + pieces, "b.recipe": HEAD.format("B") + INK + pieces,
             "c.recipe": tag("C")}  # fmt: skip
    lines = [f'  make 1 of "{name}"' for name in files]
    assert checked(class_text(lines[:2]), files, BENCH) == []
    assert [each.code for each in checked(class_text(lines), files, BENCH)] == ["class-too-large"]


# ---- the command ---------------------------------------------------------------------------------


def test_check_looks_at_the_recipes_of_a_class(tmp_path: Path) -> None:
    (tmp_path / "a.recipe").write_text(FILES["a.recipe"].replace("2 x 3", "2 x"))
    bench = tmp_path / "bench.recipe"
    bench.write_text(class_text(['  make 2 of "a.recipe"']))
    found = run("check", str(bench))
    assert found.status == 1
    assert "error[make-broken]" in found.err and "error[line-incomplete]" in found.err
    (tmp_path / "a.recipe").write_text(FILES["a.recipe"])
    assert run("check", str(bench)).status == 0


def test_a_class_outside_its_folder_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "secret.recipe").write_text(FILES["a.recipe"])
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "link.recipe").symlink_to(tmp_path / "secret.recipe")
    bench = folder / "bench.recipe"
    bench.write_text(class_text(['  make 2 of "../secret.recipe"', '  make 2 of "link.recipe"']))
    found = run("check", str(bench))
    assert found.status == 1
    assert found.err.count("error[use-outside]") == 2


def test_only_a_class_is_a_class() -> None:
    assert compile_text(class_text(['  make 2 of "a.recipe"'])).is_class
    assert not compile_text(FILES["a.recipe"]).is_class


def test_explain_says_that_a_class_has_no_sizes() -> None:
    found = run("explain", str(SAMPLES / "saturday-bench.recipe"), "card.width")
    assert found.status == 2 and "is a class" in found.err


def test_a_recipe_loads_nothing_of_classes() -> None:
    import subprocess
    import sys

    code = ("import sys; from cardrecipe.cli import main; main(sys.argv[1:]);"
            "print([each for each in sys.modules if 'cardrecipe' in each and 'class' in each])")  # fmt: skip
    done = subprocess.run([sys.executable, "-c", code, "check", str(SAMPLES / "night-market.recipe")],
                          capture_output=True, text=True, check=True)  # fmt: skip
    assert done.stdout == "[]\n"
