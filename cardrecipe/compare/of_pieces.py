"""What happened to each piece: new, gone, another name, size, paper, place, work or fixing."""

from collections.abc import Callable, Iterator

from cardrecipe.compare.aspects import Value, aspects
from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Cause, Change
from cardrecipe.compare.of_places import piece_change, place_changes
from cardrecipe.compare.piece_words import (
    along_told,
    around_told,
    count_told,
    fixing_told,
    kind_told,
    overhang_told,
    overlap_told,
    paper_of,
    piece_told,
    size_of,
    tips_told,
    turn_told,
    under_told,
    works_told,
)
from cardrecipe.solve.sized import SizedCard, SizedPiece
from cardrecipe.syntax import tree

Describe = Callable[[SizedCard, SizedPiece], str]


def piece_changes(both: Both) -> Iterator[Change]:
    """Every change of a piece but its scores, its sections and what is cut out of it."""
    for old, new in both.pieces:
        if old is not None and new is not None:
            yield from _changed(both, old, new)
        elif new is not None:
            because = of_piece(both, None, new)
            yield Change(
                "pieces", "new", new.name, "", piece_told(both.new_card, new), "", because, "", new.name
            )
        else:
            assert old is not None
            because = of_piece(both, old, None)
            yield Change(
                "pieces", "gone", old.name, piece_told(both.old_card, old), "", "", because, old.name, ""
            )


def _changed(both: Both, old: SizedPiece, new: SizedPiece) -> Iterator[Change]:
    before = aspects(both.old_card, old, both.pairs.old)
    after = aspects(both.new_card, new, both.pairs.new)
    if old.name != new.name:
        because = both.causes.of_lines(old, new, tree.PieceHeader)
        yield Change("pieces", "renamed", new.kind, old.name, new.name, "", because, old.name, new.name)
    other = {name for name in before if before[name] != after[name]}
    yield from _size(both, old, new) if "size" in other else ()
    for names, kind, describe, why in _ASPECTS:
        if other & names:
            said = describe(both.old_card, old), describe(both.new_card, new)
            if said[0] == said[1] and describe is overlap_told:
                continue  # a band's overlap is told to the nearest mark, as it is no truer than the stack
            if said[0] == said[1]:
                said = _exactly(before, after, names)
            yield piece_change(kind, old, new, *said, why(both, old, new))
    yield from place_changes(both, old, new, other)


def _exactly(before: dict[str, Value], after: dict[str, Value], names: set[str]) -> tuple[str, str]:
    """What differs although the words for it do not."""
    other = [name for name in before if name in names and before[name] != after[name]]
    return ", ".join(str(before[name]) for name in other), ", ".join(str(after[name]) for name in other)


def _size(both: Both, old: SizedPiece, new: SizedPiece) -> Iterator[Change]:
    scale = both.pairs.old.scale, both.pairs.new.scale
    other = [quantity for quantity in ("width", "height")
             if getattr(old, quantity) * scale[0] != getattr(new, quantity) * scale[1]]  # fmt: skip
    asked = ("width", "height") if new.around or old.around else tuple(other)
    because = both.causes.of_sizes(old, new, *asked)
    given = all(both.causes.gives_size(cause, old if cause.side == "old" else new) for cause in because)
    note = "" if given and because else "worked out anew"
    yield piece_change(
        "resized", old, new, size_of(both.old_card, old), size_of(both.new_card, new), because, note
    )


def of_piece(both: Both, old: SizedPiece | None, new: SizedPiece | None) -> tuple[Cause, ...]:
    return both.causes.of_lines(old, new, tree.PieceHeader, tree.Drop)


Why = Callable[[Both, SizedPiece, SizedPiece], tuple[Cause, ...]]


def _lines(*kinds: type[tree.Node]) -> Why:
    def because(both: Both, old: SizedPiece, new: SizedPiece) -> tuple[Cause, ...]:
        return both.causes.of_lines(old, new, *kinds)

    return because


def _border_sizes(*quantities: str) -> Why:
    def because(both: Both, old: SizedPiece, new: SizedPiece) -> tuple[Cause, ...]:
        return both.causes.of_sizes(old, new, *quantities)

    return because


_HEADER = _lines(tree.PieceHeader)
# Which aspects make which kind of change, how it is described and what it came from.
_ASPECTS: tuple[tuple[set[str], str, Describe, Why], ...] = (
    ({"kind"}, "changed", kind_told, _HEADER),
    ({"paper"}, "other paper", paper_of, _HEADER),
    ({"count"}, "counted", count_told, _lines(tree.PieceHeader, tree.Repeat, tree.Amount)),
    ({"turned"}, "turned", turn_told, _lines(tree.Measure)),
    ({"works"}, "worked", works_told, _lines(tree.WorkLine, tree.SupplyLine)),
    ({"glue", "loose", "joins"}, "fixed", fixing_told, _lines(tree.GlueLine, tree.Flag, tree.SupplyLine)),
    ({"under"}, "moved", under_told, _HEADER),
    ({"around"}, "moved", around_told, _HEADER),
    ({"along"}, "moved", along_told, _border_sizes("top border", "left border")),
    ({"overlap"}, "fixed", overlap_told, _border_sizes("overlap", "wrap", "stack")),
    ({"overhangs"}, "changed", overhang_told, _lines(tree.Flag)),
    ({"tips"}, "reworded", tips_told, _lines(tree.Tip)),
)
