"""A class put together by hand from the sheets of samples, and not by the planner, to test pages with."""

from functools import cache

from cardrecipe.cli import compiled
from cardrecipe.plan.classes.sheet import Bag, BagLine, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.plan.cutting.card_plans import card_plans
from cardrecipe.plan.cutting_sheets import cutting_sheets, paper_totals
from cardrecipe.plan.sheet import Fact, Sheet
from cardrecipe.sheets import sheet_of
from cardrecipe.solve.sized import SizedCard
from tests.recipes import SAMPLES

Asked = tuple[str, str | None, int, int]  # sample, variant, seats, spare kits
TWO: tuple[Asked, ...] = (("night-market", None, 12, 1), ("market-tags", None, 8, 0))


@cache
def class_sheet(asked: tuple[Asked, ...] = TWO, unit: str = "inch") -> ClassSheet:
    """The class of those samples."""
    kits = tuple(_kit(at, each, unit) for at, each in enumerate(asked))
    card = _whole_card(kits)
    plans = card_plans(card, 1)
    totals = paper_totals(card, plans)
    return ClassSheet(
        title="Saturday bench",
        about_markdown="Two cards for an evening at the *canal*.",
        unit=unit,
        facts=(Fact("Cards", str(sum(kit.seats for kit in kits))), Fact("Kits", str(len(kits)))),
        kits=kits,
        shopping=(
            *(
                ShoppingLine(
                    "paper", total.title, total.words, "2 sheets", "the rest", total.cost, _letters(kits)
                )
                for total in totals
            ),
            ShoppingLine("stamp", "“Row of lanterns”", "", "", "", "", ("A",)),
            ShoppingLine("adhesive", "tape", "about 12 yd", "1 roll", "2 rolls", "4.20", _letters(kits)),
        ),
        cost="31.40",
        cutting=cutting_sheets(card, plans),
        paper_totals=totals,
        paper_plans=plans,
        bags=tuple(map(_bag, kits)),
        prep=(
            PrepTask(
                1,
                "trimmer",
                "11 in",
                "Set the trimmer to 11 in.",
                "13 sheets",
                40,
                0,
                _letters(kits),
                ("sheet 1, 13 of them", "sheet 2"),
                plans[0].of.paper.name,
            ),
            PrepTask(2, "trimmer", "2 1⁄4 in", "Set the trimmer to 2 1⁄4 in.", "36 pieces", 35, 40, ("A",)),
            PrepTask(3, "scoring board", "1 1⁄4 in", "Score at 1 1⁄4 in.", "13 pieces", 20, 75, ("A",)),
            PrepTask(4, "table", "", "Fill the bags.", "21 bags", 30, 95, _letters(kits)),
        ),
        cautions=("Cut the one-way paper upright.",),
        notes=("Prices are those of the recipes.",),
        card=card,
    )


def _letters(kits: tuple[Kit, ...]) -> tuple[str, ...]:
    return tuple(kit.letter for kit in kits)


@cache
def _sheet(name: str, variant: str | None, unit: str) -> Sheet:
    return sheet_of(compiled(str(SAMPLES / f"{name}.recipe"), variant), unit)


def _kit(at: int, asked: Asked, unit: str) -> Kit:
    name, variant, seats, spare = asked
    sheet = _sheet(name, variant, unit)
    title = f"{sheet.title}, {variant}" if variant else sheet.title
    return Kit("ABCDEF"[at], title, f"{name}.recipe", variant, seats, spare, sheet)


def _whole_card(kits: tuple[Kit, ...]) -> SizedCard:
    """Every piece of every kit, called after both: `A door-paper`."""
    first = kits[0].sheet.folded.card
    return first._replace(
        papers={name: paper for kit in kits for name, paper in kit.sheet.folded.card.papers.items()},
        pieces=tuple(
            piece._replace(name=f"{kit.letter} {piece.name}", count=piece.count * kit.kits)
            for kit in kits
            for piece in kit.sheet.folded.card.pieces
        ),
    )


def _bag(kit: Kit) -> Bag:
    lines = [
        BagLine(cut.piece, cut.count, cut.size, cut.paper_title, ", ".join(cut.notes), cut.width, cut.height)
        for cut in kit.sheet.cuts
    ]
    unit = kit.sheet.folded.card.unit
    return Bag(
        kit.letter,
        kit.title,
        kit.kits,
        (*lines, BagLine("foam", 1, "", "")),
        ("stamp “Row of lanterns”", "ink Coal black"),
        unit,
    )
