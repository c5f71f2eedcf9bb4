"""The bases of a generated recipe: sheets scored line by line, shipped folds, folds of its own."""

from tests.generated import lines
from tests.generated.draft import Draft, Face, Written

# Shipped folds, and for each the sections it makes as shares of its width and height, in eighths.
FOLDS = {
    "side-fold": {"front": (8, 8), "back": (8, 8)},
    "gate": {"left-door": (4, 8), "back": (8, 8), "right-door": (4, 8)},
    "double-gate": {"left-flap": (2, 8), "left-door": (4, 8), "back": (8, 8), "right-flap": (2, 8)},
    "tent": {"front": (8, 8), "back": (8, 8)},
    "z-fold": {"front": (8, 8), "middle": (8, 8), "back": (8, 8)},
    "upright-gate": {"upper-door": (8, 4), "back": (8, 8), "lower-door": (8, 4)},
    "short-front": {"front": (6, 8), "back": (8, 8)},
}
PARTS = (("front", "back"), ("left-part", "back", "right-part"), ("one", "two", "three", "four"),
         ("section-1", "section-2"), ())  # fmt: skip


def base(draft: Draft) -> Written:
    name = draft.name()
    draft.bases.append(name)
    line = f"base {name}" + (f" from {draft.chance.choice(draft.papers)}" if draft.often(0.9) else "")
    if draft.often(0.5):
        return Written(line, (_shipped_fold(draft), *_finish(draft)))
    face = Face(
        name, inches(draft, draft.chance.choice((8, 10, 12))), inches(draft, draft.chance.choice((4, 5, 6)))
    )
    parts = draft.chance.choice(PARTS)
    block = [Written(f"flat {draft.length(face.width)} x {draft.length(face.height)}")]
    block += lines.scored_lines(draft, face, parts)
    draft.scores = len(parts) - 1
    block += [Written(maker(draft, face)) for maker in (lines.slit, lines.window) if draft.often(0.1)]
    sections = [Face(part, face.width // len(parts), face.height) for part in parts]
    draft.pieces.append(face)
    draft.faces += sections or [face]
    if len(parts) > 2 and draft.often(0.1):
        block.append(Written(f"glue {parts[0]} on {parts[2]}" + (" with tape" if draft.often(0.5) else "")))
    return Written(line, (*block, *_finish(draft)))


def _shipped_fold(draft: Draft) -> Written:
    fold = draft.chance.choice(list(FOLDS))
    width, height = inches(draft, draft.chance.choice((4, 5))), inches(draft, draft.chance.choice((4, 5, 6)))
    draft.faces += [Face(part, width * w // 8, height * h // 8) for part, (w, h) in FOLDS[fold].items()]
    draft.pieces.append(Face(draft.bases[0], width, height))
    return Written(f"fold {fold}, width {draft.length(width)}, height {draft.length(height)}")


def _finish(draft: Draft) -> list[Written]:
    said = [lines.corners(draft)] if draft.often(0.1) else []
    said += ["count 2"] if draft.often(0.03) else []
    said += [draft.chance.choice(lines.WORK)(draft) for _ in draft.some(1)]
    return list(map(Written, said))


def structure_and_base(draft: Draft) -> list[Written]:
    """A fold of the recipe's own, and a base that uses it."""
    fold, name, size = draft.name(), draft.name(), inches(draft, 4)
    draft.bases.append(name)
    draft.pieces.append(Face(name, size, size))
    block = _wrapped_fold() if draft.often(0.1) else _own_fold(draft, fold, size)
    draft.faces += [
        Face("left-door", size // 2, size),
        Face("back", size, size),
        Face("right-door", size // 2, size),
    ]
    use = Written(f"fold {fold}, width {draft.length(size)}, height {draft.length(size)}")
    return [Written(f"structure {fold}", tuple(block)),
            Written(f"base {name} from {draft.chance.choice(draft.papers)}", (use,))]  # fmt: skip


def _wrapped_fold() -> list[Written]:
    return [Written("ask width, height"), Written("fold gate, width width, height height")]


def _own_fold(draft: Draft, name: str, size: int) -> list[Written]:
    shares = ("width / 4", "min(width, height) / 4", f"{draft.number(16)}", "width * 3 / 4 - 1/8")
    block = [
        f"ask width, height, flap = {draft.chance.choice(shares)}",
        "flat 2 * width + 2 * flap x height",
        f"score flap from both sides{lines.line_options(draft, Face(name, size, size))}",
        "score flap + width / 2 from both sides, valley",
        "sections left-flap, left-door, back, right-door, right-flap",
    ]
    if draft.often(0.2):
        block += [f"window width / 8 x {draft.length(4)} at ({draft.length(4)}, height / 4)",
                  f"cut {draft.length(4)} from top, between flap and 2 * flap", lines.corners(draft),
                  "glue left-flap on back with tape"]  # fmt: skip
    written = [Written(line) for line in block]
    if draft.often(0.4):
        written.append(_piece_of_fold(draft, name))
    if draft.often(0.3):
        written.append(Written("pose standing", (Written("fold 2 at 60"),)))
    return written


def _piece_of_fold(draft: Draft, name: str) -> Written:
    if draft.often(0.4):
        return Written(f"panel {name}-mat on back", (Written("border 1/8"), Written("score 1/2 from left")))
    word = lines.shape_word(draft)
    size = "diameter 1" if word == "circle" else "size 1 x 2"
    return Written(f"{word} {name}-dot on back", (Written(size),))


def inches(draft: Draft, count: int) -> int:
    """So many inches in marks, or about that in millimetres."""
    return count * (16 if draft.unit == "inch" else 25)
