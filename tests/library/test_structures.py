"""Every shipped structure folds flat to the size it is asked for, carries panels, and no mistake in it
goes unseen; the page of the folds is up to date."""

import re
from fractions import Fraction
from functools import cache

import pytest

from cardrecipe.compile import Compiled, compile_recipe
from cardrecipe.library.folds import fold_names, fold_source
from cardrecipe.model.texts import NoTexts
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.solve.sized import SizedCard
from cardrecipe.syntax.source import Source
from tests.library.folds_page import GRAMMAR, HEAD, first_recipe, page

NAMES = fold_names()
LARGE = HEAD.replace("12 x 12", "48 x 48")
METRIC = (
    HEAD.replace("inch nearest 1/16", "mm nearest 1").replace("1/8", "3").replace("12 x 12", "900 x 900")
)
SIZES = {"inch": (Fraction(4), Fraction(6)), "mm": (Fraction(104), Fraction(152))}
SQUARE = {"triangle"}  # asks for a width alone
BORDER = {"inch": Fraction(1, 8), "mm": Fraction(3)}


@cache
def compiled(text: str) -> Compiled:
    return compile_recipe(Source("card.recipe", text), NoTexts())


def errors(result: Compiled) -> list[str]:
    return [each.code for each in result.diagnostics if each.severity == "error"]


def base(name: str, unit: str) -> str:
    width, height = SIZES[unit]
    tall = "" if name in SQUARE else f", height {height}"
    head = LARGE if unit == "inch" else METRIC
    return f"{head}base card from ink\n  fold {name}, width {width}{tall}\n"


def test_there_are_many() -> None:
    assert len(NAMES) >= 40


@pytest.mark.parametrize("name", NAMES)
def test_a_structure_opens_with_a_line_that_says_what_it_is(name: str) -> None:
    first = fold_source(name).text.splitlines()[0]
    assert first.startswith("# ") and first.endswith(".") and len(first) < 130


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("name", NAMES)
def test_it_folds_flat_to_the_size_asked_for(name: str, unit: str) -> None:
    result = compiled(base(name, unit))
    assert errors(result) == []
    assert result.folded is not None
    width, height = SIZES[unit]
    assert closed_size(result.folded) == (width, width if name in SQUARE else height)
    folded_by_then = {score for move in result.folded.closed[0].moves for score in move.scores}
    assert folded_by_then == folded_when_closed(result.folded.card)


def folded_when_closed(card: SizedCard) -> set[int]:
    """The scores of the base that its own pose `closed` names, else all of them."""
    own = [pose for pose in card.poses if pose.name == "closed"]
    if own:
        return {number for base, number, angle in own[0].folds if base == "card" and angle == 180}
    return {score.number for score in card.bases[0].scores if score.number}


@pytest.mark.parametrize("name", NAMES)
def test_every_part_of_the_sheet_has_a_name_of_its_own(name: str) -> None:
    result = compiled(base(name, "inch"))
    assert result.folded is not None
    sections = [each.name for each in result.folded.card.bases[0].sections]
    assert len(set(sections)) == len(sections)
    assert name == "accordion" or not any(each.startswith("section-") for each in sections)


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("name", NAMES)
def test_a_panel_on_each_section_follows_from_its_border(name: str, unit: str) -> None:
    plain = compiled(base(name, unit)).folded
    assert plain is not None
    sections = plain.card.bases[0].sections
    panels = [f"panel on-{each.name} from white on {each.name}\n  loose\n" for each in sections]
    result = compiled(base(name, unit) + "".join(panels))
    assert errors(result) == []
    solution = result.solution
    assert solution is not None
    for each in sections:
        if "on-" + each.name in solution.panels:
            continue  # no rectangle: tests/fold/test_outlines_of_panels.py looks at those
        size = (each.width - 2 * BORDER[unit], each.height - 2 * BORDER[unit])
        grid = Fraction(1, 16) if unit == "inch" else Fraction(1)
        for quantity, exact in zip(("width", "height"), size, strict=True):
            solved = solution.values[f"on-{each.name}", quantity]
            assert exact - grid < solved <= exact, (each.name, quantity)


# ---- seeded mistakes -----------------------------------------------------------------------------


