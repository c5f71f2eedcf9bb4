"""The laws of a card: each a function of a seed, which fails where the law is broken.

It gives False where the seed says nothing about the law (two names alike, a card that is none).
"""

import json
from collections.abc import Callable
from fractions import Fraction
from random import Random
from typing import Any, NamedTuple

from cardrecipe.compile import Compiled
from cardrecipe.render.card_json import render_json
from cardrecipe.sheets import sheet_of
from cardrecipe.solve.sized import Placement, SizedPiece
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.formatter import formatted
from cardrecipe.syntax.source import Source
from tests.generated.recipes import recipe
from tests.generated.spacing import respaced
from tests.laws.contradicting import opened, overfull
from tests.laws.drawn import Way, drawn
from tests.laws.facts import Facts, facts, plain
from tests.laws.rewriting import renamed, reordered
from tests.laws.statements import EDGES, Recipe, wrong_sizes
from tests.recipes import NAME, compile_text, parsed

# What is judged by lengths that do not grow with a card: what the post takes, how far paper gives way.
_NOT_TO_SCALE = ("post-", "envelope-", "rolled-too-wide", "sheet-nearly-full", "slider-")


# ---- units, scale, mirror ------------------------------------------------------------------------


def inches_and_millimetres(seed: int) -> bool:
    """A card in inches and its twin in exact millimetres are one card, with the same mistakes.

    Where no envelope is named, the post of the recipe's own system is asked: that may say something else.
    """
    return _alike(seed, Way(), Way("mm"), ("post-",))


def scale(seed: int) -> bool:
    """A card drawn three times as large is the same card three times as large."""
    return _alike(seed, Way(), Way(times=3), _NOT_TO_SCALE)


def _alike(seed: int, way: Way, other: Way, but: tuple[str, ...]) -> bool:
    one, two = compile_text(drawn(seed, way)), compile_text(drawn(seed, other))
    mistakes = [[(made.sources[each.span.file].line_of(each.span), each.severity, each.code)
                 for each in made.diagnostics if not each.code.startswith(but)]
                for made in (one, two)]  # fmt: skip
    assert mistakes[0] == mistakes[1]
    if one.folded is None or two.folded is None:
        return one.folded is two.folded
    larger = other.exact(Fraction(1)) / way.exact(Fraction(1))
    sizes = plain(one.folded.card.pieces, lambda value: value * larger)
    assert sizes == plain(two.folded.card.pieces)
    assert plain(_closed(one), lambda value: value * larger) == plain(_closed(two))
    return True


def _closed(made: Compiled) -> list[tuple[str, Fraction, Fraction]]:
    assert made.folded is not None
    return [(base.base, base.width, base.height) for base in made.folded.closed]


def mirror(seed: int) -> bool:
    """A card whose left and right are changed over is the mirrored card."""
    one, two = compile_text(drawn(seed)), compile_text(drawn(seed, Way(is_mirrored=True)))
    codes = [sorted((each.code, made.sources[each.span.file].line_of(each.span)) for each in made.diagnostics)
             for made in (one, two)]  # fmt: skip
    assert codes[0] == codes[1]
    if one.folded is None or two.folded is None:
        return one.folded is two.folded
    sizes = {each.name: each.width for each in one.folded.card.pieces}
    sizes |= {part.name: part.width for each in one.folded.card.pieces for part in each.sections}
    mirrored = [_mirrored(each, sizes) for each in one.folded.card.pieces]
    assert mirrored == [_in_order(each) for each in two.folded.card.pieces]
    return True


def _in_order(piece: SizedPiece) -> object:
    """What of a piece is told of its left and right."""
    return (
        piece.name, piece.width, piece.height, piece.corner_radius,
        sorted((each.at, each.direction) for each in piece.scores),
        sorted((each.x, each.y, each.width, each.height, each.name) for each in piece.sections),
        [(each.host, each.side, each.x, each.y, *each.border) for each in piece.placements],
    )  # fmt: skip


