"""A seed in, a recipe's tree out: a card that could be made, with as much that is hostile as chance says.

The trees are built of the tree's own nodes, not of the grammar's text: what nobody thought of as text
may still be a tree, and what is printed of it must be read back as that tree.
"""

from collections.abc import Sequence

from cardrecipe.library.folds import fold_names
from cardrecipe.syntax import tree
from cardrecipe.syntax.words import BLOCK_OF
from tests.fuzz.first_texts import asked_by, sections_of
from tests.fuzz.printed import printed
from tests.fuzz.wild import NOWHERE, Wild
from tests.fuzz.wild_lines import (
    LINES,
    SHAPE_WORDS,
    Maker,
    across,
    facts,
    flat,
    measure,
    sections,
    size,
    slanted,
    supply,
    units,
)

TAG = """recipe "Tag"
  units inch nearest 1/16
paper ink is cardstock "Ink blue" 12 x 12
rectangle tag from ink
  size 2 x 3
  loose
"""
FILES = {
    "tag.recipe": TAG,
    "other.recipe": TAG.replace("2 x 3", "3 x 3") + 'variant "Harvest"\n  set tag.width 4\n',
    "papers.recipe": 'paper shared is plain "Shared" 8 1/2 x 11\n',
}


def tree_text(seed: int) -> str:
    """The recipe of that seed, as text."""
    return printed(statements(seed))


def statements(seed: int) -> tuple[tree.Statement, ...]:
    """The statements of a recipe, or now and then of a class."""
    wild = Wild(seed)
    if wild.often(0.03):
        return (_block(wild, tree.ClassHead(wild.text()), some_of(wild, "class", 5)),)
    head = _block(wild, tree.Recipe(wild.text()), [units(wild), *some_of(wild, "recipe", 3)])
    declared = [_alone(tree.PaperLine(wild.word(wild.fresh("paper")), facts(wild))) for _ in wild.some(3, 1)]
    declared += [_alone(supply(wild)) for _ in wild.some(2)]
    declared += [_alone(node) for node in some_of(wild, "top", 3)]
    made = [*_structure(wild), *_base(wild), *(_piece(wild) for _ in wild.some(5))]
    after = [_alone(node) for node in some_of(wild, "end", 1)] if wild.names["piece"] else []
    if wild.often(0.2):
        after.append(_block(wild, tree.PoseLine(wild.word("standing")), some_of(wild, "pose", 3)))
    after += [_variant(wild, title) for title in ("Harvest", "Plain")[: wild.one((0, 0, 0, 1, 2))]]
    found = [head, *declared, *made, *after]
    if wild.is_hostile():
        wild.chance.shuffle(found)
    return tuple(_crossed(wild, found))


def some_of(wild: Wild, place: str, most: int) -> list[tree.Node]:
    """Lines that may stand in `place`."""
    makers: Sequence[Maker] = LINES[place]
    if wild.is_hostile():
        return [wild.one(makers)(wild) for _ in wild.some(most)]
    return [make(wild) for make in wild.chance.sample(makers, min(len(makers), len(wild.some(most))))]


# ---- pieces --------------------------------------------------------------------------------------


def _base(wild: Wild) -> list[tree.Statement]:
    if wild.often(0.06):
        return []
    header = tree.PieceHeader("base", wild.word(wild.fresh("base")), wild.perhaps(0.95, lambda: _paper(wild)))
    wild.names["piece"].append(header.name.text)
    wild.names["face"].append(header.name.text)
    if wild.often(0.5):
        name = (
            wild.word(wild.known("fold"))
            if wild.names["fold"] and wild.often(0.9)
            else wild.kind(fold_names())
        )
        given = tuple(tree.Argument(wild.word(asked), wild.length(value))
                      for asked, value in (("width", wild.one(("4", "17/4"))), ("height", wild.one("456")))
                      if asked in asked_by(name.text))  # fmt: skip
        wild.names["face"][-1:] = sections_of(name.text)
        lines: list[tree.Node] = [tree.Fold(name, given if not wild.is_hostile() else given[:1])]
    else:
        lines = [flat(wild), *_scores(wild)]
    return [_block(wild, header, [*lines, *some_of(wild, "base", 1 if wild.often(0.5) else 0)])]


