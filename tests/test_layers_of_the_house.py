"""The one-way flow as a test: which folder may import from which, and what `check` never loads."""

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.recipes import HEAD, ROOT

PACKAGE = ROOT / "cardrecipe"
MODULES = sorted(PACKAGE.rglob("*.py"))
# Each stage knows those before it; the library is data, read with the parser and measured in lengths.
MAY_IMPORT = {
    "syntax": {"syntax"},
    "library": {"library", "syntax", "model.lengths", "model.papers"},
    "model": {"model", "syntax", "library"},
    "solve": {"solve", "model", "syntax", "library"},
    "fold": {"fold", "solve.sized", "model", "syntax", "library"},
    "plan": {"plan", "fold", "solve.sized", "model", "syntax", "library"},
    "compare": {"compare", "plan", "fold", "solve", "model", "syntax", "library"},
    "render": {"render", "compare", "plan", "fold", "solve.sized", "model", "syntax", "library"},
}
TOGETHER = {
    "__init__", "__main__", "arguments", "checking", "class_compile", "cli", "compile", "files", "folder",
    "own_files", "report", "sheets", "sums", "writing",
}  # fmt: skip
TOGETHER_FOLDERS = {"commands", "preview", "editor"}  # what is run; no stage may import from them
# Folders of the editor; each knows, besides itself, the modules beside the folders and what stands here.
EDITOR_MAY_IMPORT = {
    "names": set[str](),
    "telling": {"names"},
    "offering": {"names", "telling"},
    "outline": set[str](),
    "mending": set[str](),
    "desk": {"names"},
    "protocol": {"names", "telling", "offering", "outline", "mending", "desk"},
}
HEAVY = ("jinja2", "typst", "markdown_it", "pint", "shapely", "lark", "sympy", "pygls", "numpy", "highspy",
         "pikepdf", "ezdxf", "lsprotocol", "tqdm", "argcomplete")  # fmt: skip
OUTSIDE_WORLD = (
    "os",
    "sys",
    "time",
    "datetime",
    "random",
    "socket",
    "subprocess",
    "tempfile",
    "pathlib",
    "locale",
)
# These read package data or are the grammar's own maker.
READS_PACKAGE_DATA = {"syntax.grammar", "syntax.make_tables", "library.folds", "library.tables"}


def name_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" and len(parts) > 1 else parts)


