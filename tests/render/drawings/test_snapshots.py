"""The drawings of two samples and six structures are as they were looked at last."""

from difflib import unified_diff

import pytest

from tests.render.drawings.renew import FOLDER, SAMPLES, STRUCTURES, snapshots

COMMAND = "python -m tests.render.drawings.renew"


@pytest.fixture(scope="module")
def made() -> dict[str, str]:
    return snapshots()


@pytest.mark.parametrize("name", [f"{each.replace(' ', '-')}.txt" for each in (*SAMPLES, *STRUCTURES)])
def test_a_drawing_is_as_it_was_looked_at(made: dict[str, str], name: str) -> None:
    kept = (FOLDER / name).read_text(encoding="utf-8")
    lines = kept.splitlines(), made[name].splitlines()
    diff = "\n".join(unified_diff(*lines, "kept", "now", lineterm="", n=1))
    assert not diff, f"look at the drawing, then {COMMAND}\n{diff}"