def _scores(wild: Wild) -> list[tree.Node]:
    """Two doors, or whatever scores come; then what they part is named, in as many names or in others."""
    if wild.often(0.6):
        doors = tree.LineAcross("score", (wild.length("5/2"),), ("left", "right"), None, None)
        names = [wild.fresh("section") for _ in range(3)]
        wild.names["face"][-1:] = names
        return [doors, tree.Sections(tuple(map(wild.word, names)))]
    made = [wild.one((across, across, across, slanted))(wild) for _ in wild.some(3)]
    return [*made, *([sections(wild)] if wild.often(0.3) else [])]


def _structure(wild: Wild) -> list[tree.Statement]:
    if not wild.often(0.15):
        return []
    name = wild.fresh("fold")
    asked = tuple(tree.Asked(wild.word(each), wild.perhaps(0.2, lambda: wild.length("1")))
                  for each in ("width", "height"))  # fmt: skip
    width, height = (tree.Reference(NOWHERE, (each.name.text,)) for each in asked)
    body: list[tree.Node] = [
        tree.Ask(asked),
        tree.Flat(tree.SizeOf(NOWHERE, tree.Sum(NOWHERE, "+", width, width), height)),
        tree.LineAcross("score", (width,), ("left",), None, None),
    ]
    if wild.is_hostile():  # a fold of itself, or of a fold that is not there
        body = [body[0], tree.Fold(wild.word(wild.known("fold")), ())]
    return [_block(wild, tree.Structure(wild.word(name)), [*body, *some_of(wild, "structure", 2)])]


def _piece(wild: Wild) -> tree.Statement:
    kind = wild.one((*("panel",) * 5, *("band",) * bool(wild.names["base"]), *SHAPE_WORDS))
    name, paper = wild.word(wild.fresh("piece")), wild.perhaps(0.95, lambda: _paper(wild))
    if kind == "band":
        header = tree.PieceHeader(
            "band", name, paper, around=wild.reference("base"), downward=wild.often(0.2)
        )
        return _block(wild, header, [measure("width")(wild), *some_of(wild, "band", 2)])
    some = wild.one((0, 1, 1, 1, 1, 1, 2)) if wild.names["face"] or wild.is_hostile() else 0
    hosts = tuple(tree.Host(wild.reference("face"), wild.one((None, None, None, "inside", "outside")))
                  for _ in range(some))  # fmt: skip
    under = wild.reference("lying") if wild.names["lying"] and not hosts and wild.often(0.4) else None
    place = BLOCK_OF[kind]
    must = place == "shape" or not (hosts or under)
    sized = [size(wild)] if must or wild.often(0.6) or wild.is_hostile() else []
    if kind == "circle":
        sized = [measure("diameter")(wild)]
    wild.names["face"].append(name.text)
    wild.names["lying"] += [name.text] if hosts else []
    return _block(wild, tree.PieceHeader(kind, name, paper, hosts, under), [*sized, *some_of(wild, place, 2)])


def _paper(wild: Wild) -> tree.Word:
    return wild.word(wild.known("paper"))


def _variant(wild: Wild, title: str) -> tree.Statement:
    head = tree.Variant(wild.short((title,)))
    block = [_alone(node) for node in some_of(wild, "variant", 3)]
    block += [_piece(wild) for _ in wild.some(1)]
    return tree.Statement(NOWHERE, "variant", head, tuple(block))


# ---- statements ----------------------------------------------------------------------------------


def _crossed(wild: Wild, found: list[tree.Statement]) -> list[tree.Statement]:
    """Where hostile: a line of another block put under a statement, and `let`s that stand in a ring."""
    if wild.is_hostile():
        at, place = wild.chance.randrange(len(found)), wild.one(list(LINES))
        stray = tuple(_alone(node) for node in some_of(wild, place, 2))
        found[at] = found[at].replace(block=(*found[at].block, *stray))
    if wild.is_hostile():
        ring = [f"ring-{number}" for number in range(wild.one((1, 2, 3, 70)))]
        for name, after in zip(ring, [*ring[1:], ring[0]], strict=True):
            value = tree.Sum(NOWHERE, "+", tree.Reference(NOWHERE, (after,)), wild.length("1/8"))
            found.append(_alone(tree.Let(wild.word(name), value)))
    return found


def _block(_: Wild, head: tree.Node, lines: Sequence[tree.Node]) -> tree.Statement:
    return tree.Statement(NOWHERE, "", head, tuple(map(_alone, lines)))


def _alone(node: tree.Node) -> tree.Statement:
    return tree.Statement(NOWHERE, "", node)
