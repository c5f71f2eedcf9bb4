"""Sheets are written only where they were asked for, and whole or not at all: full disks, links, litter."""

import errno
import os
import resource
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from cardrecipe import writing
from cardrecipe.commands import formatting
from cardrecipe.render.signs import SIGNS
from cardrecipe.syntax.source import Source
from cardrecipe.writing import write_files, write_whole
from tests.recipes import HEAD, ROOT, run

GOOD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\npanel note from ink on back\n"
OLD = {".html": b"old page" + SIGNS[".html"], ".pdf": b"old paper" + SIGNS[".pdf"]}
NEW = {".html": b"new page" * 1000 + SIGNS[".html"], ".pdf": b"new paper" * 20_000 + SIGNS[".pdf"]}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def everything() -> dict[str, bytes]:
    """All files below the folder, hidden ones too, links by where they lead."""
    found = sorted(path for path in Path().rglob("*") if path.is_symlink() or not path.is_dir())
    return {str(path): os.fsencode(os.readlink(path)) if path.is_symlink() else path.read_bytes()
            for path in found}  # fmt: skip


def write_old(folder: str = "out") -> None:
    Path(folder).mkdir()
    for ending, content in OLD.items():
        Path(folder, f"a{ending}").write_bytes(content)


# ---- where ---------------------------------------------------------------------------------------


def test_no_title_name_or_text_steers_a_file_out_of_its_folder() -> None:
    titles = ["../../up", "/etc/motd", "..", "a/b", "C:\\x", "con", ".hidden", "$HOME", "~", "-o"]
    variants = "".join(f'variant "{title}"\n  set border 1/{at + 4}\n' for at, title in enumerate(titles))
    Path("in").mkdir()
    Path("in/a.recipe").write_text(GOOD.replace("Evening walk", "../../Evening/walk") + variants)
    ran = run("build", "in/a.recipe", "--variant", "each", "--to", "md,json,svg", "-o", "out/deep")
    assert ran.status == 0, ran.err
    made = [name for name in everything() if name != "in/a.recipe"]
    assert sorted(made) == sorted(ran.out.split("\n")[:-1])
    assert {os.path.dirname(name) for name in made} == {"out/deep"}
    assert all(os.path.basename(name).startswith("a") for name in made)


@pytest.mark.parametrize("target", ["precious.txt", "/dev/null", "nowhere"])
def test_a_link_in_the_place_of_a_sheet_is_replaced_and_not_written_through(target: str) -> None:
    Path("precious.txt").write_text("precious")
    os.symlink(target, "a.md")
    Path("a.recipe").write_text(GOOD)
    ran = run("build", "a.recipe", "--to", "md")
    if target == "/dev/null":
        assert (ran.status, ran.err) == (2, "cardrecipe: a.md: this is a pipe or a device, not a file\n")
        return
    assert (ran.status, ran.out) == (0, "a.md\n")
    assert not Path("a.md").is_symlink() and Path("a.md").read_text().startswith("# Evening walk")
    assert Path("precious.txt").read_text() == "precious" and not Path("nowhere").exists()


def test_a_folder_that_was_named_by_a_link_is_the_makers_wish() -> None:
    Path("real").mkdir()
    os.symlink("real", "out")
    Path("a.recipe").write_text(GOOD)
    assert run("build", "a.recipe", "--to", "md", "-o", "out").status == 0
    assert Path("real/a.md").exists() and Path("out").is_symlink()


def test_format_keeps_a_link_and_what_it_leads_to() -> None:
    Path("real").mkdir()
    Path("real/a.recipe").write_text("panel  a\n")
    os.chmod("real/a.recipe", 0o640)
    os.symlink("real/a.recipe", "a.recipe")
    assert run("format", "a.recipe").status == 0
    assert os.readlink("a.recipe") == "real/a.recipe"
    assert Path("real/a.recipe").read_text() == "panel a\n"
    assert stat.S_IMODE(os.stat("real/a.recipe").st_mode) == 0o640
    assert sorted(everything()) == ["a.recipe", "real/a.recipe"]


def test_format_does_not_take_back_what_was_saved_meanwhile(monkeypatch: pytest.MonkeyPatch) -> None:
    """An editor may save the recipe between its reading and its replacing."""
    Path("a.recipe").write_text("panel  a\n")
    genuine = formatting.formatted

    def saved(source: Source) -> str:
        Path("a.recipe").write_text("panel  b\n")
        return genuine(source)

    monkeypatch.setattr(formatting, "formatted", saved)
    ran = run("format", "a.recipe")
    words = "a.recipe: it was changed while it was being formatted; it was left as it is"
    assert (ran.status, ran.out, ran.err) == (2, "", f"cardrecipe: {words}\n")
    assert everything() == {"a.recipe": b"panel  b\n"}


def test_new_does_not_take_the_place_of_a_link_either() -> None:
    os.symlink("nowhere", "new.recipe")
    ran = run("new", "gate", "-o", "new.recipe")
    assert (ran.status, ran.err) == (2, "cardrecipe: new.recipe is there already; nothing was written\n")
    assert everything() == {"new.recipe": b"nowhere"}


def test_nothing_is_put_among_the_devices_of_the_system() -> None:
    """`-o /dev/stdout` would put a file in the place of that link, where the user may."""
    with pytest.raises(OSError, match="a pipe or a device"):
        write_whole("/dev/cardrecipe-test.txt", b"")
    assert not os.path.lexists("/dev/cardrecipe-test.txt")


