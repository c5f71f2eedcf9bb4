"""What the drawings of a diff mark: the right pieces, where they lie, at one scale, without colour too."""

import re
from fractions import Fraction

import pytest

from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.render.side_by_side.pairs import (
    changed_pieces,
    layout_pairs,
    piece_pairs,
    view_pairs,
)
from cardrecipe.solve.sized import SizedPiece
from tests.render.side_by_side.pages import CASES, compared

CHANGED = [name for name in CASES if name != "same"]
_PIECE = re.compile(r'<path data-piece="([^"]*)" d="([^"]*)"')
_MARK = re.compile(
    r'<path d="([^"]*)" fill="none" stroke="#a23c1c" stroke-width="0.5" stroke-dasharray="1.4 0.9"/>'
)
_DOTS = re.compile(
    r'<path d="([^"]*)" fill="none" stroke="#2b2926" stroke-width="0.35" stroke-dasharray="0.01 0.9"'
)
_BADGE = re.compile(r"<circle [^>]*/><text [^>]*>(\d+)</text>")
_POINT = re.compile(r"(-?[\d.]+) (-?[\d.]+)")


def marked(drawing: Drawing) -> set[str]:
    """The pieces whose outline carries the heavy dashes."""
    lines = set(_MARK.findall(drawing.svg))
    return {piece for piece, path in _PIECE.findall(drawing.svg) if path in lines}


@pytest.mark.parametrize("name", CHANGED)
def test_only_changed_pieces_are_marked_and_numbered(name: str) -> None:
    old, new, comparison = compared(name)
    pieces = changed_pieces(comparison.changes)
    numbers = {
        "old": {each.old: each.number for each in pieces},
        "new": {each.new: each.number for each in pieces},
    }
    for pair in view_pairs(old, new, pieces):
        for drawing, side in ((pair.old, "old"), (pair.new, "new")):
            if drawing is None:
                continue
            known = numbers[side]
            bases = {
                piece.name for piece in (old if side == "old" else new).folded.card.pieces if piece.sections
            }
            assert marked(drawing) - bases <= set(known)
            drawn = {piece for piece, _ in _PIECE.findall(drawing.svg)}
            shown = set(map(int, _BADGE.findall(drawing.svg)))
            assert shown <= {known[piece] for piece in known if piece in drawn | bases}
            for piece in marked(drawing) - bases:
                assert f"Marked: {piece.replace('-', ' ')}" in drawing.description or piece in known


def test_the_wider_plate_is_marked_on_both_cards() -> None:
    old, new, comparison = compared("stepped up")
    pieces = changed_pieces(comparison.changes)
    front = next(iter(view_pairs(old, new, pieces)))
    assert front.old is not None and front.new is not None
    assert {"plate", "door-paper", "flap-paper"} <= marked(front.old) & marked(front.new)
    assert "sash" not in marked(front.old) | marked(front.new)
    number = next(each.number for each in pieces if each.new == "plate")
    assert str(number) in _BADGE.findall(front.new.svg)


def test_a_piece_that_is_gone_is_marked_before_alone() -> None:
    old, new, comparison = compared("pieces gone")
    front = next(iter(view_pairs(old, new, changed_pieces(comparison.changes))))
    assert front.old is not None and front.new is not None
    assert {"sash", "plate", "lantern-card"} == marked(front.old) and not marked(front.new)


def test_a_base_of_another_size_is_marked_as_a_whole() -> None:
    old, new, comparison = compared("smaller")
    front = next(iter(view_pairs(old, new, changed_pieces(comparison.changes))))
    assert front.new is not None
    number = next(each.number for each in changed_pieces(comparison.changes) if each.new == "card")
    assert str(number) in _BADGE.findall(front.new.svg)


def extent(path: str) -> tuple[float, float]:
    points = [(float(x), float(y)) for x, y in _POINT.findall(path)]
    across, down = zip(*points, strict=True)
    return max(across) - min(across), max(down) - min(down)


def size_mm(piece: SizedPiece, unit: str) -> tuple[float, float]:
    mm = Fraction(127, 5) if unit == "inch" else Fraction(1)
    return float(piece.width * mm), float(piece.height * mm)


@pytest.mark.parametrize("name", CHANGED)
def test_both_sides_of_a_pair_have_one_scale(name: str) -> None:
    old, new, comparison = compared(name)
    for each, pair in piece_pairs(old, new, changed_pieces(comparison.changes)):
        scales = []
        for drawing, sheet, own in ((pair.old, old, each.old), (pair.new, new, each.new)):
            if drawing is None:
                continue
            card = sheet.folded.card
            path = next(path for piece, path in _PIECE.findall(drawing.svg) if piece == own)
            wide, high = extent(path)
            true = size_mm(card.piece(own), card.unit)
            assert wide / true[0] == pytest.approx(high / true[1], rel=0.01)
            scales.append(wide / true[0])
        assert max(scales) == pytest.approx(min(scales), rel=0.01)


@pytest.mark.parametrize("name", CHANGED)
def test_the_size_before_is_dotted_where_it_was_another(name: str) -> None:
    old, new, comparison = compared(name)
    one_unit = old.folded.card.unit == new.folded.card.unit
    for each, pair in piece_pairs(old, new, changed_pieces(comparison.changes)):
        if pair.new is None:
            continue
        dots = _DOTS.findall(pair.new.svg)
        before = old.folded.card.piece(each.old) if pair.old is not None else None
        after = new.folded.card.piece(each.new)
        is_other = before is not None and (before.width, before.height) != (after.width, after.height)
        assert len(dots) == (is_other and one_unit), each
        if dots and before is not None:
            scale = extent(next(path for _, path in _PIECE.findall(pair.new.svg)))[0] / float(after.width)
            assert extent(dots[0])[0] == pytest.approx(float(before.width) * scale, rel=0.02)
        assert pair.old is None or not _DOTS.findall(pair.old.svg)


@pytest.mark.parametrize("name", CHANGED)
def test_changed_pieces_are_marked_on_the_sheets_that_hold_them(name: str) -> None:
    """One heavy line for each of them that a sheet gives."""
    old, new, comparison = compared(name)
    pieces = changed_pieces(comparison.changes)
    for side, sheet in (("old", old), ("new", new)):
        names = {each.old if side == "old" else each.new for each in pieces}
        expected = sorted(
            sum(count for piece, count in layout.holds if piece in names)
            for layout in changed_layouts(side, old, new)
        )
        drawings = [pair.old if side == "old" else pair.new for pair in layout_pairs(old, new, pieces)]
        found = sorted(len(_MARK.findall(each.svg)) for each in drawings if each is not None)
        assert found == expected, (side, sheet.title)


def changed_layouts(side: str, old: object, new: object) -> list[object]:
    one, other = (old, new) if side == "old" else (new, old)
    known = {each._replace(number=0, picture="") for each in other.cutting}  # type: ignore[attr-defined]
    return [each for each in one.cutting if each._replace(number=0, picture="") not in known]  # type: ignore[attr-defined]


def test_the_mark_is_seen_on_any_paper() -> None:
    """Dashes, on a line of the page's white (WCAG 2.2, 1.4.11: 3:1)."""
    from cardrecipe.render.drawings.changed import CHANGED as DASHES
    from cardrecipe.render.drawings.changed import HALO
    from cardrecipe.render.drawings.colors import PAGE, contrast

    assert contrast(DASHES.color, PAGE) >= 3 and DASHES.dash and DASHES.width < HALO
