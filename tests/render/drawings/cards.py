"""The cards that every law of the drawings is tried on: hand-made ones and random strips."""

import hashlib
import random
from fractions import Fraction
from functools import cache

from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.fold.card import fold
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.work import Glue
from cardrecipe.plan.cutting.card_plans import PaperPlan, card_plans
from cardrecipe.render.drawings import drawings
from cardrecipe.solve.sized import Around, SizedCard, SizedPiece
from cardrecipe.syntax.source import Source
from tests import hand_made as made
from tests.recipes import SAMPLES

BACK = ("17/4", "11/2")


def hand_made_cards() -> dict[str, SizedCard]:
    circles = [made.placed("back", BACK, (1, 1), at=(x, "1/2")) for x in ("3/8", "13/8", "23/8")]
    more = (
        made.piece("spots", "circle", "white", (1, 1), *circles),
        made.piece("frame", "panel", "glow", (5, 6), made.placed("back", BACK, (5, 6))),
        made.piece(
            "speck", "square", "glow", ("1/4", "1/4"), made.placed("back", BACK, ("1/4", "1/4"))
        ),
        made.piece("streamer", "banner", "glow", (1, 3)),
        made.piece("flag", "banner", "white", (3, 1), loose=True),
        made.piece("sky", "cutout", "white", (2, 1)),
        made.piece("label", "tag", "white", (2, 1)),
    )
    return {
        "double gate": made.double_gate(*more),
        "side fold": made.side_fold(),
        "tent": made.tent(),
        "gate": made.gate(),
        "z": made.z_fold(),
        "rolled": made.rolled_trifold(),
        "accordion": made.accordion(6),
        "long accordion": made.accordion(14),
        "metric": made.strip_card([32, 54, 108, 54, 32], "MVVM", [], 140, unit="mm"),
        "narrow": made.strip_card(
            ["1/4", "1/4", 1, 1, "1/4"], "VMMV", ["a", "a-very-long-name"], 8
        ),
        "thirds of a mm": made.strip_card([Fraction(20, 3), 60, 20, 60], "MVV", [], 90, unit="mm"),
        "no paper": made.strip_card([3, 3], "V", [], 4, paper=None),
    }


@cache
def samples() -> dict[str, SizedCard]:
    found = {}
    for path in sorted(SAMPLES.glob("*.recipe")):
        source = Source(str(path), path.read_text(encoding="utf-8"))
        folded = compile_recipe(source, FolderTexts(str(path))).folded
        if folded is not None:
            found[path.stem] = folded.card
    return found


@cache
def sample_plans(name: str, copies: int) -> tuple[PaperPlan, ...]:
    """The cutting plan of a sample; planned once for all laws."""
    return tuple(card_plans(samples()[name], copies))


def random_strips(count: int) -> dict[str, SizedCard]:
    chance = random.Random(7)
    cards = {}
    for number in range(count):
        parts = chance.randint(2, 8)
        lengths = [Fraction(chance.randint(2, 70), 16) for _ in range(parts)]
        letters = "".join(chance.choice("VM") for _ in range(parts - 1))
        height = Fraction(chance.randint(16, 140), 16)
        axis = chance.choice("xy")
        cards[f"strip {number}"] = made.strip_card(lengths, letters, [], height, axis)
    return cards


def random_pieces(count: int) -> dict[str, SizedCard]:
    """Strips with pieces of every kind on them, askew, too large, raised, and with a band."""
    chance = random.Random(3)
    return {f"pieces {number}": _with_pieces(chance) for number in range(count)}


def _with_pieces(chance: random.Random) -> SizedCard:
    unit = chance.choice(["inch", "mm"])

    def length(least: int, most: int) -> Fraction:
        return Fraction(chance.randint(least, most), 16) * (1 if unit == "inch" else 25)

    lengths, height = [length(8, 80) for _ in range(chance.randint(2, 5))], length(20, 160)
    names = [chance.choice(["part", "a-rather-long-name"]) + f"-{n}" for n in range(len(lengths))]
    more = []
    for number in range(chance.randint(1, 4)):
        size = (length(1, 60), length(1, 60))
        hosts = [chance.randrange(len(lengths)) for _ in range(chance.choice([1, 1, 2, 3]))]
        places = [
            made.placed(
                names[host],
                (lengths[host], height),
                size,
                side=chance.choice(["inside", "outside"]),
                at=chance.choice([None, (length(-10, 30), length(-10, 30))]),
            )
            for host in hosts
        ]
        glue = chance.choice([None, Glue(made.SPAN, "foam", thick=length(1, 2))])
        paper = chance.choice(["ink", "glow", "white", None])
        kind, turned = chance.choice(KINDS), Fraction(chance.choice([0, 0, 0, 15, 90]))
        name = f"thing-{number}" * chance.choice([1, 1, 3])
        more.append(made.piece(name, kind, paper, size, *places, turned=turned, glue=glue))
    more.append(_band(chance.random() < 0.4, length(4, 30), 16 * length(8, 8), length(2, 20)))
    letters = "".join(chance.choice("VM") for _ in lengths[1:])
    return made.strip_card(lengths, letters, names, height, unit=unit, more=more)


KINDS = ("panel", "circle", "oval", "square", "rectangle", "banner", "tag", "cutout")


def _band(downward: bool, across: Fraction, wrap: Fraction, overlap: Fraction) -> SizedPiece:
    around = Around("card", downward, Fraction(1), wrap, overlap)
    size = (across, wrap + overlap) if downward else (wrap + overlap, across)
    return made.piece("belt", "band", "glow", size, around=around)


def folded(card: SizedCard) -> FoldedCard:
    """The folded card, or the card without any view where it cannot be folded."""
    return fold(card)[0]


def sum_of_a_gate() -> str:
    """One sum over all drawings of a card, to compare what two processes make."""
    text = "".join(each.svg for each in drawings(folded(made.double_gate())).values())
    return hashlib.sha256(text.encode()).hexdigest()
