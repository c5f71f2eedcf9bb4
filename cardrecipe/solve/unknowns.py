"""A card and its parts to the dotted names that a recipe may use for sizes, each with its unknown."""

from cardrecipe.model.card import Card, Piece
from cardrecipe.model.values import Names, Var, asked_var
from cardrecipe.solve.parts import Parts


def names_of(card: Card, parts: Parts, poison: frozenset[str]) -> Names:
    """Every dotted name that a recipe may use for a size."""
    unknowns: dict[str, Var] = {}
    for (piece, section), owner in parts.sections.items():
        for quantity in ("width", "height"):
            unknowns[f"{owner}.{quantity}"] = (owner, quantity)
            unknowns[f"{piece}.{section}.{quantity}"] = (owner, quantity)
    for part in parts.ordered:
        if part.owner == part.piece.name:
            unknowns.update(_sizes_of(part.piece))
    bases = [piece for piece in card.pieces if piece.kind == "base"]
    if len(bases) == 1 and bases[0].name != "card":
        for quantity in ("finished-width", "finished-height", "thickness"):
            unknowns.setdefault(f"card.{quantity}", (bases[0].name, quantity))
    skipped = {piece.name for piece in card.pieces if piece.name in parts.skipped}
    sections = {each for piece in card.pieces if piece.name in skipped for each in piece.sections}
    return Names(unknowns, poison | skipped | sections)


def _sizes_of(piece: Piece) -> dict[str, Var]:
    name = piece.name
    if piece.kind == "band":
        return {f"{name}.width": (name, "height"), f"{name}.length": (name, "width"),
                f"{name}.overlap": (name, "overlap")}  # fmt: skip
    sizes = {f"{name}.{quantity}": (name, quantity) for quantity in ("width", "height")}
    if piece.kind == "base":
        for quantity in ("finished-width", "finished-height", "thickness"):
            sizes[f"{name}.{quantity}"] = (name, quantity)
    for scope in piece.scopes:
        for asked in scope.asked:
            if asked not in scope.scalars:
                sizes.setdefault(f"{name}.{asked}", asked_var(scope, asked))
    return sizes
