"""The wheel holds all that the program needs, and works from a folder that it cannot write in, with no home.

Whole environments, with each Python of the machine: `python -m tests.trust.install`.
"""

import os
import sys
import zipfile
from importlib.util import find_spec
from pathlib import Path

import pytest

from tests.trust import install
from tests.trust.install import built, contents, files_in, missing_from, read_only, tree_copy, unpacked, used

if find_spec("hatchling") is None:
    pytest.skip("hatchling, which builds the wheel, is not installed", allow_module_level=True)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel made of an sdist, as a packager makes it."""
    place = tmp_path_factory.mktemp("built")
    source = unpacked(built("sdist", tree_copy(place / "tree"), place / "sdist"), place / "unpacked")
    return built("wheel", source, place / "from-sdist")


def test_the_wheel_is_the_same_from_the_sdist_and_from_the_tree(wheel: Path, tmp_path: Path) -> None:
    assert contents(built("wheel", tree_copy(tmp_path / "tree"), tmp_path / "dist")) == contents(wheel)


def test_the_wheel_holds_the_grammar_tables_fonts_templates_and_licences(wheel: Path) -> None:
    found = contents(wheel)
    assert missing_from(found) == []
    assert missing_from({name: text for name, text in found.items() if not name.endswith(".lark")})
    beside = {name.split("/")[0] for name in found} - {"cardrecipe"}
    assert [name.rpartition(".")[2] for name in beside] == ["dist-info"], "nothing else is put there"


def test_the_program_works_from_a_folder_that_cannot_be_written_and_without_a_home(
    wheel: Path, tmp_path: Path
) -> None:
    with zipfile.ZipFile(wheel) as opened:
        opened.extractall(tmp_path / "installed")
    before = files_in(tmp_path / "installed")
    (tmp_path / "work").mkdir()
    others = [each for each in sys.path if each.endswith("-packages")]
    environment = {**install.NOWHERE, "PYTHONPATH": os.pathsep.join([str(tmp_path / "installed"), *others])}
    command = [*read_only(tmp_path / "installed"), sys.executable, "-m", "cardrecipe"]
    assert used(command, tmp_path / "work", environment) == ""
    assert files_in(tmp_path / "installed").keys() == before.keys()
    for path in (tmp_path / "installed").rglob("*"):  # else the folder cannot be taken away
        path.chmod(path.stat().st_mode | 0o200)
