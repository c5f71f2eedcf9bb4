"""The outline of a recipe, one line each: two spaces deeper for what stands under another."""

from collections.abc import Iterable

from cardrecipe.editor.outline.symbols import Symbol, symbols
from tests.editor.marked import samples, snapshot, texts_by_chance
from tests.recipes import HEAD, NAME


def outline(text: str) -> list[str]:
    return list(_lines(symbols(snapshot(text, compiled=False))))


def _lines(found: Iterable[Symbol], indent: str = "") -> Iterable[str]:
    for each in found:
        yield f"{indent}{each.kind} {each.name}: {each.detail}"
        yield from _lines(each.children, indent + "  ")


def test_declarations_pieces_and_variants_in_their_order() -> None:
    text = HEAD + ("let reveal = 1/16\nbase card from ink\n  flat 8 x 5\n"
                   "  score 4 from left\n  sections front, back\n"
                   'pose standing\n  fold 1 at 60\nvariant "Low"\n'
                   "  oval dot from ink on front\n    size 1 x 1\n")  # fmt: skip
    assert outline(text) == [
        "recipe Evening walk: recipe", "paper ink: cardstock Ink", "let reveal: 1/16",
        "piece card: base from ink",
        "  section front: section", "  section back: section", "pose standing: pose", "variant Low: variant",
        "  piece dot: oval on front from ink",
    ]  # fmt: skip


def test_structures_and_classes() -> None:
    assert outline("structure mine\n  ask width, height\n  flat width x height\n  panel a on front\n") == [
        "structure mine: structure", "  size width: asked for", "  size height: asked for",
        "  piece a: panel on front",
    ]  # fmt: skip
    assert outline('class "Bench"\n  make 3 of "a.recipe" variant "Low"\n') == [
        "class Bench: class", "  file a.recipe: 3 cards, Low"]  # fmt: skip


def test_a_line_that_is_being_written_keeps_its_place() -> None:
    assert "piece plate: panel" in outline(HEAD + "panel plate from\n  size 3 x\n")
    assert outline("panel\n") == ["piece panel: panel"]


def test_names_lie_within_their_statements_and_children_within_their_parents() -> None:
    for _, text in [*samples().items(), *texts_by_chance(60, seed=11)]:
        waiting = list(symbols(snapshot(text, compiled=False)))
        while waiting:
            each = waiting.pop()
            assert each.name and each.span.file == NAME
            assert (
                0
                <= each.span.start
                <= each.name_span.start
                <= each.name_span.end
                <= each.span.end
                <= len(text)
            )
            assert all(each.span.start <= inner.span.start and inner.span.end <= each.span.end
                       for inner in each.children)  # fmt: skip
            waiting += each.children
