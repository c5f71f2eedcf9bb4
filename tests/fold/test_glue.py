"""Where glue is safe, and what is said of glue that would lock a card: small cards, one rule each."""

from fractions import Fraction

import pytest

from cardrecipe.fold.card import fold, glued, may_lock, what_glue_locks
from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.geometry import bounding_box
from cardrecipe.fold.zone_words import part_in_words
from cardrecipe.model.work import Glue
from cardrecipe.solve.sized import Around, Pose, SizedCard, SizedPiece
from cardrecipe.syntax.diagnostics import Diagnostic
from tests.counted import calls
from tests.hand_made import (
    SPAN,
    Size,
    double_gate,
    gate,
    piece,
    placed,
    side_fold,
    strip_base,
    strip_card,
    tent,
    z_fold,
)

F = Fraction
DOOR: tuple[Size, Size] = ("5/2", 7)
BACK: tuple[Size, Size] = (5, 7)
ALL_OVER = Glue(SPAN, all_over=True)


def zone(card: SizedCard, name: str, copy: int = 0) -> GlueZone:
    folded, _ = glued(fold(card)[0])
    return next(each for each in folded.zones if (each.piece, each.copy) == (name, copy))


def box(card: SizedCard, name: str, copy: int = 0) -> tuple[Fraction, ...]:
    """The only ring of a zone, which must be an upright box."""
    (ring,) = zone(card, name, copy).rings
    left, top, right, bottom = (F(each) for each in bounding_box(ring))
    assert sorted(ring) == sorted([(left, top), (right, top), (right, bottom), (left, bottom)])
    return left, top, right, bottom


def said(card: SizedCard) -> list[Diagnostic]:
    folded, _ = fold(card)
    found = what_glue_locks(folded)
    assert glued(folded)[1] == found
    return found


def only(card: SizedCard) -> Diagnostic:
    (found,) = said(card)
    assert found.severity == "error"
    return found


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u202f", " ").replace("\u2044", "/")


def on_door(
    size: tuple[Size, Size], at: tuple[Size, Size], kind: str = "rectangle", **more: object
) -> SizedPiece:
    """A piece on the front of the left door; the door is 2 1/2 wide."""
    spot = placed("left-door", DOOR, size, side="outside", at=at)
    return piece("disc", kind, "white", size, spot, **more)


# ---- zones ---------------------------------------------------------------------------------------


def test_what_lies_on_one_door_may_be_glued_all_over() -> None:
    card = gate(on_door((2, 2), ("1/4", 1), glue=ALL_OVER))
    found = zone(card, "disc")
    assert (found.is_whole, found.host_body, found.others) == (True, "left-door", ())
    assert box(card, "disc") == (0, 0, 2, 2)
    assert said(card) == []


def test_what_reaches_over_the_other_door_is_glued_on_its_own_less_a_margin() -> None:
    card = gate(on_door((3, 2), (1, 1)))
    assert zone(card, "disc").others == ("right-door",)
    assert box(card, "disc") == (0, 0, F(3, 2) - F(1, 16), 2)
    assert said(card) == []


def test_the_margin_of_a_card_in_millimetres_is_one() -> None:
    card = strip_card([50, 100, 50], "VV", ["left-door", "back", "right-door"], 140, unit="mm")
    spot = placed("left-door", (50, 140), (60, 40), side="outside", at=(20, 10))
    disc = piece("disc", "rectangle", "white", (60, 40), spot)
    assert box(card._replace(pieces=(*card.pieces, disc)), "disc") == (0, 0, 29, 40)


def test_a_disc_over_both_doors_keeps_to_a_cut_of_its_own_outline() -> None:
    card = gate(on_door((3, 3), (1, 2), "circle"))
    (ring,) = zone(card, "disc").rings
    assert max(x for x, _ in ring) == F(3, 2) - F(1, 16)
    assert all((2 * x / 3 - 1) ** 2 + (2 * y / 3 - 1) ** 2 <= 1 for x, y in ring)


def test_right_up_to_the_gap_there_is_nothing_to_keep_clear_of() -> None:
    assert zone(gate(on_door((2, 2), ("1/2", 1))), "disc").is_whole