# ---- all or nothing --------------------------------------------------------------------------------


@contextmanager
def files_of_at_most(size: int) -> Iterator[None]:
    """As on a disk that is full after so many bytes: the system itself refuses more."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize(("size", "name"), [(0, "html"), (5_000, "html"), (9_000, "pdf"), (100_000, "pdf")])
def test_a_disk_that_fills_up_leaves_every_old_file_whole(size: int, name: str) -> None:
    write_old()
    before = everything()
    with files_of_at_most(size), pytest.raises(OSError, match="File too large") as caught:
        write_files(NEW, "out/a", set())
    assert caught.value.filename == f"out/a.{name}"
    assert everything() == before


def test_the_command_says_it_in_one_sentence() -> None:
    write_old()
    Path("a.recipe").write_text(GOOD)
    before = everything()
    with files_of_at_most(2_000):
        ran = run("build", "a.recipe", "--to", "html,md,json", "-o", "out")
    assert (ran.status, ran.out, ran.err) == (2, "", "cardrecipe: out/a.html: File too large\n")
    assert everything() == before


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EROFS, errno.EACCES])
@pytest.mark.parametrize("call", ["write", "fsync", "replace"])
def test_whatever_fails_and_when_nothing_else_is_left(
    monkeypatch: pytest.MonkeyPatch, number: int, call: str
) -> None:
    """The second of two files cannot be written, put on the disk, or renamed."""
    write_old()
    calls: list[object] = []

    def failing(*arguments: object) -> None:
        calls.append(arguments)
        if len(calls) == 2:
            raise OSError(number, os.strerror(number))
        genuine(*arguments)

    where = (writing, "_write_beside") if call == "write" else (writing.os, call)
    genuine = getattr(*where)
    monkeypatch.setattr(*where, failing)
    with pytest.raises(OSError, match=os.strerror(number)) as caught:
        write_files(NEW, "out/a", set())
    assert caught.value.filename == "out/a.pdf"
    first = NEW[".html"] if call == "replace" else OLD[".html"]  # it had taken its place already, whole
    assert everything() == {"out/a.html": first, "out/a.pdf": OLD[".pdf"]}


def test_folders_that_were_made_for_nothing_go_again() -> None:
    Path("out").mkdir()
    with files_of_at_most(0), pytest.raises(OSError, match="File too large"):
        write_files(NEW, "out/new/deep/a", set())
    assert list(Path("out").iterdir()) == []


def test_folders_that_could_only_be_made_in_part_go_again(monkeypatch: pytest.MonkeyPatch) -> None:
    genuine = os.mkdir

    def full(path: str, mode: int = 0o777) -> None:
        if path.endswith("deep"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), path)
        genuine(path, mode)

    monkeypatch.setattr(os, "mkdir", full)
    with pytest.raises(OSError, match="No space left"):
        write_files(NEW, "out/new/deep/a", set())
    assert list(Path().iterdir()) == []


def test_what_takes_the_place_of_a_file_is_on_the_disk_before(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else a power cut may leave neither the old sheet nor the new one; a first sheet is not waited for."""
    events: list[str] = []
    for name in ("fsync", "replace"):
        genuine = getattr(os, name)
        monkeypatch.setattr(writing.os, name, lambda *rest, _of=genuine, _name=name: (
            events.append(_name), _of(*rest))[1])  # fmt: skip
    write_whole("a.md", b"first")
    assert events == ["replace"]
    write_whole("a.md", b"second")
    assert events == ["replace", "fsync", "replace"]


IN_A_SPACE_OF_ITS_OWN = """
import os, subprocess, sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from tests.recipes import run
from tests.trust.test_outputs import everything, write_old
write_old()
kind = sys.argv[2]
if kind == "full":
    old = everything()
    subprocess.run(["mount", "-t", "tmpfs", "-o", "size=12k", "tmpfs", "out"], check=True)
    for name in ("a.html", "a.pdf"):
        Path("out", name).write_bytes(old[f"out/{name}"])
else:
    subprocess.run(["mount", "--bind", "out", "out"], check=True)
    subprocess.run(["mount", "-o", "remount,ro,bind", "out"], check=True)
before = everything()
ran = run("build", "a.recipe", "--to", "html,md", "-o", "out")
assert everything() == before, everything().keys()
print(ran.status, repr(ran.out), ran.err, end="")
"""


@pytest.mark.parametrize(("kind", "reason"), [
    ("full", "No space left on device"), ("read-only", "Read-only file system"),
])  # fmt: skip
def test_a_real_disk_that_is_full_or_read_only(kind: str, reason: str) -> None:
    """In a mount space of its own, which ends with the process."""
    alone = ["unshare", "--mount", "--propagation", "private"]
    try:
        possible = subprocess.run([*alone, "mount", "--bind", ".", "."], capture_output=True).returncode == 0
    except OSError:
        possible = False
    if not possible:
        pytest.skip("disks are mounted by root alone")
    Path("a.recipe").write_text(GOOD)
    done = subprocess.run([*alone, sys.executable, "-c", IN_A_SPACE_OF_ITS_OWN, str(ROOT), kind],
                          capture_output=True, text=True, check=False)  # fmt: skip
    assert done.stderr == ""
    assert done.stdout == f"2 '' cardrecipe: out/a.html: {reason}\n"
