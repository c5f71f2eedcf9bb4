"""One edit, and what must come of it: the change, and the line that made it."""

from typing import NamedTuple

import pytest

from cardrecipe.compare.changes import Change
from cardrecipe.compare.compare import compare
from tests.compare.versions import SHELF, causes, difference, good, told

CARD = """\
recipe "Evening walk"
  units inch nearest 1/16
  border 1/8
let reveal = 1/8
paper ink is cardstock "Ink" 12 x 12, 270 gsm, color "#22304a"
paper glow is patterned "Glow" 12 x 12, color "#f2b45c"
paper snow is cardstock "Snow" 8 1/2 x 11

base card from ink
  fold gate, width 5, height 6
panel message from snow on back
  border reveal
  stamp "Lanterns" in coal
  write "A wish"
  glue with tape
panel door-paper from glow on left-door outside, right-door outside
band sash from ink around card
  width 1 1/2
oval plate from snow on sash
  size 3 x 2 1/4
tag wish from snow on message
  size 1 x 2
  place 1/4 from left, 1/2 from top
supply coal is ink "Coal"
supply rust is ink "Rust"
"""


class Edit(NamedTuple):
    """`old` is replaced by `new`; then `tells` is among the changes, `because` of these lines."""

    old: str
    new: str
    tells: str
    because: tuple[str, ...]


