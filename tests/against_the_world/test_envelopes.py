"""The shipped envelope sizes against a general-purpose list of sizes and the arithmetic of ISO 216.

Sources: papersizes-guide 1.0.3 (PyPI, data CC BY 4.0), which rounds most US sizes to whole
millimetres, so the tolerance is 0.5 mm; papersize (PyPI) for the ISO sheets. Square envelopes are
in neither: their inch sizes are their names, their metric ones are from memory.
"""

from fractions import Fraction

import papersize  # type: ignore[import-untyped]
import papersizes_guide
import pytest

from cardrecipe.library.envelopes import Envelope, all_envelopes
from cardrecipe.library.tables import rows

TOLERANCE_MM = 0.5
LISTED_AS = {
    "us-a1": "A1 envelope",
    "us-a2": "A2 Lady Grey envelope",
    "us-a6": "A6 Thompson’s Standard envelope",
    "us-a7": "A7 Besselheim envelope",
    "us-a8": "A8 Carr’s envelope",
    "us-a9": "A9 Diplomat envelope",
    "us-a10": "A10 Willow envelope",
    "us-a-long": "A Long envelope",
    "us-10": "No. 10 envelope",
    "iso-c6-c5": "C6/C5",
    "iso-c7-c6": "C7/C6",
}
PUBLISHED = {
    size.name: tuple(sorted((float(size.width_mm), float(size.height_mm))))
    for size in papersizes_guide.all_sizes()
}
COMPARED = [one for one in all_envelopes() if not one.name.startswith("square-")]


@pytest.mark.parametrize("envelope", COMPARED, ids=lambda one: one.name)
def test_the_published_size(envelope: Envelope) -> None:
    listed = LISTED_AS.get(envelope.name, envelope.title.removeprefix("ISO "))
    ours = tuple(float(side) for side in envelope.size_in("mm"))
    assert ours == pytest.approx(PUBLISHED[listed], abs=TOLERANCE_MM)


@pytest.mark.parametrize(
    ("name", "side"),
    [
        ("square-5in", "5"),
        ("square-5-1-2in", "11/2"),
        ("square-6in", "6"),
        ("square-6-1-2in", "13/2"),
        ("square-7in", "7"),
    ],
)
def test_a_square_envelope_is_named_for_its_own_size(name: str, side: str) -> None:
    # One paper merchant's page names them so; a trade usage.
    (found,) = [one for one in all_envelopes() if one.name == name]
    assert found.width == found.height == Fraction(side)


def test_c_sizes_are_halved_not_computed() -> None:
    """ISO 269's C5 and C6 are halves of C4 rounded down; the geometric mean would give 161 wide."""
    sizes = {one.name: (one.width, one.height) for one in all_envelopes()}
    for larger, smaller in (("iso-c4", "iso-c5"), ("iso-c5", "iso-c6"), ("iso-c6", "iso-c7")):
        width, height = sizes[larger]
        assert sizes[smaller] == (Fraction(height // 2), width)


@pytest.mark.parametrize("sheet", rows("envelopes", "papers"), ids=lambda row: row["name"])
def test_the_iso_sheets_that_share_a_name(sheet: dict[str, str]) -> None:
    width, height = papersize.parse_papersize(sheet["name"], "mm")
    assert (float(width), float(height)) == pytest.approx(
        (float(sheet["width"]), float(sheet["height"])), abs=1e-6
    )
