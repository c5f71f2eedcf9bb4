// Starts the language server for recipes, and opens the preview of the one in front.

const vscode = require("vscode");
const { LanguageClient } = require("vscode-languageclient/node");

let client;

function activate(context) {
  const command = vscode.workspace.getConfiguration("cardrecipe").get("command");
  client = new LanguageClient(
    "cardrecipe",
    "Card recipe",
    { command, args: ["language-server"] },
    { documentSelector: [{ scheme: "file", language: "recipe" }] },
  );
  context.subscriptions.push(vscode.commands.registerCommand("cardrecipe.preview", preview));
  return client.start();
}

function preview() {
  const editor = vscode.window.activeTextEditor;
  if (editor === undefined) return undefined;
  const recipe = editor.document.uri.toString();
  return client.sendRequest("workspace/executeCommand", {
    command: "cardrecipe.openPreview",
    arguments: [recipe],
  });
}

function deactivate() {
  return client?.stop();
}

module.exports = { activate, deactivate };