EDITS = {
    "a size that is given": Edit(
        "size 3 x 2 1/4",
        "size 3 1/4 x 2 1/4",
        "pieces resized plate: 3 x 2 1/4 in -> 3 1/4 x 2 1/4 in",
        ("old 20: size 3 x 2 1/4", "new 20: size 3 1/4 x 2 1/4"),
    ),
    "a size that follows from another": Edit(
        "gate, width 5,",
        "gate, width 4,",
        "pieces resized door-paper: 2 1/4 x 5 3/4 in -> 1 3/4 x 5 3/4 in",
        ("old 10: fold gate, width 5, height 6", "new 10: fold gate, width 4, height 6"),
    ),
    "a band's length, from the closed card": Edit(
        "gate, width 5,",
        "gate, width 4,",
        "pieces resized sash: 10 5/8 x 1 1/2 in -> 8 5/8 x 1 1/2 in",
        ("old 10: fold gate, width 5, height 6", "new 10: fold gate, width 4, height 6"),
    ),
    "the closed card itself": Edit(
        "gate, width 5,",
        "gate, width 4,",
        "card resized closed size: 5 x 6 in -> 4 x 6 in",
        ("old 10: fold gate, width 5, height 6", "new 10: fold gate, width 4, height 6"),
    ),
    "the default border": Edit(
        "border 1/8",
        "border 1/4",
        "pieces border door-paper: 1/8 in all round -> 1/4 in all round",
        ("old 3: border 1/8", "new 3: border 1/4"),
    ),
    "a border of its own": Edit(
        "panel door-paper from glow on left-door outside, right-door outside\n",
        "panel door-paper from glow on left-door outside, right-door outside\n  border 1/4\n",
        "pieces resized door-paper: 2 1/4 x 5 3/4 in -> 2 x 5 1/2 in",
        ("new 17: border 1/4",),
    ),
    "a let": Edit(
        "let reveal = 1/8",
        "let reveal = 3/16",
        "pieces resized message: 4 3/4 x 5 3/4 in -> 4 5/8 x 5 5/8 in",
        ("old 4: let reveal = 1/8", "new 4: let reveal = 3/16"),
    ),
    "a paper's colour": Edit(
        "#f2b45c",
        "#c9762f",
        "papers recoloured Glow patterned paper: #f2b45c -> #c9762f",
        (
            'old 6: paper glow is patterned "Glow" 12 x 12, color "#f2b45c"',
            'new 6: paper glow is patterned "Glow" 12 x 12, color "#c9762f"',
        ),
    ),
    "another paper under the name": Edit(
        'patterned "Glow" 12 x 12',
        'patterned "Plaid" 12 x 12',
        "papers other paper glow: Glow patterned paper, colour #f2b45c, 12 x 12 in -> "
        "Plaid patterned paper, colour #f2b45c, 12 x 12 in",
        (
            'old 6: paper glow is patterned "Glow" 12 x 12, color "#f2b45c"',
            'new 6: paper glow is patterned "Plaid" 12 x 12, color "#f2b45c"',
        ),
    ),
    "a piece of another paper": Edit(
        "oval plate from snow",
        "oval plate from ink",
        "pieces other paper plate: Snow cardstock -> Ink cardstock",
        ("old 19: oval plate from snow on sash", "new 19: oval plate from ink on sash"),
    ),
    "a work line that comes in": Edit(
        '  write "A wish"\n',
        '  write "A wish"\n  ink edges with rust\n',
        "pieces worked message: stamp “Lanterns” in Coal; write “A wish” -> "
        "stamp “Lanterns” in Coal; write “A wish”; ink the edges with Rust",
        ("new 15: ink edges with rust",),
    ),
    "work in another order": Edit(
        '  stamp "Lanterns" in coal\n  write "A wish"\n',
        '  write "A wish"\n  stamp "Lanterns" in coal\n',
        "pieces worked message: stamp “Lanterns” in Coal; write “A wish” -> "
        "write “A wish”; stamp “Lanterns” in Coal",
        (),
    ),
    "a glue line": Edit(
        "glue with tape",
        "glue with foam 2 mm thick",
        "pieces fixed message: Double-sided tape -> Foam tape or foam pads, 2 mm thick",
        ("old 15: glue with tape", "new 15: glue with foam 2 mm thick"),
    ),
    "a place": Edit(
        "place 1/4 from left",
        "place 1/2 from left",
        "pieces moved wish: on the message, 1/4 in from the left and 1/2 in from the top -> "
        "on the message, 1/2 in from the left and 1/2 in from the top",
        ("old 23: place 1/4 from left, 1/2 from top", "new 23: place 1/2 from left, 1/2 from top"),
    ),
    "another host": Edit(
        "oval plate from snow on sash",
        "oval plate from snow on message",
        "pieces moved plate: on the sash, in the middle of the front -> on the message, in the middle",
        ("old 19: oval plate from snow on sash", "new 19: oval plate from snow on message"),
    ),
    "turned": Edit(
        "  size 3 x 2 1/4\n",
        "  size 3 x 2 1/4\n  turned 30\n",
        "pieces turned plate: upright -> turned 30° clockwise",
        ("new 21: turned 30",),
    ),
    "several in a row": Edit(
        "  size 1 x 2\n",
        "  size 1 x 2\n  repeat 3 across, gap 1/8\n",
        "pieces counted wish: 1 -> 3",
        ("new 23: repeat 3 across, gap 1/8",),
    ),
    "an added score": Edit(
        "panel message from snow on back\n",
        "panel message from snow on back\n  score 1 from top\n",
        "scores new message: scores:  -> 1 in valley from the top",
        ("new 12: score 1 from top",),
    ),
    "scores that move": Edit(
        "gate, width 5,",
        "gate, width 4,",
        "scores folded card: scores: 2 1/2 in valley and 7 1/2 in valley from the left -> "
        "2 in valley and 6 in valley from the left",
        ("old 10: fold gate, width 5, height 6", "new 10: fold gate, width 4, height 6"),
    ),
    "round corners": Edit(
        "height 6\n",
        "height 6\n  corners round 1/4\n",
        "scores new card: corners:  -> rounded, radius 1/4 in",
        ("new 11: corners round 1/4",),
    ),
    "copies": Edit(
        "  border 1/8\n",
        "  border 1/8\n  makes 4\n",
        "card counted copies: 1 card -> 4 cards",
        ("new 4: makes 4",),
    ),
    "an envelope": Edit(
        "  border 1/8\n",
        "  border 1/8\n  envelope us-a7\n",
        "envelope changed the recipe's choice: any that fits -> US A7",
        ("new 4: envelope us-a7",),
    ),
    "another ruler": Edit(
        "nearest 1/16",
        "nearest 1/8",
        "card changed the ruler's mark: 1/16 in -> 1/8 in",
        ("old 2: units inch nearest 1/16", "new 2: units inch nearest 1/8"),
    ),
    "another title": Edit(
        "Evening walk",
        "Morning walk",
        "card renamed title: Evening walk -> Morning walk",
        ('old 1: recipe "Evening walk"', 'new 1: recipe "Morning walk"'),
    ),
    "a title and another line of the head": Edit(
        'Evening walk"\n',
        'Morning walk"\n  makes 3\n',
        "card renamed title: Evening walk -> Morning walk",
        ('old 1: recipe "Evening walk"', 'new 1: recipe "Morning walk"'),
    ),
    "a supply that is worked with": Edit(
        'supply coal is ink "Coal"',
        'supply coal is ink "Pitch"',
        "pieces worked message: stamp “Lanterns” in Coal; write “A wish” -> "
        "stamp “Lanterns” in Pitch; write “A wish”",
        ('old 24: supply coal is ink "Coal"', 'new 24: supply coal is ink "Pitch"'),
    ),
    "a supply to get": Edit(
        'supply coal is ink "Coal"',
        'supply coal is ink "Pitch"',
        "shopping new ink Pitch:  -> ",
        ('old 24: supply coal is ink "Coal"', 'new 24: supply coal is ink "Pitch"'),
    ),
    "a supply that is not worked with": Edit(
        'supply rust is ink "Rust"',
        'supply rust is ink "Brick"',
        "notes new note:  -> Nothing is done with the ink “Brick”.",
        ('old 25: supply rust is ink "Rust"', 'new 25: supply rust is ink "Brick"'),
    ),
    "a piece that is dropped": Edit(
        "oval plate from snow on sash\n  size 3 x 2 1/4\n",
        "",
        "pieces gone plate: one oval of 3 x 2 1/4 in from Snow cardstock, on the sash, in the middle of the "
        "front -> ",
        ("old 19: oval plate from snow on sash",),
    ),
    "a piece that comes in": Edit(
        "oval plate",
        "circle sun from glow on sash\n  diameter 1\n  place 1/4 from left, 0 from top\noval plate",
        "pieces new sun:  -> one circle of 1 x 1 in from Glow patterned paper, on the sash, "
        "1/4 in from the left and flush with the top edge",
        ("new 19: circle sun from glow on sash",),
    ),
    "a piece that is called otherwise": Edit(
        "tag wish",
        "tag greeting",
        "pieces renamed tag: wish -> greeting",
        ("old 21: tag wish from snow on message", "new 21: tag greeting from snow on message"),
    ),
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS)
def test_an_edit_is_told_with_its_lines(edit: Edit) -> None:
    assert CARD.count(edit.old) >= 1
    found = difference(CARD, CARD.replace(edit.old, edit.new, 1))
    by_text = dict(zip(told(found), found.changes, strict=True))
    assert edit.tells in by_text, "\n".join(by_text)
    assert tuple(causes(by_text[edit.tells])) == edit.because


