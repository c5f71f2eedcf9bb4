"""A function of one immutable value → the same function, which remembers what came of the last values."""

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

_Given = TypeVar("_Given")
_Found = TypeVar("_Found")
KEPT = 4  # a card in both unit systems, and the two that were asked about before


def once_for_each(work: Callable[[_Given], _Found]) -> Callable[[_Given], _Found]:
    """`work`, done once for each of the last values that it was asked about.

    Values are kept with what came of them and told apart as objects, so that none is mistaken for a later
    one; where two threads ask at once, the work may be done twice.
    """
    known: list[tuple[_Given, _Found]] = []

    @wraps(work)
    def remembered(given: _Given) -> _Found:
        for each, found in tuple(known):
            if each is given:
                return found
        found = work(given)
        known[:] = [(given, found), *known[: KEPT - 1]]
        return found

    return remembered
