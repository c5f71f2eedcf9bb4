"""What happened to the scores, sections and openings of a piece, and to the named poses."""

from collections.abc import Iterator

from cardrecipe.compare.aspects import aspects
from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import Change
from cardrecipe.model.lengths import size_written, with_unit, written
from cardrecipe.plan.words import listed, spoken
from cardrecipe.solve.sized import Point, SizedCard, SizedPiece, SizedScore
from cardrecipe.syntax import tree


def score_changes(both: Both) -> Iterator[Change]:
    """Every change of a line, section, window or corner of the pieces in both cards; and of poses."""
    for old, new in both.pieces:
        if old is not None and new is not None and (old.name == new.name or old.scores):
            yield from _of_piece(both, old, new)
    yield from _poses(both)


def _of_piece(both: Both, old: SizedPiece, new: SizedPiece) -> Iterator[Change]:
    before = aspects(both.old_card, old, both.pairs.old)
    after = aspects(both.new_card, new, both.pairs.new)
    other = {aspect for aspect, _, _ in _PARTS if before[aspect] != after[aspect]}
    for aspect, word, told in _PARTS:
        said = told(both.old_card, old), told(both.new_card, new)
        if aspect == "sections" and said[0] == said[1]:
            if "scores" in other or before["size"] != after["size"]:
                continue  # they are what lies between the scores
            said = _outlines(both.old_card, old), _outlines(both.new_card, new)
        if aspect in other:
            because = both.causes.of_lines(old, new, *_LINES) or both.causes.of_blocks(old, new)
            kind = "new" if said[0] == "" else "gone" if said[1] == "" else "folded"
            yield Change("scores", kind, f"{new.name}: {word}", *said, "", because, old.name, new.name)


_LINES = (tree.Flat, tree.LineAcross, tree.LineSlanted, tree.Fold, tree.Window, tree.Corners, tree.Sections)


def scores_told(card: SizedCard, piece: SizedPiece) -> str:
    rows = []
    for axis, edge in (("x", "left"), ("y", "top")):
        lines = [_score(card, piece, each) for each in piece.scores if each.axis == axis]
        if lines:
            rows.append(f"{listed(lines)} from the {edge}")
    slanted = (each for each in piece.scores if each.axis not in ("x", "y"))
    rows += [
        f"{each.direction} from {_point(card, each.start)} to {_point(card, each.end)}" for each in slanted
    ]
    return "; ".join(rows)


def _score(card: SizedCard, piece: SizedPiece, score: SizedScore) -> str:
    told = f"{with_unit(score.at, card.unit)} {score.direction}"
    ends = {score.start, score.end}
    whole = ({(score.at, 0 * score.at), (score.at, piece.height)} if score.axis == "x"
             else {(0 * score.at, score.at), (piece.width, score.at)})  # fmt: skip
    return told if ends == whole else f"{told} ({_point(card, score.start)} to {_point(card, score.end)})"


def _point(card: SizedCard, point: Point) -> str:
    return f"{written(point[0], card.unit)}, {written(point[1], card.unit)}"


def sections_told(card: SizedCard, piece: SizedPiece) -> str:
    return listed(spoken(section.name) for section in piece.sections)


def _outlines(card: SizedCard, piece: SizedPiece) -> str:
    """The sections with their corners, for those that no score has moved."""
    return "; ".join(f"{spoken(each.name)} {_corner_points(card, each.outline)}" for each in piece.sections)


def windows_told(card: SizedCard, piece: SizedPiece) -> str:
    return listed(_ring(card, each) for each in piece.windows)


def _outline(card: SizedCard, piece: SizedPiece) -> str:
    if piece.outline is None:
        return "a rectangle"
    return _corner_points(card, piece.outline)


def _corner_points(card: SizedCard, ring: tuple[Point, ...]) -> str:
    return " – ".join(_point(card, point) for point in ring)


def _ring(card: SizedCard, ring: tuple[Point, ...]) -> str:
    left, top = min(x for x, _ in ring), min(y for _, y in ring)
    width, height = max(x for x, _ in ring) - left, max(y for _, y in ring) - top
    return f"{size_written(width, height, card.unit)} at {_point(card, (left, top))}"


def _corners(card: SizedCard, piece: SizedPiece) -> str:
    return f"rounded, radius {with_unit(piece.corner_radius, card.unit)}" if piece.corner_radius else ""


_PARTS = (
    ("scores", "scores", scores_told),
    ("sections", "sections", sections_told),
    ("windows", "windows", windows_told),
    ("outline", "outline", _outline),
    ("corners", "corners", _corners),
)


def _poses(both: Both) -> Iterator[Change]:
    before = {pose.name: _pose(both.pairs.pieces, pose.folds) for pose in both.old_card.poses}
    after = {pose.name: _pose({}, pose.folds) for pose in both.new_card.poses}
    for name in dict.fromkeys((*after, *before)):
        old, new = before.get(name, ""), after.get(name, "")
        if old != new:
            kind = "new" if not old else "gone" if not new else "folded"
            because = both.causes.of_owner(f"pose {name}", f"pose {name}")
            yield Change("scores", kind, f"pose {name}", old, new, "", because)


def _pose(names: object, folds: tuple[tuple[str, int, object], ...]) -> str:
    called = names if isinstance(names, dict) else {}
    return listed(
        f"{spoken(called.get(base, base))} fold {number} at {angle}°" for base, number, angle in folds
    )
