"""Repairs of scores, folds and poses: a score turned over, doors that meet, an order that can be folded."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, islice, permutations

from cardrecipe.editor.mending.case import Case, Repair, lines_of
from cardrecipe.editor.snapshot import Edit
from cardrecipe.model.lengths import typed
from cardrecipe.solve.sized import SizedCard, SizedPiece, SizedScore
from cardrecipe.syntax import tree
from cardrecipe.syntax.spans import Span

TURNED = {"mountain": "valley", "valley": "mountain", None: "mountain"}
MOST_SCORES = 6  # of those that are turned over one by one and two by two


def cannot_fold(case: Case) -> Iterator[Repair]:
    """One or two of the scores turned over."""
    head = case.head
    if head is None:
        return
    scores = [(line, line.node, at) for line in lines_of(head, tree.LineAcross)
              if isinstance(line.node, tree.LineAcross) and line.node.word == "score"
              and line.node.times is None for at in range(len(line.node.at))][:MOST_SCORES]  # fmt: skip
    for number in (1, 2):
        for chosen in combinations(scores, number):
            edits = _turned_over(case, [(line, at) for line, _, at in chosen])
            names = " and ".join(case.source.words_at(node.at[at].span) for _, node, at in chosen)
            yield Repair(f"Turn the score at {names} over", edits)


def _turned_over(case: Case, chosen: list[tuple[tree.Statement, int]]) -> tuple[Edit, ...]:
    """The chosen scores in the other direction, on a line of their own where others keep theirs."""
    edits = []
    for line in dict.fromkeys(line for line, _ in chosen):
        node = line.node
        assert isinstance(node, tree.LineAcross)
        turned = {at for each, at in chosen if each == line}
        kept = [at for at in range(len(node.at)) if at not in turned]
        new = [score_line(case, node, kept, node.direction)] if kept else []
        new.append(score_line(case, node, sorted(turned), TURNED.get(node.direction, "valley")))
        indent = case.newline + " " * case.indent_of(line)
        edits.append(case.replaced(line.span, indent.join(new)))
    return tuple(edits)


def score_line(case: Case, node: tree.LineAcross, at: list[int], direction: str | None) -> str:
    places = ", ".join(case.source.words_at(node.at[each].span) for each in at)
    edges = "both sides" if node.edges[0] == "left" else "top and bottom"
    edges = edges if len(node.edges) == 2 else node.edges[0]
    ends = [case.source.words_at(each.span) for each in node.between or ()]
    parts = [f"score {places} from {edges}", *([direction] if direction == "mountain" else []),
             *([f"between {ends[0]} and {ends[1]}"] if ends else [])]  # fmt: skip
    return ", ".join(parts)


# ---- doors and rolled sections -------------------------------------------------------------------


def _sized(case: Case) -> SizedCard | None:
    compiled = case.snapshot.compiled
    return compiled.folded.card if compiled and compiled.folded else None


def _own_piece(case: Case) -> SizedPiece | None:
    card, head = _sized(case), case.head
    if card is None or head is None or not isinstance(head.node, tree.PieceHeader):
        return None
    name = head.node.name.text
    return next((each for each in card.pieces if each.name == name), None)


def doors(case: Case) -> Iterator[Repair]:
    """Both scores moved by the same amount, so that the doors meet."""
    piece = _own_piece(case)
    if piece is None or not piece.scores:
        return
    one, two = _pair(case, piece)
    if one is None or two is None:
        return
    first, second = sorted((one, two), key=lambda each: each.at)
    ends = [Fraction(0), *(each.at for each in piece.scores), _length(piece, first)]
    left = first.at - max(each for each in ends if each < first.at)
    right = min(each for each in ends if each > second.at) - second.at
    by = (left + right - (second.at - first.at)) / 4
    edits = {**_moved(case, first, -by, piece), **_moved(case, second, by, piece)}
    if edits:
        title = " and ".join(dict.fromkeys(edits.values()))
        places = tuple(case.replaced(span, text) for span, text in edits.items())
        yield Repair(f"Let the doors meet: score at {title}", places, True)


def _pair(case: Case, piece: SizedPiece) -> tuple[SizedScore | None, SizedScore | None]:
    places = [case.span, *(each.span for each in case.diagnostic.related)]
    found = [each for place in places for each in piece.scores if each.span == place]
    chosen = list(dict.fromkeys(found))
    valleys = [each for each in chosen if each.direction == "valley"]
    return (valleys[0], valleys[-1]) if len(valleys) > 1 else (None, None)


def _length(piece: SizedPiece, score: SizedScore) -> Fraction:
    return piece.width if score.axis == "x" else piece.height


def _moved(case: Case, score: SizedScore, by: Fraction, piece: SizedPiece) -> dict[Span, str]:
    """The written distance of a score, moved by `by` to the right or down."""
    trail = case.trail_to(score.span)
    node = trail[-1].node if trail and score.span.file == case.span.file else None
    if not isinstance(node, tree.LineAcross) or node.times is not None:
        return {}
    whole = _length(piece, score)
    for at in node.at:
        value = at.value if isinstance(at, tree.Number) else None
        for edge in node.edges:
            is_near = edge in ("left", "top")
            if value == (score.at if is_near else whole - score.at):
                return {at.span: typed(value + (by if is_near else -by))}
    return {}


def rolled_too_wide(case: Case) -> Iterator[Repair]:
    """The section at the end is narrower: the flat piece is shorter by what is too much."""
    piece, card, head = _own_piece(case), _sized(case), case.head
    if piece is None or card is None or head is None or not piece.scores:
        return
    side = 0 if piece.scores[0].axis == "x" else 1
    for line in lines_of(head, tree.Flat):
        assert isinstance(line.node, tree.Flat)
        axis = (line.node.size.width, line.node.size.height)[side]
        for steps in range(1, 13):
            by = steps * card.nearest
            less = _length(piece, piece.scores[0]) - by
            title = f"Make the end section narrower: a flat {('width', 'height')[side]} of {typed(less)}"
            yield Repair(title, (case.replaced(axis.span, typed(less)),), among="end")
            yield from _shifted(case, piece, by, axis, less)


def _shifted(
    case: Case, piece: SizedPiece, by: Fraction, axis: tree.Expression, less: Fraction
) -> Iterator[Repair]:
    """The first section narrower: every score that is measured from there moves along."""
    edits: dict[Span, str] = {}
    for score in piece.scores:
        edits |= _moved(case, score, -by, piece)
    if edits and all(each.written_from in ("left", "top") for each in piece.scores):
        places = [case.replaced(span, text) for span, text in edits.items()]
        edit = case.replaced(axis.span, typed(less))
        yield Repair(f"Make the first section narrower by {typed(by)}", (edit, *places), among="first")


def score_across_grain(case: Case) -> Iterator[Repair]:
    """A paper whose grain runs along the other side."""
    text = case.source.text
    for related in case.diagnostic.related:
        for old, new in (("grain long", "grain short"), ("grain short", "grain long")):
            at = text.find(old, related.span.start, text.find("\n", related.span.start))
            if at >= 0:
                span = Span(case.span.file, at, at + len(old))
                yield Repair(f"Take a paper with its {new}", (case.replaced(span, new),))


# ---- poses ---------------------------------------------------------------------------------------


def no_such_score(case: Case) -> Iterator[Repair]:
    """A score that the piece has, the nearest number first."""
    line = case.line
    node = line.node if line else None
    if line is None or not isinstance(node, tree.FoldPose):
        return
    for number in sorted(range(1, 13), key=lambda each: abs(each - node.number.value)):
        yield Repair(f"Hold score {number}", (case.replaced(node.number.span, str(number)),))
    yield case.without(line)


def pose_angle(case: Case) -> Iterator[Repair]:
    """The nearest angle that there is; in `closed`, folded shut or flat."""
    line = case.line
    node = line.node if line else None
    if line is None or not isinstance(node, tree.FoldPose):
        return
    for degrees in ("180", "0", "90"):
        new = f"{case.text_of(line)[: node.degrees.span.start - line.span.start]}{degrees}"
        yield Repair(f"Write `{new}`", (case.replaced(node.degrees.span, degrees),))


def pose_torn(case: Case) -> Iterator[Repair]:
    """A line of the pose goes: its score follows the others."""
    head = case.head
    for line in reversed(lines_of(head, tree.FoldPose)) if head else ():
        yield case.without(line)


def fold_order(case: Case) -> Iterator[Repair]:
    """The lines of the pose in another order, the smallest change first."""
    head = case.head
    lines = lines_of(head, tree.FoldPose) if head else []
    texts = [case.text_of(each) for each in lines]
    orders = permutations(range(len(lines))) if len(lines) <= 6 else iter(())
    changed = sorted(orders, key=lambda order: sum(at != each for at, each in enumerate(order)))
    for order in islice(changed, 1, 20):
        new = [texts[each] for each in order]
        edits = tuple(case.replaced(line.span, text) for line, text in zip(lines, new, strict=True)
                      if case.text_of(line) != text)  # fmt: skip
        yield Repair(f"Fold in this order: {'; '.join(each.removeprefix('fold ') for each in new)}", edits)
