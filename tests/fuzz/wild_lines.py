"""One node for each form of a line, from the tree's own kinds; any value or name in it may be hostile."""

from collections.abc import Callable
from fractions import Fraction

from cardrecipe.syntax import tree
from cardrecipe.syntax.words import ADHESIVES, BASIS_KINDS, PAPER_KINDS, SHAPES, SUPPLY_KINDS
from tests.fuzz.wild import NOWHERE, TEXTS, Wild

Maker = Callable[[Wild], tree.Node]
SMALL = ("1/16", "1/8", "1/4", "1/2")
LARGE = ("1", "3/2", "2", "3", "17/4", "5")

# ---- what is declared ----------------------------------------------------------------------------


def facts(wild: Wild) -> tree.PaperFacts:
    papers = ("17/2", "11"), ("12", "12")
    sizes = tuple(wild.size(*each) for each in papers[: wild.one((0, 1, 1, 2))])
    prices = tuple(wild.count(1, 2, 3) for _ in sizes) if wild.often(0.3) else ()
    weight = tree.WeightFact(NOWHERE, wild.count(80, 150, 270), "gsm", None)
    if wild.often(0.3):
        weight = tree.WeightFact(NOWHERE, wild.count(80, 110), "lb", wild.kind(BASIS_KINDS))
    return tree.PaperFacts(
        NOWHERE, wild.kind(PAPER_KINDS), wild.short(TEXTS), sizes,
        weight=weight if wild.often(0.5) else None,
        thick=wild.perhaps(0.2, lambda: tree.Number(NOWHERE, Fraction(3, 250), "in")),
        grain=wild.perhaps(0.2, lambda: wild.kind(("long", "short"))),
        one_way=wild.often(0.1),
        color=wild.perhaps(0.3, lambda: wild.short(("#aabbcc", "#000000"))),
        prices=prices,
        pack=wild.perhaps(0.2, lambda: wild.count(10, 25)),
    )  # fmt: skip


def paper(wild: Wild) -> tree.Node:
    return tree.PaperLine(wild.word(wild.fresh("paper")), facts(wild))


def supply(wild: Wild) -> tree.Node:
    return tree.SupplyLine(wild.word(wild.fresh("supply")), wild.kind(SUPPLY_KINDS), wild.short(TEXTS))


def let(wild: Wild) -> tree.Node:
    return tree.Let(wild.word(wild.fresh("let")), wild.length(wild.one(SMALL)))


def units(wild: Wild) -> tree.Node:
    nearest = wild.perhaps(
        0.8, lambda: wild.number(*(("1/16", "1/8") if wild.unit == "inch" else ("1", "1/2")))
    )
    return tree.Units(wild.word(wild.unit) if not wild.is_hostile() else wild.kind(("mm",)), nearest)


def default_border(wild: Wild) -> tree.Node:
    return (
        border(wild)
        if wild.is_hostile()
        else tree.Border((tree.BorderEntry(NOWHERE, wild.length("1/8"), ()),))
    )


def border(wild: Wild) -> tree.Node:
    def entry() -> tree.BorderEntry:
        edges = tuple(wild.chance.sample(("left", "right", "top", "bottom"), wild.one((0, 0, 1, 2))))
        return tree.BorderEntry(NOWHERE, wild.length(wild.one(SMALL)), edges)

    return tree.Border(tuple(entry() for _ in wild.some(3 if wild.is_hostile() else 1, 1)))


# ---- sheets --------------------------------------------------------------------------------------


def flat(wild: Wild) -> tree.Node:
    return tree.Flat(wild.size(wild.one(("8", "10", "12")), wild.one(("4", "5", "6"))))