def test_a_plate_on_a_band_is_glued_on_the_strip_alone() -> None:
    card = double_gate()  # the plate is 2 1/4 high on a band of 1, centred
    found = zone(card, "plate")
    assert found.host_body == "sash"
    assert found.others == ("left-flap", "left-door", "right-door", "right-flap")
    (ring,) = found.rings
    assert {min(y for _, y in ring), max(y for _, y in ring)} == {F(5, 8) + F(1, 16), F(13, 8) - F(1, 16)}
    assert (min(x for x, _ in ring), max(x for x, _ in ring)) == (0, 3)
    assert zone(card, "boats-card").is_whole
    assert said(card) == []


def test_papers_on_flaps_and_doors_are_glued_whole() -> None:
    card = double_gate()
    assert all(zone(card, name, copy).is_whole for name in ("flap-paper", "door-paper") for copy in (0, 1))


def test_a_piece_on_a_flap_keeps_off_the_door_beneath() -> None:
    """The flap is 1 1/4 wide and lies on the left door, its free edge on the left."""
    spot = placed("left-flap", ("5/4", "11/2"), (2, 1), at=(-1, 1))
    card = double_gate(piece("tab", "rectangle", "white", (2, 1), spot))
    # door-paper lies on the door there; seen from the front the flap starts at 7/8
    assert zone(card, "tab").others == ("left-door",)
    assert box(card, "tab") == (F(17, 16), 0, 2, 1)


def test_what_rides_with_the_door_is_as_good_as_the_door() -> None:
    mat = piece("mat", "panel", "glow", (2, 3), placed("left-door", DOOR, (2, 3), side="outside"))
    card = gate(mat, on_door((3, 2), (0, 2)))
    assert box(card, "disc") == (0, 0, F(5, 2) - F(1, 16), 2)


def test_a_piece_of_the_other_door_that_lies_beneath_is_kept_clear_of() -> None:
    """The bar from the right door reaches 1/2 over the left one; the disc lies on its end."""
    spot = placed("right-door", DOOR, (2, 1), side="outside", at=("-1/2", 3))
    bar = piece("bar", "rectangle", "glow", (2, 1), spot)
    card = gate(bar, on_door((1, 2), ("3/2", 3)))
    found = zone(card, "disc")
    assert found.others == ("right-door",)
    assert len(found.rings) == 1
    assert not found.is_whole


def test_nested_pieces_are_told_in_their_own_coordinates() -> None:
    """A label at the right end of a turned panel that reaches over the other door."""
    spot = placed("left-door", DOOR, (2, 3), side="outside", at=(1, 2))
    panel = piece("panel", "panel", "glow", (2, 3), spot, turned=F(90))
    on_panel = placed("panel", (2, 3), (1, 2), at=("1/2", 0), host_piece="panel", is_section=False)
    label = piece("label", "rectangle", "white", (1, 2), on_panel)
    card = gate(panel, label)
    assert zone(card, "label").is_whole
    # a quarter turn puts the panel's top on the right: from 1/2 to 7/2, of which 5/2 is on the door
    assert box(card, "panel") == (0, 1 + F(1, 16), 2, 3)


def test_a_tent_and_a_z_fold() -> None:
    front: tuple[Size, Size] = ("11/2", "17/4")
    spot = placed("front", front, (5, 5), side="outside", at=("1/4", 0))
    hanging = tent(piece("disc", "rectangle", "white", (5, 5), spot))
    assert zone(hanging, "disc").others == ()  # it reaches below the front, where the back ends too
    assert box(hanging, "disc") == (0, 0, 5, F(17, 4) - F(1, 16))
    spot = placed("left", (4, 6), (5, 3), side="inside", at=(1, 1))
    card = z_fold(piece("disc", "rectangle", "white", (5, 3), spot))
    assert box(card, "disc") == (0, 0, 3 - F(1, 16), 3)


def test_a_window_holds_no_glue() -> None:
    ring = tuple((F(x), F(y)) for x, y in ((1, 2), (2, 2), (2, 3), (1, 3)))
    card = gate(on_door((2, 2), ("1/4", "3/2")))
    base = card.bases[0]._replace(windows=(ring,))
    framed = card._replace(pieces=(base, *card.pieces[1:]))
    found = zone(framed, "disc")
    assert not found.is_whole
    assert all(not (F(3, 4) < x < F(5, 4) and 1 < y < F(3, 2)) for ring in found.rings for x, y in ring)


