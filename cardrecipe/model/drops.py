"""Names that a variant misses since it drops what they name → the same mistakes, with the `drop` line."""

from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related
from cardrecipe.syntax.source import Source


def naming_the_drop(
    diagnostics: list[Diagnostic], recipe: tree.Tree, source: Source, title: str
) -> list[Diagnostic]:
    """What is wrong with the variant `title`: a name that is unknown in it alone is not misspelt."""
    dropped = _dropped(recipe, title)
    return [_with_the_drop(each, dropped, source) if each.code == "unknown-name" else each
            for each in diagnostics]  # fmt: skip


def _dropped(recipe: tree.Tree, title: str) -> dict[str, tree.Drop]:
    """The `drop` line of each piece that the variant leaves out, by its name and by those of its sections."""
    drops = {line.node.name.text: line.node for each in recipe.statements
             if isinstance(each.node, tree.Variant) and each.node.title.text == title
             for line in each.block if isinstance(line.node, tree.Drop)}  # fmt: skip
    found = dict(drops)
    for piece in recipe.statements:
        if isinstance(piece.node, tree.PieceHeader) and piece.node.name.text in drops:
            for line in piece.block:
                if isinstance(line.node, tree.Sections):
                    found |= {each.text: drops[piece.node.name.text] for each in line.node.names}
    return found


def _with_the_drop(diagnostic: Diagnostic, dropped: dict[str, tree.Drop], source: Source) -> Diagnostic:
    if diagnostic.span.file != source.name:
        return diagnostic
    words = source.words_at(diagnostic.span)
    drop = dropped.get(words) or dropped.get(words.partition(".")[0])
    if drop is None or diagnostic.span == drop.name.span:
        return diagnostic
    hint = f"this variant drops `{drop.name.text}`: drop what needs it too, or keep it"
    return diagnostic._replace(hint=hint, related=(Related(drop.name.span, "here it is dropped"),))
