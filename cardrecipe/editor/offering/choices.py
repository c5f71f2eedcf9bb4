"""What can be named in a line → lists to choose from: papers, hosts, folds, sizes, each with a few words."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from cardrecipe.editor.names.meanings import meanings
from cardrecipe.editor.names.world import CLOSED_SIZES, Owner, World, asked_words
from cardrecipe.editor.offering.line_before import LineBefore, first_word
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import compiled_at, rectangles, size_typed
from cardrecipe.library.folds import fold_names, fold_source, fold_statement
from cardrecipe.solve.sizes import Solution
from cardrecipe.syntax import tree
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.words import SHAPES

PIECES = ("base", "panel", "band", *SHAPES)
_SETTABLE = {"band": ("width", "length", "overlap"), "circle": ("diameter",)}


class Offer(NamedTuple):
    """A name or a word that can be written; `detail` stands beside it in the list."""

    label: str
    kind: str
    text: str
    detail: str = ""
    documentation: str = ""


class Here(NamedTuple):
    """The line and all that its names can mean."""

    line: LineBefore
    tokens: tuple[str, ...]
    world: World
    snapshot: Snapshot
    offset: int

    @property
    def last(self) -> str:
        return self.tokens[-1]

    @property
    def piece(self) -> str:
        """The piece whose line this is."""
        for line in (self.line.text, *reversed(self.line.above)):
            words = line.split()
            if first_word(line) in PIECES and len(words) > 1:
                return words[1]
        return ""

    @property
    def structure(self) -> tree.Statement | None:
        """The structure whose line this is."""
        for line in self.line.above:
            words = line.split()
            if first_word(line) == "structure" and len(words) > 1:
                return self.world.structures.get(words[1])
        return None

    @property
    def solution(self) -> Solution | None:
        compiled = compiled_at(self.snapshot, self.offset)
        return compiled.solution if compiled is not None else None


# ---- names by kind -------------------------------------------------------------------------------


def kinds(known: Iterable[str]) -> list[Offer]:
    return [Offer(each, "value", each) for each in known]


def papers(here: Here) -> list[Offer]:
    return list(papers_of(here.world))


def papers_of(world: World) -> Iterator[Offer]:
    for name in world.papers:
        known = world.card.papers.get(name)
        yield Offer(name, "paper", name, f'{known.kind} "{known.title}"' if known is not None else "paper")


def supplies(here: Here, wanted: tuple[str, ...]) -> list[Offer]:
    return list(supplies_of(here.world, wanted))


def supplies_of(world: World, wanted: tuple[str, ...]) -> Iterator[Offer]:
    """Declared supplies of these kinds; of all kinds where none are named."""
    for name in world.supplies:
        known = world.card.supplies.get(name)
        if known is not None and (not wanted or known.kind in wanted):
            yield Offer(name, "supply", name, f'{known.kind} "{known.title}"')


def pieces(here: Here) -> list[Offer]:
    return [Offer(name, "piece", name, f"{owner.header.kind}{_size(here, name)}")
            for name, owner in here.world.owners.items() if not name.startswith("a card of ")]  # fmt: skip


def hosts(here: Here, own: str) -> list[Offer]:
    """Sections first, by their whole name where two pieces have one of that name, then pieces."""
    inner = here.structure
    local = [Offer(each, "section", each, "a section of this fold") for each in sections_of(inner)]
    found = []
    for owner in here.world.owners.values():
        for section in owner.sections:
            shared = len(here.world.owners_of_section(section)) > 1 or section in here.world.owners
            name = f"{owner.symbol.name}.{section}" if shared else section
            found.append(Offer(name, "section", name, f"section of {owner.symbol.name}"))
    return [*local, *found, *(each for each in pieces(here) if each.label != own)]


def the_card(here: Here) -> list[Offer]:
    is_alias = len(here.world.bases) == 1 and "card" not in here.world.owners
    return [Offer("card", "piece", "card", "the base")] if is_alias else []


def structures(here: Here) -> list[Offer]:
    own = [Offer(each, "structure", each, "of this recipe") for each in here.world.structures]
    shipped = [Offer(name, "structure", name, _asks(name), fold_source(name).line_text(1).lstrip("# "))
               for name in fold_names() if name not in here.world.structures]  # fmt: skip
    return [*own, *shipped]


def _asks(name: str) -> str:
    return f"asks for {', '.join(each.name.text for each in asked_words(fold_statement(name)))}"


def usual(asked: tree.Asked, source: Source | None) -> str:
    if asked.default is None:
        return "asked for"
    return f"else {source.words_at(asked.default.span)}" if source is not None else "asked for"


def text_of(structure: tree.Statement | None, here: Here) -> Source | None:
    if structure is None:
        return None
    file = structure.span.file
    if file.startswith("library:"):
        return fold_source(file.removeprefix("library:"))
    return meanings(here.snapshot).sources.get(file)


def sections_of(structure: tree.Statement | None) -> list[str]:
    block = structure.block if structure is not None else ()
    lines = [line.node for line in block if isinstance(line.node, tree.Sections)]
    return [word.text for line in lines[-1:] for word in line.names]


# ---- sizes ---------------------------------------------------------------------------------------


def sizes(here: Here) -> list[Offer]:
    """What can stand in a sum: asked sizes, lets, and the sizes of pieces and sections."""
    structure = here.structure
    asked = [each.name.text for each in asked_words(structure)] if structure is not None else []
    lets = [Offer(each, "let", each, "let") for each in here.world.scope.lets]
    found = [Offer(each, "size", each, "asked for") for each in asked] + lets
    for name, owner in here.world.owners.items():
        found += [
            Offer(f"{name}.{size}", "size", f"{name}.{size}", owner.header.kind) for size in _own(owner)
        ]
        for section in owner.sections:
            if len(here.world.owners_of_section(section)) == 1 and section not in here.world.owners:
                found += [Offer(f"{section}.{side}", "size", f"{section}.{side}", f"section of {name}")
                          for side in ("width", "height")]  # fmt: skip
    return found


def _own(owner: Owner) -> list[str]:
    """The sizes of a piece by their names."""
    if owner.header.kind == "band":
        return ["width", "length", "overlap"]
    fixed = ["width", "height", *(CLOSED_SIZES if owner.header.kind == "base" else ())]
    return [*fixed, *(each for each in owner.asked if each not in fixed)]


def after_dot(here: Here) -> list[Offer]:
    """Sizes and sections of what stands before the dot; in a `set` line what can be set."""
    before = here.tokens[-2] if len(here.tokens) > 1 else ""
    owner = here.world.owners.get(before)
    if here.tokens[0] == "set" and len(here.tokens) == 3:
        return [Offer(each, "size", f"{each} ", "size") for each in _settable(owner)] if owner else []
    is_host = here.tokens[0] in (*PIECES, "glue")
    known = [] if is_host else _sizes_after(before, here.world)
    found = [Offer(each, "size", each, "size") for each in known]
    return found + [Offer(each, "section", each, "section") for each in (owner.sections if owner else ())]


def _sizes_after(name: str, world: World) -> Iterable[str]:
    """The sizes of a piece, of a section, or of the one base by its other name."""
    if name in world.owners:
        return _own(world.owners[name])
    if world.owners_of_section(name):
        return ("width", "height")
    return CLOSED_SIZES if name == "card" and len(world.bases) == 1 else ()


def _settable(owner: Owner) -> list[str]:
    kind = owner.header.kind
    sides = _SETTABLE.get(kind, ("width", "height"))
    more = () if kind in ("base", "band") else ("border", "turned")
    return [*dict.fromkeys((*sides, *owner.asked, *more))]


def _size(here: Here, name: str) -> str:
    """The size of a piece, where it has one and that is known."""
    solution = here.solution
    known = rectangles(solution, name) if solution is not None else []
    if len(known) != 1 or solution is None or known[0].width is None or known[0].height is None:
        return ""
    return f", {size_typed(known[0].width, known[0].height, solution.unit)}"
