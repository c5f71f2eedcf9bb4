"""Every diagnostic code has a repair that holds, or a reason why it has none."""

import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cardrecipe import checking
from cardrecipe.editor.mending.case import Case
from cardrecipe.editor.mending.repairs import Repair, repairs
from cardrecipe.editor.mending.table import NO_REPAIR, PROPOSERS
from cardrecipe.editor.snapshot import Snapshot, applied
from cardrecipe.syntax.codes import CODES, Code
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from cardrecipe.syntax.spans import Span
from tests.recipes import NAME, ROOT, Files, Texts, checked

REPAIRED = [each for each in CODES if each.name in PROPOSERS]


def snapshot_of(text: str, files: Files | None = None) -> Snapshot:
    """A text as an editor has it when it has been checked."""
    source, texts = Source(NAME, text), Texts(files)
    tree, form = parse(source)
    found = checking.checked(tree, form, source, texts)
    return Snapshot(source, tree, tuple(form), found.diagnostics, found.plain, found.variants, True, texts)


def offered(text: str, code: str, files: Files | None = None) -> list[tuple[Diagnostic, tuple[Repair, ...]]]:
    snapshot = snapshot_of(text, files)
    return [(each, repairs(snapshot, each)) for each in snapshot.diagnostics if each.code == code]


def mended(text: str, repair: Repair, files: Files | None = None) -> tuple[str, dict[str, str]]:
    """The recipe and its other files with a repair made."""
    others = {name: applied(other, name, repair.edits) for name, other in (files or {}).items()}
    return applied(text, NAME, repair.edits), others


def test_each_code_has_a_repair_or_a_reason_why_not() -> None:
    names = {each.name for each in CODES}
    assert set(PROPOSERS) | set(NO_REPAIR) == names
    assert set(PROPOSERS) & set(NO_REPAIR) == set()


def assert_each_repair_holds(text: str, code: str, files: Files) -> None:
    """Each offered repair takes one diagnostic of that code away and brings no error of another."""
    before = checked(text, files)
    found = offered(text, code, files)
    assert found
    for _, repaired in found:
        assert repaired, "no repair is offered"
        assert all(each.title.isprintable() and len(each.title) <= 90 for each in repaired)
        assert sum(each.is_preferred for each in repaired) <= 1
        for repair in repaired:
            after = checked(*mended(text, repair, files))
            assert sum(each.code == code for each in after) < sum(each.code == code for each in before)
            errors = [str(each) for each in after if each.severity == "error" and each.code != code]
            assert errors == [], repair


@pytest.mark.parametrize("code", REPAIRED, ids=lambda code: code.name)
def test_each_repair_of_the_example_takes_the_diagnostic_away_and_brings_no_error(code: Code) -> None:
    assert_each_repair_holds(code.example, code.name, dict(code.files))


# ---- other recipes with the same mistakes ---------------------------------------------------------


def renamed(text: str) -> str:
    """Other names for the pieces and sections of the examples."""
    names = {"plate": "moon-over-water", "message": "m", "left-door": "west-2", "card": "folder-1"}
    for old, new in names.items():
        text = re.sub(rf"(?<![\w-]){old}(?![\w-])", new, text)
    return text


def commented(text: str) -> str:
    """A comment after each line that is no text of several lines, and one above everything."""
    if '"""' in text or "\n\n\n" in text:
        return text
    lines = [f"{line}  # as we like it" if line.strip() else line for line in text.split("\n")]
    return "# by hand\n\n" + "\n".join(lines)


def wider(text: str) -> str:
    """Four spaces where there were two."""
    return re.sub(r"^  (?=\S)", "    ", text, flags=re.M)


def without_last_newline(text: str) -> str:
    return text.rstrip("\n")


def with_other_line_ends(text: str) -> str:
    return text.replace("\n", "\r\n")


