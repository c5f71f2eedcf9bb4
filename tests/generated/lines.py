"""One generated line for each form of the language, sensible for the draft it stands in."""

from collections.abc import Callable

from cardrecipe.syntax.words import ADHESIVES, BASIS_KINDS, SHAPES
from tests.generated.draft import Draft, Face, Written

EDGES = ("left", "right", "top", "bottom")

# ---- the head and what is declared ---------------------------------------------------------------


def units(draft: Draft) -> str:
    nearest = draft.chance.choice(
        ("1/16", "1/16", "1/8", "0.0625") if draft.unit == "inch" else ("1", "1", "1/2", "0.5")
    )
    return f"units {draft.unit}" + (f" nearest {nearest}" if draft.often(0.8) else "")


def head_border(draft: Draft) -> str:
    draft.border = True
    return f"border {draft.length(draft.marks(1, 4))}"


def makes(draft: Draft) -> str:
    return f"makes {draft.chance.choice((1, 2, 4, 6, 30))}"


def envelope(draft: Draft) -> str:
    names = ("us-a2", "us-a6", "us-a7", "us-10", "iso-c6", "iso-c5", "square-6in")
    return f"envelope {draft.chance.choice(names)}"


def about(draft: Draft) -> str:
    return f"about {draft.block() if draft.often(0.6) else draft.text()}"


def let(draft: Draft) -> str:
    name, marks = draft.name(), draft.marks(1, 6)
    line = f"let {name} = {draft.length(marks)}"
    draft.lets.append((name, marks))
    return line


def paper(draft: Draft) -> str:
    name = draft.name()
    draft.papers.append(name)
    return f"paper {name} is {paper_facts(draft)}"


def paper_facts(draft: Draft) -> str:
    """A paper's kind, title and facts, in any order that the language allows."""
    kind = draft.chance.choice(("cardstock", "cardstock", "patterned", "plain", "vellum", "acetate"))
    sizes = ("8 1/2 x 11", "12 x 12", "8 1/2 x 11 or 12 x 12") if draft.unit == "inch" else (
        "210 x 297", "305 x 305", "210 x 297 or 297 x 420")  # fmt: skip
    size = draft.chance.choice(sizes)
    prices = "0.40 or 0.75" if " or " in size else "0.40"
    weight = draft.chance.choice(("150 gsm", "270 gsm", f"80 lb {draft.chance.choice(BASIS_KINDS)}"))
    facts = [
        weight,
        "thick 0.012 in",
        f"grain {draft.chance.choice(('long', 'short'))}",
        f'color "#{draft.chance.randrange(16**6):06x}"',
        f"price {prices}",
        f"pack of {draft.chance.choice((10, 20, 25))}",
        *(["one-way"] if kind == "patterned" else []),
    ]
    chosen = draft.chance.sample(facts, draft.chance.randint(0, 4))
    said = ", ".join([size, *chosen] if draft.often(0.8) or any("or" in each for each in chosen) else chosen)
    comma = "," if said and draft.often(0.1) else ""
    return f"{kind} {draft.text()}{comma} {said}".rstrip()


def supply(draft: Draft) -> str:
    name = draft.name()
    draft.supplies.append(name)
    kind = draft.chance.choice(("ink", "ink", "marker", "stamp", "die", "ribbon", "cord", "gem", "tool"))
    return f"supply {name} is {kind} {draft.text()}"


def have(draft: Draft) -> str:
    """What a class has already: sheets or offcuts of a paper, or a supply by its name or title."""
    name = draft.name() if draft.often(0.8) else draft.text()
    sheets = draft.chance.choice(
        ("", " 1 sheet", " 3 sheets", f" 2 sheets {draft.length(90)} x {draft.length(120)}")
    )
    return f"have {name}{sheets}"


def use(draft: Draft) -> str:
    return f'use "{draft.chance.choice(("papers", "shelf", "more/folds"))}.recipe"'


# ---- sheets that are scored ----------------------------------------------------------------------


def scored_lines(draft: Draft, face: Face, parts: tuple[str, ...]) -> list[Written]:
    """Lines across `face` that leave equal parts, called `parts` from the left."""
    step = face.width // max(1, len(parts))
    way = draft.chance.randrange(4)
    if way == 0 and len(parts) > 1:
        options = draft.chance.choice(("", ", by turns", " by turns", ", mountain"))
        edge = draft.chance.choice(("left", "right"))
        lines = [f"score every {draft.length(step)}, {len(parts) - 1} times from {edge}{options}"]
    elif way == 1 and len(parts) == 3:
        lines = [f"score {draft.length(step)} from both sides{line_options(draft, face)}"]
    elif way == 2 and len(parts) > 1:
        at = ", ".join(draft.length(step * n) for n in range(1, len(parts)))
        lines = [f"score {at} from left{line_options(draft, face)}"]
    else:
        lines = [
            f"score {draft.length(step * n)} from left{line_options(draft, face)}"
            for n in range(1, len(parts))
        ]
    named = [f"sections {', '.join(parts)}"] if parts and not parts[0].startswith("section-") else []
    return [Written(line) for line in [*lines, *named]]


