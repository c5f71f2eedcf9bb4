"""Written files read back by parsers that are not ours: of what parts they consist, and what words they show.

A part is an element with the names of its attributes, a token of Markdown, a key of JSON with the kind of its
value, an entity of DXF, an action or an annotation of a PDF.
"""

import io
import json
import re
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple
from xml.etree import ElementTree

import ezdxf
from markdown_it import MarkdownIt
from markdown_it.token import Token
from pypdf import PdfReader

from tests.render.the_page import Page, with_the_other

# With everything on that readers of Markdown do: raw HTML, tables, links of bare addresses.
READER = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
WORDS = {"text", "text_special", "code_inline", "code_block", "fence"}
LETTERING = {"text", "tspan"}  # a drawing breaks its words into as many lines as they need
_SHELL_QUOTE = re.compile(r"""'"'"'""")  # how a command line holds a single quote


class Reading(NamedTuple):
    parts: Counter[Any]
    words: str  # without spaces, in small letters

    def shows(self, text: str) -> int:
        """How often a text is shown; where a line breaks in it, and with what letter it begins, is not the
        point."""
        return self.words.count(bare(text))


def bare(text: str) -> str:
    return _SHELL_QUOTE.sub("'", "".join(text.split()).casefold())


def read_html(content: bytes) -> Reading:
    """The page as it is when its script has unpacked the rest of it."""
    html = content.decode()
    page = Page(with_the_other(html) if 'id="packed"' in html else html)
    parts = Counter((tag, *sorted(attributes)) for tag, attributes in page.elements)
    return Reading(Counter(parts), bare(page.text))


def read_svg(content: bytes) -> Reading:
    root = ElementTree.fromstring(content.decode())
    assert b"<!" not in content and b"<?" not in content
    parts = Counter((each.tag, *sorted(each.attrib)) for each in root.iter()
                    if each.tag.split("}")[1] not in LETTERING)  # fmt: skip
    kinds = {(each.tag, *sorted(each.attrib)) for each in root.iter()} - set(parts)
    return Reading(Counter(parts) + Counter(kinds), bare("".join(root.itertext())))


def read_markdown(content: bytes) -> Reading:
    tokens = list(_flat(READER.parse(content.decode())))
    parts = Counter((each.type, each.tag, str(each.attrs.get("href", "")))
                    for each in tokens if each.type not in WORDS)  # fmt: skip
    return Reading(Counter(parts), bare("".join(each.content for each in tokens if each.type in WORDS)))


def _flat(tokens: list[Token]) -> Iterator[Token]:
    for token in tokens:
        yield token
        yield from _flat(token.children or [])


def read_json(content: bytes) -> Reading:
    found = list(_values(json.loads(content), ""))
    return Reading(Counter((path, type(value).__name__) for path, value in found),
                   bare("\n".join(value for _, value in found if isinstance(value, str))))  # fmt: skip


def _values(value: Any, path: str) -> Iterator[tuple[str, object]]:
    if isinstance(value, dict):
        for name, each in value.items():
            yield from _values(each, f"{path}.{name}")
    elif isinstance(value, list):
        for each in value:
            yield from _values(each, f"{path}[]")
    else:
        yield path, value


def read_dxf(content: bytes) -> Reading:
    """Its entities, and how many lines the file has: a text that ended its line would add some."""
    document = ezdxf.read(io.StringIO(content.decode("cp1252")))
    entities = list(document.modelspace())
    parts: Counter[Any] = Counter(f"{each.dxftype()} {each.dxf.layer}" for each in entities)
    said = [each.dxf.text for each in entities if each.dxftype() == "TEXT"]
    assert not re.search(r"%%|\\|\n", "".join(said).replace("\\U+", ""))
    parts["lines"] = len(content.splitlines())
    return Reading(parts, bare("".join(said)))


def read_pdf(content: bytes) -> Reading:
    reader = PdfReader(io.BytesIO(content))
    words = "".join(page.extract_text() for page in reader.pages)
    return Reading(Counter(_actions(reader)), bare(words))


_ACTIONS = ("/JS", "/AA", "/OpenAction", "/URI", "/Launch", "/EmbeddedFiles", "/AF", "/AcroForm", "/GoToR")


def _actions(reader: PdfReader) -> Iterator[str]:
    """Every annotation, action, image and attached file."""
    for number in range(1, int(str(reader.trailer["/Size"]))):
        held = reader.get_object(number)
        if not isinstance(held, dict):
            continue
        kind, subtype = held.get("/Type"), held.get("/Subtype")
        if kind in ("/Annot", "/Action", "/Filespec", "/EmbeddedFile") or subtype in ("/Image", "/Link"):
            yield f"{kind} {subtype}"
        action = held.get("/A")
        if kind == "/Annot" and action is not None:
            yield f"{action.get_object()['/S']}"
        yield from (name for name in _ACTIONS if name in held)


READERS: dict[str, Callable[[bytes], Reading]] = {
    ".html": read_html, ".svg": read_svg, ".md": read_markdown, ".json": read_json, ".dxf": read_dxf,
    ".pdf": read_pdf,
}  # fmt: skip


def read(name: str, content: bytes) -> Reading:
    """The file called `name`."""
    return READERS["." + name.rpartition(".")[2]](content)
