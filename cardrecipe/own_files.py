"""Which files a `build` may write over: those that one wrote."""

import os

from cardrecipe.render.signs import SIGNS

# A sign is looked for in so many of the first bytes and of the last; in a PDF a table stands behind it, of
# some twenty bytes for each of its objects.
FIRST, LAST = 1 << 16, 1 << 21


def may_be_replaced(path: str) -> bool:
    """Tell whether nothing of the user's is lost where a sheet's file is written at `path`: nothing is there,
    or a link, or a file that is empty or bears our sign. OSError where it cannot be read."""
    sign = SIGNS.get(os.path.splitext(path)[1])
    if sign is None or os.path.islink(path) or not os.path.exists(path):
        return True
    with open(path, "rb") as file:
        first = file.read(FIRST)
        file.seek(max(0, file.seek(0, os.SEEK_END) - LAST))
        parts = [each.replace(b"\r\n", b"\n") for each in (first, file.read())]  # as git may have changed it
    return not first or any(sign in each for each in parts)