def imports(path: Path) -> Iterator[str]:
    """Every module that a file imports, at its top or late."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative imports hide where they lead"
            yield node.module or ""
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def own(path: Path) -> set[str]:
    """The modules of the package that a file imports, as `folder.module`."""
    known = {name_of(each) for each in MODULES}
    found = {name.removeprefix("cardrecipe.") for name in imports(path) if name.startswith("cardrecipe.")}
    return {name for name in found if name in known}


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_a_module_imports_only_from_stages_before_its_own(path: Path) -> None:
    stage = name_of(path).split(".")[0]
    if stage in TOGETHER | TOGETHER_FOLDERS:
        return
    allowed = MAY_IMPORT[stage]
    wrong = {name for name in own(path) if name.split(".")[0] not in allowed and name not in allowed}
    assert not wrong


def test_every_folder_has_its_rule() -> None:
    folders = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
    assert folders == set(MAY_IMPORT) | TOGETHER_FOLDERS
    assert {path.stem for path in PACKAGE.glob("*.py")} <= TOGETHER


def test_the_folders_of_the_editor_import_one_way() -> None:
    for path in sorted((PACKAGE / "editor").rglob("*.py")):
        _, *inner = name_of(path).split(".")
        if inner == ["command"]:
            continue  # it starts the whole
        folder = inner[0] if inner and inner[0] in EDITOR_MAY_IMPORT else None
        allowed = EDITOR_MAY_IMPORT[folder] | {folder} if folder else set()
        used = {name.split(".")[1] for name in own(path) if name.startswith("editor.")}
        assert used & set(EDITOR_MAY_IMPORT) <= allowed, path
        if folder != "protocol":
            assert not {name.split(".")[0] for name in imports(path)} & {"pygls", "lsprotocol"}, path


def test_no_module_imports_itself_in_a_circle() -> None:
    graph = {name_of(path): own(path) - {name_of(path)} for path in MODULES}
    # The command line loads them late, and they use what stands in it.
    for command in {name for name in graph if name.startswith("commands.")} | {
        "preview.command", "editor.command",
    }:  # fmt: skip
        graph[command].discard("cli")
    graph["syntax.grammar"] -= {"syntax.make_tables", "syntax.tables"}  # what is made from it, loaded late
    done: set[str] = set()

    def visit(name: str, trail: tuple[str, ...]) -> None:
        assert name not in trail, " → ".join((*trail, name))
        if name not in done:
            for other in sorted(graph[name]):
                visit(other, (*trail, name))
            done.add(name)

    for name in sorted(graph):
        visit(name, ())


@pytest.mark.parametrize(
    "path", [each for each in MODULES if name_of(each).split(".")[0] in MAY_IMPORT], ids=name_of
)
def test_the_core_knows_nothing_of_the_world_outside(path: Path) -> None:
    if name_of(path) in READS_PACKAGE_DATA or name_of(path).startswith("render."):
        return
    assert not {name.split(".")[0] for name in imports(path)} & set(OUTSIDE_WORLD)


def test_the_registry_of_codes_is_only_for_pages_and_tests() -> None:
    users = [name_of(path) for path in MODULES if "cardrecipe.syntax.codes" in set(imports(path))]
    assert users == []


# ---- what a command loads ------------------------------------------------------------------------


def loaded_by(folder: Path, *arguments: str) -> list[str]:
    """The modules that a command has loaded when it is done, in a fresh process."""
    code = (
        "import sys; from cardrecipe.cli import main; status = main(sys.argv[1:]);"
        "sys.stderr.write('\\n'.join(sorted(sys.modules))); sys.exit(status)"
    )
    # Whatever counts the lines that run would be among the modules.
    uncounted = {name: value for name, value in os.environ.items() if not name.startswith("COVERAGE_")}
    done = subprocess.run([sys.executable, "-c", code, *arguments], cwd=folder, capture_output=True,
                          env={**uncounted, "PYTHONPATH": str(ROOT)}, text=True, check=False)  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stderr.split("\n")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("recipes")
    text = (
        f"{HEAD}  \nbase card from ink\n  fold double-gate, width 4, height 5\n"
        "band sash from ink around card\n  width 1\n"
    )
    (path / "a.recipe").write_text(text)
    return path


def test_check_loads_no_renderer_and_nothing_heavy(folder: Path) -> None:
    modules = loaded_by(folder, "check", "a.recipe")
    assert "cardrecipe.solve.sizes" in modules
    assert [
        each for each in modules if each.startswith(("cardrecipe.render", "cardrecipe.syntax.codes"))
    ] == []
    assert [each for each in modules if each.split(".")[0] in HEAVY] == []
    assert [each for each in modules if each.startswith(("cardrecipe.preview", "http", "socket"))] == []


def test_only_the_command_line_knows_the_preview() -> None:
    users = {name_of(path) for path in MODULES for name in own(path) if name.startswith("preview")}
    assert {name for name in users if not name.startswith("preview.")} == {"cli"}


@pytest.mark.parametrize(("arguments", "unloaded"), [
    (["explain", "a.recipe", "card.width"], ("cardrecipe.render", "jinja2", "typst", "lark")),
    (["structures"], ("cardrecipe.render", "jinja2", "typst", "lark")),
    (["build", "a.recipe", "-o", "-", "--to", "json"], ("jinja2", "typst", "lark")),
    (["build", "a.recipe", "-o", "-", "--to", "html"], ("typst", "lark", "pint", "shapely")),
])  # fmt: skip
def test_other_commands_load_only_what_they_need(
    folder: Path, arguments: list[str], unloaded: tuple[str, ...]
) -> None:
    modules = loaded_by(folder, *arguments)
    assert [each for each in modules if each.startswith(unloaded)] == []
