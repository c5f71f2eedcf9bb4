"""A seed in, the text of a whole recipe out: every statement of the language, names that exist.

The text is canonical (`cardrecipe format` leaves it as it is), and its form has no mistakes. Most of these
cards can be solved and folded; some have the mistakes of meaning that people make: a piece too large, a paper
that nothing uses.
"""

from tests.generated import lines
from tests.generated.bases import FOLDS, base, inches, structure_and_base
from tests.generated.draft import Draft, Face, Written, as_text


def recipe(seed: int, pieces: int = 6) -> str:
    """The recipe of that seed, with at most so many pieces besides its base."""
    draft = Draft(seed)
    if draft.often(0.04):
        return as_text(_class_file(draft))
    head = [_head(draft), *(Written(lines.let(draft)) for _ in draft.some(2))]
    if draft.often(0.05):
        head.append(Written(lines.use(draft)))
    declared = [Written(lines.paper(draft)) for _ in draft.some(3, 1)]
    declared += [Written(lines.supply(draft)) for _ in draft.some(3)]
    made = structure_and_base(draft) if draft.often(0.2) else [base(draft)] if draft.often(0.9) else []
    made += [_piece(draft) for _ in draft.some(pieces)]
    after = [Written(lines.note(draft)) for _ in draft.some(2) if draft.faces]
    after += [_pose(draft)] if draft.often(0.2) and draft.bases else []
    after += [_variant(draft, at) for at in draft.some(2)]
    if draft.often(0.1):
        made = draft.chance.sample(made, len(made))
    return as_text([*head, *declared, *made, *after])


def _head(draft: Draft) -> Written:
    said = [lines.units(draft)]
    options = (lines.head_border, lines.makes, lines.envelope, lines.about)
    said += [
        option(draft)
        for option, share in zip(options, (0.7, 0.3, 0.3, 0.4), strict=True)
        if draft.often(share)
    ]
    return Written(f"recipe {draft.text()}", tuple(map(Written, said)))


# ---- pieces --------------------------------------------------------------------------------------


