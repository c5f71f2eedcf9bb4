"""By the system's own record: nothing is read outside the recipe's folder, the package and the interpreter,
and nothing is asked of a network. What remains of the system is named, with reasons, in `trace.py`.
"""

import re
import shutil
from pathlib import Path

import pytest

from tests.recipes import SAMPLES
from tests.trust.trace import is_possible, reason, strangers, traced

if not is_possible():
    pytest.skip("strace is not here, or may not follow a process", allow_module_level=True)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A recipe, the papers that it uses, and a link that leads out."""
    place = tmp_path.resolve() / "my cards"
    place.mkdir()
    for name in ("first-frost.recipe", "papers.recipe"):
        shutil.copy(SAMPLES / name, place)
    text = (place / "first-frost.recipe").read_text("utf-8")
    (place / "first-frost.recipe").write_text(f'use "papers.recipe"\n{text}', "utf-8")
    (tmp_path / "outside.recipe").write_text("# a secret\n")
    (place / "out.recipe").symlink_to("../outside.recipe")
    return place


def test_a_build_in_every_format(folder: Path) -> None:
    trace = traced(folder, "build", "first-frost.recipe", "-o", "sheets", "--to", "html,pdf,md,json,svg,dxf")
    assert trace.status == 0
    assert strangers(trace, folder) == []
    assert trace.network == () and len(trace.started) == 1
    read = {each.path for each in trace.touched}
    assert str(folder / "papers.recipe") in read and str(folder / "sheets" / "first-frost.pdf") in read
    fonts = [path for path in read if re.search(r"\.(ttf|otf|ttc|pfb|woff2?)$", path)]
    assert fonts and all("/cardrecipe/render/fonts/" in path for path in fonts), "no font of the system"


def test_a_check_of_a_recipe_that_asks_for_more(folder: Path) -> None:
    with (folder / "first-frost.recipe").open("a") as file:
        file.write('use "out.recipe"\nuse "../outside.recipe"\nuse "/etc/hostname"\n')
    trace = traced(folder, "check", "first-frost.recipe")
    assert trace.status == 1
    assert strangers(trace, folder) == []
    assert trace.network == () and len(trace.started) == 1
    assert not any(each.path.endswith("outside.recipe") for each in trace.touched), "not even looked at"


def test_a_stranger_would_be_noticed(folder: Path) -> None:
    """A recipe that stands outside, named by the maker, is what this machinery has to see."""
    trace = traced(folder, "check", "../outside.recipe")
    assert {each.path for each in strangers(trace, folder)} >= {str(folder.parent / "outside.recipe")}
    for path in ("/etc/passwd", "/home/maker/.bashrc", "/usr/share/fonts/truetype/a.ttf", "/etc/hostname"):
        assert reason(path, folder) is None
