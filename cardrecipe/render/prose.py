"""The maker's Markdown as a small tree of blocks and runs, which every page format walks itself.

No format ever gets markup from a recipe: raw HTML stays text, a picture becomes its description, a
link keeps its address only when the address is a web page, a mail or a telephone number.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import accumulate, islice
from typing import TYPE_CHECKING, NamedTuple

from cardrecipe.syntax.unseen import marked

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

LINK_SCHEMES = ("http://", "https://", "mailto:", "tel:")
DEEPEST_HEADING = 6
MOST_NESTED = 20  # runs inside runs; the parser keeps blocks to the same number

# Text without any of these is plain in every rule of Markdown, so that the parser (60 ms to load)
# is not needed: emphasis, code, links, headings, quotes, lists, rules, tables, entities, escapes.
_MARKUP = re.compile(r"[*_`\[\]<|~\\]|&[#\w]|^\s*([-+=#>]|\d+[.)])|^( {4}|\t)|  $", re.MULTILINE)
_UNSEEN = " \t\n\u00a0\u200b\u202f"


class Run(NamedTuple):
    """A stretch of text: `kind` is text, code, strong, emphasis, strike, link or break."""

    kind: str
    text: str = ""  # text and code
    href: str = ""  # link
    runs: tuple["Run", ...] = ()  # strong, emphasis, strike, link


class Block(NamedTuple):
    """A block: paragraph, heading, bullets, numbers, item, quote, code, rule, table or row.

    Headings, paragraphs and a row's cells (blocks of kind `cell`) hold `runs`; the others `blocks`.
    """

    kind: str
    runs: tuple[Run, ...] = ()
    blocks: tuple["Block", ...] = ()
    text: str = ""  # code
    level: int = 0  # heading
    start: int = 1  # numbers


def prose(markdown: str, top: int = 2) -> tuple[Block, ...]:
    """The blocks of `markdown`; its highest headings get level `top`, and no level is skipped."""
    source = shown(markdown).strip("\n")
    if not _MARKUP.search(source):
        return tuple(_plain(source))
    tokens = _parser().parse(source)
    return _with_levels(tuple(_blocks(tokens)), top)


def shown(text: str) -> str:
    """`text` with a visible mark for each sign that no recipe may hold: a file's name may have some."""
    return marked(text.replace("\r\n", "\n"))


def title_shown(title: str) -> str:
    """A title that is never empty: pages and their outlines need one."""
    return title if title.strip(_UNSEEN) else "Untitled"


def plain_text(runs: Sequence[Run]) -> str:
    """The characters of `runs` alone."""
    return "".join(" " if run.kind == "break" else run.text + plain_text(run.runs) for run in runs)


def _plain(source: str) -> Iterator[Block]:
    for part in re.split(r"\n[ \t]*\n", source):
        words = " ".join(line.strip(" \t") for line in part.strip().split("\n"))
        if words:
            yield Block("paragraph", (Run("text", words),))


def _parser() -> "MarkdownIt":
    from markdown_it import MarkdownIt

    parser = MarkdownIt("js-default")  # raw HTML off, nesting limited to 20
    parser.validateLink = _is_safe_link  # type: ignore[method-assign]
    return parser


def _is_safe_link(url: str) -> bool:
    return url.strip().lower().startswith(LINK_SCHEMES)


_BLOCK_KINDS = {
    "paragraph_open": "paragraph",
    "heading_open": "heading",
    "bullet_list_open": "bullets",
    "ordered_list_open": "numbers",
    "list_item_open": "item",
    "blockquote_open": "quote",
    "table_open": "table",
    "tr_open": "row",
    "th_open": "cell",
    "td_open": "cell",
}
_TRANSPARENT = {"thead_open", "tbody_open"}
_RUN_KINDS = {"strong_open": "strong", "em_open": "emphasis", "s_open": "strike", "link_open": "link"}


def _blocks(tokens: Sequence["Token"]) -> Iterator[Block]:
    at = 0
    while at < len(tokens):
        token, end = tokens[at], _closing(tokens, at)
        inside = tokens[at + 1 : end]
        if token.type in _TRANSPARENT:
            yield from _blocks(inside)
        elif token.type in ("fence", "code_block"):
            yield Block("code", text=token.content.rstrip("\n"))
        elif token.type == "hr":
            yield Block("rule")
        else:
            block = _container(token, inside)
            if block.kind not in ("paragraph", "heading") or plain_text(block.runs).strip(_UNSEEN):
                yield block
        at = end + 1


def _container(token: "Token", inside: Sequence["Token"]) -> Block:
    kind = _BLOCK_KINDS[token.type]
    if kind == "heading":
        return Block(kind, _inline(inside), level=int(token.tag[1:]))
    if kind in ("paragraph", "cell"):
        return Block(kind, _inline(inside))
    start = int(str(token.attrs.get("start", 1)))
    return Block(kind, blocks=tuple(_blocks(inside)), start=start)


def _closing(tokens: Sequence["Token"], at: int) -> int:
    """Where the block or run that opens at `at` closes; `at` itself when it stands alone."""
    depths = accumulate(token.nesting for token in islice(tokens, at, None))
    return next((index for index, depth in enumerate(depths, at) if depth == 0), len(tokens))


def _inline(inside: Sequence["Token"]) -> tuple[Run, ...]:
    return tuple(run for token in inside for run in _runs(token.children or ()))


def _runs(tokens: Sequence["Token"], depth: int = 0) -> Iterator[Run]:
    at = 0
    while at < len(tokens):
        token, end = tokens[at], _closing(tokens, at)
        if token.type in _RUN_KINDS and depth < MOST_NESTED:
            inner = tuple(_runs(tokens[at + 1 : end], depth + 1))
            yield Run(_RUN_KINDS[token.type], href=str(token.attrs.get("href", "")), runs=inner)
        elif token.type in _RUN_KINDS:
            yield Run("text", "".join(inner.content for inner in tokens[at + 1 : end]))
        elif token.type == "code_inline":
            yield Run("code", token.content)
        elif token.type == "hardbreak":
            yield Run("break")
        elif token.type == "softbreak":
            yield Run("text", " ")
        elif token.content:
            yield Run("text", token.content)
        at = end + 1


def _with_levels(blocks: tuple[Block, ...], top: int) -> tuple[Block, ...]:
    """Headings re-numbered from `top` down; those inside quotes and lists become paragraphs."""
    used = sorted({block.level for block in blocks if block.kind == "heading"})
    previous, result = top - 1, []
    for block in blocks:
        if block.kind == "heading":
            previous = min(top + used.index(block.level), previous + 1, DEEPEST_HEADING)
            block = block._replace(level=previous)
        result.append(block._replace(blocks=tuple(map(_without_headings, block.blocks))))
    return tuple(result)


def _without_headings(block: Block) -> Block:
    if block.kind == "heading":
        return Block("paragraph", (Run("strong", runs=block.runs),))
    return block._replace(blocks=tuple(map(_without_headings, block.blocks)))