def line_options(draft: Draft, face: Face, slit: bool = False) -> str:
    """The direction and the stretch of a line, each now and then, with and without a comma."""
    said = [draft.chance.choice(("valley", "mountain"))] if draft.often(0.4) and not slit else []
    if slit or draft.often(0.05):
        said.append(f"between {draft.length(face.height // 4)} and {draft.length(face.height // 2)}")
    draft.chance.shuffle(said)
    return "".join(f"{',' if draft.often(0.8) else ''} {each}" for each in said)


def slit(draft: Draft, face: Face) -> str:
    """A slit or a slanted line somewhere inside `face`."""
    if draft.often(0.6):
        edges = draft.chance.choice(("left", "right", "both sides"))
        return (
            f"cut {draft.length(max(1, face.width // 8))} from {edges}{line_options(draft, face, slit=True)}"
        )
    if draft.often(0.2):
        edges = draft.chance.choice(("top", "top and bottom"))
        return f"score {draft.length(max(1, face.height // 2))} from {edges}"
    word = draft.chance.choice(("score", "cut"))
    ends = [
        f"({draft.length(draft.marks(0, face.width))}, {draft.length(draft.marks(0, face.height))})"
        for _ in range(2)
    ]
    return f"{word} from {ends[0]} to {ends[1]}" + (line_options(draft, face) if word == "score" else "")


def window(draft: Draft, face: Face) -> str:
    width, height = max(1, face.width // 10), max(1, face.height // 4)
    x, y = draft.length(draft.marks(1, face.width // 9)), draft.length(draft.marks(1, face.height // 3))
    return f"window {draft.length(width)} x {draft.length(height)} at ({x}, {y})"


def corners(draft: Draft) -> str:
    return f"corners round {draft.length(draft.marks(1, 4))}"


# ---- where and how large -------------------------------------------------------------------------


def border(draft: Draft, face: Face) -> str:
    said = [draft.length(draft.marks(1, max(1, min(face.width, face.height) // 10)))]
    if draft.often(0.3):
        edges = draft.chance.sample(EDGES, draft.chance.randint(1, 2))
        said.append(f"{draft.length(draft.marks(1, 4))} {' '.join(edges)}")
    return f"border {', '.join(said)}"


def size(draft: Draft, width: int, height: int) -> str:
    said = [draft.length(width), draft.length(height)]
    if draft.often(0.1 if draft.border else 0.01):
        said[draft.chance.randrange(2)] = "?"
    return f"size {said[0]} x {said[1]}"


def place(draft: Draft, face: Face) -> str:
    across = f"{draft.length(draft.marks(0, face.width // 6))} from {draft.chance.choice(('left', 'right'))}"
    down = f"{draft.length(draft.marks(0, face.height // 6))} from {draft.chance.choice(('top', 'bottom'))}"
    return f"place {draft.chance.choice((across, down, f'{across}, {down}'))}"


def repeat(draft: Draft) -> str:
    gap = f", gap {draft.length(draft.marks(1, 3))}" if draft.often(0.5) else ""
    return f"repeat {draft.chance.choice((2, 3))} {draft.chance.choice(('across', 'down'))}{gap}"


def turned(draft: Draft) -> str:
    return f"turned {draft.chance.choice(('45', '90', '22.5', '22 1/2', '180 / 4'))}"


# ---- work, fixing, notes -------------------------------------------------------------------------


def inks(draft: Draft) -> str:
    known = draft.supplies or ["coal"]
    return ", ".join(draft.chance.sample(known, min(len(known), draft.chance.choice((1, 1, 2)))))


WORK: tuple[Callable[[Draft], str], ...] = (
    lambda draft: f"stamp {draft.any_text()}" + (f" in {inks(draft)}" if draft.often(0.7) else ""),
    lambda draft: f"emboss {draft.text()}" + (f" on middle {draft.length(16)}" if draft.often(0.4) else ""),
    lambda draft: f"color with {inks(draft)}",
    lambda draft: f"die {draft.text()}",
    lambda draft: f"punch {draft.text()}",
    lambda draft: "trim by hand",
    lambda draft: f"foil {draft.text()}",
    lambda draft: f"ink edges with {inks(draft).partition(',')[0]}",
    lambda draft: f"write {draft.any_text()}",
    lambda draft: (
        f"add {draft.chance.choice(('ribbon', 'cord', 'gem'))}"
        + (f" {draft.text()}" if draft.often(0.7) else "")
        + (f" {draft.length(24)} long" if draft.often(0.5) else "")
    ),
    lambda draft: f"do {draft.any_text()}",
    lambda draft: f"tip {draft.any_text()}",
)


def glue(draft: Draft, host: str | None) -> str:
    way = draft.chance.randrange(5)
    if way == 0:
        return f"glue along {', '.join(draft.chance.sample(EDGES, draft.chance.randint(1, 3)))}"
    if way == 1:
        return "glue all over"
    said = f"glue with {draft.chance.choice(ADHESIVES)}"
    if draft.often(0.4):
        said += f" {draft.chance.choice(('2 mm', '1/16 in', draft.number(1)))} thick"
    return said + (f" only on {host}" if host and draft.often(0.3) else "")


def note(draft: Draft) -> str:
    """A tip or a step about some piece, at the left edge."""
    name = draft.chance.choice(draft.pieces or draft.faces).name
    if draft.often(0.5):
        return f"tip on {name} {draft.any_text()}"
    return f"step {draft.chance.choice(('after', 'before'))} {name} {draft.any_text()}"


def shape_word(draft: Draft) -> str:
    return draft.chance.choice(SHAPES)
