"""The cards that everything at true scale is tried on: samples, every shipped structure in both unit systems
with a panel on each section, and generated ones."""

from functools import cache

from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan, card_plans
from cardrecipe.plan.cutting.job import blanks_in
from cardrecipe.plan.sheet import Sheet
from cardrecipe.solve.sized import SizedCard
from tests.recipes import compile_text
from tests.render.drawings import cards

STRUCTURES = fold_names()
WIDTH_ALONE = {"triangle"}
HEADS = {
    "inch": 'recipe "Every fold"\n  units inch nearest 1/16\n  border 1/8\n'
    'paper ink is cardstock "Ink" 48 x 48\n',
    "mm": 'recipe "Every fold"\n  units mm nearest 1\n  border 3\npaper ink is cardstock "Ink" 900 x 900\n',
}
SIZES = {"inch": (4, 6), "mm": (104, 152)}
SHAPES = """recipe "All shapes"
  units inch nearest 1/16
  border 1/8
paper ink is cardstock "Ink" 24 x 24
base card from ink
  flat 15 x 13
  score 7 1/2 from left
  cut 1 from top, between 8 and 12
  window 3 x 3 at (9, 2)
  window 2 x 2 at (11, 4)
  window 1 x 2 at (0, 5)
  corners round 3/4
  sections back, front
oval plate from ink on back
  size 6 x 11
oval lying from ink on back
  size 5 x 2
circle dot from ink on front
  diameter 1
  place 1/8 from top
tag label from ink on front
  size 1 x 2
  place 1 from bottom
tag low-label from ink on front
  size 3 x 1
  place 3 from bottom
banner flag from ink on front
  size 3 x 1
  place 1/4 from bottom
banner pennant from ink on front
  size 1 x 3
panel rounded from ink on back
  size 2 x 3
  corners round 1/4
cutout cloud from ink on back
  size 2 x 1
"""


def structure(name: str, unit: str) -> SizedCard:
    """A structure's base with a panel on each of its sections."""
    return _structure(name, unit)


@cache
def _structure(name: str, unit: str) -> SizedCard:
    width, height = SIZES[unit]
    tall = "" if name in WIDTH_ALONE else f", height {height}"
    base = f"{HEADS[unit]}base card from ink\n  fold {name}, width {width}{tall}\n"
    sections = _card(base).piece("card").sections
    panels = [f"panel on-{each.name} from ink on {each.name}\n  loose\n" for each in sections]
    return _card(base + "".join(panels))


def all_shapes() -> SizedCard:
    return _card(SHAPES)


def _card(text: str) -> SizedCard:
    folded = compile_text(text).folded
    assert folded is not None, compile_text(text).diagnostics
    return folded.card


def samples() -> dict[str, SizedCard]:
    """Those that hold a card: one file holds papers alone."""
    return {name: card for name, card in cards.samples().items() if card.pieces}


def generated() -> dict[str, SizedCard]:
    """A hundred: strips of many sections, and cards with pieces of every kind."""
    return {**cards.random_strips(40), **cards.random_pieces(60)}


def plans(card: SizedCard) -> tuple[PaperPlan, ...]:
    return card_plans(card, card.makes)


def held(numbered: NumberedLayout) -> dict[str, int]:
    """How many of each piece a sheet holds."""
    return blanks_in(numbered.layout.root)


def all_structures(unit: str) -> SizedCard:
    """The pieces of every structure in one card, which cannot be made but drawn; each with its own name."""
    found = {name: structure(name, unit) for name in STRUCTURES}
    pieces = [
        piece._replace(name=f"{name}-{piece.name}", placements=())
        for name, card in found.items()
        for piece in card.pieces
    ]
    return found[STRUCTURES[0]]._replace(pieces=tuple(pieces), poses=())


LARGE = ("diagonal-gate", "window-card", "twist-easel", "envelope-wrap", "swing-window")


def large_structures() -> SizedCard:
    """Folds with slanted scores or windows, too large for a page."""
    cards_of = {name: _card(f"{HEADS['inch']}base card from ink\n  fold {name}, width 9, height 11\n")
                for name in LARGE}  # fmt: skip
    pieces = [card.piece("card")._replace(name=f"large-{name}") for name, card in cards_of.items()]
    return cards_of[LARGE[0]]._replace(pieces=tuple(pieces), poses=())


def sheet_of_templates(card: SizedCard) -> Sheet:
    """A sheet with nothing on it but what is at true scale."""
    folded = FoldedCard(card, (), (), None)
    return Sheet(folded, card.title, "", (), (), (), (), (), (), (), (), None)
