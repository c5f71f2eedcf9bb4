"""What must hold for every card: solved sizes satisfy what was said; the way of writing changes nothing."""

import random
import re
from collections.abc import Iterator
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardrecipe.model.lengths import typed
from cardrecipe.solve.explain import explain
from tests.recipes import (
    HEAD,
    SAMPLES,
    compile_text,
    explained,
    in_other_unit,
    recipes_in,
    sample_cards,
    sized,
    unsolved_equations,
)
from tests.solve.test_the_double_gate import WAYS

SHELF = {path.name: path.read_text(encoding="utf-8") for path in recipes_in(SAMPLES)}
CARDS = {path.name: SHELF[path.name] for path in sample_cards()}
quick = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))

FOLDS = {
    "side-fold": ["front", "back"], "tent": ["front", "back"], "gate": ["left-door", "back", "right-door"],
    "double-gate": ["back", "left-door", "left-flap"], "z-fold": ["front", "middle", "back"],
    "rolled-tri-fold": ["back", "tuck"],
}  # fmt: skip


def sixteenths(least: int, most: int) -> st.SearchStrategy[str]:
    return st.integers(least, most).map(lambda number: typed(Fraction(number, 16)))


@st.composite
def recipes(draw: st.DrawFn) -> str:
    """A folded base with panels, mats and shapes on it, in sizes that may or may not be possible."""
    fold = draw(st.sampled_from(sorted(FOLDS)))
    width, height = draw(sixteenths(36, 58)), draw(sixteenths(40, 90))
    text = f"{HEAD}base card from ink\n  fold {fold}, width {width}, height {height}\n"
    section = draw(st.sampled_from([*FOLDS[fold], "card"]))
    names = ["note"]
    text += f"panel note from ink on {section}\n"
    if draw(st.booleans()):
        text += f"  border {draw(sixteenths(1, 4))}\n"
    for number in range(draw(st.integers(0, 4))):
        host, kind = draw(st.sampled_from(names)), draw(st.sampled_from(["panel", "oval", "square", "mat"]))
        name = f"piece-{number}"
        names.append(name)
        if kind == "mat":
            text += f"panel {name} from ink under {host}\n  border {draw(sixteenths(1, 4))}\n"
            continue
        text += f"{kind} {name} from ink on {host}\n"
        size = draw(
            st.sampled_from(
                ["A x A" if kind == "square" else "A x B", f"{host}.width - C x {host}.height / 2"]
            )
        )
        if kind == "panel":
            size = draw(st.sampled_from(["? x ?", "A x ?", "A x B", f"{host}.width - C x ?"]))
        for letter, values in (("A", sixteenths(4, 30)), ("B", sixteenths(4, 30)), ("C", sixteenths(1, 8))):
            size = size.replace(letter, draw(values))
        text += f"  size {size}\n"
        if draw(st.booleans()):
            text += f"  border {draw(sixteenths(0, 3))} {draw(st.sampled_from(['left', 'right', 'top']))}\n"
    return text


@quick
@given(recipes())
def test_solved_sizes_put_back_satisfy_every_statement_exactly(text: str) -> None:
    assert unsolved_equations(text) == []


@pytest.mark.parametrize("name", CARDS)
def test_so_do_those_of_the_samples(name: str) -> None:
    result = compile_text(CARDS[name], SHELF)
    for variant in (None, *result.variants):
        solution = compile_text(CARDS[name], SHELF, variant).solution
        assert solution is not None
        for equation in solution.system.accepted:
            total = sum((c * solution.values[var] for var, c in equation.terms.items()), Fraction(0))
            assert total == equation.constant, equation.origin


