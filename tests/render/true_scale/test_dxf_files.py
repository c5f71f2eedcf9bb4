"""Read back from the DXF files by ezdxf: outlines, scores and slits of solved size; the same bytes each time;
no name and no title can put anything into the file but words."""

import os
import subprocess
import sys

import ezdxf
import pytest

from cardrecipe.render.true_scale.drawn import TrueDrawing, true_drawings
from cardrecipe.render.true_scale.dxf_files import dxf_file
from cardrecipe.solve.sized import SizedCard
from tests.recipes import ROOT, SAMPLES, run
from tests.render.hostile import TEXTS
from tests.render.true_scale import cards, solved
from tests.render.true_scale.dxf_read import read
from tests.render.true_scale.rings import box, gaps, paper_area, signed_area

NEAR = 1e-6
SAMPLE_CARDS = cards.samples()
GENERATED = cards.generated()
UNIT = {"inch": (1, 0), "mm": (4, 1)}  # $INSUNITS and $MEASUREMENT, from ezdxf's own tables of the format


def pieces_of(card: SizedCard) -> dict[str, TrueDrawing]:
    return {each.name.removeprefix("true-"): each for each in true_drawings(card, ())}


def wrong_pieces(card: SizedCard) -> list[str]:
    return [name for name, drawing in pieces_of(card).items() if not is_right(card, name, drawing)]


def is_right(card: SizedCard, name: str, drawing: TrueDrawing) -> bool:
    piece, scale = card.piece(name), float(solved.MM[card.unit])
    found = read(dxf_file(drawing), float(piece.height))
    wide, high = solved.size(piece, card.unit)
    in_mm = [line._replace(ends=tuple((x * scale, y * scale) for x, y in line.ends)) for line in found.lines]
    return (
        paper_area(found.rings) * scale**2 == pytest.approx(solved.cut_area(piece, card.unit), rel=NEAR)
        and [each * scale for each in box(found.rings)] == pytest.approx([0, 0, wide, high], abs=NEAR)
        and max(map(gaps, found.rings)) < NEAR
        and solved.same_lines(in_mm, solved.lines(piece, card.unit), NEAR)
        and found.document.header["$INSUNITS"] == UNIT[card.unit][0]
        and found.document.header["$MEASUREMENT"] == UNIT[card.unit][1]
    )


@pytest.mark.parametrize("name", SAMPLE_CARDS)
def test_samples(name: str) -> None:
    assert wrong_pieces(SAMPLE_CARDS[name]) == []


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("name", cards.STRUCTURES)
def test_structures_with_a_panel_on_each_section(name: str, unit: str) -> None:
    assert wrong_pieces(cards.structure(name, unit)) == []


def test_a_hundred_generated_cards() -> None:
    assert [name for name, card in GENERATED.items() if wrong_pieces(card)] == []


def test_every_shape() -> None:
    assert wrong_pieces(cards.all_shapes()) == []


def test_round_things_are_round() -> None:
    found = {name: {each.dxftype() for each in ezdxf_entities(drawing)}
             for name, drawing in pieces_of(cards.all_shapes()).items()}  # fmt: skip
    assert found["dot"] == {"CIRCLE"} and found["plate"] == {"ELLIPSE"} and found["lying"] == {"ELLIPSE"}
    assert found["rounded"] == {"LWPOLYLINE"}


def ezdxf_entities(drawing: TrueDrawing) -> list[ezdxf.entities.DXFEntity]:
    space = read(dxf_file(drawing), float(drawing.height)).document.modelspace()
    return [each for each in space if each.dxf.layer == "cut"]


@pytest.mark.parametrize("name", SAMPLE_CARDS)
def test_a_sheet_holds_every_piece_of_its_layout(name: str) -> None:
    card = SAMPLE_CARDS[name]
    sheets = [each for each in true_drawings(card, cards.plans(card)) if each.name.startswith("layout-")]
    layouts = [numbered for plan in cards.plans(card) for numbered in plan.layouts]
    for sheet, numbered in zip(sheets, layouts, strict=True):
        rings = read(dxf_file(sheet), float(sheet.height)).rings
        wanted = sum(count * solved.cut_area(card.piece(piece), card.unit)
                     for piece, count in cards.held(numbered).items())  # fmt: skip
        scale = float(solved.MM[card.unit])
        assert sum(map(signed_area, rings)) * scale**2 == pytest.approx(wanted, rel=NEAR)


