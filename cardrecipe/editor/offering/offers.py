"""A line that is being written → the names that are meant at its end: papers after `from`, hosts after `on`,
the sizes that a fold asks for, the envelopes that the card fits."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from cardrecipe.editor.names.meanings import meanings
from cardrecipe.editor.names.world import asked_words
from cardrecipe.editor.offering.choices import (
    PIECES,
    Here,
    Offer,
    after_dot,
    hosts,
    kinds,
    papers,
    papers_of,
    pieces,
    sections_of,
    sizes,
    structures,
    supplies,
    supplies_of,
    text_of,
    the_card,
    usual,
)
from cardrecipe.editor.offering.line_before import LineBefore, reads
from cardrecipe.editor.places import place_at
from cardrecipe.editor.snapshot import Snapshot
from cardrecipe.editor.solved import compiled_at, variant_at
from cardrecipe.editor.telling.envelope_words import best_first, inside
from cardrecipe.model.texts import name_beside, text_at
from cardrecipe.model.variants import variant_titles
from cardrecipe.syntax import tree
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.words import ADHESIVES, BASIS_KINDS, PAPER_KINDS, SUPPLY_KINDS, UNITS


def names_for(line: LineBefore, snapshot: Snapshot, offset: int) -> Iterable[Offer]:
    """The names that are meant at the end of `line`, which is not empty."""
    known = meanings(snapshot)
    world = known.worlds.get(variant_at(snapshot.tree, offset)) or known.worlds[None]
    here = Here(line, tuple(line.tokens), world, snapshot, offset)
    if here.last == ".":
        return after_dot(here)
    word = here.tokens[0]
    found = _BY_WORD[word](here) if word in _BY_WORD else None
    if found is None:
        # Where a number could stand, a name is that of a size.
        found = sizes(here) if reads(f"{line.text} 1") else ()
    return found


def quoted_for(line: LineBefore, snapshot: Snapshot, beside: Sequence[str]) -> Iterator[Offer]:
    """What can stand in a text: a file after `use` and `make 3 of`, a variant after that."""
    tokens = line.tokens
    if tokens == ["use"] or (tokens[:1] == ["make"] and tokens[-1:] == ["of"]):
        for name in beside:
            if not snapshot.source.name.endswith(f"/{name}") and name != snapshot.source.name:
                yield Offer(name, "file", name)
    elif tokens[:1] == ["make"] and tokens[-1:] == ["variant"]:
        path = next((each.strip('"') for each in tokens if each.startswith('"')), "")
        file = name_beside(snapshot.source.name, path)
        text = text_at(snapshot.texts, file)
        if file is not None and text is not None:
            for title in variant_titles(parse(Source(file, text))[0]):
                yield Offer(title, "variant", title, path)


# ---- by the first word of the line ---------------------------------------------------------------


_Names = Iterable[Offer] | None  # None: nothing but a size could be meant


def _header(here: Here) -> _Names:
    """The first line of a piece."""
    governor = _governor(here, ("from", "on", "under", "around"))
    if governor == "from" and here.last == "from":
        return papers(here)
    if governor == "on":
        return hosts(here, here.tokens[1] if len(here.tokens) > 1 else "")
    if governor == "under":
        return [each for each in pieces(here) if each.label != here.tokens[1]]
    if governor == "around":
        return [each for each in pieces(here) if each.detail.startswith("base")] + the_card(here)
    return ()


def _fold(here: Here) -> _Names:
    if here.line.place == "pose":
        return [each for each in pieces(here) if here.world.owners[each.label].sections]
    if here.last == "fold":
        return structures(here)
    if here.last != ",":
        return None
    structure = here.world.structure(here.tokens[1])
    asks = asked_words(structure) if structure is not None else ()
    source = text_of(structure, here)
    given = {name for before, name in zip(here.tokens, here.tokens[1:], strict=False) if before == ","}
    return [Offer(each.name.text, "size", f"{each.name.text} ", usual(each, source)) for each in asks
            if each.name.text not in given]  # fmt: skip


def _glue(here: Here) -> _Names:
    governor = _governor(here, ("with", "on", "glue"))
    if here.last == "with":
        return [
            *(Offer(each, "supply", each, "built in") for each in ADHESIVES),
            *supplies(here, ("adhesive",)),
        ]
    if governor == "on" and here.last == "on":
        return hosts(here, here.piece)
    if governor == "with":
        return None
    owner = here.world.owners.get(here.piece)
    sections = owner.sections if owner is not None else sections_of(here.structure)
    return [Offer(each, "section", each, "a section of this piece") for each in sections]


def _paper(here: Here) -> _Names:
    after = {"is": PAPER_KINDS, "with": PAPER_KINDS, "lb": BASIS_KINDS, "grain": ("long", "short")}
    if here.tokens == ("replace",):
        return papers(here)
    if here.last in after:
        return kinds(after[here.last])
    return None if here.last in ("thick", "x", "×", "or", ",") else ()


def _work(here: Here) -> _Names:
    wanted = {"stamp": ("ink",), "ink": ("ink",), "color": ("marker", "ink", "other")}
    governor = _governor(here, ("in", "with"))
    if governor is not None and here.last in (governor, ",") and here.tokens[0] in wanted:
        return supplies(here, wanted[here.tokens[0]])
    return kinds(("ribbon", "cord", "gem")) if here.tokens == ("add",) else None


def _set(here: Here) -> _Names:
    if here.tokens != ("set",):
        return None
    lets = [Offer(each, "let", f"{each} ", "let") for each in here.world.scope.lets]
    words = [Offer(each, "size", f"{each} ", "of the whole card") for each in ("border", "makes")]
    return [*(each._replace(text=f"{each.label}.") for each in pieces(here)), *lets, *words]


def _have(here: Here) -> _Names:
    """Papers and supplies of the recipes that the class makes."""
    if len(here.tokens) != 1:
        return None
    place = place_at(here.snapshot.tree, here.line.starts[-1]) if here.line.starts else None
    makes = [each.node for each in place.statement.block if isinstance(each.node, tree.Make)] if place else []
    found: dict[str, Offer] = {}
    for path in dict.fromkeys(make.path.text for make in makes):
        name = name_beside(here.snapshot.source.name, path)
        text = text_at(here.snapshot.texts, name)
        if name is not None and text is not None:
            source = Source(name, text)
            made = meanings(Snapshot(source, parse(source)[0], texts=here.snapshot.texts)).worlds[None]
            found |= {each.label: each for each in (*papers_of(made), *supplies_of(made, ()))}
    return found.values()


def _just(offers: Callable[[Here], Iterable[Offer]]) -> Callable[[Here], _Names]:
    """The one kind of name that a line takes right after its first word or words."""
    return lambda here: offers(here) if not here.last[0].isdigit() else None


def _envelopes(here: Here) -> Iterable[Offer]:
    ordered = best_first(compiled_at(here.snapshot, here.offset))
    return [
        Offer(each.name, "value", each.name, f"{each.title}, {inside(each)}", each.note) for each in ordered
    ]


def _supply_kinds(here: Here) -> Iterable[Offer]:
    return kinds(SUPPLY_KINDS) if here.last == "is" else ()


def _told_of(here: Here) -> Iterable[Offer]:
    return pieces(here) if here.last in ("on", "after", "before", "drop") else ()


def _units(here: Here) -> Iterable[Offer]:
    return kinds(UNITS) if here.last == "units" else ()


def _nothing(here: Here) -> _Names:
    """A new name: nobody can guess it. After `=` it is a size."""
    return None if "=" in here.tokens else ()


_BY_WORD: Mapping[str, Callable[[Here], _Names]] = {
    **dict.fromkeys(PIECES, _header), "fold": _fold, "glue": _glue, "paper": _paper, "replace": _paper,
    **dict.fromkeys(("stamp", "ink", "color", "add"), _work), "set": _set, "have": _have,
    "envelope": _just(_envelopes), "supply": _just(_supply_kinds), "units": _just(_units),
    **dict.fromkeys(("tip", "step", "drop"), _just(_told_of)),
    **dict.fromkeys(("let", "ask", "pose", "structure", "sections"), _nothing),
}  # fmt: skip


# ---- details -------------------------------------------------------------------------------------


def _governor(here: Here, words: tuple[str, ...]) -> str | None:
    """The last of these words on the line."""
    return next((each for each in reversed(here.tokens) if each in words), None)