def test_rounded_corners_take_no_glue() -> None:
    (ring,) = zone(gate(on_door((2, 2), ("1/4", 1), corner_radius=F(1, 4))), "disc").rings
    assert len(ring) == 8
    assert (F(0), F(0)) not in ring


def test_a_loose_piece_has_no_zone_and_is_kept_clear_of() -> None:
    slip = piece("slip", "panel", "white", (2, 3), placed("back", BACK, (2, 3), at=(0, 2)), loose=True)
    cover = piece("cover", "panel", "glow", (4, 3), placed("back", BACK, (4, 3), at=(0, 2)))
    card = gate(slip, cover)
    folded, _ = glued(fold(card)[0])
    assert [each.piece for each in folded.zones] == ["cover"]
    assert box(card, "cover") == (2 + F(1, 16), 0, 4, 3)


def test_only_on_a_piece_keeps_the_glue_to_it() -> None:
    mat = piece("mat", "panel", "glow", (1, 1), placed("back", BACK, (1, 1), at=(2, 2)))
    note = piece("note", "panel", "white", (2, 1), placed("back", BACK, (2, 1), at=(2, 2)))
    assert zone(gate(mat, note), "note").is_whole
    narrowed = note._replace(glue=Glue(SPAN, "tape", only_on="mat"))
    assert box(gate(mat, narrowed), "note") == (0, 0, 1 - F(1, 16), 1)
    assert said(gate(mat, narrowed)) == []


def test_zones_wait_until_they_are_asked_for() -> None:
    folded, _ = fold(double_gate())
    assert folded.zones == ()
    assert len(glued(folded)[0].zones) == 8


# ---- words ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "at", "words"),
    [
        ((3, 2), (1, 1), "the left 1 7/16 in of it"),
        ((4, 2), ("-1/2", 1), "the strip of it between 9/16 in and 2 15/16 in from its left edge"),
        ((2, 2), ("1/4", -1), "the bottom 15/16 in of it"),
        ((2, 2), ("1/4", 6), "the top 15/16 in of it"),
        ((2, 9), ("1/4", -1), "the strip of it between 1 1/16 in and 7 15/16 in from its top edge"),
        ((3, 2), (1, -1), "the part of it, 1 7/16 × 15/16 in, that begins 1 1/16 in from its top"),
        ((2, 2), ("-1/2", 1), "the right 1 7/16 in of it"),
        ((2, 2), ("1/4", 1), ""),
    ],
)
def test_a_zone_in_words(size: tuple[Size, Size], at: tuple[Size, Size], words: str) -> None:
    card = gate(on_door(size, at))
    assert plain(part_in_words(card, card.piece("disc"), zone(card, "disc"))) == words


def test_a_zone_that_no_few_words_tell_is_left_to_the_picture() -> None:
    card = gate(on_door((3, 2), (1, 1), turned=F(30)))
    assert part_in_words(card, card.piece("disc"), zone(card, "disc")) == ""


@pytest.mark.parametrize(
    ("ring", "words"),
    [
        # Nearly a strip, a hair higher in its middle: what the ruler shows of it is told.
        (((0, "1/2"), ("1/8", "31/64"), ("31/8", "31/64"), (4, "1/2"), (4, "3/2"), (0, "3/2")),
         "the strip of it between 1/2 in and 1 1/2 in from its top edge"),
        # A corner is missing by more than the words would leave out: they would put glue beside the zone.
        (((0, "1/2"), (4, "1/2"), (4, "5/4"), ("7/2", "3/2"), (0, "3/2")), ""),
        # What lies on marks is within the zone, but too little of it.
        (((0, "31/64"), (3, "30/64"), (4, "31/64"), (4, "39/64"), (0, "39/64")), ""),
    ],
)  # fmt: skip
def test_a_zone_that_is_nearly_a_strip(ring: tuple[tuple[Size, Size], ...], words: str) -> None:
    card = gate(on_door((4, 2), (0, 0)))
    rings = (tuple((F(x), F(y)) for x, y in ring),)
    assert plain(part_in_words(card, card.piece("disc"), GlueZone("disc", 0, "left-door", rings))) == words


# ---- mistakes ------------------------------------------------------------------------------------