def across(wild: Wild) -> tree.Node:
    edges = wild.one((("left",), ("right",), ("top",), ("bottom",), ("left", "right"), ("top", "bottom")))
    at = tuple(wild.length(wild.one(LARGE[:4])) for _ in wild.some(2, 1))
    times = None
    if wild.often(0.15):
        edges, at, times = (wild.edge(),), at[:1], wild.count(1, 2, 4)
    direction = wild.perhaps(0.3, lambda: wild.one(("valley", "mountain", "by turns")))
    return tree.LineAcross(wild.one(("score", "score", "cut")), at, edges, direction, between(wild), times)


def slanted(wild: Wild) -> tree.Node:
    points = (wild.point(*(wild.one(("0", "1", "2", "4")) for _ in range(2))) for _ in range(2))
    return tree.LineSlanted(
        wild.one(("score", "cut")), *points, wild.perhaps(0.3, lambda: "valley"), between(wild)
    )


def between(wild: Wild) -> tuple[tree.Expression, tree.Expression] | None:
    return wild.perhaps(0.15, lambda: (wild.length("1"), wild.length("3")))


def window(wild: Wild) -> tree.Node:
    return tree.Window(
        wild.size(wild.one(LARGE[:3]), wild.one(LARGE[:3])), wild.point(wild.one(SMALL), "1/2")
    )


def corners(wild: Wild) -> tree.Node:
    return tree.Corners(wild.length(wild.one(SMALL)))


def sections(wild: Wild) -> tree.Node:
    names = [wild.fresh("section") for _ in wild.some(4, 1)]
    wild.names["face"] += names
    return tree.Sections(tuple(map(wild.word, names)))


def glued_sections(wild: Wild) -> tree.Node:
    pairs = tuple(
        tree.Glued(wild.word(wild.known("section")), wild.reference("section")) for _ in wild.some(2, 1)
    )
    return tree.GlueLine(wild.perhaps(0.5, lambda: wild.kind(ADHESIVES)), sections=pairs)


# ---- sizes, places, work, fixing -----------------------------------------------------------------


def size(wild: Wild) -> tree.Node:
    return tree.SizeLine(wild.size(wild.one(LARGE), wild.one(LARGE)))


def measure(*words: str) -> Maker:
    return lambda wild: tree.Measure(wild.one(words), wild.length(wild.one(LARGE)))


def turned(wild: Wild) -> tree.Node:
    return tree.Measure("turned", wild.number("45", "90", "15", "180"))


def place(wild: Wild) -> tree.Node:
    edges = [wild.one(("left", "right")), wild.one(("top", "bottom"))][: wild.one((1, 2))]
    edges = [wild.edge() for _ in edges] if wild.is_hostile() else edges
    return tree.Place(tuple(tree.FromEdge(NOWHERE, wild.length(wild.one(SMALL)), edge) for edge in edges))


def at(wild: Wild) -> tree.Node:
    return tree.At(tree.FromEdge(NOWHERE, wild.length(wild.one(LARGE[:3])), wild.edge()))


def repeat(wild: Wild) -> tree.Node:
    gap = wild.perhaps(0.5, lambda: wild.length(wild.one(SMALL)))
    return tree.Repeat(wild.count(2, 3), wild.one(("across", "down")), gap)


def flag(word: str) -> Maker:
    return lambda _: tree.Flag(word)


def work(wild: Wild) -> tree.Node:
    ink = wild.word(wild.known("supply"))
    inks = () if not wild.names["supply"] else (
        tree.WorkLine("color", using=(ink,)), tree.WorkLine("ink-edges", using=(ink,)),
        tree.WorkLine("stamp", wild.text(), using=(ink,) * wild.one((1, 1, 2))),
    )  # fmt: skip
    return wild.one((
        *inks, tree.WorkLine("trim"), tree.WorkLine("stamp", wild.text()),
        tree.WorkLine("emboss", wild.text(), middle=wild.perhaps(0.5, lambda: wild.length("1"))),
        *(tree.WorkLine(verb, wild.text()) for verb in ("die", "punch", "foil", "write", "do")),
        tree.WorkLine("add", wild.perhaps(0.5, wild.text), item=wild.kind(("ribbon", "gem", "cord")),
                      long=wild.perhaps(0.5, lambda: wild.length("3"))),
    ))  # fmt: skip


