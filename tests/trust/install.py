"""The package as it is installed: built, put into an empty environment, and used there without a home.

`python -m tests.trust.install --wheels DIR [--keep DIR] [PYTHON…]` needs no network: DIR holds, in a folder
for each Python (`3.12.1`) or in one for all, the wheels of what the package depends on and of hatchling,
which `pip download --only-binary :all: -d DIR …` fetches. Without names, every supported Python of this
machine is tried. `--keep` leaves the environments there.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.recipes import ROOT
from tests.trust.pythons import supported, version_of

# What has to be in the wheel besides the modules, one of each kind.
DATA = (
    "cardrecipe/syntax/recipe.lark", "cardrecipe/library/structures/double-gate.recipe",
    "cardrecipe/library/tables/", "cardrecipe/render/fonts/Nunito-Regular.ttf",
    "cardrecipe/render/fonts/OFL.txt", "cardrecipe/render/templates/page.html.j2",
    "cardrecipe/render/templates/sheet.typ", "cardrecipe/render/card.schema.json",
    "cardrecipe/preview/preview.js",
)  # fmt: skip
_BUILD = "import sys; from hatchling.build import build_{0} as build; build(sys.argv[1])"
NOWHERE = {"HOME": "/nonexistent", "PATH": os.defpath, "LANG": "C.UTF-8"}


def built(kind: str, source: Path, into: Path, python: str = sys.executable) -> Path:
    """The `wheel` or the `sdist` that hatchling makes of the tree at `source`."""
    into.mkdir(parents=True, exist_ok=True)
    subprocess.run([python, "-c", _BUILD.format(kind), str(into)], cwd=source, check=True,
                   stdout=subprocess.DEVNULL)  # fmt: skip
    (made,) = into.glob("*.whl" if kind == "wheel" else "*.tar.gz")
    return made


def tree_copy(into: Path) -> Path:
    """What is in the repository and takes part in a build."""
    for name in ("cardrecipe", "grammar"):
        shutil.copytree(ROOT / name, into / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE", ".gitignore"):
        shutil.copy(ROOT / name, into / name)
    return into


def contents(wheel: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as opened:
        return {name: opened.read(name) for name in opened.namelist()}


def unpacked(sdist: Path, into: Path) -> Path:
    with tarfile.open(sdist) as opened:
        opened.extractall(into, filter="data")
    (source,) = into.iterdir()
    return source


def missing_from(found: Mapping[str, bytes]) -> list[str]:
    """What the wheel ought to have and has not: data of each kind, a licence, every module."""
    modules = {path.relative_to(ROOT).as_posix() for path in (ROOT / "cardrecipe").rglob("*.py")}
    lacking = [each for each in DATA if not any(name.startswith(each) for name in found)]
    licences = [] if any("licenses/LICENSE" in name for name in found) else ["LICENSE"]
    return [*lacking, *licences, *sorted(modules - set(found))]


# ---- used ------------------------------------------------------------------------------------------


def used(command: Sequence[str], folder: Path, environment: Mapping[str, str]) -> str:
    """What is wrong with the installed program `command`, used in an empty folder; "" where nothing is."""
    tasks: list[tuple[list[str], int, str]] = [
        (["new", "gate", "-o", "a.recipe"], 0, "a.recipe\n"),
        (["check", "a.recipe"], 0, ""),
        (["build", "a.recipe", "--to", "html,pdf,md,json,svg"], 0, "a.html\n"),
        (["check", "nowhere.recipe"], 2, ""),
    ]
    for arguments, status, begins in tasks:
        ran = subprocess.run([*command, *arguments], cwd=folder, env=dict(environment), capture_output=True,
                             text=True, check=False)  # fmt: skip
        if ran.returncode != status or not ran.stdout.startswith(begins) or "Traceback" in ran.stderr:
            return f"{arguments}: {ran.returncode} {ran.stdout} {ran.stderr}"
    return "" if (folder / "a.pdf").read_bytes().startswith(b"%PDF-") else "a.pdf is none"


def read_only(folder: Path) -> list[str]:
    """What stands before a command so that it cannot write in `folder`; root may, unless it is mounted so."""
    for path in [*folder.rglob("*"), folder]:
        if not path.is_symlink():
            path.chmod(path.stat().st_mode & ~0o222)
    if os.name != "posix" or os.geteuid() != 0 or shutil.which("unshare") is None:
        return []
    script = 'mount --bind "$0" "$0" && mount -o remount,ro,bind "$0" && exec "$@"'
    command = ["unshare", "--mount", "--propagation", "private", "sh", "-c", script, str(folder)]
    works = subprocess.run([*command, "true"], capture_output=True, check=False).returncode == 0
    return command if works else []


def files_in(folder: Path) -> dict[str, int]:
    return {str(path): path.lstat().st_mtime_ns for path in folder.rglob("*")}


# ---- the whole of it, from the command line ----------------------------------------------------------


def main() -> int:
    typed = argparse.ArgumentParser(prog="python -m tests.trust.install")
    typed.add_argument("--wheels", type=Path, required=True)
    typed.add_argument("--keep", type=Path)
    typed.add_argument("pythons", nargs="*", metavar="PYTHON")
    options = typed.parse_args()
    named = {version_of(Path(each)) or each: Path(each) for each in options.pythons} or supported()
    problems = []
    with TemporaryDirectory() as place:
        tree = tree_copy(Path(place, "tree"))
        for version, python in named.items():
            where = options.wheels / version
            problem = _installed(python, tree, where if where.is_dir() else options.wheels,
                                 (options.keep or Path(place)) / version)  # fmt: skip
            print(f"Python {version}: {problem or 'new, check and build work; nothing was written there'}")
            problems += [problem] if problem else []
    return 1 if problems else 0


def _installed(python: Path, tree: Path, wheels: Path, place: Path) -> str:
    """Build with this Python and install, both from `wheels` alone; "" where all is well."""
    place.mkdir(parents=True)
    offline = ["-q", "--no-index", "--find-links", str(wheels), "--no-cache-dir"]
    bare = {**NOWHERE, "PIP_CONFIG_FILE": os.devnull}

    def install(name: str, package: str) -> None:
        subprocess.run([python, "-m", "venv", place / name], env=bare, check=True)
        subprocess.run([place / name / "bin" / "pip", "install", *offline, package], env=bare, check=True)

    install("maker", "hatchling")
    maker = str(place / "maker" / "bin" / "python")
    wheel = built("wheel", tree, place / "dist", maker)
    source = unpacked(built("sdist", tree, place / "sdist", maker), place / "from-sdist")
    again = built("wheel", source, place / "dist-from-sdist", maker)
    if contents(wheel) != contents(again):
        return "the sdist does not build the same wheel"
    if lacking := missing_from(contents(wheel)):
        return f"the wheel lacks {lacking}"
    install("user", str(wheel))
    before, folder = files_in(place / "user"), place / "work"
    folder.mkdir()
    locked = read_only(place / "user")
    problem = used([*locked, str(place / "user" / "bin" / "cardrecipe")], folder, NOWHERE)
    return problem or ("" if files_in(place / "user") == before else "something was written there")


if __name__ == "__main__":
    sys.exit(main())
