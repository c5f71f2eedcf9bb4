"""The commands that git calls: `git-diff`, its external diff driver, and `facts`, its textconv.

Neither may fail: where a recipe cannot be solved, git shows its text as it shows any other.
"""

import os
import sys
from collections.abc import Iterator, Sequence
from hashlib import file_digest
from typing import NamedTuple

from cardrecipe.cli import DONE, WRONG
from cardrecipe.commands.comparing import Made, Read, as_plain_text, made_from, read_text
from cardrecipe.compare.compare import compare
from cardrecipe.compare.facts import facts_of
from cardrecipe.compare.variant_lines import variant_lines
from cardrecipe.files import CannotRead, FolderTexts, open_file, read_content, source_of
from cardrecipe.report import visible
from cardrecipe.syntax.source import Source

NOTHING = "/dev/null"  # what git gives for the side of a new or a deleted file
MOST_PLACES = 50  # tracked files of one name that are looked at for the papers beside them


# ---- facts: one side as lines ---------------------------------------------------------------------


def facts_of_file(path: str) -> int:
    """Print the facts of a recipe, one a line; its own text, and why, where it cannot be solved."""
    content = read_content(path)
    try:
        source = source_of(path, content)
    except CannotRead:
        _out(_not_text(path))
        return DONE
    side, card, why = _made_anywhere(path, source)
    if card is None or card.version is None:
        _out(why + _lines_shown(source.text))
        return DONE
    _out(
        "".join(
            f"{visible(line)}\n"
            for line in (*facts_of(card.version.sheet), *variant_lines(side.tree, source))
        )
    )
    return DONE


def _not_text(path: str) -> str:
    """Something that differs for two files that differ, and that a terminal can show."""
    with open_file(path) as file:
        digest = file_digest(file, "sha256")
        return f"no text in UTF-8: {file.tell()} bytes, SHA-256 {digest.hexdigest()}\n"


class _Anywhere(NamedTuple):
    """A text as its tree and its card; without a card, a line that says why, or "" for what is none."""

    side: Read
    card: Made | None
    why: str = ""


def _made_anywhere(path: str, source: Source) -> _Anywhere:
    """The card of a text that git wrote to a file of its own choice: with the papers beside that file, else
    with those beside the tracked file of that name, where such files agree."""
    found: list[_Anywhere] = []
    why = ""
    for place in _places(path, source):
        side = read_text(Source(place, source.text), FolderTexts(place))
        if side.is_other:
            return _Anywhere(side, None)
        card = made_from(side, None)
        if card.version is not None:
            found.append(_Anywhere(side, card))
        else:  # the last is told: its papers are there, if they are anywhere
            why = f"this recipe cannot be solved ({_first_mistake(card)}), so here is its text\n"
    told = {facts_of(each.card.version.sheet) for each in found if each.card and each.card.version}
    if len(told) == 1:
        return found[0]
    if told:
        why = "the files that recipes of this name use differ, so here is the text\n"
    return _Anywhere(side, None, why)


def _first_mistake(card: Made) -> str:
    """`line 14: no paper is called …`."""
    first = next(each for each in card.compiled.diagnostics if each.severity == "error")
    source = card.compiled.sources[first.span.file]
    own = next(iter(card.compiled.sources))
    place = "" if source.name == own else f"{os.path.basename(source.name)} "
    return f"{place}line {source.line_of(first.span)}: {visible(first.message)}"


def _places(path: str, source: Source) -> Iterator[str]:
    """Where the recipe may stand in the maker's folder."""
    yield path
    if os.path.isabs(path) and 'use "' in source.text:
        yield from _tracked(os.path.basename(path))


def _tracked(name: str) -> list[str]:
    """The tracked files of this name, as git lists them from the folder it works in."""
    import subprocess

    try:
        listed = subprocess.run(["git", "ls-files", "-z", "--", f":(glob)**/{_literal(name)}"],
                                capture_output=True, check=False)  # fmt: skip
    except OSError:
        return []
    return [os.fsdecode(each) for each in listed.stdout.split(b"\0") if each][:MOST_PLACES]