def glue(wild: Wild) -> tree.Node:
    adhesive = wild.kind(ADHESIVES)
    return wild.one((
        tree.GlueLine(adhesive), tree.GlueLine(adhesive, only_on=wild.reference("face")),
        tree.GlueLine(wild.word("foam"), wild.length("1/16")), tree.GlueLine(all_over=True),
        tree.GlueLine(along=(wild.edge(), wild.edge())[: wild.one((1, 2))]),
    ))  # fmt: skip


def count(wild: Wild) -> tree.Node:
    return tree.Amount("count", wild.count(1, 2, 3))


# ---- notes, poses, variants, classes -------------------------------------------------------------


def tip(wild: Wild) -> tree.Node:
    return tree.Tip(None, wild.text())


def note(wild: Wild) -> tree.Node:
    if wild.often(0.5):
        return tree.Tip(wild.reference("piece"), wild.text())
    return tree.StepLine(wild.one(("after", "before")), wild.reference("piece"), wild.text())


def fold_pose(wild: Wild) -> tree.Node:
    base = wild.perhaps(0.2, lambda: wild.word(wild.known("base")))
    return tree.FoldPose(wild.count(1), base, wild.number("60", "90", "180", "0"))


def about(wild: Wild) -> tree.Node:
    return tree.About(wild.text())


def change(wild: Wild) -> tree.Node:
    sizes = ("width", "height", "border", "diameter", "turned", "count", "flat", "makes")
    target = tree.Reference(NOWHERE, (wild.known("piece"), wild.one(sizes))[: 1 if wild.is_hostile() else 2])
    return wild.one((
        tree.Replace(wild.word(wild.known("paper")), facts(wild)), tree.Drop(wild.reference("piece")),
        tree.Set(target, wild.length(wild.one(LARGE))),
        tree.Set(tree.Reference(NOWHERE, (wild.known("let"),)), wild.length("1/4")),
    ))  # fmt: skip


def make(wild: Wild) -> tree.Node:
    variant = wild.perhaps(0.2, lambda: wild.short(("Harvest",)))
    return tree.Make(wild.count(1, 2, 12), wild.short(("tag.recipe", "other.recipe")), variant,
                     wild.perhaps(0.3, lambda: wild.count(1, 2)))  # fmt: skip


def have(wild: Wild) -> tree.Node:
    number = wild.perhaps(0.7, lambda: wild.count(1, 3))
    sheet = wild.size("6", "8") if number and wild.often(0.5) else None
    return tree.Have(
        wild.one((wild.word(wild.known("paper")), wild.short(("Ink blue", "Ink")))), number, sheet
    )


SHEET = (across, slanted, window, corners, glued_sections)
PIECE = (work, glue, flag("loose"), count, tip)
PANEL = (border, place, turned, repeat, flag("overhangs"), *PIECE)
LINES: dict[str, tuple[Maker, ...]] = {  # what may stand in each block; the head has its units already
    "recipe": (default_border, about, lambda wild: tree.Amount("makes", wild.count(1, 2, 30)),
               lambda wild: tree.EnvelopeWanted(wild.kind(("us-a2", "us-a7", "iso-c6")))),
    "base": (*SHEET, work, count, tip),
    "panel": (*PANEL, *SHEET),
    "shape": (*PANEL, corners),
    "band": (measure("overlap"), at, *PIECE),
    "structure": (*SHEET, flat, sections),
    "pose": (fold_pose,),
    "variant": (change, change, note, let, paper, supply, about),
    "class": (make, make, have, about, units, lambda wild: tree.Amount("spare", wild.count(1, 2))),
    "top": (paper, supply, let, lambda wild: tree.Use(wild.short(("papers.recipe",)))),
    "end": (paper, let, note, note),
}  # fmt: skip
SHAPE_WORDS = SHAPES