def seeded(name: str, text: str) -> list[tuple[str, str]]:
    """What is said about a structure with a mistake in it: the code, and the line that it points to."""
    fold = base(name, "inch").removeprefix(LARGE)
    source = Source("card.recipe", f"{LARGE}{text}\n{fold}")
    result = compile_recipe(source, NoTexts())
    quiet = ("unused-paper", "off-grid", "post-square")
    return [(each.code, source.line_text(source.line_of(each.span)).strip())
            for each in result.diagnostics if each.code not in quiet]  # fmt: skip


def places_beside(name: str, text: str) -> list[str]:
    """The lines of the mistake and of its related places."""
    source = Source("card.recipe", f"{LARGE}{text}\n{base(name, 'inch').removeprefix(LARGE)}")
    found = compile_recipe(source, NoTexts()).diagnostics
    spans = [span for each in found for span in (each.span, *(other.span for other in each.related))]
    return [source.line_text(source.line_of(span)) for span in spans if span.file == source.name]


@pytest.mark.parametrize("name", NAMES)
def test_the_structure_as_it_is_has_no_mistake(name: str) -> None:
    assert seeded(name, fold_source(name).text) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_slit_that_cuts_a_part_loose_is_caught(name: str) -> None:
    line = "cut 1/4 in from right"
    text = f"{fold_source(name).text}  {line}\n"
    ((code, _),) = seeded(name, text)
    assert code == "section-loose"
    assert line in {place.strip() for place in places_beside(name, text)}


@pytest.mark.parametrize("name", NAMES)
def test_a_score_that_ends_in_the_middle_of_the_paper_is_caught(name: str) -> None:
    line = "score 1/4 in from right, between 1 1/4 in and 1 3/8 in"
    if name in ("box-lid", "double-wall-box", "single-wall-box", "exploding-box", "envelope-wrap"):
        line = "score 1/4 in from right, between 4 1/4 in and 4 3/8 in"
    assert ("score-dangles", line) in seeded(name, f"{fold_source(name).text}  {line}\n")


MISTAKES = [
    ("gate", "width / 2 from both", "width / 2 + 1/8 in from both", "doors-overlap"),
    ("gate", "width / 2 from both", "width / 2 - 1/8 in from both", "doors-gape"),
    ("upright-gate", "height / 2 from top", "height / 2 + 1/8 in from top", "doors-overlap"),
    ("offset-gate", "score left-door from left", "score left-door + 1/8 in from left", "doors-overlap"),
    ("double-gate", "flap + width / 2 from both", "flap + width / 2 + 1/8 in from both", "doors-overlap"),
    ("z-fold", "mountain", "valley", "rolled-too-wide"),
    ("half-z", "mountain", "valley", "rolled-too-wide"),
    ("double-z", "mountain", "valley", "rolled-too-wide"),
    ("easel", "mountain", "valley", "rolled-too-wide"),
    ("rolled-tri-fold", "ease = 1/8 in", "ease = 0 in", "rolled-too-wide"),
    ("letter-thirds", "ease = 1/8 in", "ease = 0 in", "rolled-too-wide"),
    ("rolled-four", "ease = 1/16 in", "ease = 0 in", "rolled-too-wide"),
    ("double-parallel", "- 3 * ease", "+ 1/8 in", "rolled-too-wide"),
    ("short-front", "width + front", "width - front", "score-off-sheet"),
    ("corner", "(corner, 0)", "(corner, 1 in)", "score-dangles"),
    ("single-wall-box", "from top, valley, between depth and width + depth",
     "from top, valley, between depth and width", "score-dangles"),
    ("envelope-wrap", "window side x upper at (0, 0)",
     "cut upper from top, between 0 and side", "cannot-fold"),
    ("flip-strip", "score flip from left, mountain", "cut flip from left", "section-loose"),
    ("tent", "score height from top", "score 2 * height from top", "score-off-sheet"),
    ("concertina-spine", "mountain", "valley", "cannot-fold"),
    ("quarter-fold", "mountain", "valley", "cannot-fold"),
    ("pocket-folder", "mountain", "valley", "cannot-fold"),
    ("one-sheet-booklet", "mountain, between height", "valley, between height", "cannot-fold"),
    ("box-pop-up", "mountain", "valley", "cannot-fold"),
    ("box-pop-up", "width - out + depth from", "width - out + depth + 1/8 in from", "cannot-fold"),
    ("v-pop-up", "mountain", "valley", "cannot-fold"),
    ("side-step", "mountain", "valley", "cannot-fold"),
    ("centre-step", "mountain", "valley", "cannot-fold"),
    ("centre-step", "height + 2 * step from top, v",
     "height + 2 * step + 1/8 in from top, v", "score-dangles"),
    ("tri-shutter", "mountain, between 0", "valley, between 0", "cannot-fold"),
    ("swing-window", "mountain, between 0", "valley, between 0", "cannot-fold"),
    ("never-ending", "left-outer on upper", "left-inner on upper", "glue-locks"),
    ("flexing", "glue tab on first", "glue tab on second", "glue-nowhere"),
    ("two-piece-step", "tab + deep + high from", "tab + deep + high + 1/8 in from", "cannot-fold"),
    ("two-piece-step", "lower-tab on floor", "lower-tab on back", "glue-nowhere"),
    ("strip-pop-up", "tab + deep from", "tab + deep + 1/8 in from", "cannot-fold"),
    ("strip-pop-up", "mountain", "valley", "cannot-fold"),
    ("double-easel", "second-back on front", "second-back on front, second-back on prop", "cannot-fold"),
    ("dutch-door", "between 0 and width", "between 0 and 2 * width", "section-loose"),
    ("gate", "flat 2 * width", "flat width / 2", "score-off-sheet"),
    ("side-fold", "score width from left", "score 2 * width from left", "score-off-sheet"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "right", "wrong", "code"), MISTAKES)
