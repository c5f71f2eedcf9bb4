"""A seed in, a card out that somebody could make, of pieces that few would: narrow ones, turned ones, some
that hang over or slide, on bands and on each other. Half of them can be drawn; of other texts few can.
Now and then it is a class of samples, with odd sheets at hand."""

from collections.abc import Callable
from random import Random
from typing import NamedTuple

from cardrecipe.library.folds import fold_names
from tests.fuzz.first_texts import asked_by, samples, sections_of

# In sixteenths of an inch, or millimetres: what glue has no room on, what it has, what is larger than a card.
LENGTHS = (1, 2, 3, 4, 5, 8, 12, 16, 24, 40, 64)
SHAPES = ("circle", "oval", "square", "rectangle", "banner", "tag", "cutout")
EDGES = ("left", "right", "top", "bottom")
ANGLES = (15, 45, 90, 180)
MOST_PIECES = 5
CLASS_EVERY = 12  # they take ten times as long
SIDES = ("1/1000000", "1/16", "1", "2 1/2", "3 mm", "6", "8 1/2", "11", "12", "1000")  # of sheets at hand


class Card(NamedTuple):
    """A card while it is written: the unit, the names of what a piece can be put on."""

    chance: Random
    unit: str
    faces: list[str]
    pieces: list[str]

    def length(self, marks: int) -> str:
        return f"{marks}/16" if self.unit == "inch" else str(marks)

    def any_length(self) -> str:
        return self.length(self.chance.choice(LENGTHS))

    def often(self, share: float) -> bool:
        return self.chance.random() < share


def card_text(seed: int) -> str:
    """The recipe of that seed."""
    chance = Random(seed)
    if seed % CLASS_EVERY == 0:
        return _class(chance)
    unit, fold = chance.choice(("inch", "mm")), chance.choice(fold_names())
    card = Card(chance, unit, list(sections_of(fold)), [])
    wide, high = ("4 1/4", "5 1/2") if unit == "inch" else ("108", "140")
    asked = asked_by(fold)
    given = "".join(f", {name} {size}" for name, size in (("width", wide), ("height", high)) if name in asked)
    lines = [
        'recipe "Odd card"',
        f"  units {unit} nearest {'1/16' if unit == 'inch' else '1'}",
        f"  border {card.length(2)}",
        f'paper base is cardstock "Base" {"24 x 24" if unit == "inch" else "600 x 600"}',
        f'paper light is plain "Light" {"24 x 24" if unit == "inch" else "600 x 600"}',
        "base card from base",
        f"  fold {fold}{given}",
    ]
    if card.often(0.3):
        lines += _band(card)
    for _ in range(chance.randint(1, MOST_PIECES)):
        lines += _piece(card)
    return "\n".join([*lines, ""])


def _class(chance: Random) -> str:
    cards = [name for name, text in samples().items() if text.startswith("recipe")]
    lines, papers = ['class "Odd class"'], []
    for name in chance.sample(cards, chance.randint(1, 2)):
        spare = chance.choice(("", "", ", 2 spare"))
        lines.append(f'  make {chance.choice((1, 2, 5, 30, 100))} of "{name}"{spare}')
        papers += [line.split()[1] for line in samples()[name].split("\n") if line.startswith("paper ")]
    for paper in papers:
        size = f" {chance.choice(SIDES)} x {chance.choice(SIDES)}" if chance.random() < 0.8 else ""
        if chance.random() < 0.5:
            lines.append(f"  have {paper} {chance.choice((1, 2, 10))} sheets{size}")
    return "\n".join([*lines, ""])


def _band(card: Card) -> list[str]:
    card.pieces.append("sash")
    downward = card.chance.choice(("", "", " downward"))
    return [f"band sash from light around card{downward}", f"  width {card.any_length()}"]


def _piece(card: Card) -> list[str]:
    name = f"piece-{len(card.pieces) + 1}"
    kind = card.chance.choice(("panel", "panel", *SHAPES))
    host = card.chance.choice([*card.faces, *card.pieces, *card.pieces])
    side = card.chance.choice(("", " outside")) if host in card.faces else ""
    block = [_size(card, kind), *(line(card) for line, share in LINES if card.often(share))]
    glue = card.chance.choice(GLUE)(card, host)
    card.pieces.append(name)
    return [f"{kind} {name} from light on {host}{side}", *(f"  {each}" for each in (*block, *glue) if each)]


def _size(card: Card, kind: str) -> str:
    if kind == "circle":
        return f"diameter {card.any_length()}"
    if kind == "panel" and card.often(0.3):
        return ""
    wide, high = card.any_length(), card.any_length()
    return f"size {wide} x {wide if kind == 'square' else high}"


def _place(card: Card) -> str:
    ways = [f"{card.any_length()} from {card.chance.choice(edges)}" for edges in (EDGES[:2], EDGES[2:])]
    return f"place {', '.join(card.chance.choice((ways, ways[:1], ways[1:])))}"


LINES: tuple[tuple[Callable[[Card], str], float], ...] = (
    (_place, 0.4),
    (lambda card: f"turned {card.chance.choice(ANGLES)}", 0.2),
    (lambda card: "overhangs", 0.5),
    (lambda card: f"window {card.any_length()} x {card.any_length()} at (1/4 in, 1/4 in)", 0.05),
    (lambda card: f"repeat 2 {card.chance.choice(('across', 'down'))}, gap {card.any_length()}", 0.05),
)
GLUE: tuple[Callable[[Card, str], list[str]], ...] = (
    lambda card, host: [],
    lambda card, host: [f"glue with {card.chance.choice(('tape', 'liquid', 'dots', 'foam 2 mm thick'))}"],
    lambda card, host: [f"glue with tape only on {host}"],
    lambda card, host: ["glue all over"],
    lambda card, host: [f"glue along {', '.join(card.chance.sample(EDGES, card.chance.randint(1, 3)))}"],
    lambda card, host: ["loose"],
)