def kinds(old: str, new: str) -> set[tuple[str, str]]:
    return {(each.group, each.kind) for each in difference(old, new).changes}


def test_a_renamed_piece_is_no_other_piece() -> None:
    """Steps, cuts and kits speak of it by its name; none of them is another for it."""
    assert kinds(CARD, CARD.replace("wish from", "greeting from")) == {("pieces", "renamed")}


def test_a_renamed_piece_that_others_stand_on_takes_them_along() -> None:
    new = CARD.replace("panel message", "panel letter").replace("on message", "on letter")
    assert kinds(CARD, new) == {("pieces", "renamed")}


def test_a_renamed_base_and_its_paper() -> None:
    new = CARD.replace("base card", "base gate-card").replace("around card", "around gate-card")
    assert kinds(CARD, new) == {("pieces", "renamed")}
    new = CARD.replace("paper glow", "paper shine").replace("from glow", "from shine")
    assert kinds(CARD, new) == {("papers", "renamed")}


def test_of_two_that_are_alike_neither_was_renamed() -> None:
    tags = CARD + "".join(f"tag {name} from snow\n  size 1 x 1\n  loose\n" for name in ("one", "two"))
    told_kinds = kinds(tags, tags.replace("tag one", "tag three").replace("tag two", "tag four"))
    assert ("pieces", "renamed") not in told_kinds and ("pieces", "new") in told_kinds


