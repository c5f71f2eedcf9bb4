"""What a sheet is printed on and how: page sizes with their margins, colour or grey, usual or large print."""

from typing import NamedTuple


class Paper(NamedTuple):
    """A page size and the room on it, in mm. `side`, `top` and `foot` are the margins."""

    typst_name: str
    width: float
    height: float
    side: float = 15.0
    top: float = 13.0
    foot: float = 17.0


PAGES = {"letter": Paper("us-letter", 215.9, 279.4), "a4": Paper("a4", 210.0, 297.0)}


class Printing(NamedTuple):
    """How the sheet is printed. `page` is a key of `PAGES`."""

    page: str = "letter"
    in_grey: bool = False  # for a printer without colour
    is_large: bool = False  # large print, for readers who need it