def test_glue_all_over_a_disc_on_both_doors_is_refused_with_the_zone() -> None:
    found = only(gate(on_door((3, 3), (1, 2), "circle", glue=ALL_OVER)))
    assert found.code == "glue-locks"
    assert found.message == (
        "`disc` glued all over would stick to right-door, which must move apart from left-door"
    )
    assert plain(found.hint) == "write `glue with tape only on left-door`: the left 1 7/16 in of it"


def test_the_hint_keeps_the_adhesive() -> None:
    found = only(gate(on_door((3, 3), (1, 2), glue=Glue(SPAN, "liquid", all_over=True))))
    assert "glue with liquid only on left-door" in found.hint


@pytest.mark.parametrize(("edges", "is_wrong"), [("left", False), ("right", True), ("top", True)])
def test_glue_along_an_edge_over_the_other_door(edges: str, is_wrong: bool) -> None:
    card = gate(on_door((3, 2), (1, 1), glue=Glue(SPAN, along=(edges,))))
    assert [each.code for each in said(card)] == ["glue-locks"] * is_wrong


def test_glue_along_an_edge_that_lies_on_nothing() -> None:
    found = only(side_fold(_over_the_edge(Glue(SPAN, along=("right",)))))
    assert found.code == "glue-nowhere"
    assert "the right of `disc`" in found.message


def _over_the_edge(glue: Glue) -> SizedPiece:
    spot = placed("front", ("17/4", "11/2"), (2, 2), side="outside", at=("13/4", 1))
    return piece("disc", "rectangle", "white", (2, 2), spot, glue=glue, overhangs=True)


def test_glue_beyond_the_free_edge_locks_nothing() -> None:
    assert said(side_fold(_over_the_edge(ALL_OVER))) == []


def test_glue_beyond_a_fold_would_stick_when_the_card_is_opened() -> None:
    found = only(gate(on_door((2, 2), (-1, 1), glue=ALL_OVER)))
    assert "would stick to back" in found.message


def test_a_panel_across_live_scores_is_refused() -> None:
    spot = placed("card", (10, 7), (9, 6), is_section=False)
    found = only(gate(piece("liner", "panel", "glow", (9, 6), spot)))
    assert found.code == "glue-locks"
    assert found.message.startswith("`liner` lies across left-door, back and right-door")
    assert [each.message for each in found.related] == ["scores 1 and 2 fold here"]


def test_a_panel_on_the_whole_base_but_within_one_section_is_not() -> None:
    spot = placed("card", (10, 7), (4, 6), is_section=False)
    card = gate(piece("liner", "panel", "glow", (4, 6), spot))
    assert said(card) == []
    assert zone(card, "liner").host_body == "back"


def test_a_score_that_never_folds_may_be_covered() -> None:
    closed = Pose("closed", (("card", 2, F(180)),), SPAN)
    spot = placed("card", (10, 7), (6, 6), at=(1, "1/2"), is_section=False)
    card = gate(piece("liner", "panel", "glow", (6, 6), spot, glue=ALL_OVER))._replace(poses=(closed,))
    assert said(card) == []
    assert zone(card, "liner").is_whole


def test_a_lining_scored_where_the_card_is_may_be_glued_all_over() -> None:
    lining = strip_base([2, 5, 2], "VV", ["one", "two", "three"], 6)
    spot = placed("card", (10, 7), (9, 6), is_section=False)
    card = gate(lining._replace(name="lining", kind="panel", placements=(spot,), glue=ALL_OVER))
    assert said(card) == []
    assert zone(card, "lining").is_whole


def test_a_panel_with_a_score_of_its_own_is_glued_on_one_side_of_it() -> None:
    own = strip_base([1, 2], "V", ["wing", "held"], 5)
    leaf = own._replace(name="leaf", kind="panel", placements=(placed("back", BACK, (3, 5)),))
    assert box(gate(leaf), "leaf") == (1, 0, 3, 5)
    assert said(gate(leaf)) == []
    found = only(gate(leaf._replace(glue=ALL_OVER)))
    assert "would stick to its own wing" in found.message
    assert plain(found.hint).endswith("the right 2 in of it")


def test_a_panel_in_the_way_of_a_fold_is_refused() -> None:
    wide = piece("mat", "panel", "glow", (6, 6), placed("back", BACK, (6, 6)), overhangs=True)
    found = only(gate(wide))
    assert found.message == (
        "`mat` on back reaches over a score that folds towards it: the fold could not close"
    )
    behind = placed("back", BACK, (6, 6), side="outside")
    assert said(gate(wide._replace(placements=(behind,)))) == []