def test_a_step_that_comes_in_early_only_shifts_the_others() -> None:
    new = CARD + 'step before message "Choose the words"\n'
    steps = told(difference(CARD, new), "steps")
    assert steps[0].startswith("steps new Choose the words")
    assert len(steps) == 2 and steps[1].startswith("steps renumbered")


def test_a_paper_of_a_used_file_is_told_with_its_file() -> None:
    shelf = dict(SHELF)
    shelf["papers.recipe"] = shelf["papers.recipe"].replace("#f7f3ea", "#ffffff")
    old = good(SHELF["night-market.recipe"])
    found = compare(old, good(SHELF["night-market.recipe"], files=shelf))
    change: Change = found.in_group("papers")[0]
    assert change.kind == "recoloured" and change.note == "for the message, plate and lantern card"
    assert {(each.file, each.line) for each in change.because} == {("papers.recipe", 4)}
    assert {each.group for each in found.changes} == {"papers", "kits"}


def test_a_thicker_paper_changes_the_band_round_it() -> None:
    found = difference(CARD, CARD.replace("270 gsm", "270 gsm, thick 1/16"))
    sash = next(each for each in found.changes if each.what == "sash" and each.kind == "resized")
    assert {each.line for each in sash.because} == {5}


METRIC = (
    ("units inch nearest 1/16", "units mm nearest 1/40"),
    ("border 1/8", "border 3.175"),
    ("reveal = 1/8", "reveal = 1/8 in"),
    ("width 5, height 6", "width 127, height 152.4"),
    ("size 3 x 2 1/4", "size 3 in x 2 1/4 in"),
    ("width 1 1/2", "width 1 1/2 in"),
    ("size 1 x 2", "size 26 x 50.8"),
    ("1/4 from left, 1/2 from top", "1/4 in from left, 1/2 in from top"),
    ("12 x 12", "12 in x 12 in"),
    ("8 1/2 x 11", "8 1/2 in x 11 in"),
)


def test_two_units_are_compared_exactly() -> None:
    """5 in is 127 mm; a size that is the same in both is no change, one that was rounded is."""
    metric = CARD
    for inches, millimetres in METRIC:
        assert inches in metric
        metric = metric.replace(inches, millimetres)
    found = difference(CARD, metric)
    assert "card changed unit: inches -> millimetres" in told(found, "card")
    resized = [each for each in told(found, "pieces") if " resized " in each]
    assert "pieces resized wish: 1 x 2 in -> 26 x 50.8 mm" in resized
    assert not any("plate" in each for each in resized)


def test_a_variant_that_comes_or_goes_or_says_something_else() -> None:
    variant = CARD + 'variant "Plain"\n  drop plate\n'
    assert told(difference(CARD, variant)) == ["variants new Plain:  -> "]
    assert told(difference(variant, CARD)) == ["variants gone Plain:  -> "]
    other = told(difference(variant, variant.replace("drop plate", "drop wish")))
    assert other == ["variants changed Plain: drop plate -> drop wish"]
