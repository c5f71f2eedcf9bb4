"""The style sheet and the script of the HTML page as one text each, without what only their readers need."""

import re
from base64 import b64encode
from functools import cache
from hashlib import sha256
from importlib.resources import files

PAGE_SIZES = {"letter": "8.5in 11in", "a4": "210mm 297mm"}
# The characters of the small subset of the page's type: English, sizes and signs. A page with any other
# takes the subset that has the letters of most European languages.
CORE = (
    frozenset(map(chr, range(0x20, 0x7F)))
    | frozenset("\u00a0\u00b0\u00b7\u00bd\u00d7\u00df\u00e4\u00e9\u00f6\u00fc\u2013\u2014\u2018")
    | frozenset("\u2019\u201c\u201d\u2022\u2026\u202f\u2032\u2033\u2044\u2212\u2248")
)

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
# What stands in quotes stays; blanks round these signs mean nothing in CSS.
_BLANKS = re.compile(r'("[^"]*")| ?([{};,>]) ?|(:) ')


def page_style(page: str, text: str) -> str:
    """The style sheet of a page of `text` that is printed on `page` ("letter" or "a4")."""
    kind = "core" if CORE.issuperset(set(text) - {"\n"}) else "subset"
    return f"{_faces(kind)}@page{{size:{PAGE_SIZES[page]}}}{_tight_style('page.css')}"


@cache
def style_of(name: str) -> str:
    """A style sheet among the templates, to stand after that of the page."""
    return _tight_style(name)


def named_by_hash(text: str) -> str:
    """What a content security policy calls a style or a script that it allows."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode('ascii')}'"


@cache
def live_style() -> str:
    """The style of what only the script brings to life."""
    return "".join(map(_tight_style, ("live.css", "folding.css")))


@cache
def page_script() -> str:
    """The script of the page, with that of the folding view."""
    return "\n".join(map(_tight_script, ("page.js", "folding.js")))


@cache
def boot_script() -> str:
    """The script that stands in the page as it is: it unpacks the others."""
    return _tight_script("boot.js")


@cache
def class_style() -> str:
    """The style of what only the page of a class has."""
    return _tight_style("class.css")


@cache
def class_script() -> str:
    """The script of the page of a class."""
    return _tight_script("class.js")


@cache
def template_text(name: str) -> str:
    """The file `name` among the templates; "" where there is none."""
    path = files("cardrecipe.render") / "templates" / name
    return path.read_text(encoding="utf-8") if path.is_file() else ""


@cache
def _faces(kind: str) -> str:
    return "".join(
        f'@font-face{{font-family:"Nunito";font-weight:{weight};'
        f"src:url(data:font/woff2;base64,{_font(f'Nunito-{name}.{kind}.woff2')}) format('woff2')}}"
        for name, weight in (("Regular", 400), ("Bold", 700))
    )


def _font(name: str) -> str:
    path = files("cardrecipe.render") / "fonts" / name
    return b64encode(path.read_bytes()).decode("ascii")


@cache
def _tight_style(name: str) -> str:
    """A style sheet without comments and blanks that mean nothing in CSS."""
    bare = " ".join(_COMMENT.sub("", template_text(name)).split())
    return _BLANKS.sub(lambda found: found[found.lastindex or 0], bare).replace(";}", "}")


def _tight_script(name: str) -> str:
    """A script without comments of whole lines and without indentation: its lines stay, as they end
    statements."""
    lines = (line.strip() for line in template_text(name).splitlines())
    return "\n".join(line for line in lines if line and not line.startswith("//"))