def _literal(name: str) -> str:
    """A file's name with no sign that stands for others."""
    return "".join(f"\\{char}" if char in "*?[]\\" else char for char in name)


# ---- git-diff: two sides ----------------------------------------------------------------------------


class _Arguments(NamedTuple):
    """What git says: the path, the files of the two sides, and the path that it is renamed to."""

    path: str
    old: str
    new: str
    renamed: str = ""

    @property
    def new_path(self) -> str:
        return self.renamed or self.path


def git_diff(arguments: Sequence[str]) -> int:
    """Print what changed, for git; see `gitattributes` and `GIT_EXTERNAL_DIFF` in its manual."""
    if len(arguments) == 1:
        print(f"{visible(arguments[0])}: not merged yet; look for the marks of both sides in it")
        return DONE
    if len(arguments) not in (7, 9):
        print("cardrecipe: git-diff is called by git, with seven arguments; to compare two recipes use"
              " cardrecipe diff OLD NEW", file=sys.stderr)  # fmt: skip
        return WRONG
    path, old, _, _, new, _, _, *renamed = arguments
    given = _Arguments(path, old, new, renamed[0] if renamed else "")
    _out(_told(given))
    return DONE


def _told(given: _Arguments) -> str:
    """The maker's diff where both sides can be solved, else the two texts line by line."""
    path, renamed = visible(given.path), visible(given.renamed)
    head = f"{path}, now called {renamed}\n" if renamed else f"{path}\n"
    try:
        before, after = _text(given.path, given.old), _text(given.new_path, given.new)
    except CannotRead as problem:
        return f"{head}{visible(str(problem))}\n"
    sides = [_side(source) for source in (before, after)]
    if before is None or after is None:
        return head + _alone(before or after, sides[0] or sides[1], is_new=before is None)
    versions = [made.version if made is not None else None for made in sides]
    if versions[0] is not None and versions[1] is not None:
        return head + as_plain_text(compare(versions[0], versions[1]))
    return head + _why_text(sides) + _by_lines(before, after)


def _text(path: str, file: str) -> Source | None:
    """A side's text under the path that the maker knows; None for a side that is not there."""
    if file == NOTHING:
        return None
    return source_of(path, read_content(file))


def _side(source: Source | None) -> Made | None:
    """The plain card of a text; the files that it uses are those beside the path as they are now."""
    if source is None:
        return None
    side = read_text(source, FolderTexts(source.name))
    return None if side.is_other else made_from(side, None)


def _alone(source: Source | None, made: Made | None, is_new: bool) -> str:
    """A recipe that is new, or gone: its facts, else its text. Of a class or papers, too."""
    assert source is not None
    noun = "file" if made is None else "recipe"
    word, sign = (f"a new {noun}", "+") if is_new else (f"this {noun} is gone", "-")
    if made is None or made.version is None:
        lines: Sequence[str] = source.text.splitlines()
    else:
        lines = facts_of(made.version.sheet)
    return f"{word}\n" + "".join(f"{sign} {visible(line)}\n" for line in lines)


def _why_text(sides: Sequence[Made | None]) -> str:
    """Why the texts are shown: what stands in the way, and on which side."""
    both = zip(("old", "new"), sides, strict=True)
    word, made = next((word, made) for word, made in both if made is None or made.version is None)
    if made is None:
        return f"the {word} file is no card, but a class or papers; here is its text\n"
    return f"the {word} recipe cannot be solved ({_first_mistake(made)}), so here is its text\n"


def _by_lines(before: Source, after: Source) -> str:
    from difflib import unified_diff

    texts = before.text.splitlines(), after.text.splitlines()
    lines = unified_diff(*texts, f"a/{before.name}", f"b/{after.name}", lineterm="")
    return "".join(f"{visible(line)}\n" for line in lines)


def _lines_shown(text: str) -> str:
    """A text as it is, but for what could rewrite a terminal."""
    lines = text.removesuffix("\n").split("\n")
    return "".join("\t".join(map(visible, line.split("\t"))) + "\n" for line in lines)


def _out(text: str) -> None:
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode())
    sys.stdout.buffer.flush()
