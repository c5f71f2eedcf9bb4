"""The head: what stands under `recipe`."""

from collections.abc import Mapping

from cardrecipe.library.envelopes import find_envelope, meanings
from cardrecipe.model.card import Head, Scope, Scoped
from cardrecipe.model.counts import MAX_COPIES
from cardrecipe.model.materials import whole
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.words import UNITS


def head_of(recipe: tree.Tree, diagnostics: list[Diagnostic]) -> Head:
    heads = [each for each in recipe.statements if isinstance(each.node, tree.Recipe)]
    start = Span(recipe.file, 0, 0)
    if not heads:
        kinds = {type(each.node) for each in recipe.statements}
        # Without pieces it is a shelf of papers for other recipes; a broken line may be the `recipe` line.
        if tree.Broken not in kinds and (tree.PieceHeader in kinds or not kinds):
            diagnostics.append(error("no-recipe", start, "this file does not say which card it is for",
                                     'begin it with: recipe "Name of the card"'))  # fmt: skip
        return Head("", "inch", None, None, 1, None, None, "", start)
    for other in heads[1:]:
        diagnostics.append(error("said-twice", other.span, "a file holds one recipe",
                                 "put the second one in a file of its own",
                                 (Related(heads[0].span, "the first one"),)))  # fmt: skip
    found: dict[str, tree.Statement] = {}
    for line in heads[0].block:
        if line.word in found and not isinstance(line.node, tree.Broken):
            diagnostics.append(error("said-twice", line.span, f"`{line.word}` is said twice",
                                     "keep one of the two",
                                     (Related(found[line.word].span, "here it is said first"),)))  # fmt: skip
        found[line.word] = line
    return _read(heads[0], found, diagnostics)


def _read(
    statement: tree.Statement, found: Mapping[str, tree.Statement], diagnostics: list[Diagnostic]
) -> Head:
    assert isinstance(statement.node, tree.Recipe)
    unit, nearest_given, border, makes, about = "inch", None, None, 1, ""
    envelope = envelope_span = None
    scope = Scope({})
    for line in found.values():
        node = line.node
        if isinstance(node, tree.Units):
            unit = unit_of(node.unit, diagnostics)
            nearest_given = Scoped(node.nearest, scope, line.span) if node.nearest else None
        elif isinstance(node, tree.Border):
            border = _default_border(line, node, scope, diagnostics)
        elif isinstance(node, tree.Amount):
            makes = whole(node.number, diagnostics, MAX_COPIES)
        elif isinstance(node, tree.EnvelopeWanted):
            envelope, envelope_span = _envelope(node.name, diagnostics), node.name.span
        elif isinstance(node, tree.About):
            about = node.text.text
    return Head(statement.node.title.text, unit, nearest_given, border, makes, envelope, envelope_span,
                about, statement.span)  # fmt: skip


def unit_of(word: tree.Word, diagnostics: list[Diagnostic]) -> str:
    """The unit system that a `units` line names."""
    if word.text in UNITS:
        return word.text
    diagnostics.append(error("unknown-kind", word.span, f"a recipe is in inch or mm, not `{word.text}`",
                             "write `units inch nearest 1/16` or `units mm nearest 1`"))  # fmt: skip
    return "mm" if word.text in ("cm", "metric", "millimetre", "millimeter") else "inch"


def _default_border(
    line: tree.Statement, node: tree.Border, scope: Scope, diagnostics: list[Diagnostic]
) -> Scoped | None:
    entry = node.entries[0]
    if len(node.entries) > 1 or entry.edges:
        diagnostics.append(error("border-one", line.span, "the default border is one length for all edges",
                                 "write `border 1/8` here and the exceptions in the pieces"))  # fmt: skip
        return None
    return Scoped(entry.value, scope, line.span)


def _envelope(word: tree.Word, diagnostics: list[Diagnostic]) -> str | None:
    if find_envelope(word.text) is not None:
        return word.text
    near = meanings(word.text)
    hint = f"it may be {'; or '.join(near)}" if near else "names are such as us-a2, iso-c6, square-6in"
    diagnostics.append(error("unknown-envelope", word.span, f"no envelope is called `{word.text}`", hint))
    return None