def test_the_front_of_an_easel_reaches_over_a_mountain_score() -> None:
    """It is glued to the end of the folded front and covers the whole card."""
    easel = strip_card([4, 2, 2], "VM", ["back", "prop", "end"], 5)
    spot = placed("end", (2, 5), (4, 5), at=(-2, 0))
    plate = piece("plate", "panel", "glow", (4, 5), spot, overhangs=True)
    card = easel._replace(pieces=(*easel.pieces, plate))
    assert said(card) == []
    assert box(card, "plate") == (2 + F(1, 16), 0, 4, 5)
    (found,) = said(card._replace(pieces=(*easel.pieces, plate._replace(glue=ALL_OVER))))
    assert "would stick to back" in found.message


def test_only_on_something_that_moves_apart_or_does_not_lie_there() -> None:
    def told(name: str) -> Diagnostic:
        return only(gate(on_door((3, 2), (1, 1), glue=Glue(SPAN, "tape", only_on=name))))

    assert told("right-door").code == "glue-locks"
    assert told("right-door").hint == "write `only on left-door`, or put the piece on right-door"
    assert told("back").code == "glue-nowhere"
    assert told("back").hint == "write `only on left-door`, or place the piece so that it lies on back"
    assert told("card").code == "glue-locks"
    assert said(gate(on_door((3, 2), (1, 1), glue=Glue(SPAN, "tape", only_on="left-door")))) == []


def test_what_is_put_on_a_band_never_reaches_the_doors() -> None:
    found = [each for each in said(_with_plate(ALL_OVER)) if "plate" in each.message]
    assert [each.code for each in found] == ["glue-locks"]
    assert "only on sash" in found[0].hint
    (told,) = said(_with_plate(Glue(SPAN, "tape", only_on="left-door")))
    assert (told.code, "put on sash" in told.message) == ("glue-locks", True)


def _with_plate(glue: Glue) -> SizedCard:
    card = double_gate()
    return card._replace(
        pieces=tuple(each._replace(glue=glue) if each.name == "plate" else each for each in card.pieces)
    )


def test_what_lies_on_the_hidden_end_of_a_band_is_glued_nowhere() -> None:
    spot = placed("sash", (11, 1), (1, 1), at=(0, 0), host_piece="sash", is_section=False)
    found = only(double_gate(piece("tab", "rectangle", "white", (1, 1), spot)))
    assert (found.code, "the front of sash" in found.message) == ("glue-nowhere", True)


@pytest.mark.parametrize(
    "glue", [ALL_OVER, Glue(SPAN, along=("top",)), Glue(SPAN, "tape", only_on="back")], ids=str
)
def test_a_band_is_glued_to_nothing_but_itself(glue: Glue) -> None:
    band = piece("sash", "band", "ink", (11, 1), around=Around("card", False, F(3), F(10), F(1)))
    assert said(gate(band._replace(glue=Glue(SPAN, "tape")))) == []
    assert said(gate(band._replace(glue=Glue(SPAN, along=("left",))))) == []
    found = only(gate(band._replace(glue=glue)))
    assert "would hold card shut" in found.message


# ---- pockets and sliders -------------------------------------------------------------------------


def pocketed(slip_width: Size, edges: tuple[str, ...] = ("left", "bottom", "right")) -> SizedCard:
    pocket = piece(
        "pocket", "panel", "glow", (4, 3), placed("back", BACK, (4, 3)), glue=Glue(SPAN, along=edges)
    )
    spot = placed("pocket", (4, 3), (slip_width, 2), at=((4 - F(slip_width)) / 2, "1/4"), host_piece="pocket",
                  is_section=False)  # fmt: skip
    return gate(pocket, piece("slip", "panel", "white", (slip_width, 2), spot, loose=True))


def test_a_pocket_with_room_for_what_slides_in_it() -> None:
    assert said(pocketed("15/4")) == []


