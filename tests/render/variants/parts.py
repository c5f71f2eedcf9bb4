"""An HTML page as a tree, for tests that look at what stands where."""

from collections.abc import Iterator
from html.parser import HTMLParser

from tests.render.the_page import VOID


class Parts(HTMLParser):
    """Elements as a tree of (tag, attributes, children and texts), as far as these tests need one."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.root: tuple[str, dict[str, str | None], list[object]] = ("", {}, [])
        self._open = [self.root]
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        made: tuple[str, dict[str, str | None], list[object]] = (tag, dict(attrs), [])
        self._open[-1][2].append(made)
        if tag not in VOID:
            self._open.append(made)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open[-1][2].append((tag, dict(attrs), []))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop()[0] == tag

    def handle_data(self, data: str) -> None:
        self._open[-1][2].append(data)


def every(
    part: object, tag: str, name: str = ""
) -> Iterator[tuple[str, dict[str, str | None], list[object]]]:
    """The elements of a tag below `part`, with the class `name` if one is given."""
    if isinstance(part, tuple):
        for child in part[2]:
            if isinstance(child, tuple):
                if child[0] == tag and (not name or name in (child[1].get("class") or "").split()):
                    yield child
                yield from every(child, tag, name)


def words(part: object, without: tuple[str, ...] = ()) -> str:
    """The text of an element, without that of the classes in `without`, and of drawings."""
    if isinstance(part, str):
        return part
    assert isinstance(part, tuple)
    if part[0] == "svg" or set((part[1].get("class") or "").split()).intersection(without):
        return ""
    return " ".join("".join(words(child, without) for child in part[2]).split())