def _mirrored(piece: SizedPiece, widths: dict[str, Fraction]) -> object:
    def placed(each: Placement) -> Placement:
        left, right, top, bottom = each.border
        border = each.border._replace(left=right, right=left, top=top, bottom=bottom)
        return each._replace(x=widths[each.host] - each.x - piece.width, border=border)

    return _in_order(piece._replace(
        scores=tuple(each._replace(at=piece.width - each.at) for each in piece.scores),
        sections=tuple(each._replace(x=piece.width - each.x - each.width) for each in piece.sections),
        placements=tuple(map(placed, piece.placements)),
    ))  # fmt: skip


# ---- ways of writing -----------------------------------------------------------------------------


def spaces_and_comments(seed: int) -> bool:
    """Comments, blank lines, spaces, line ends and a mark of the encoding change no fact and no mistake."""
    text = recipe(seed, 4)
    return _same(facts(text), facts(_as_read(respaced(text, Random(seed)))))


def format_changes_nothing(seed: int) -> bool:
    """What `format` writes of a hastily typed recipe is the same card."""
    hasty = _as_read(respaced(recipe(seed, 4), Random(seed)))
    return _same(facts(hasty), facts(formatted(Source(NAME, hasty))))


def other_names(seed: int) -> bool:
    """Other names for all pieces, papers, supplies, lets and structures: the same card under those names."""
    text = recipe(seed, 5)
    other = renamed(text, Random(seed))
    if other is None:
        return False
    one, two = facts(text), facts(other.text)
    card = other.back(two.card)
    named = sorted((str(other.back(words)), code) for words, code, _ in two.told)
    assert sorted((words, code) for words, code, _ in one.told) == named
    assert one.card == card
    return True


def another_order(seed: int) -> bool:
    """Lines of a piece in another order, declarations anywhere: the same sizes and the same mistakes."""
    text = recipe(seed, 5)
    one, two = compile_text(text), compile_text(reordered(text, Random(seed)))
    codes = [sorted(each.code for each in made.diagnostics) for made in (one, two)]
    assert codes[0] == codes[1]
    if one.folded is None or two.folded is None:
        return one.folded is two.folded
    assert plain(one.folded.card.pieces) == plain(two.folded.card.pieces)
    assert plain(one.folded.views) == plain(two.folded.views)
    return True


def variant_with_nothing(seed: int) -> bool:
    """A variant that changes nothing is the plain card."""
    text = recipe(seed, 4)
    if "\nclass " in f"\n{text}":
        return False
    same = f'{text}variant "Nothing else"\n'
    one, two = facts(same), facts(same, variant="Nothing else")
    for made in (one, two):
        assert not isinstance(made.card, dict) or isinstance(made.card["card"], dict)
    if isinstance(one.card, dict) and isinstance(two.card, dict):
        two.card["card"]["variant"] = one.card["card"]["variant"]
    unused = [each for each in one.told if not each[1].startswith("unused-")]  # told of the plain card alone
    assert unused == [each for each in two.told if not each[1].startswith("unused-")]
    assert one.card == two.card
    return True