def beside_other_mistakes(text: str) -> str:
    """Something else is wrong in a block of its own."""
    return text.rstrip("\n") + "\n\nrectangle far-off from nothing-known\n  size 1 x 1\n"


# Found only where everything can be folded, which an error in any block prevents.
_OF_WHOLE_CARDS = {
    "no-sheet-holds", "envelope-too-small", "glue-locks", "glue-nowhere", "slider-shut-in", "slider-too-wide",
    "cannot-fold", "score-dangles", "section-loose", "no-such-score", "pose-angle", "pose-torn", "fold-order",
}  # fmt: skip
VARIED = [each for each in REPAIRED if len(each.example) < 5000]


@pytest.mark.parametrize(
    "vary",
    [commented, wider, without_last_newline, renamed, with_other_line_ends],
    ids=lambda vary: vary.__name__,
)
@pytest.mark.parametrize("code", VARIED, ids=lambda code: code.name)
def test_repairs_hold_however_the_recipe_is_written(code: Code, vary: Callable[[str], str]) -> None:
    assert_each_repair_holds(vary(code.example), code.name, {name: vary(text) for name, text in code.files})


@pytest.mark.parametrize("code", VARIED, ids=lambda code: code.name)
def test_a_mistake_in_another_block_takes_no_repair_away(code: Code) -> None:
    text = beside_other_mistakes(code.example)
    is_class = code.example.startswith("class")  # in whose file no other block may stand
    if code.severity == "warning" or code.name in _OF_WHOLE_CARDS or is_class:
        return  # such things are said of a card without errors
    for _, repaired in offered(text, code.name, dict(code.files)):
        assert repaired


# ---- what people type -----------------------------------------------------------------------------

SHELF = (
    'recipe "A card"\n  units inch nearest 1/16\n  border 1/8\n\npaper ink is cardstock "Ink" 12 x 12\n\n'
    "base card from ink\n  fold gate, width 5, height 7\n\n"
)
TYPED = [
    ("oval plate from ink on back\n  size 3 inches x 2", "  size 3 in x 2"),
    ("oval plate from ink on back\n  size 3 by 2", "  size 3 x 2"),
    ("oval plate from ink on back\n  size\u00a03 x\u00a02", "  size 3 x 2"),
    ("oval plate from ink on back\n\u00a0 size 3 x 2", "  size 3 x 2"),
    ("paper dots is cardstock Dots of ink", 'paper dots is cardstock "Dots of ink"'),
    ("oval plate from ink on back\n  size 3 X 2", "  size 3 x 2"),
    ('oval plate from ink on back\n  size 3" x 2', "  size 3 in x 2"),
    ("oval plate from ink on back\n  size 3 * 2", "  size 3 x 2"),
    ("oval Plate from ink on back\n  size 3 x 2", "oval plate from ink on back"),
    ("oval plate_one from ink on back\n  size 3 x 2", "oval plate-one from ink on back"),
    ("oval plate from ink on back\n  size 3 x 2 wide", "  size 3 x 2"),
    ("oval plate from ink on bakc\n  size 3 x 2", "oval plate from ink on back"),
    ("oval plate form ink on back\n  size 3 x 2", "oval plate from ink on back"),
    ("oval plate from ink on back\n  size 3 x 2\n  stamp “A star”", '  stamp "A star"'),
    ("oval plate from ink on back\n  size 3 x 2\n  stamp 'A star'", '  stamp "A star"'),
    ("oval plate from ink on back\n  size 3 x 2\n  glue with tape and dots", "  glue with tape"),
    ("oval plate from ink on back\n  size 3 x 2\n  glue with taep", "  glue with tape"),
    ("oval plate from ink on back\n  size 3 x 2\n  glue along left and right", "  glue along left, right"),
    ("oval plate from ink on back\n  size 3 x 2\n  turned 45 degrees", "  turned 45"),
    ("oval plate from ink on back\n  Size 3 x 2", "  size 3 x 2"),
    ("oval plate from ink on back\n  size 3 – 1 x 2", "  size 3 - 1 x 2"),
    ("oval plate from ink on back\n  size (3 + 1/8 x 2", "  size (3 + 1/8) x 2"),
    ("oval plate from ink on back\n  size 3 x 2\n  place 1/4 left", "  place 1/4 from left"),
    ("oval plate from cream on back\n  size 3 x 2", 'paper cream is cardstock "Cream"'),
    ("Remember to buy ribbon!", "# Remember to buy ribbon!"),
    ("oval plate from ink on back\nsize 3 x 2", "  size 3 x 2"),
    ('paper dots is cardstock "Dots" 12 x 12 270 gsm', 'paper dots is cardstock "Dots" 12 x 12, 270 gsm'),
    ('paper dots is cardstock "Dots", 12 pt', 'paper dots is cardstock "Dots", thick 0.012 in'),
    ('paper dots is cardstock "Dots", 80 lbs cover', 'paper dots is cardstock "Dots", 80 lb cover'),
    ('paper dots is cardstock "Dots", colour "#ffffff"', 'paper dots is cardstock "Dots", color "#ffffff"'),
    ('paper dots is cardstock "Dots", color "#fff"', 'paper dots is cardstock "Dots", color "#ffffff"'),
    ('paper dots is Cardstock "Dots"', 'paper dots is cardstock "Dots"'),
    ("panel note from ink on left-dor outside", "panel note from ink on left-door outside"),
    ("panel note from ink on back\n  border 1/8 all round", "  border 1/8"),
    ('panel note from ink on back\n  write """\n  A wish', '  """'),
    ('panel note from ink on back\n  about "It is small."', "panel note from ink on back"),
    ("strip note from ink on back\n  size 1 x 1", "panel note from ink on back"),
    ("oval plate from ink on back\n  dimensions 3 x 2", "  size 3 x 2"),
    ("oval plate from ink on back\n  size 3 x 2\n  raised", "  # raised"),
    ("circle plate from ink on back\n  radius 1", "  # radius 1"),  # and not a diameter of 1
    ('variant "Cold"\n  set ink is cardstock "Ice" 12 x 12', '  replace ink with cardstock "Ice" 12 x 12'),
]


