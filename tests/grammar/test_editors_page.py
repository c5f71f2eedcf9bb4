"""The set-ups of the editors' page, tried in the editors where those are installed."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.recipes import ROOT

PAGE = (ROOT / "grammar" / "editors.md").read_text(encoding="utf-8")
EXTENSION = ROOT / "grammar" / "editor"
EGLOT = "/usr/share/emacs/site-lisp/elpa"
CARD = """\
recipe "Evening walk"
  units inch nearest 1/16
  border 1/8

paper ink is cardstock "Ink blue" 12 x 12

base card from ink
  fold gate, width 5, height 7

panel message from ink on bakc
  size 3 x ?
  stamp   "A star"
"""
MENDED = CARD.replace("bakc", "back").replace("stamp   ", "stamp ")


def _block(kind: str) -> str:
    return re.findall(rf"^```{kind}\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)[0]


def _run(folder: Path, *command: str) -> str:
    """What an editor prints that finds `cardrecipe` as a command and has a home of its own."""
    program = folder / "bin" / "cardrecipe"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m cardrecipe "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    (folder / "card.recipe").write_text(CARD, encoding="utf-8")
    around = {**os.environ, "PATH": f"{program.parent}:{os.environ['PATH']}", "PYTHONPATH": str(ROOT)}
    around |= {"HOME": str(folder), "XDG_STATE_HOME": str(folder), "BROWSER": "true"}
    ran = subprocess.run(
        command, cwd=folder, env=around, capture_output=True, text=True, timeout=120, check=False
    )
    return ran.stdout + ran.stderr


# ---- Neovim ---------------------------------------------------------------------------------------

_NEOVIM_TRIAL = """
vim.cmd("edit card.recipe")
vim.wait(30000, function() return #vim.diagnostic.get(0) > 0 end, 50)
local found = vim.diagnostic.get(0)[1]
print("found " .. found.message:gsub("\\n", " "))
local here = { line = found.lnum, character = found.col }
local asked = { textDocument = vim.lsp.util.make_text_document_params(),
                range = { start = here, ["end"] = here },
                context = { diagnostics = vim.lsp.diagnostic.get_line_diagnostics(0, found.lnum) } }
local answers = vim.lsp.buf_request_sync(0, "textDocument/codeAction", asked, 20000)
for _, each in pairs(answers) do
  vim.lsp.util.apply_workspace_edit(each.result[1].edit, "utf-16")
end
vim.cmd("write")
print("preview " .. vim.fn.exists(":RecipePreview"))
vim.cmd("qa!")
"""


@pytest.mark.skipif(shutil.which("nvim") is None, reason="Neovim is not installed")
def test_neovim_shows_a_mistake_mends_it_and_formats_at_the_save(tmp_path: Path) -> None:
    (tmp_path / "init.lua").write_text(_block("lua"), encoding="utf-8")
    (tmp_path / "trial.lua").write_text(_NEOVIM_TRIAL, encoding="utf-8")
    said = _run(tmp_path, "nvim", "--headless", "-u", "init.lua", "-c", "luafile trial.lua")
    assert "no section or piece is called `bakc`" in said
    assert "preview 2" in said
    assert (tmp_path / "card.recipe").read_text(encoding="utf-8") == MENDED


# ---- Emacs ----------------------------------------------------------------------------------------

_EMACS_TRIAL = """
(package-initialize)
(require 'eglot)
(load-file "init.el")
(remove-hook 'recipe-mode-hook #'eglot-ensure) ; which waits for a person
(find-file "card.recipe")
(setq eglot-sync-connect 30)
(apply #'eglot (eglot--guess-contact))
(flymake-mode 1)
(let ((tries 0))
  (while (and (< tries 300) (null (flymake-diagnostics)))
    (accept-process-output nil 0.1) (flymake-start) (setq tries (1+ tries))))
(dolist (each (flymake-diagnostics)) (message "found %s" (flymake-diagnostic-text each)))
(goto-char (point-min)) (search-forward "bakc") (backward-char 2)
(let ((repairs (eglot-code-actions (point) (point))))
  (if (fboundp 'eglot-execute) ; newer ones
      (eglot-execute (eglot-current-server) (car repairs))
    (eglot--apply-workspace-edit (plist-get (car repairs) :edit))))
(save-buffer)
(setq browse-url-browser-function (lambda (address &rest _) (message "preview %s" address)))
(recipe-preview)
(eglot-shutdown (eglot-current-server))
"""


@pytest.mark.skipif(
    shutil.which("emacs") is None or not os.path.isdir(EGLOT), reason="Emacs with Eglot is not installed"
)
def test_emacs_shows_a_mistake_mends_it_formats_at_the_save_and_opens_the_preview(tmp_path: Path) -> None:
    (tmp_path / "init.el").write_text(_block("lisp"), encoding="utf-8")
    (tmp_path / "trial.el").write_text(_EMACS_TRIAL, encoding="utf-8")
    said = _run(tmp_path, "emacs", "--batch", "-l", "trial.el")
    assert "no section or piece is called `bakc`" in said, said
    assert re.search(r"preview http://127\.0\.0\.1:\d+/", said), said
    assert (tmp_path / "card.recipe").read_text(encoding="utf-8") == MENDED


# ---- the extension folder -------------------------------------------------------------------------

# In place of the editor and its client, modules that write down what they are asked to do.
_NODE_TRIAL = """
const Module = require("module"), real = Module._load, sent = [];
class LanguageClient {
  constructor(id, name, server, client) { sent.push({ server, client }); }
  start() { sent.push("started"); }
  sendRequest(method, params) { sent.push({ method, params }); }
}
const run = {};
const vscode = {
  workspace: { getConfiguration: () => ({ get: () => "cardrecipe" }) },
  commands: { registerCommand: (name, what) => { run[name] = what; } },
  window: { activeTextEditor: { document: { uri: "file:///a.recipe" } } },
};
const stand = { vscode, "vscode-languageclient/node": { LanguageClient } };
Module._load = (name, ...rest) => stand[name] ?? real(name, ...rest);
require(process.argv[1]).activate({ subscriptions: [] });
run["cardrecipe.preview"]();
console.log(JSON.stringify(sent));
"""


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_the_extension_begins_the_server_and_asks_it_for_the_preview() -> None:
    ran = subprocess.run(["node", "-e", _NODE_TRIAL, str(EXTENSION / "extension.js")],
                         capture_output=True, text=True, check=True)  # fmt: skip
    begun, started, preview = json.loads(ran.stdout)
    assert begun["server"] == {"command": "cardrecipe", "args": ["language-server"]}
    assert begun["client"]["documentSelector"] == [{"scheme": "file", "language": "recipe"}]
    assert started == "started"
    assert preview == {
        "method": "workspace/executeCommand",
        "params": {"command": "cardrecipe.openPreview", "arguments": ["file:///a.recipe"]},
    }


def test_the_extension_names_files_that_are_there_and_the_grammars_own_scope() -> None:
    told = json.loads((EXTENSION / "package.json").read_text(encoding="utf-8"))
    (language,), (grammar,) = told["contributes"]["languages"], told["contributes"]["grammars"]
    for path in (told["main"], language["configuration"], grammar["path"]):
        assert (EXTENSION / path).is_file()
    found = json.loads((EXTENSION / grammar["path"]).read_text(encoding="utf-8"))
    assert (grammar["scopeName"], grammar["language"]) == (found["scopeName"], language["id"])
    assert language["extensions"] == [".recipe"]


def test_the_command_that_the_page_and_the_extension_name_is_the_servers() -> None:
    from cardrecipe.editor.protocol.answers import OPEN_PREVIEW

    assert all(OPEN_PREVIEW in _block(kind) for kind in ("lua", "lisp"))
    assert OPEN_PREVIEW in (EXTENSION / "extension.js").read_text(encoding="utf-8")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_of_the_page_takes_the_line_that_is_shown(shell: str, tmp_path: Path) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed")
    line = re.findall(rf"^- {shell}, .*?: `(.*)`$", PAGE, re.MULTILINE)[0]
    first = "autoload -U compinit; compinit -u; " if shell == "zsh" else ""
    said = _run(tmp_path, shell, "-c", f"{first}{line} && echo taken")
    assert said.endswith("taken\n"), said