def test_a_slider_that_the_glue_of_its_pocket_catches() -> None:
    found = only(pocketed("31/8"))
    assert found.message.startswith("`pocket` glued along the left and right would stick to slip")
    assert plain(found.hint) == (
        "keep slip clear of the glued edges: make it at most 3 3/4 in wide, or the pocket wider"
    )
    assert [each.message for each in found.related] == ["slip is loose"]


def test_a_pocket_without_an_opening() -> None:
    found = only(pocketed(3, ("left", "right", "top", "bottom")))
    assert "could not slide out" in found.message


def test_a_belt_glued_at_its_ends_over_a_slider() -> None:
    def told(width: Size) -> list[str]:
        slip = piece("slip", "panel", "white", (width, 5), placed("back", BACK, (width, 5)), loose=True)
        belt = piece("belt", "panel", "glow", (4, 1), placed("back", BACK, (4, 1)),
                     glue=Glue(SPAN, along=("left", "right")))  # fmt: skip
        return [each.code for each in said(gate(slip, belt))]

    assert told(3) == []
    assert told("31/8") == ["glue-locks"]


def test_what_is_glued_on_a_pocket_is_not_glued_to_what_slides_in_it() -> None:
    card = pocketed(3)
    spot = placed("pocket", (4, 3), (1, 1), host_piece="pocket", is_section=False)
    card = card._replace(pieces=(*card.pieces, piece("star", "square", "white", (1, 1), spot)))
    assert zone(card, "star").is_whole
    assert said(card) == []


def test_a_shape_that_is_no_rectangle_holds_less_than_its_frame() -> None:
    """A tag's corners are cut away: glue there would reach what is beneath, here the door."""
    around = Around("card", False, F(3), F(10), F(1))
    band = piece("sash", "band", "ink", (11, 1), around=around)
    spot = placed("sash", (11, 1), (2, 3), host_piece="sash", is_section=False)
    tag = piece("tag", "tag", "white", (2, 3), spot)
    on_tag = placed("tag", (2, 3), (2, 1), at=(0, 0), host_piece="tag", is_section=False)
    card = gate(band, tag, piece("note", "rectangle", "glow", (2, 1), on_tag))
    assert not zone(card, "note").is_whole
    assert zone(card, "note").others == ("left-door", "right-door")


def test_folding_with_glue_is_quick() -> None:
    """Counted in calls, some 95,000 of them: a bound that only a change for the worse can break."""
    card = double_gate()
    assert calls(lambda: glued(fold(card)[0])) < 200_000


# ---- too little to glue --------------------------------------------------------------------------


def _on_a_strip(wide: Fraction, turned: int = 0) -> SizedCard:
    """A square that hangs over both edges of a loose strip in a pouch; the strip can be pulled out."""
    pouch = piece("pouch", "panel", "white", (4, 4), placed("back", BACK, (4, 4)))
    pouch = pouch._replace(glue=Glue(SPAN, along=("left", "bottom", "right")))
    in_pouch = placed("pouch", (4, 4), (wide, 3), host_piece="pouch", is_section=False)
    slip = piece("slip", "panel", "white", (wide, 3), in_pouch)
    spot = placed("slip", (wide, 3), (1, 1), host_piece="slip", is_section=False)
    star = piece("star", "square", "glow", (1, 1), spot, turned=F(turned), overhangs=True)
    return gate(pouch, slip._replace(loose=True), star)


@pytest.mark.parametrize("turned", [0, 30])
@pytest.mark.parametrize("wide", [F(1, 32), F(1, 16), F(1, 8)], ids=str)
def test_what_lies_on_so_narrow_a_strip_that_glue_would_be_pressed_out_is_glued_nowhere(
    wide: Fraction, turned: int
) -> None:
    found = only(_on_a_strip(wide, turned))
    assert (found.code, found.severity) == ("glue-nowhere", "error")
    assert found.message.startswith("too little of `star` lies on slip")
    assert "1⁄16\u00a0in at each edge" in found.message


@pytest.mark.parametrize("turned", [0, 30])
@pytest.mark.parametrize("wide", [F(3, 16), F(1, 4), F(3, 8), F(1, 2)], ids=str)
def test_on_a_wider_strip_it_takes_glue_in_the_middle(wide: Fraction, turned: int) -> None:
    folded, found = glued(fold(_on_a_strip(wide, turned))[0])
    (zone,) = (each for each in folded.zones if each.piece == "star")
    assert not [each for each in found if each.severity == "error"]
    assert zone.rings and not zone.is_whole