@pytest.mark.parametrize(("lines", "wanted"), TYPED, ids=[each[0].split("\n")[-1].strip() for each in TYPED])
def test_what_people_type_is_answered_with_what_they_meant(lines: str, wanted: str) -> None:
    text = f"{SHELF}{lines}\n"
    snapshot = snapshot_of(text)
    texts = [mended(text, each)[0] for found in snapshot.diagnostics for each in repairs(snapshot, found)]
    assert [each for each in texts if wanted in each.split("\n")], texts


_WALL = 'recipe "A card"\n  units inch nearest 1/16\npaper ink is cardstock "Ink" 12 x 12\n'
_BASE = "base card from ink\n  flat 10 x 7\n  score 5 from left\n  sections front, back\n"
_OPEN = f"{_WALL}{_BASE}"
WHOLE = [
    (SHELF.replace("inch", "inches"), "  units inch nearest 1/16"),
    (SHELF.replace("12 x 12", 'color "22304aff"'), 'paper ink is cardstock "Ink" color "#22304a"'),
    (SHELF.replace("height 7", "width 6, height 7"), "  fold gate, width 5, height 7"),
    (f"{SHELF}panel m from ink on back\n  glue along left,\n", "  glue along left"),
    (f"{SHELF}  panel m from ink on back\n    border 1/4\n", "panel m from ink on back"),
    (f"{SHELF}oval plate from ink on back\n  size 3 x ?\n", "  size 3 x 3 1/2"),
    (f"{SHELF}oval plate from ink on back\n  size ? x ?\n", "  size 2 1/2 x 3 1/2"),
    (f"{SHELF}circle dot from ink on back\n", "  diameter 2 1/2"),
    (f"{SHELF}square dot from ink on back\n", "  size 2 1/2 x 2 1/2"),
    (f"{SHELF}band sash from ink around card\n", "  width 1 1/2"),
    (f"{_OPEN}panel m from ink on back\n", "  border 1/8"),
    (f"{_WALL}base card from ink\n  score 5 from left\n", "  flat 10 x 7"),
    (f"{_WALL}base card from ink\n  fold gate\n", "  fold gate, width 4 1/4, height 5 1/2"),
    (f"{_WALL}rectangle tag from ink\n  loose\n", "  size 3 x 2 1/4"),
    (SHELF.replace("border 1/8", "border 3") + "panel m from ink on back\n", "  border 1 1/4"),
    (_OPEN.replace("5 from left", "4 2/3 from left"), "  score 4 11/16 from left"),
    (f"{_OPEN}panel m from ink on back\n  border 1/3\n", "  border 5/16"),
    (f"{_OPEN}circle dot from ink on back\n  diameter 1 1/3\n", "  diameter 1 5/16"),
    (_OPEN.replace("5 from left", "5, 5 from left").replace("front, back", "front"), "  score 5 from left"),
    (_OPEN.replace("5 from left", "5, 12 from left"), "  score 5 from left"),
    (_OPEN.replace("nearest 1/16", "nearest 0"), "  units inch nearest 1/16"),
    (
        f"{_OPEN.replace('5 from', '4 2/3 from')}panel m from ink on back\n".replace(
            "nearest 1/16", "nearest 1/16\n  border 1/8"
        ),
        "  size 5 1/16 x 6 3/4",
    ),
]


