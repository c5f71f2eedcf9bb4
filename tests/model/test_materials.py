"""Papers and supplies: what a line says, and what is taken for granted where it does not."""

import pytest

from cardrecipe.model.lengths import typed
from cardrecipe.model.papers import Paper
from tests.recipes import METRIC, codes_of, compile_text, in_other_unit, sized

INCH = 'recipe "Papers"\n  units inch nearest 1/16\n'
MM = 'recipe "Papers"\n  units mm nearest 1\n'


def paper(facts: str, head: str = INCH) -> Paper:
    text = f'{head}paper a is cardstock "A"{facts}\nrectangle tag from a\n  size 1 x 2\n  loose\n'
    assert codes_of(text) == []
    return sized(text).papers["a"]


def sheets(found: Paper) -> list[str]:
    return [f"{typed(each.width)} x {typed(each.height)} {each.price}" for each in found.sheets]


@pytest.mark.parametrize(("facts", "expected"), [
    ("", ["8 1/2 x 11 None"]),
    (" 12 x 12", ["12 x 12 None"]),
    (", 12 x 12", ["12 x 12 None"]),
    (" 8 1/2 x 11 or 12 x 12", ["8 1/2 x 11 None", "12 x 12 None"]),
    (" 8 1/2 x 11 or 12 x 12, price 0.40 or 0.75", ["8 1/2 x 11 2/5", "12 x 12 3/4"]),
    (" 8 1/2 x 11 or 12 x 12, price 0.40", ["8 1/2 x 11 2/5", "12 x 12 2/5"]),
    (", price 1/3", ["8 1/2 x 11 1/3"]),
    (" 30.48 cm x 254 mm", ["12 x 10 None"]),
])  # fmt: skip
def test_sheets_and_their_prices(facts: str, expected: list[str]) -> None:
    assert sheets(paper(facts)) == expected


def test_the_usual_sheet_goes_by_the_unit_system() -> None:
    assert sheets(paper("", MM)) == ["210 x 297 None"]
    assert sheets(paper(" 8 1/2 in x 11 in", MM)) == ["215 9/10 x 279 2/5 None"]


def test_a_sheet_that_was_named_keeps_its_size_in_the_other_unit() -> None:
    text = f'{INCH}paper a is plain "A" 12 x 12\npaper b is plain "B"\n' + "".join(
        f"rectangle tag-{name} from {name}\n  size 1 x 2\n  loose\n" for name in "ab"
    )
    other = in_other_unit(text)
    assert sheets(other.papers["a"]) == ["304 4/5 x 304 4/5 None"]
    assert sheets(other.papers["b"]) == ["210 x 297 None"]  # the usual sheet there


@pytest.mark.parametrize(("facts", "weight"), [
    (", 270 gsm", (270, "gsm", None)), (", 80 lb "
                                        "cover", (80, "lb", "cover")), (", 67.5 gsm", (67.5, "gsm", None)),
    (", 24 lb bond", (24, "lb", "bond")), (", 70 lb text", (70, "lb", "text")), (", 110 lb "
                                                                                 "index", (110, "lb",
                                                                                 "index")),
])  # fmt: skip
def test_weights(facts: str, weight: tuple[object, ...]) -> None:
    assert paper(facts).weight == weight


def test_a_bare_pound_is_answered_with_the_four_papers_it_may_be() -> None:
    text = f'{INCH}paper a is cardstock "A", 80 lb\n'
    (found,) = [each for each in compile_text(text).diagnostics if each.code == "weight-kind"]
    assert all(f"80 lb {kind}" in found.hint for kind in ("cover", "text", "bond", "index"))
    assert "gsm" in found.hint


def test_further_facts() -> None:
    found = paper(', thick 0.3 mm, grain short, one-way, color "#AbCdEf", pack of 20')
    assert typed(found.thick or 0 * found.sheets[0].width) == "3/254"
    assert (found.grain, found.one_way, found.color, found.pack) == ("short", True, "#abcdef", 20)
    plain = paper("")
    assert (plain.thick, plain.grain, plain.one_way, plain.color, plain.pack, plain.weight) == (
        None, None, False, None, None, None,
    )  # fmt: skip


def test_supplies_give_their_title_to_the_work_that_names_them() -> None:
    text = (
        f'{METRIC}supply coal is ink "Coal black"\nsupply paste is adhesive "Rice paste"\n'
        'rectangle tag from ink\n  size 30 x 20\n  stamp "Gull" in coal, sea-blue\n  ink edges with coal\n'
        "rectangle spot from ink on tag\n  size 10 x 10\n  glue with paste\n"
    )
    assert codes_of(text) == []
    card = sized(text)
    assert [work.using for work in card.piece("tag").works] == [("Coal black", "sea blue"), ("Coal black",)]
    glue = card.piece("spot").glue
    assert glue is not None
    assert glue.adhesive == "Rice paste"
