"""Writes `grammar/folds.md` and its pictures from the shipped structures.

Run `python -m tests.library.folds_page` in the root of the project after a structure has changed.
"""

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from cardrecipe.commands.asking import starter
from cardrecipe.compile import compile_recipe
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.library.folds import fold_names, fold_source, fold_statement
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax import tree
from cardrecipe.syntax.source import Source
from tests.library.folds_pictures import closed_picture, flat_picture

GRAMMAR = Path(__file__).parents[2] / "grammar"
HEAD = '''recipe "A fold"
  units inch nearest 1/16
  border 1/8

paper ink is cardstock "Ink blue" 12 x 12, color "#6f93a8"
paper white is cardstock "Soft white"
'''
TOP = f"""# The folds of the library

Each of these is a structure that is shipped: `fold NAME, width W, height H` under a base. Width and height
are those of the closed card; what stands after "else" is taken where nothing is said. `cardrecipe new NAME`
writes a recipe to begin with.

The first picture shows the sheet laid flat with its inside up: dashes are valleys, dashes and dots mountains,
thick lines slits. The second is the closed card from the front; what shows the inside of the paper is paler.
A section too small for its name bears its number.

The examples stand in this recipe:

```recipe shelf
{HEAD}```
"""


class Entry(NamedTuple):
    """A structure on the page: its text, and its pictures by file name."""

    text: str
    pictures: dict[str, str]


def page() -> tuple[str, dict[str, str]]:
    """The text of `folds.md`, and its pictures by file name."""
    entries = [_entry(name) for name in fold_names()]
    links = ", ".join(f"[{name}](#{name})" for name in fold_names())
    text = "\n".join([TOP, f"{links}.\n", *(each.text for each in entries)])
    return text, {name: svg for each in entries for name, svg in each.pictures.items()}


@cache
def first_recipe(name: str) -> str:
    """What `cardrecipe new` writes for a structure."""
    return starter(name)


def example(name: str) -> str:
    """The lines of a small recipe that folds a base with a structure."""
    lines = first_recipe(name).partition("base card from base\n")[2].splitlines()
    return "\n".join(line for line in ["base card from ink", *lines] if not line.startswith("  tip")).replace(
        "from light", "from white"
    )


@cache
def base_alone(name: str) -> FoldedCard:
    """The base of the example, with nothing on it."""
    text = HEAD + example(name).partition("panel")[0]
    folded = compile_recipe(Source(f"{name}.recipe", text), NoTexts()).folded
    assert folded is not None, name
    return folded


def _entry(name: str) -> Entry:
    folded = base_alone(name)
    pictures = {
        f"{name}-open.svg": flat_picture(folded, name),
        f"{name}-closed.svg": closed_picture(folded, name),
    }
    sections = folded.card.bases[0].sections
    parts = [
        f"## {name}\n",
        *(f"{line}\n" for line in _comments(name)),
        f"Asks for: {', '.join(_asks(name))}.\n",
        f"Sections: {', '.join(f'{at} `{each.name}`' for at, each in enumerate(sections, 1))}.\n",
        f"```recipe\n{example(name)}\n```\n",
        f"![{name} laid open](pictures/{name}-open.svg)\n",
        f"![{name} closed](pictures/{name}-closed.svg)\n",
    ]
    return Entry("\n".join(parts), pictures)


def _comments(name: str) -> list[str]:
    """The comment lines at the top of a structure, in the page's own mark-up."""
    lines = fold_source(name).text.splitlines()
    return [re.sub(r"^#\s*", "", line) for line in lines if line.startswith("#")]


def _asks(name: str) -> list[str]:
    source = fold_source(name)
    return [
        f"`{each.name.text}`" + (f" (else {source.words_at(each.default.span)})" if each.default else "")
        for line in fold_statement(name).block
        if isinstance(line.node, tree.Ask)
        for each in line.node.parameters
    ]


def main() -> None:
    """Write the page and its pictures, and remove pictures of structures that are gone."""
    text, pictures = page()
    (GRAMMAR / "folds.md").write_text(text, encoding="utf-8")
    folder = GRAMMAR / "pictures"
    folder.mkdir(exist_ok=True)
    for old in folder.glob("*.svg"):
        if old.name not in pictures:
            old.unlink()
    for name, svg in pictures.items():
        (folder / name).write_text(svg, encoding="utf-8")


if __name__ == "__main__":
    main()