@quick
@given(recipes())
def test_a_card_is_whole(text: str) -> None:
    """Sections tile the base, border and piece and border make the host, and all is more than nothing."""
    result = compile_text(text)
    if result.folded is None:
        assert any(each.severity == "error" for each in result.diagnostics)
        return
    card = result.folded.card
    for piece in card.pieces:
        assert piece.width > 0 < piece.height
        if piece.sections:
            assert sum(each.width * each.height for each in piece.sections) == piece.width * piece.height
        for placed in piece.placements:
            host = next(
                (each for owner in card.pieces for each in owner.sections if each.name == placed.host), None
            )
            target = host or card.piece(placed.host_piece)
            assert placed.border.left + piece.width + placed.border.right == target.width
            assert placed.border.top + piece.height + placed.border.bottom == target.height


# ---- ways of writing -----------------------------------------------------------------------------


def facts(text: str, names: dict[str, str] | None = None) -> dict[str, object]:
    """Everything about a card but where its words stand; names changed by `names`."""
    renamed = names or {}
    result = compile_text(text, SHELF)
    if result.folded is None:
        return {each.code: each.severity for each in result.diagnostics}
    return {
        renamed.get(piece.name, piece.name): (
            piece.kind, piece.width, piece.height, piece.count, piece.corner_radius, piece.turned,
            [(each.at, each.direction) for each in piece.scores],
            [(each.x, each.y, each.width, each.height) for each in piece.sections],
            sorted((renamed.get(each.host, each.host), each.x, each.y, each.border, each.side)
                   for each in piece.placements),
            [(work.verb, work.text, work.using) for work in piece.works],
        )
        for piece in result.folded.card.pieces
    }  # fmt: skip


def blocks(text: str) -> list[str]:
    """The top-level statements of a recipe with what is under each."""
    found: list[str] = []
    in_text = False
    for line in text.split("\n"):
        if found and (in_text or line.startswith((" ", "#")) or not line.strip()):
            found[-1] += line + "\n"
        else:
            found.append(line + "\n")
        in_text ^= line.count('"""') == 1
    return found


TEXTS = [*CARDS.values(), *WAYS.values()]


@pytest.mark.parametrize("seed", range(6))
def test_the_order_of_statements_does_not_matter(seed: int) -> None:
    chance = random.Random(seed)
    for text in TEXTS:
        head, *rest = blocks(text)
        chance.shuffle(rest)
        assert facts(head + "".join(rest)) == facts(text)


@pytest.mark.parametrize("seed", range(3))
def test_comments_and_spaces_do_not_matter(seed: int) -> None:
    chance = random.Random(seed)
    for text in TEXTS:
        assert facts("".join(_loosened(text, chance))) == facts(text)


def _loosened(text: str, chance: random.Random) -> Iterator[str]:
    in_text = False
    for line in text.split("\n"):
        opens = line.count('"""') == 1
        if in_text or opens or not line.strip():
            yield line + "\n"
        else:
            indent = len(line) - len(line.lstrip())
            if '"' not in line and "#" not in line:
                line = re.sub(r" +", lambda _: " " * chance.randint(1, 3), line.strip())
                line = " " * indent * 2 + line
            else:
                line = " " * indent + line
            yield (
                line
                + chance.choice(["", "  # a note", "   ", "# close"])
                + "\n"
                + chance.choice(["", "\n", "# x\n"])
            )
        in_text ^= opens


def test_other_names_give_the_same_card() -> None:
    for text in WAYS.values():
        names = {
            "door-paper": "kite",
            "message": "letter",
            "card": "house",
            "left-door": "port",
            "back": "wall",
        }
        renamed = text
        for old, new in names.items():
            renamed = re.sub(rf"(?<![\w-]){old}(?![\w-])", new, renamed)
        structure = (SAMPLES.parent / "cardrecipe/library/structures/double-gate.recipe").read_text(
            encoding="utf-8"
        )
        if "fold double-gate" in renamed:
            renamed += structure.replace(" left-door,", " port,").replace(" back,", " wall,")
        assert facts(renamed) == facts(text, names)


def test_a_let_in_place_of_a_number_gives_the_same_card() -> None:
    text = WAYS["flat size and scores"]
    assert facts(text.replace("flat 11 x", "flat wide x") + "let wide = 12 - 1\n") == facts(text)
    assert facts(text.replace("score 1 1/4 from both", "score 31.75 mm from both")) == facts(text)


