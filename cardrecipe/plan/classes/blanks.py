"""The kits of a class → one set of blanks under names that tell kits apart, as a card of loose pieces.

Pieces of the same name that are cut to the same rectangle from the same paper are one blank of several kits:
"K+L card". The planner and the drawings take the card as they take any other.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.lengths import GRID, convert
from cardrecipe.plan.classes.cards import ClassCard, ClassCards
from cardrecipe.plan.classes.papers import ClassPaper, class_papers, measured_in, packet_of
from cardrecipe.plan.cutting.paper_jobs import Wanted, has_margin, wanted
from cardrecipe.plan.papers import cut_order
from cardrecipe.solve.sized import SizedCard, SizedPiece

# From K on, since the strips of the cutting plan bear letters from A; an O looks like a nought.
LETTERS = "KLMNPQRSTUVWXYZ"


class KitCard(NamedTuple):
    """A card of the class with the letter of its kits."""

    letter: str
    of: ClassCard

    @property
    def card(self) -> SizedCard:
        return self.of.folded.card


class ClassBlank(NamedTuple):
    """One rectangle to cut, for one piece or for the pieces of that name of several kits.

    `rect` is in the paper's unit, its count that of all kits; `counts` tells it by kit, by letter; `piece` is
    the first kit's, as it stands in the recipe.
    """

    rect: Wanted
    paper: str  # the class's name for it
    piece: SizedPiece
    unit: str  # that of the recipe
    counts: tuple[tuple[str, int], ...]


class ClassCut(NamedTuple):
    """All that is cut for a class; `names` gives the blank of a kit's piece, by letter and piece.

    `card` holds all blanks in the class's unit; `cards` gives for each paper the same card in the unit that
    the paper is measured in.
    """

    kits: tuple[KitCard, ...]
    papers: tuple[ClassPaper, ...]
    blanks: tuple[ClassBlank, ...]
    names: Mapping[tuple[str, str], str]
    card: SizedCard
    cards: Mapping[str, SizedCard]

    def of_paper(self, name: str) -> tuple[ClassBlank, ...]:
        return tuple(each for each in self.blanks if each.paper == name)


def class_cut(cards: ClassCards) -> ClassCut:
    """Give the blanks of all kits of a class, seats and spares."""
    kits = tuple(KitCard(letter_of(at), each) for at, each in enumerate(cards.cards))
    papers = class_papers([(each.letter, each.card) for each in kits])
    groups: dict[object, list[tuple[str, SizedPiece, Wanted, int, str]]] = {}
    for kit in kits:
        for piece, paper, rect in _rects(kit.card, papers):
            like = (paper, piece.name, piece.kind, piece.outline, has_margin(piece), rect._replace(count=0))
            groups.setdefault(like, []).append((kit.letter, piece, rect, kit.of.kits, kit.card.unit))
    blanks: list[ClassBlank] = []
    names: dict[tuple[str, str], str] = {}
    order = {each.paper.name: at for at, each in enumerate(papers)}
    for key, group in groups.items():
        assert isinstance(key, tuple)
        counts = tuple((letter, rect.count * kits_of) for letter, _, rect, kits_of, _ in group)
        _, piece, rect, _, unit = group[0]
        name = f"{'+'.join(letter for letter, *_ in group)} {piece.name}"
        rect = rect._replace(name=name, count=sum(count for _, count in counts))
        blanks.append(ClassBlank(rect, key[0], piece, unit, counts))
        names |= {(letter, piece.name): name for letter, *_ in group}
    blanks.sort(key=lambda each: (order[each.paper], *_by_size(each, kits)))
    made = {
        unit: _as_card(cards, papers, blanks, unit) for unit in {cards.unit, *(each.unit for each in papers)}
    }
    by_paper = {each.paper.name: made[each.unit] for each in papers}
    return ClassCut(kits, papers, tuple(blanks), names, made[cards.unit], by_paper)


def _by_size(blank: ClassBlank, kits: Sequence[KitCard]) -> tuple[object, ...]:
    """The larger first; the order of the kits decides nothing, so that it changes no plan."""
    rect, letters = blank.rect, dict(blank.counts)
    made = sorted((kit.of.path, kit.of.variant or "") for kit in kits if kit.letter in letters)
    return -rect.width * rect.height, -rect.width, rect.may_turn, blank.piece.name, made


def letter_of(at: int) -> str:
    """K, L, … Z, KK, KL, …: the letter of the kit at a place."""
    many = len(LETTERS)
    return (LETTERS[at // many - 1] if at >= many else "") + LETTERS[at % many]


def _rects(card: SizedCard, papers: Sequence[ClassPaper]) -> Iterator[tuple[SizedPiece, str, Wanted]]:
    """The rectangles that a card's pieces are cut from, each with the class's paper and in its unit."""
    known = {each.packet: each for each in papers}
    for piece in cut_order(card):
        if piece.paper in card.papers:
            own = card.papers[piece.paper or ""]
            paper = known[packet_of(own, card.unit)]
            for rect in wanted(card, own, piece):
                width, height = (convert(side, card.unit, paper.unit) for side in (rect.width, rect.height))
                yield piece, paper.paper.name, rect._replace(width=width, height=height)


def _as_card(
    cards: ClassCards, papers: Sequence[ClassPaper], blanks: Sequence[ClassBlank], unit: str
) -> SizedCard:
    return SizedCard(
        title=cards.title,
        about=cards.about,
        unit=unit,
        nearest=cards.nearest if unit == cards.unit else GRID[unit],
        border=None,
        makes=1,
        envelope=None,
        variant=None,
        papers={each.paper.name: measured_in(each.paper, each.unit, unit) for each in papers},
        supplies={},
        pieces=tuple(_loose(each, unit) for each in blanks),
    )


def _loose(blank: ClassBlank, unit: str) -> SizedPiece:
    """The piece by itself: its outline and the work that gives it one, nothing of where it goes."""
    piece, ratio = blank.piece, convert(Fraction(1), blank.unit, unit)
    outline = tuple((x * ratio, y * ratio) for x, y in piece.outline) if piece.outline is not None else None
    return SizedPiece(
        name=blank.rect.name,
        kind=piece.kind,
        paper=blank.paper,
        width=piece.width * ratio,
        height=piece.height * ratio,
        count=blank.rect.count,
        span=piece.span,
        works=tuple(each for each in piece.works if each.verb in ("die", "trim")),
        outline=outline,
        loose=True,
    )
