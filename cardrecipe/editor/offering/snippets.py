"""A form of the language → a snippet: its example with a hole for each name, number and text in it."""

import re
from functools import cache

from cardrecipe.editor.offering.line_before import reads_whole

_PART = re.compile(
    r'"[^"]*"|[0-9]+[ ]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9.]+|[a-z][a-z0-9]*(?:-[a-z0-9]+)*|.', re.DOTALL
)
_HOLE = re.compile(r"\$\{\d+:((?:[^}\\]|\\.)*)\}|\$0")


@cache
def snippet(example: str) -> str:
    """The example, each word that may be another one as `${1:word}`."""
    parts = _PART.findall(example)
    number = 0
    for at, part in enumerate(parts):
        if at == 0:
            continue
        if part[0] == '"':
            number += 1
            parts[at] = f'"${{{number}:{_escaped(part[1:-1])}}}"'
        elif part[0].isdigit() or (part[0].isalpha() and _may_differ(parts, at)):
            number += 1
            parts[at] = f"${{{number}:{_escaped(part)}}}"
    return "".join(parts)


def filled(text: str) -> str:
    """A snippet as it stands once it is inserted and left as it is."""
    return re.sub(r"\\([\\$}])", r"\1", _HOLE.sub(lambda hole: hole.group(1) or "", text))


def _may_differ(parts: list[str], at: int) -> bool:
    """True for a name: another one leaves the line a line of the language."""
    return reads_whole("".join(filled(part) if index != at else "zz" for index, part in enumerate(parts)))


def _escaped(text: str) -> str:
    return re.sub(r"([\\$}])", r"\\\1", text)
