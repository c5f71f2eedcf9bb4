"""The comparison of a card with its variants against each variant's own sheet."""

import json
import re
from fractions import Fraction
from typing import Any

import pytest

from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.variant_rows import NONE, Cell, Row
from cardrecipe.plan.variant_sheet import VariantSheet, variant_sheet
from cardrecipe.render.card_json import render_json
from tests.variant_recipes import FERRY, NAMES, NO_VARIANT, TEXTS, together

Card = dict[str, Any]  # what is in a card.json
_NUMBER = re.compile(r"(?:(\d+)\u202f)?(\d+)\u2044(\d+)|(\d+(?:\.\d+)?)")


def number(text: str) -> Fraction:
    """A length as it is printed."""
    found = _NUMBER.fullmatch(text)
    assert found, text
    if found[4]:
        return Fraction(found[4])
    return int(found[1] or 0) + Fraction(int(found[2]), int(found[3]))


def size(line: str) -> tuple[Fraction, Fraction]:
    """`2 1⁄4 × 6 3⁄4 in` as numbers."""
    width, height = re.sub(r"\u00a0(in|mm)$", "", line).split(" \u00d7 ")
    return number(width), number(height)


def cards(sheet: VariantSheet) -> list[tuple[Card, Card | None]]:
    """The card.json of each card, in both unit systems."""
    sheets = [sheet.plain, *(variant.sheet for variant in sheet.variants)]
    return [(read(each), read(each.other) if each.other is not None else None) for each in sheets]


def read(sheet: Sheet) -> Card:
    card: Card = json.loads(render_json(sheet))
    return card


def pieces(card: Card) -> dict[str, Card]:
    return {piece["name"]: piece for piece in card["pieces"]}


def row(sheet: VariantSheet, label: str) -> Row | None:
    return next((row for row in sheet.rows if row.label == label), None)


def cells(sheet: VariantSheet, label: str) -> tuple[Cell, ...]:
    found = row(sheet, label)
    return found.cells if found is not None else (Cell((NONE,)),) * len(sheet.titles)


def label_of(name: str) -> str:
    said = name.replace("-", " ")
    return said[0].upper() + said[1:]


def columns() -> list[tuple[str, int]]:
    return [(name, place) for name in NAMES for place in range(len(together(TEXTS[name]).titles))]


@pytest.mark.parametrize(("name", "place"), columns())
def test_every_size_is_that_of_the_cards_own_sheet(name: str, place: int) -> None:
    sheet = together(TEXTS[name])
    own, other = cards(sheet)[place]
    every = {piece for each, _ in cards(sheet) for piece in pieces(each)}
    seen = 0
    for piece in every:
        found = row_of(sheet, piece)
        if found is None or not sized(found):
            continue
        seen += 1
        lines = found.cells[place].lines
        known = pieces(own).get(piece)
        if known is None:
            assert lines == (NONE,)
            continue
        assert size(lines[0]) == (Fraction(known["width"]), Fraction(known["height"]))
        if other is not None:
            twin = pieces(other)[piece]
            assert size(lines[1]) == (Fraction(twin["width"]), Fraction(twin["height"]))
        assert (f"{known['count']} of them" in lines) == (known["count"] > 1)
    assert seen or name == "none"


@pytest.mark.parametrize("name", NAMES)
def test_a_piece_has_a_row_where_it_is_not_the_same_or_comes_in(name: str) -> None:
    sheet = together(TEXTS[name])
    found = cards(sheet)
    for piece in {piece for each, _ in found for piece in pieces(each)}:
        told = {
            (known["width"], known["height"], known["count"], twin and pieces(twin)[piece]["width"],
             twin and pieces(twin)[piece]["height"])
            for each, twin in found if (known := pieces(each).get(piece))
        }  # fmt: skip
        own_sheets = (sheet.plain, *(variant.sheet for variant in sheet.variants))
        papers = [line.paper_title for own in own_sheets for line in own.cuts if line.piece == piece]
        is_new = piece not in pieces(found[0][0])
        own = row_of(sheet, piece)
        assert (own is not None) == (len(told) > 1 or is_new or len(set(papers)) > 1), piece
        if own is not None:
            assert sized(own) == (len(told) > 1 or is_new)
            shown = [line for cell in own.cells for line in cell.lines if line in papers]
            assert shown == (papers if len(set(papers)) > 1 else [])


def row_of(sheet: VariantSheet, piece: str) -> Row | None:
    """The row of a piece; pieces of which the same is said share one."""
    wanted = piece.replace("-", " ")
    return next((each for each in sheet.rows if wanted in re.split(", | and ", each.label.lower())), None)


def sized(found: Row) -> bool:
    return any("\u00d7" in line for cell in found.cells for line in cell.lines)


