"""Edits that seldom happen: another paper of the same title, other tips first, a panel turned into a band."""

from cardrecipe.compare.compare import compare
from cardrecipe.compare.facts import facts_of
from tests.compare.versions import difference, good, in_no_order, mirrored, told
from tests.recipes import HEAD

CARD = (
    f'{HEAD}paper white is cardstock "White" 12 x 12\npaper snow is cardstock "White" 11 x 11\n'
    "base card from ink\n  fold side-fold, width 4 1/4, height 5 1/2\n"
)
TILES = (
    "square tile from white on back\n  size 1 x 1\n  place 1/2 from top\n"
    "square top from snow on back\n  size 1 x 1\n  place 1/2 from bottom\n"
)


def pieces_told(old: str, new: str, card: str = CARD) -> list[str]:
    """What is said of the pieces; the other way round the same with its sides changed over."""
    before, after = good(card + old), good(card + new)
    found = compare(before, after)
    assert mirrored(found) == in_no_order(compare(after, before))
    return told(found, "pieces")


def test_two_papers_of_one_title_are_told_by_their_names() -> None:
    more = "square more from {} on front\n  size 2 x 2\n"
    assert pieces_told(TILES + more.format("white"), TILES + more.format("snow")) == [
        "pieces other paper more: paper white -> paper snow"
    ]


def test_a_pocket_that_opens_elsewhere_is_told_by_its_glued_edges() -> None:
    pocket = "panel pocket from white on back\n  size 3 x 3\n  glue along {}\n"
    assert pieces_told(pocket.format("left, bottom, right"), pocket.format("left, top, right")) == [
        "pieces fixed pocket: Double-sided tape, along left, bottom and right"
        " -> Double-sided tape, along left, top and right"
    ]


def test_a_mat_is_told_by_what_lies_on_it() -> None:
    mat = "panel mat from ink under {}\n  border 1/16\n"
    assert "pieces moved mat: under tile -> under top" in pieces_told(
        TILES + mat.format("tile"), TILES + mat.format("top")
    )
    on_the_front = "panel mat from ink on front\n"
    assert "pieces moved mat: under tile -> under nothing" in pieces_told(
        TILES + mat.format("tile"), TILES + on_the_front
    )


def test_a_panel_that_becomes_a_band_is_told_in_each_of_its_parts() -> None:
    panel, band = "panel sash from ink on back\n", "band sash from ink around card\n  width 1\n"
    found = pieces_told(panel, band)
    assert {
        "pieces changed sash: panel -> band",
        "pieces moved sash: not a band -> round the card, left to right",
        "pieces moved sash:  -> 2 1/4 in from the top of the card",
        "pieces fixed sash:  -> its ends overlap by about 1/2 in",
    } <= set(found)


def test_a_panel_that_follows_a_slant_is_told_by_its_corners() -> None:
    base = f"{HEAD}base card from ink\n  flat 5 x 5\n  score from (0, 5) to (5, 0)\n  sections front, back\n"
    panel = base + "panel lining from ink on front\n  border {}\n"
    assert told(difference(panel.format("1/8"), panel.format("1/4")), "scores") == [
        "scores folded lining: outline: 0, 0 – 4 9/16, 0 – 0, 4 9/16 -> 0, 0 – 4 1/8, 0 – 0, 4 1/8"
    ]


def test_of_two_own_steps_with_the_same_words_the_second_is_new() -> None:
    step = 'step after tile "Let it dry."\n'
    assert told(difference(CARD + TILES + step, CARD + TILES + step + step), "steps") == [
        "steps new Let it dry:  -> step 8",
        "steps renumbered steps that come under another number: 8 -> 9",
    ]


def test_tips_in_another_order_are_told_with_the_whole_step() -> None:
    one, two = 'tip on tile "One."\n', 'tip on tile "Two."\n'
    (change,) = difference(CARD + TILES + one + two, CARD + TILES + two + one).in_group("steps")
    assert change.kind == "reworded" and change.what == "Glue the tile to the back"
    assert change.old.endswith("Tip: One. Tip: Two.") and change.new.endswith("Tip: Two. Tip: One.")
    assert change.old.split("Tip")[0] == change.new.split("Tip")[0]


def test_a_variant_with_its_lines_in_another_order_is_told_as_that() -> None:
    variant = 'variant "Small"\n  set {}.width 2\n  set {}.width 2\n'
    assert told(
        difference(CARD + TILES + variant.format("tile", "top"), CARD + TILES + variant.format("top", "tile"))
    ) == ["variants changed Small: its lines in one order -> in another"]


def test_loose_pieces_alone_have_no_closed_size_among_their_facts() -> None:
    loose = facts_of(good(f"{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n").sheet)
    folded = facts_of(good(CARD + TILES).sheet)
    assert "makes: 1 set" in loose and "tag: one rectangle of 2 x 3 in from Ink cardstock" in loose
    assert [any(line.startswith("closed: ") for line in facts) for facts in (loose, folded)] == [False, True]


def test_each_work_on_a_piece_is_a_fact_of_its_own() -> None:
    tag = f'{HEAD}rectangle tag from ink\n  size 2 x 3\n  loose\n  stamp "A star"\n  trim by hand\n'
    _, *works = [each for each in facts_of(good(tag).sheet) if each.startswith("tag: ")]
    assert works == ['tag: stamp "A star"', "tag: trim by hand"]