@pytest.mark.parametrize(
    ("wide", "low", "is_held"),
    [(F(3, 32), F(1, 8), False), (F(3, 32), F(3, 16), False), (F(1, 8), F(3, 16), True)],
    ids=str,
)
def test_a_speck_in_a_corner_takes_no_glue(wide: Fraction, low: Fraction, is_held: bool) -> None:
    """Less a margin at the two edges that go on, 1/32 x 1/16 is left, then 1/32 x 1/8, then 1/16 x 1/8: more
    than a square of a margin has to be left."""
    note = piece("note", "panel", "white", (1, 1), placed("left-door", DOOR, (1, 1), side="outside"))
    spot = placed("note", (1, 1), (2, 2), at=(1 - wide, 1 - low), host_piece="note", is_section=False)
    card = gate(note._replace(loose=True), piece("tag", "panel", "glow", (2, 2), spot, overhangs=True))
    errors = [each.code for each in said(card) if each.severity == "error"]
    assert errors == ([] if is_held else ["glue-nowhere"])


@pytest.mark.parametrize("wide", [F(1, 16), F(1, 8)], ids=str)
def test_a_band_may_be_too_narrow_for_a_plate(wide: Fraction) -> None:
    card = _on_a_band(wide)
    assert only(card).code == "glue-nowhere" and may_lock(card)


def test_on_a_band_wide_enough_for_any_shape_nothing_is_looked_at() -> None:
    assert may_lock(_on_a_band(F(1, 4) - F(1, 64))) and not may_lock(_on_a_band(F(1, 4)))
    assert said(_on_a_band(F(1, 4) - F(1, 64))) == said(_on_a_band(F(1, 4))) == []
    assert may_lock(_on_a_band(F(1, 4), turned=1))


def _on_a_band(wide: Fraction, turned: int = 0) -> SizedCard:
    band = piece("sash", "band", "ink", (11, wide), around=Around("card", False, F(3), F(10), F(1)))
    spot = placed("sash", (11, wide), (1, 1), at=(5, (wide - 1) / 2), host_piece="sash", is_section=False)
    return gate(band, piece("plate", "square", "white", (1, 1), spot, turned=F(turned), overhangs=True))


# ---- asked only where something could be wrong ---------------------------------------------------


def test_an_ordinary_card_is_not_looked_at() -> None:
    papers = [
        piece("message", "panel", "white", (4, 6), placed("back", BACK, (4, 6))),
        piece("paper", "panel", "glow", (2, 6), placed("left-door", DOOR, (2, 6), side="outside")),
    ]
    assert not may_lock(gate(*papers))


@pytest.mark.parametrize("at", [0, 10])
def test_a_piece_behind_the_card_is_looked_at(at: Size) -> None:
    band = piece("sash", "band", "ink", (11, 1), around=Around("card", False, F(3), F(10), F(1)))
    spot = placed("sash", (11, 1), (1, 1), at=(at, 0), host_piece="sash", is_section=False)
    assert only(gate(band, piece("tab", "rectangle", "white", (1, 1), spot))).code == "glue-nowhere"


def test_a_piece_over_a_window_is_looked_at() -> None:
    ring = tuple((F(x), F(y)) for x, y in ((3, 2), (7, 2), (7, 5), (3, 5)))
    card = gate(piece("note", "panel", "white", (2, 2), placed("back", BACK, (2, 2))))
    base = card.bases[0]._replace(windows=(ring,))
    assert only(card._replace(pieces=(base, *card.pieces[1:]))).code == "glue-nowhere"


def test_a_shape_over_a_window_is_glued_nowhere_though_its_frame_reaches_the_paper() -> None:
    """The left half of the frame lies beside the window, the triangle that is cut from it above it."""
    window = tuple((F(x), F(y)) for x, y in ((3, 2), (7, 2), (7, 5), (3, 5)))
    triangle = tuple((F(x), F(y)) for x, y in ((2, 1), (2, 2), (1, 2)))
    note = piece("note", "panel", "white", (2, 2), placed("back", BACK, (2, 2), at=(0, 1)), outline=triangle)
    card = gate(note)
    base = card.bases[0]._replace(windows=(window,))
    assert only(card._replace(pieces=(base, note))).code == "glue-nowhere"
