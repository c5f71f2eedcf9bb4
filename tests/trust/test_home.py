"""No command leaves anything in the home folder, or takes its settings from there or from where it is run."""

import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from tests.recipes import HEAD, ROOT

GOOD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"


@pytest.mark.skipif(find_spec("ezdxf") is None, reason="the package for DXF is not installed")
def test_a_build_in_every_format_leaves_nothing_and_waits_for_nothing(tmp_path: Path) -> None:
    """The library of DXF would read `ezdxf.ini` where it is run: a pipe of that name is not waited for."""
    home, work, temporary = tmp_path / "home", tmp_path / "work", tmp_path / "tmp"
    for folder in (home, work, temporary):
        folder.mkdir()
    (work / "a.recipe").write_text(GOOD)
    os.mkfifo(work / "ezdxf.ini")
    own = {name: str(home) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_DATA_HOME")}
    done = subprocess.run(
        [sys.executable, "-m", "cardrecipe", "build", "a.recipe", "--to", "html,pdf,md,json,svg,dxf"],
        cwd=work, capture_output=True, text=True, check=False, timeout=300,
        env={"PATH": os.defpath, "PYTHONPATH": str(ROOT), "TMPDIR": str(temporary), **own,
             "EZDXF_CONFIG_FILE": str(work / "ezdxf.ini")},
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert "a-true-note.dxf" in done.stdout.split() and "a.pdf" in done.stdout.split()
    assert list(home.rglob("*")) == list(temporary.rglob("*")) == []
    assert {path.name for path in work.iterdir()} == {"a.recipe", "ezdxf.ini", *done.stdout.split()}


def test_the_settings_of_a_process_are_as_they_were(monkeypatch: pytest.MonkeyPatch) -> None:
    from cardrecipe.render.true_scale.dxf_library import _only_ours

    monkeypatch.setenv("XDG_CONFIG_HOME", "/settings")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setenv("EZDXF_CONFIG_FILE", "mine.ini")
    before, here = dict(os.environ), os.getcwd()
    with pytest.raises(KeyError), _only_ours("/"):
        assert os.environ["XDG_CONFIG_HOME"] == os.environ["XDG_CACHE_HOME"] == os.getcwd() == "/"
        assert "EZDXF_CONFIG_FILE" not in os.environ
        raise KeyError
    assert (dict(os.environ), os.getcwd()) == (before, here)