@pytest.mark.parametrize(("name", "place"), columns())
def test_what_comes_in_and_what_is_left_out(name: str, place: int) -> None:
    sheet = together(TEXTS[name])
    (plain, _), (own, _) = cards(sheet)[0], cards(sheet)[place]
    for label, here, there in (("Pieces added", own, plain), ("Pieces left out", plain, own)):
        said = cells(sheet, label)[place].lines[0]
        expected = {piece.replace("-", " ") for piece in pieces(here).keys() - pieces(there).keys()}
        assert {part.lower() for part in re.split(", | and ", said) if part != NONE} == expected


@pytest.mark.parametrize(("name", "place"), columns())
def test_papers_sheets_and_supplies(name: str, place: int) -> None:
    sheet = together(TEXTS[name])
    (plain, _), (own, _) = cards(sheet)[0], cards(sheet)[place]
    assert set(cells(sheet, "Papers")[place].papers) == {piece["paper"] for piece in own["pieces"]}
    counts = [total["sheets"] for total in own["cutting"]["totals"]]
    lines = cells(sheet, "Sheets")[place].lines
    assert lines[0] == f"{sum(counts)}\u00a0sheets in all"
    assert [int(line.partition(": ")[2].split("\u00a0")[0]) for line in lines[1:]] == counts
    for label, here, there in (("Supplies more", own, plain), ("Supplies less", plain, own)):
        expected = supplies(here) - supplies(there)
        assert told(cells(sheet, label)[place]) == {known for _, known in expected}


def supplies(card: Card) -> set[tuple[str, str]]:
    return {(line["kind"], line["name"]) for line in card["supplies"] if line["kind"] != "paper"}


def told(cell: Cell) -> set[str]:
    return {name for line in cell.lines if line != NONE for name in line.partition(": ")[2].split("; ")}


@pytest.mark.parametrize(("name", "place"), columns())
def test_facts_are_those_at_the_head_of_the_cards_own_sheet(name: str, place: int) -> None:
    sheet = together(TEXTS[name])
    own = (sheet.plain, *(variant.sheet for variant in sheet.variants))[place]
    card, _ = cards(sheet)[place]
    facts = {fact.label: fact.value for fact in own.facts}
    for label in ("Closed size", "Thickness", "Weight", "Envelope", "Post", "Level", "Time"):
        said = cells(sheet, label)[place].lines
        assert said[:1] == (facts.get(label, NONE),) and (len(said) == 1 or label == "Time"), label
    closed = cells(sheet, "Closed size")[place].lines[0].partition(" (")[0]
    assert size(closed) == (Fraction(card["finished"]["width"]), Fraction(card["finished"]["height"]))


def test_costs_are_summed_by_hand() -> None:
    """A pack of 20 sheets of ink at 0.40 is 8.00. White: 0.30; Kraft: 0.10; moss and glow have no price."""
    titles, costs = together(FERRY).titles, cells(together(FERRY), COST)
    said = {title: cell.lines for title, cell in zip(titles, costs, strict=True)}
    assert said["Main card"][0] == "8.30, and the price of Paper glow and Moss cardstock"
    assert said["Quiet"] == ("8.40", "Ink blue cardstock: 8.00, one pack of 20", "Kraft paper: 0.10",
                             "Soft white cardstock: 0.30")  # fmt: skip
    market = together(TEXTS["night-market"])
    assert [cell.lines[0] for cell in cells(market, COST)] == [
        "16.40", "15.85, and the price of Harvest plaid patterned paper", "16.40",
    ]  # fmt: skip


COST = "Cost of the papers"


def test_without_a_price_there_is_no_row_of_costs() -> None:
    assert row(together(re.sub(r", price [\d.]+", "", FERRY)), COST) is None


@pytest.mark.parametrize("name", NAMES)
def test_marks_stand_where_something_is_otherwise(name: str) -> None:
    for each in together(TEXTS[name]).rows:
        first = each.cells[0].lines
        for cell in each.cells if each.label not in ("Thickness", "Time") else ():
            assert cell.differs == (cell.lines != first)
            assert {line for line in cell.lines if line not in cell.known} == set(cell.lines) - set(first)


def test_of_other_units_and_many_copies() -> None:
    sheet = together(FERRY, "mm", 3)
    assert sheet.plain.folded.card.unit == "mm" and sheet.other is not None
    assert sheet.other.plain.folded.card.unit == "inch"
    lines = cells(sheet, "Sheets")[0].lines
    own, _ = cards(sheet)[0]
    assert lines[0] == f"{sum(total['sheets'] for total in own['cutting']['totals'])}\u00a0sheets in all"


