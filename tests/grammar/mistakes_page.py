"""Writes `grammar/mistakes.md` from the registry of codes, what the program says, and the repairs.

Run `python -m tests.grammar.mistakes_page` in the root of the project after a code or a message has changed.
"""

from functools import cache
from pathlib import Path

from cardrecipe.class_compile import CompiledClass, compile_class
from cardrecipe.compile import Compiled
from cardrecipe.editor.mending.table import NO_REPAIR
from cardrecipe.report import as_text
from cardrecipe.syntax.codes import CODES, NO_EXAMPLE, Code
from cardrecipe.syntax.source import Source
from tests.editor.test_repairs import offered
from tests.recipes import NAME, Texts, compile_text

PAGE = Path(__file__).parents[2] / "grammar" / "mistakes.md"
MOST_LINES, MOST_WIDE = 24, 240
TOP = """\
# What can be wrong with a recipe

`cardrecipe check card.recipe` reads a recipe to its end and tells everything that is wrong with it, all at
once. What it says looks like this:

```text
card.recipe:9:3: error[unknown-word]: no line of a recipe begins with `sise`
  9 |   sise 3 x 2
    |   ^^^^
  hint: did you mean `size`? For instance: size 3 x 2 1/4
```

First comes the place: the file, the line, and how far into the line. Then `error` or `warning`, and in
brackets the code, which is the heading to look for on this page. The line itself follows, with a mark under
the words that are meant, and the hint says what to type instead. An error has to be mended before a sheet can
be written; a warning is advice, and the sheet is written all the same.

Each example below is a whole file with one mistake, and what the program says of it is what it really says:
this page is written by the program. What an editor offers are the repairs that it can make for you with one
key; each of them has been tried on the example.

"""


@cache
def page() -> str:
    """The text of `mistakes.md`."""
    links = [f"{_listed('error')}\n", f"{_listed('warning')}\n"]
    return TOP + "\n".join([*links, *(_entry(code) for code in CODES)])


def _listed(severity: str) -> str:
    names = sorted(each.name for each in CODES if each.severity == severity)
    links = ", ".join(f"[{name}](#{name})" for name in names)
    return f"{severity.capitalize()}s: {links}."


def _entry(code: Code) -> str:
    return "\n".join([f"## {code.name}\n", f"{code.rule} ({code.severity.capitalize()}.)\n", *_shown(code)])


def _shown(code: Code) -> list[str]:
    if code.wrong == NO_EXAMPLE:
        return ["No recipe that fits on a page is known to give this.\n"]
    named = [(name, text) for name, text in code.files if name in code.example + code.right]
    others = [f"The file `{name}`:\n\n{_fenced(text, 'recipe beside')}\n" for name, text in named[:2]]
    return [
        f"{_fenced(code.example, 'recipe wrong')}\n",
        *others,
        f"{_fenced(_said(code), 'text')}\n",
        f"{_repair(code)}\n",
        f"{_offers(code)}\n",
    ]


def _fenced(text: str, info: str) -> str:
    """A block of text; what is too long for a page is cut, and said to be."""
    lines = text.rstrip("\n").split("\n")
    is_long = len(lines) > MOST_LINES or any(len(line) > MOST_WIDE for line in lines)
    if not is_long:
        return "\n".join([f"```{info}", *lines, "```"])
    shown = [line if len(line) <= MOST_WIDE else f"{line[: MOST_WIDE - 2]} …" for line in lines]
    if len(shown) > MOST_LINES:
        shown = [*shown[:12], f"… and so on, {len(lines):,} lines in all"]
    return "\n".join(["```text", *shown, "```"])


def _said(code: Code) -> str:
    files = dict(code.files)
    found: list[Compiled | CompiledClass] = [compile_text(code.example, files)]
    if compile_text(code.example, files).is_class:
        found = [compile_class(Source(NAME, code.example), Texts(files))]
    variants = compile_text(code.example, files).variants
    found += [compile_text(code.example, files, title) for title in variants]
    own = list(dict.fromkeys(each for run in found for each in run.diagnostics))
    return as_text(own[:2], {name: source for run in found for name, source in run.sources.items()})


def _repair(code: Code) -> str:
    right = code.right.strip("\n")
    if not right.strip():
        return "Take the line out."
    return f"Write instead:\n\n{_fenced(right, 'recipe mended')}"


def _offers(code: Code) -> str:
    if code.name in NO_REPAIR:
        return f"An editor has no repair to offer: {NO_REPAIR[code.name]}."
    titles = [each.title for _, found in offered(code.example, code.name, dict(code.files)) for each in found]
    listed = "\n".join(f"- {title}" for title in dict.fromkeys(titles))
    return f"An editor offers:\n\n{listed}"


def main() -> None:
    PAGE.write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
