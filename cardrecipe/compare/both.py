"""Two versions of a card with what belongs together in them: what every comparison of a part works from."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from cardrecipe.compare.causes import Causes
from cardrecipe.compare.pairs import Pairs, pairs_of
from cardrecipe.compare.version import Version
from cardrecipe.plan.words import a_count_of, spoken
from cardrecipe.solve.sized import SizedCard, SizedPiece


class Both:
    """The old and the new version, their pairs, and the lines behind changes."""

    def __init__(self, old: Version, new: Version) -> None:
        self.old, self.new = old, new

    @cached_property
    def pairs(self) -> Pairs:
        return pairs_of(self.old_card, self.new_card)

    @cached_property
    def causes(self) -> Causes:
        return Causes(self.old, self.new, self.pairs)

    @property
    def old_card(self) -> SizedCard:
        return self.old.sheet.folded.card

    @property
    def new_card(self) -> SizedCard:
        return self.new.sheet.folded.card

    @property
    def is_of_one_unit(self) -> bool:
        return self.old_card.unit == self.new_card.unit

    @cached_property
    def pieces(self) -> tuple[tuple[SizedPiece | None, SizedPiece | None], ...]:
        """Every piece with its partner, in the new card's order; what is gone after what it came after."""
        back = {new: old for old, new in self.pairs.pieces.items()}
        new = [
            (self.old_card.piece(back[one.name]) if one.name in back else None, one)
            for one in self.new_card.pieces
        ]
        found: list[tuple[SizedPiece | None, SizedPiece | None]] = list(new)
        after = 0
        for piece in self.old_card.pieces:
            if piece.name in self.pairs.pieces:
                after = next(at for at, (one, _) in enumerate(found) if one is piece) + 1
            else:
                found.insert(after, (piece, None))
                after += 1
        return tuple(found)

    def alike(self, old: str, new: str) -> bool:
        """True where two texts say the same, but for names of renamed pieces and, in two units, for sizes."""
        if old == new:
            return True
        one, two = self._without_sizes(old), self._without_sizes(new)
        if one == two or not self.pairs.renamed:
            return one == two
        (old_names, called_new), (new_names, called_old) = self._other_names
        return _says(two, one, old_names, called_new) or _says(one, two, new_names, called_old)

    def left_over(self, old: Sequence[str], new: Sequence[str]) -> LeftOver:
        """Which of some sentences have no like on the other side, those that are equal paired first."""
        pairs: dict[int, int] = {}
        for is_like in (str.__eq__, self.alike):
            for at, text in enumerate(old):
                taken = pairs.values()
                like = (to for to, other in enumerate(new) if to not in taken and is_like(text, other))
                found = None if at in pairs else next(like, None)
                if found is not None:
                    pairs[at] = found
        in_order = [pairs[at] for at in sorted(pairs)]
        return LeftOver(
            [at for at in range(len(old)) if at not in pairs],
            [to for to in range(len(new)) if to not in pairs.values()],
            in_order != sorted(in_order),
        )

    def masked(self, text: str, side: int) -> str:
        """A text of the old (0) or the new side (1) with a mark for each name of a renamed piece."""
        names, _ = self._other_names[side]
        return names.sub("\0", self._without_sizes(text))

    def _without_sizes(self, text: str) -> str:
        return text if self.is_of_one_unit else _SIZE.sub("\1", text)

    @cached_property
    def _other_names(self) -> tuple[tuple[re.Pattern[str], dict[str, str]], ...]:
        """For each side what its renamed pieces are called, one and several, and on the other side."""
        sides = []
        for side in (0, 1):
            words: dict[str, str] = {}
            for pair in self.pairs.renamed:
                one, other = pair[side], pair[1 - side]
                words |= {one: other, _several(one): _several(other), spoken(one): spoken(other)}
            pattern = "|".join(sorted(map(re.escape, words), key=len, reverse=True))
            sides.append((re.compile(rf"\b(?:{pattern})\b" if pattern else r"(?!)", re.IGNORECASE), words))
        return tuple(sides)


def _several(name: str) -> str:
    """What more than one of a piece are called: `door papers`, `paper 2 pieces`."""
    return a_count_of(name, 2).partition(" ")[2]


class LeftOver(NamedTuple):
    """What has no like, by its place; and whether what has stands in another order."""

    old: list[int]
    new: list[int]
    is_reordered: bool


def _says(text: str, other: str, names: re.Pattern[str], called: Mapping[str, str]) -> bool:
    """True where `text` is `other` with each of its names as it is or as it is called on this side."""
    known = {name.lower(): said for name, said in called.items()}
    parts, end = [], 0
    for found in names.finditer(other):
        # A name that ends in a number has no article, as its partner may have one.
        both_names = f"(?:{re.escape(found[0])}|(?:the )?{re.escape(known[found[0].lower()])})"
        parts += [re.escape(other[end : found.start()]), both_names]
        end = found.end()
    pattern = "".join((*parts, re.escape(other[end:])))
    return re.fullmatch(pattern, text, re.IGNORECASE) is not None


# A number as sheets write it, with its unit, and sizes joined to it; only for cards in two units.
_SIZE = re.compile(r"[≈\u2212]?[0-9][0-9./\u2044\u202f]*(?:[\s\u00a0]*(?:in|mm)\b)?")


def in_common(old: Iterable[str], new: Iterable[str]) -> list[str]:
    """What both have, in an order that is the same whichever comes first."""
    before, after = list(dict.fromkeys(old)), list(dict.fromkeys(new))
    shared = [each for each in before if each in after]
    return shared if shared == [each for each in after if each in before] else sorted(shared)


def only_in(one: Sequence[str], other: Sequence[str]) -> Iterator[str]:
    """What the one has more of than the other, in its order."""
    left = list(other)
    for each in one:
        if each in left:
            left.remove(each)
        else:
            yield each
