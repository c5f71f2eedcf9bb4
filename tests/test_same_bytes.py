"""The same recipe gives the same bytes in every format, wherever, whenever and for whomever it is built.

Every sample in every way, with every Python: `python -m tests.trust.equality`.
"""

from pathlib import Path

import pytest

from tests.trust.equality import CARD_FORMATS, CLASS_FORMATS, FOLDERS, Way, clock_in, differences, digests

FORMATS = CARD_FORMATS.removesuffix(",dxf"), CLASS_FORMATS
# Each differs from the one before in all that may differ.
WAYS = [
    Way("0", "UTC", "C", 0, FOLDERS[0]),
    Way("4711", "Pacific/Kiritimati", "C.UTF-8", 400, FOLDERS[1]),
    Way("1", "America/St_Johns", "C", 0, FOLDERS[2]),
]


@pytest.mark.parametrize("sample", ["night-market", "harbour-morning"])
def test_every_way_to_build_gives_the_same_bytes(tmp_path: Path, sample: str) -> None:
    clock = clock_in(tmp_path)
    first, *others = [digests(way, tmp_path, [sample], formats=FORMATS, clock=clock) for way in WAYS]
    assert len(first) > 20
    assert [differences(first, other) for other in others] == [[], []]


def test_a_file_that_differs_would_be_noticed(tmp_path: Path) -> None:
    first = digests(WAYS[0], tmp_path, ["first-frost"], formats=("md,json", ""))
    other = {**first, "first-frost.md": "0" * 64, "more.md": "1" * 64}
    assert differences(first, other) == ["first-frost.md", "more.md"]