def _piece(draft: Draft) -> Written:
    if draft.bases and draft.often(0.15):
        return _band(draft)
    word = "panel" if draft.often(0.6) else lines.shape_word(draft)
    name = draft.name()
    start = f"{word} {name}" + (f" from {draft.chance.choice(draft.papers)}" if draft.often(0.9) else "")
    if not draft.faces or draft.often(0.05):
        face = Face(name, draft.marks(16, 60), draft.marks(16, 60))
        draft.pieces.append(face)
        return Written(start, tuple(_sized(draft, word, face, face, loose=True)))
    host = draft.chance.choice(draft.faces)
    face = Face(
        name,
        max(1, host.width - draft.marks(2, host.width // 2)),
        max(1, host.height - draft.marks(2, host.height // 2)),
    )
    line = f"{start} {_on(draft, host, word)}"
    block = _sized(draft, word, face, host)
    if draft.often(0.01) and word == "panel":
        block.append(Written("fold side-fold"))
    elif draft.often(0.05) and word == "panel":
        block += lines.scored_lines(draft, face, (f"{name}-a", f"{name}-b"))
        block += [Written(lines.slit(draft, face)), Written(lines.window(draft, face))]
        block = [each for each in block if not each.line.startswith(("glue", "corners"))]
        block += [Written(lines.corners(draft)), Written(f"glue {name}-a on {host.name} with liquid")]
    draft.faces.append(face)
    draft.pieces.append(face)
    return Written(line, tuple(block))


def _on(draft: Draft, host: Face, word: str) -> str:
    if word == "panel" and host in draft.pieces and draft.often(0.2):
        return f"under {host.name}"
    alike = [each for each in draft.faces if each[1:] == host[1:] and each != host]
    side = draft.chance.choice(("", "", "", " outside", " inside"))
    sections = {part for fold in FOLDS.values() for part in fold}
    dotted = f"{draft.bases[0]}." if draft.bases and host.name in sections and draft.often(0.1) else ""
    also = alike[: draft.chance.choice((0, 0, 1))]
    return "on " + ", ".join(f"{each}{side}" for each in (dotted + host.name, *(face.name for face in also)))


def _sized(draft: Draft, word: str, face: Face, host: Face, loose: bool = False) -> list[Written]:
    """The block of a piece: its size, its place, what is done to it, how it is fixed."""
    said = []
    if word == "circle":
        said.append(f"diameter {draft.length(min(face[1:]))}")
    elif word != "panel" or loose or draft.often(0.3):
        said.append(lines.size(draft, face.width, face.height))
        said += ["border 1/8"] if draft.often(0.01) else []
    elif not draft.border or draft.often(0.3):
        said.append(lines.border(draft, host))
    options = [(0.2, lambda: lines.place(draft, host)), (0.1, lambda: lines.turned(draft)),
               (0.08, lambda: lines.repeat(draft)), (0.2, lambda: "overhangs"), (0.05, lambda: "count 3"),
               (0.05, lambda: lines.corners(draft))]  # fmt: skip
    said += [make() for share, make in options if draft.often(share)]
    said += [draft.chance.choice(lines.WORK)(draft) for _ in draft.some(2)]
    if loose:
        said.append("loose")
    elif draft.often(0.3):
        said.append(lines.glue(draft, host.name))
    return list(map(Written, said))


def _band(draft: Draft) -> Written:
    name = draft.name()
    around = f"around {draft.chance.choice(draft.bases)}" + (" downward" if draft.often(0.2) else "")
    said = [f"width {draft.length(draft.marks(12, 24))}"]
    options = (f"overlap {draft.length(draft.marks(8, 16))}", f"length {draft.length(inches(draft, 11))}", "")
    said += [each for each in (draft.chance.choice(options),) if each]
    if draft.often(0.2):
        said.append(
            f"at {draft.length(draft.marks(4, 20))} from {draft.chance.choice(('top', 'left', 'bottom'))}"
        )
    said += [draft.chance.choice(lines.WORK)(draft) for _ in draft.some(1)]
    said += [draft.chance.choice((lines.glue(draft, None), "count 2", "loose"))] if draft.often(0.5) else []
    draft.faces.append(Face(name, inches(draft, 4), inches(draft, 1)))
    draft.pieces.append(draft.faces[-1])
    return Written(
        f"band {name} from {draft.chance.choice(draft.papers)} {around}", tuple(map(Written, said))
    )


# ---- poses, variants, classes --------------------------------------------------------------------


def _pose(draft: Draft) -> Written:
    name = draft.chance.choice(("standing", "closed", "half-open"))
    of = f" of {draft.bases[0]}" if draft.often(0.2) else ""
    angles = ("60", "60", "180", "90 / 2", "-(-30)")
    numbers = range(1, max(2, draft.scores + 1))
    folds = tuple(Written(f"fold {number}{of} at {draft.chance.choice(angles)}") for number in numbers)
    return Written(f"pose {name}", folds)


def _variant(draft: Draft, at: int) -> Written:
    pieces = [face for face in draft.pieces if face.name not in draft.bases]
    said = [lines.about(draft)] if draft.often(0.5) else []
    if draft.often(0.5):
        said.append(f"replace {draft.chance.choice(draft.papers)} with {lines.paper_facts(draft)}")
    for face in draft.chance.sample(pieces, min(len(pieces), draft.chance.choice((0, 1, 2)))):
        edge, value = draft.chance.choice((("width", face.width), ("height", face.height), ("border", 2)))
        said.append(
            f"set {face.name}.{edge} {draft.length(value)}" if draft.often(0.6) else f"drop {face.name}"
        )
    options = (lines.let, lines.paper, lines.supply, *([lines.note] if draft.pieces else []))
    written = [Written(line) for line in said]
    written += [Written(draft.chance.choice(options)(draft)) for _ in draft.some(1)]
    written += [_piece(draft) for _ in draft.some(1)]
    return Written(f'variant "{("Harvest", "Plain", "For a class")[at]}"', tuple(written))


def _class_file(draft: Draft) -> list[Written]:
    said = [lines.units(draft)] if draft.often(0.3) else []
    said += [lines.about(draft)] if draft.often(0.3) else []
    for _ in draft.some(3, 1):
        variant = ' variant "Harvest"' if draft.often(0.4) else ""
        spare = f", {draft.chance.choice((1, 2))} spare" if draft.often(0.3) else ""
        said.append(f'make {draft.chance.choice((1, 12, 30))} of "night-market.recipe"{variant}{spare}')
    said += [f"spare {draft.chance.choice((1, 2))}"] if draft.often(0.3) else []
    said += [lines.have(draft) for _ in draft.some(3)]
    return [Written(f"class {draft.text()}", tuple(map(Written, said)))]
