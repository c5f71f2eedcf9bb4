"""A dotted name and the place it stands in → what it means there, part by part, by the rules of the model."""

from typing import NamedTuple

from cardrecipe.editor.names.world import CLOSED_SIZES, Owner, Scope, Symbol, World
from cardrecipe.model.hosts import HOME
from cardrecipe.syntax import tree

_SIDES = ("width", "height")


class Meant(NamedTuple):
    """What the parts of a dotted name mean, from the first one on; () where nothing is called so.

    `is_alias`: it is another name for that thing, as `card` for the one base and `base` in a structure.
    """

    parts: tuple[Symbol, ...]
    is_alias: bool = False


NOTHING = Meant(())


def size_meant(name: tree.Reference, scope: Scope, world: World) -> Meant:
    """A name in a sum, as the model's `Reader` takes it: asked sizes, then lets, then sizes of pieces."""
    for known in (scope.asked, scope.lets):
        if name.text in known:
            return Meant((known[name.text],))
    *owner, quantity = name.parts
    if not owner:
        return NOTHING
    if len(owner) == 2 and owner[0] in world.owners and owner[1] in world.owners[owner[0]].sections:
        piece = world.owners[owner[0]]
        return Meant((piece.symbol, piece.sections[owner[1]]))
    if owner[0] in world.owners and len(owner) == 1:
        return _size_of_piece(world.owners[owner[0]], quantity)
    owners = world.owners_of_section(owner[0])
    if len(owner) == 1 and len(owners) == 1:
        return Meant((world.owners[owners[0]].sections[owner[0]],))
    if owner == ["card"] and quantity in CLOSED_SIZES and len(world.bases) == 1:
        return Meant((world.owners[world.bases[0]].symbol,), is_alias=True)
    return NOTHING


def host_meant(name: tree.Reference, piece: Owner, world: World) -> Meant:
    """What a piece is put on, as the model's `Places` takes it: its home's and own sections come first."""
    *owner, last = name.parts
    owners = world.owners_of_section(last)
    near = [each for each in (piece.home, piece.symbol.name) if each in owners]
    if owner:
        named = [each for each in owners if each == ".".join(owner)]
        return (
            Meant((world.owners[named[0]].symbol, world.owners[named[0]].sections[last]))
            if named
            else NOTHING
        )
    if last == HOME and piece.home is not None:
        return Meant((world.owners[piece.home].symbol,), is_alias=True)
    if not near and last in world.owners:
        return Meant((world.owners[last].symbol,))
    owners = near[:1] or owners
    return Meant((world.owners[owners[0]].sections[last],)) if len(owners) == 1 else NOTHING


def around_meant(name: tree.Reference, world: World) -> Meant:
    """The base that a band goes round."""
    if name.text in world.bases:
        return Meant((world.owners[name.text].symbol,))
    if name.text == "card" and len(world.bases) == 1:
        return Meant((world.owners[world.bases[0]].symbol,), is_alias=True)
    return NOTHING


def _size_of_piece(owner: Owner, quantity: str) -> Meant:
    fixed = (*_SIDES, *(CLOSED_SIZES if owner.header.kind == "base" else ()))
    if quantity in owner.asked and quantity not in fixed:
        return Meant((owner.symbol, owner.asked[quantity]))
    return Meant((owner.symbol,))