# ---- the file ------------------------------------------------------------------------------------


def test_layers_are_named_as_the_groups_of_the_svg() -> None:
    document = read(dxf_file(pieces_of(SAMPLE_CARDS["night-market"])["card"]), 1.0).document
    ours = [layer.dxf.name for layer in document.layers if layer.dxf.name not in ("0", "Defpoints")]
    assert ours == ["cut", "score-valley", "score-mountain", "slit", "note"]


def test_the_file_passes_the_audit_of_its_library() -> None:
    for card in (cards.all_shapes(), SAMPLE_CARDS["night-market"]):
        for drawing in true_drawings(card, cards.plans(card)):
            audit = read(dxf_file(drawing), 1.0).document.audit()
            assert not audit.has_errors and not audit.has_fixes, (drawing.name, audit.errors, audit.fixes)


def test_words_stand_below_the_piece_on_a_layer_of_their_own() -> None:
    found = read(dxf_file(pieces_of(SAMPLE_CARDS["night-market"])["plate"]), 1.0)
    texts = list(found.document.modelspace().query("TEXT"))
    assert {each.dxf.layer for each in texts} == {"note"} and all(each.dxf.insert.y < 0 for each in texts)
    assert found.words[0] == "Plate, 3 x 2 1/4 in, face up"


MAKE = """
import sys
from cardrecipe.render.true_scale.drawn import true_drawings
from cardrecipe.render.true_scale.dxf_files import dxf_file
from tests.render.true_scale import cards
card = cards.all_shapes()
sys.stdout.buffer.write(b"".join(dxf_file(each) for each in true_drawings(card, cards.plans(card))))
"""


def test_the_same_bytes_whatever_the_hash_seed_the_zone_and_the_hour() -> None:
    made = []
    for seed, zone in (("1", "UTC"), ("77", "Pacific/Auckland")):
        settings = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed, "TZ": zone}
        command = [sys.executable, "-c", MAKE]
        made.append(subprocess.run(command, cwd=ROOT, env=settings, capture_output=True, check=True).stdout)
    assert made[0] == made[1] and b"AcDbEllipse" in made[0]


# ---- hostile words -------------------------------------------------------------------------------

EVIL = (
    "a\n0\nLINE\n8\ncut\n10\n0\n20\n0\n11\n9\n21\n9\n0\nENDSEC\n0\nEOF\n",
    "a\r\n  0\r\nCIRCLE\r\n",
    "\\U+000A0\\U+000ALINE", "%%u%%d%%%%", "\\P{\\C1;red}", "x" * 5000, "\x00\x1a\x85\u2028end", "\u706f",
    *TEXTS.values(),
)  # fmt: skip


@pytest.mark.parametrize("text", EVIL)
def test_no_words_become_lines(text: str) -> None:
    plain = pieces_of(SAMPLE_CARDS["night-market"])["plate"]
    found = read(dxf_file(plain._replace(title=text, notes=(text,))), float(plain.height))
    kinds = [each.dxftype() for each in found.document.modelspace()]
    assert kinds == ["ELLIPSE", "TEXT", "TEXT"]
    assert not found.document.audit().has_errors
    assert all(len(each) <= 250 and "\n" not in each and "%%" not in each for each in found.words)


# ---- the command ---------------------------------------------------------------------------------


def test_a_file_for_each_piece_and_each_sheet(tmp_path) -> None:  # type: ignore[no-untyped-def]
    ran = run("build", str(SAMPLES / "night-market.recipe"), "--to", "dxf", "-o", str(tmp_path))
    assert ran.status == 0
    names = {path.name for path in tmp_path.iterdir()}
    assert {"night-market-true-card.dxf", "night-market-true-plate.dxf", "night-market-layout-1.dxf"} <= names
    assert all(name.endswith(".dxf") for name in names)


def test_without_the_extra_one_sentence_says_what_to_install(tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    ran = run("build", str(SAMPLES / "night-market.recipe"), "--to", "html,dxf", "-o", str(tmp_path))
    assert (ran.status, ran.out, list(tmp_path.iterdir())) == (2, "", [])
    assert ran.err.startswith("cardrecipe: ") and "pip install 'cardrecipe[dxf]'" in ran.err