@pytest.mark.parametrize(("text", "wanted"), WHOLE, ids=[each[1].strip() for each in WHOLE])
def test_a_recipe_with_a_mistake_is_mended_with_the_line_that_is_missing(text: str, wanted: str) -> None:
    snapshot = snapshot_of(text)
    assert snapshot.diagnostics
    texts = [mended(text, each)[0] for found in snapshot.diagnostics for each in repairs(snapshot, found)]
    assert [each for each in texts if wanted in each.split("\n")], texts


CLASSES = [
    ('make 3 of "tga.recipe"', '  make 3 of "tag.recipe"'),
    ('make 3 of "tag.recipe" variant "Harvst"', '  make 3 of "tag.recipe" variant "Harvest"'),
    ('make 3 of "tag.recipe"\n  have moos 3 sheets', "  have moss 3 sheets"),
    ('make 3 of "tag.recipe"\n  have moss 3', "  have moss 3 sheets"),
    ('make 3 of "tag.recipe"\n  have "Mos" 3 sheets', '  have "Moss" 3 sheets'),
    ("make 3 of tag.recipe", '  make 3 of "tag.recipe"'),
    ('make three of "tag.recipe"', '  make 3 of "tag.recipe"'),
    ('make 3 "tag.recipe"', '  make 3 of "tag.recipe"'),
    ('make 3 of "tag.recipe"\n  spares 2', "  spare 2"),
]


@pytest.mark.parametrize(("line", "wanted"), CLASSES, ids=[each[0] for each in CLASSES])
def test_what_people_type_in_a_class_is_answered_with_what_they_meant(line: str, wanted: str) -> None:
    tag = 'recipe "Tag"\npaper moss is cardstock "Moss"\nrectangle tag from moss\n  size 2 x 3\n  loose\n'
    files = {"tag.recipe": f'{tag}variant "Harvest"\n  set tag.width 3\n'}
    text = f'class "Bench"\n  {line}\n'
    snapshot = snapshot_of(text, files)
    texts = [mended(text, each)[0] for found in snapshot.diagnostics for each in repairs(snapshot, found)]
    assert [each for each in texts if wanted in each.split("\n")], texts


# ---- properties of the whole ----------------------------------------------------------------------