def test_a_seeded_mistake_is_caught_where_it_is(name: str, right: str, wrong: str, code: str) -> None:
    text = fold_source(name).text
    assert right in text
    found = seeded(name, text.replace(right, wrong))
    places = [line for one, line in found if one == code]
    assert places, found
    assert all(line.startswith(("score", "cut", "glue", "panel")) for line in places)


# ---- the recipes that `new` writes, and the page -------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_a_new_recipe_is_checked_without_a_word(name: str) -> None:
    assert compiled(first_recipe(name)).diagnostics == []


def test_the_page_of_the_folds_is_up_to_date() -> None:
    """If not: `python -m tests.library.folds_page`."""
    text, pictures = page()
    assert (GRAMMAR / "folds.md").read_text(encoding="utf-8") == text
    kept = {path.name: path.read_text(encoding="utf-8") for path in (GRAMMAR / "pictures").glob("*.svg")}
    assert kept == pictures


EXAMPLES = re.findall(r"^```recipe\n(.*?)^```$", (GRAMMAR / "folds.md").read_text("utf-8"), re.DOTALL | re.M)


def test_every_structure_has_an_example() -> None:
    assert [re.findall(r"fold ([a-z-]+)", each)[0] for each in EXAMPLES] == list(NAMES)


@pytest.mark.parametrize("example", EXAMPLES, ids=NAMES)
def test_an_example_of_the_page_compiles(example: str) -> None:
    assert errors(compiled(HEAD + example)) == []


# ---- the structure's own sizes, on the maker's ruler ---------------------------------------------


@pytest.mark.parametrize(("unit", "width", "height"), [("mm", "104", "148"), ("inch", "4 1/4", "5 1/2")])
@pytest.mark.parametrize("name", NAMES)
def test_what_nobody_chose_stands_on_a_mark(name: str, unit: str, width: str, height: str) -> None:
    head, grid = (LARGE, Fraction(1, 16)) if unit == "inch" else (METRIC, Fraction(1))
    tall = "" if name in SQUARE else f", height {height}"
    solution = compiled(f"{head}base card from ink\n  fold {name}, width {width}{tall}\n").solution
    assert solution is not None
    for scope in (each for piece in solution.card.pieces for each in piece.scopes):
        for asked in scope.defaults:
            if asked in scope.scalars:
                continue
            value = solution.values["card", f"fold {asked}"]
            if value > 0 and asked != "wall":  # the exploding box takes the smaller of two sizes
                assert (value / grid).denominator == 1, asked