def _as_read(text: str) -> str:
    """A text as it comes from a file: without a mark of the encoding, with line feeds alone."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def _same(one: Facts, two: Facts) -> bool:
    assert one.codes == two.codes
    assert one.card == two.card
    return True


# ---- sizes ---------------------------------------------------------------------------------------


def sizes_are_as_written(seed: int) -> bool:
    """Each line about a size, worked out by itself, comes to the size that was solved."""
    text = recipe(seed, 6) if seed % 2 else drawn(seed)
    solution = compile_text(text).solution
    if solution is None or any(each.code == "conflict" for each in compile_text(text).diagnostics):
        return False
    statements = parsed(text)[0].statements
    names = {name: solution.values[var] for name, var in solution.names.unknowns.items()
             if var in solution.values}  # fmt: skip
    rows = {piece.name for piece in solution.card.pieces if piece.repeat is not None}
    names |= {f"{owner}.{edge}-border": value for (owner, what), value in solution.values.items()
              for edge in EDGES if what == f"{edge} border" and owner not in rows}  # fmt: skip
    lets = {each.node.name.text: each.node.value for each in statements if isinstance(each.node, tree.Let)}
    found = list(wrong_sizes(statements, Recipe(solution.unit, lets, names)))
    assert [each for each in found if each is not None] == []
    return len(found) > 0


def contradictions_are_smallest(seed: int) -> bool:
    """The lines of a contradiction contradict each other by themselves; without any one they do not."""
    lines = overfull(seed)
    text = "\n".join(lines)
    conflicts = [each for each in compile_text(text).diagnostics if each.code == "conflict"]
    for conflict in conflicts:
        named = _places(lines, text, conflict)
        assert _contradicts(lines, named)
        for line in named:
            assert not _contradicts(lines, named - {line}), lines[line]
    return bool(conflicts)


def _places(lines: list[str], text: str, conflict: Diagnostic) -> set[int]:
    """The numbers of the lines with sizes that a contradiction names."""
    source = Source(NAME, text)
    spans = (conflict.span, *(each.span for each in conflict.related))
    numbers = {source.line_of(span) - 1 for span in spans}
    return {number for number in numbers if opened(lines[number]) != lines[number]}


def _contradicts(lines: list[str], kept: set[int]) -> bool:
    """True where these lines alone contradict each other, all others being left open."""
    text = "\n".join(line if at in kept else opened(line) for at, line in enumerate(lines))
    return any(each.code == "conflict" for each in compile_text(text).diagnostics)


# ---- the sheet -----------------------------------------------------------------------------------


def the_same_sheet_to_the_byte(seed: int) -> bool:
    """Spaces and comments leave card.json as it is, but for the lines that mistakes stand in."""
    made = compile_text(drawn(seed))
    other = compile_text(_as_read(respaced(drawn(seed), Random(seed))))
    if made.folded is None or other.folded is None:
        return made.folded is other.folded
    one, two = (render_json(sheet_of(each)) for each in (made, other))
    assert one == two
    return True


def the_same_post_in_both_units(seed: int) -> bool:
    """In one envelope, a card in inches and its twin in millimetres are alike to the post, and to make."""
    made = [compile_text(_in_an_envelope(drawn(seed, way))) for way in (Way(), Way("mm"))]
    if any(each.folded is None for each in made):
        return made[0].folded is made[1].folded
    one, two = (json.loads(render_json(sheet_of(each))) for each in made)
    assert _fitting(one["post"], "service") == _fitting(two["post"], "service")
    assert _fitting(one["envelopes"], "name") == _fitting(two["envelopes"], "name")
    assert [each["title"] for each in one["steps"]] == [each["title"] for each in two["steps"]]
    return True


def _in_an_envelope(text: str) -> str:
    return text.replace("\n", "\n  envelope iso-c5\n", 1)


def _fitting(rows: list[dict[str, Any]], name: str) -> list[tuple[str, bool]]:
    return sorted((each[name], each["fits"]) for each in rows)


class Law(NamedTuple):
    """A law, how many seeds the suite tries, and of how many it must say something at least."""

    holds: Callable[[int], bool]
    seeds: int
    least: int


LAWS = (
    Law(inches_and_millimetres, 60, 40),
    Law(scale, 40, 25),
    Law(mirror, 60, 40),
    Law(spaces_and_comments, 30, 25),
    Law(format_changes_nothing, 30, 25),
    Law(other_names, 50, 15),
    Law(another_order, 50, 40),
    Law(variant_with_nothing, 30, 20),
    Law(sizes_are_as_written, 60, 40),
    Law(contradictions_are_smallest, 30, 20),
    Law(the_same_sheet_to_the_byte, 4, 2),
    Law(the_same_post_in_both_units, 4, 2),
)