def test_a_used_file_is_mended_where_the_mistake_stands() -> None:
    files = {"papers.recipe": 'paper ink is cardstok "Ink" 12 x 12\n'}
    text = 'recipe "A card"\nuse "papers.recipe"\nbase card from ink\n  flat 10 x 7\n  score 5 from left\n'
    [(_, [repair, *_])] = offered(text, "unknown-kind", files)
    assert {each.span.file for each in repair.edits} == {"papers.recipe"}
    assert mended(text, repair, files)[1]["papers.recipe"].startswith('paper ink is cardstock "Ink"')


def test_a_mistake_in_a_variant_is_mended_in_the_variant() -> None:
    text = f'{SHELF}oval plate from ink on back\n  size 3 x 2\n\nvariant "Large"\n  set plat.width 4\n'
    [(_, [repair, *_])] = offered(text, "unknown-name")
    assert "  set plate.width 4" in mended(text, repair)[0].split("\n")


@pytest.mark.parametrize(
    ("written", "new"),
    [
        ("cut 2 from top, between 8 and 11", "cut 2 from top, between 8 and 10"),
        ("cut 2 from left, between 5 and 3", "cut 2 from left, between 4 and 3"),
        ("score 2 from left, between 0 and 5", "score 2 from left, between 0 and 4"),
    ],
)
def test_a_line_that_runs_too_far_ends_at_the_edge(written: str, new: str) -> None:
    base = f"base wide from ink\n  flat 10 x 4\n  {written}\n"
    [(_, found)] = offered(SHELF + base, "score-off-sheet")
    assert [each.title for each in found] == [f"Write `{new}`", f"Take out `{written}`"]
    assert f"  {new}" in mended(SHELF + base, found[0])[0].split("\n")


def test_what_a_variant_alone_has_is_mended_too() -> None:
    text = f'{SHELF}oval plate from ink on back\n  size 3 x 2\n\nvariant "Large"\n  set plate.width 2 - 3\n'
    [(found, [repair, *_])] = offered(text, "size-not-positive")
    assert found.message.startswith('in variant "Large": ')
    assert "  set plate.width 3 - 2" in mended(text, repair)[0].split("\n")


def test_nothing_is_offered_in_the_files_that_are_shipped() -> None:
    snapshot = snapshot_of(SHELF)
    found = Diagnostic("score-off-sheet", "error", Span("library:gate", 0, 5), "a score is off the sheet")
    assert repairs(snapshot, found) == ()


def test_a_diagnostic_of_another_text_has_no_repair_in_this_one() -> None:
    snapshot = snapshot_of(SHELF)
    for code in CODES:
        for start in (0, 7, len(SHELF) - 1, len(SHELF), len(SHELF) + 50):
            found = Diagnostic(code.name, code.severity, Span(NAME, start, start + 4), "of another text")
            assert repairs(snapshot, found) == ()


@pytest.mark.parametrize("start", [0, 7, len(SHELF) - 1, len(SHELF), len(SHELF) + 50])
@pytest.mark.parametrize("code", REPAIRED, ids=lambda code: code.name)
def test_a_place_that_does_not_fit_is_met_without_a_fault(code: Code, start: int) -> None:
    snapshot = snapshot_of(SHELF)
    found = Diagnostic(code.name, code.severity, Span(NAME, start, start + 4), "a mistake")
    for propose in PROPOSERS[code.name]:
        for repair in propose(Case(snapshot, found)):
            assert repair.title


def test_a_check_loads_no_repairs(tmp_path: Path) -> None:
    recipe = tmp_path / "a.recipe"
    recipe.write_text(SHELF.replace("paper ink", "paiper ink"), encoding="utf-8")
    code = (
        "import sys; from cardrecipe.cli import main; main(['check', sys.argv[1]]);"
        "print([name for name in sys.modules if name.startswith('cardrecipe.editor')])"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, recipe], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert ran.stdout == "[]\n"
    assert "did you mean `paper`?" in ran.stderr