def test_a_card_without_variants() -> None:
    sheet = together(NO_VARIANT)
    assert sheet.titles == ("Main card",) and not sheet.variants


def test_the_cut_list_says_what_stood_there() -> None:
    marks = {
        variant.title: {cut.line.piece: cut.mark for cut in variant.cuts if cut.mark}
        for variant in together(FERRY).variants
    }
    assert marks["With a band"] == {"sash": "new"}
    was = {
        (variant.title, cut.line.piece): cut.was
        for variant in together(FERRY).variants for cut in variant.cuts
    }  # fmt: skip
    assert marks["Quiet"] == {"door-paper": "another paper"}
    assert was["Quiet", "door-paper"] == "Paper glow"
    assert marks["All the trimmings"]["sun"] == "new size"
    assert was["All the trimmings", "sun"] == "2 × 2\u00a0in (51 × 51\u00a0mm)"
    for (title, piece), said in was.items():
        assert bool(said) == (marks[title].get(piece, "new") != "new")
    assert set(marks["Small"]) == {"card", "door-paper", "message", "sun"}


def test_a_piece_that_is_cut_more_often_says_so() -> None:
    plain = together(FERRY).plain
    more = tuple(line._replace(count=3, total=3) for line in plain.cuts)
    (variant,) = variant_sheet(plain, [plain._replace(cuts=more)]).variants
    marks = {cut.line.piece: (cut.mark, cut.was) for cut in variant.cuts}
    assert marks["sun"] == ("another number", "1 of them")
    assert marks["door-paper"] == ("another number", "2 of them")


def test_more_of_a_supply_is_told_with_its_amount() -> None:
    ribbon = '  add ribbon "Gold" 8 long\n'
    text = NO_VARIANT.replace('  write "Until soon"\n', f'  write "Until soon"\n{ribbon}')
    text += f'variant "Bow"\n  square bow from white on message\n    size 1 x 1\n  {ribbon}'
    assert cells(together(text), "Supplies more")[1].lines == ("Ribbon: Gold, about 16\u00a0in",)
    assert cells(together(text), "Supplies less")[1].lines == (NONE,)


def test_how_many_of_a_piece_is_told_for_one_card() -> None:
    assert "2 of them" in cells(together(FERRY, None, 3), "Door paper")[0].lines


def test_where_one_variant_has_no_twin_there_is_only_one_unit_system() -> None:
    sheet = together(FERRY)
    assert sheet.other is not None
    alone = [variant.sheet._replace(other=None) for variant in sheet.variants]
    assert variant_sheet(sheet.plain, alone).other is None
    assert variant_sheet(sheet.plain, alone).plain.other is None


def test_a_thickness_is_marked_where_a_ruler_shows_it() -> None:
    """Harvest is 5.5 mm for 5.2: both are 7/32 in; in millimetres it is marked."""
    inches, metric = (cells(together(TEXTS["night-market"], unit), "Thickness") for unit in ("inch", "mm"))
    assert [cell.differs for cell in inches] == [False, False, True]
    assert inches[1].known == frozenset(inches[1].lines)
    assert [cell.differs for cell in metric] == [False, True, True]


def test_time_that_is_rounded_away_is_told() -> None:
    """A mat more is a minute of cutting and two of glueing: 51 minutes for 48, about 50 both."""
    times = cells(together(TEXTS["night-market"]), "Time")
    assert [cell.lines[1:] for cell in times] == [(), ("a little more than the main card",), ()]
    assert [cell.differs for cell in times] == [False, True, True]


def test_pieces_that_change_their_paper_alone_share_a_row() -> None:
    found = row(together(TEXTS["night-market"]), "Door paper and flap paper")
    assert found is not None
    assert [cell.lines for cell in found.cells] == [
        ("Paper glow",), ("Harvest plaid patterned paper",), ("Paper glow",)
    ]  # fmt: skip


def test_what_is_needed_besides_is_told_where_something_is_not_needed() -> None:
    labels = [each.label for each in together(TEXTS["night-market"]).rows]
    assert labels.index("Supplies less") == labels.index("Supplies more") + 1


def test_what_a_variant_leaves_out_is_no_mistake_of_it() -> None:
    """Plain has no lantern card, so that nothing is stamped: that is no note."""
    plain = together(TEXTS["night-market"]).variants[1]
    assert not plain.notes and not [note for note in plain.sheet.notes if "Nothing is done" in note]


MANY = NO_VARIANT + '\nvariant "Many"\n  set makes 20\n'


def test_how_many_are_made_is_told_where_it_is_not_the_same() -> None:
    assert [each.lines for each in cells(together(MANY), "Makes")] == [("1 card",), ("20 cards",)]
    assert row(together(FERRY), "Makes") is None