# ---- explaining ----------------------------------------------------------------------------------

_VALUE = r"−?≈?(?:\d+\u202f\d+⁄\d+|\d+⁄\d+|\d+(?:\.\d+)?)"
_TERM = re.compile(rf"(?:({_VALUE}) × )?(?:(\S.*?) )?({_VALUE})")


def _read(text: str) -> Fraction:
    whole, _, part = text.removeprefix("−").removeprefix("≈").rpartition("\u202f")
    top, slash, bottom = part.partition("⁄")
    value = Fraction(int(top), int(bottom)) if slash else Fraction(part)
    value += int(whole) if whole else 0
    return -value if text.startswith("−") else value


def check_sum(text: str) -> bool:
    """True for `name = term − k × term + … = value in`, whose arithmetic must be right; False for others."""
    parts = text.split(" = ")
    if len(parts) != 3:
        assert len(parts) <= 2, text
        return False
    tokens = re.split(r" ([+−]) ", parts[1])
    total, slack = Fraction(0), Fraction(0)
    for sign, term in zip(["+", *tokens[1::2]], tokens[::2], strict=True):
        is_named = re.match(r"−\D", term) is not None  # `−card.width 3`: the sign is the term's
        match = _TERM.fullmatch(term.removeprefix("−") if is_named else term)
        assert match, text
        factor = _read(match[1]) if match[1] else Fraction(1)
        total += (-1 if (sign == "−") != is_named else 1) * factor * _read(match[3])
        slack += factor * Fraction(1, 1000) if "≈" in term else 0
    value = _read(parts[2].replace("\u00a0in", "").replace("\u00a0mm", ""))
    slack += Fraction(1, 1000) if "≈" in parts[2] else 0
    assert abs(total - value) <= slack, text
    return True


def test_explain_prints_the_sum_of_the_language_page() -> None:
    text = (
        f"{HEAD}base card from ink\n  flat 10 x 7\n  score 2 1/2 from both sides\n"
        "  sections left-door, back, right-door\n"
    )
    text += "panel door-paper from ink on left-door outside, right-door outside\n"
    first = explained(text, "door-paper.width")[0]
    assert first == "door-paper.width = left-door.width 2\u202f1⁄2 − 2 × border 1⁄8 = 2\u202f1⁄4\u00a0in"


def test_every_printed_sum_of_the_samples_is_true() -> None:
    number = 0
    for text in CARDS.values():
        solution = compile_text(text, SHELF).solution
        assert solution is not None
        sums = [line for var in set(solution.names.unknowns.values()) & set(solution.values)
                for line in explain(solution, var)]  # fmt: skip
        number += sum(check_sum(line.text) for line in sums)
    assert number > 100


@quick
@given(recipes())
def test_every_printed_sum_of_any_card_is_true(text: str) -> None:
    solution = compile_text(text).solution
    assert solution is not None
    for var in set(solution.names.unknowns.values()) & set(solution.values):
        for line in explain(solution, var):
            check_sum(line.text)


def test_an_explanation_goes_down_to_what_is_written() -> None:
    lines = explained(WAYS["one panel's size and the border, flap"], "card.width")
    assert any("message.width = 4" in line for line in lines), lines


# ---- the other unit ------------------------------------------------------------------------------


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(recipes())
def test_the_other_units_card_is_as_whole_as_the_first(text: str) -> None:
    if compile_text(text).folded is None:
        return
    first, other = sized(text), in_other_unit(text)
    assert [piece.name for piece in first.pieces] == [piece.name for piece in other.pieces]
    base = other.piece("card")
    assert sum((each.width * each.height for each in base.sections), Fraction(0)) == base.width * base.height
    mine, its = ([each.width for each in card.piece("card").sections] for card in (first, other))
    for at, width in enumerate(mine):
        for twin, same in enumerate(mine):
            assert width != same or its[at] == its[twin]
