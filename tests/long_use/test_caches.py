"""Nothing in the package remembers without end: each cache has a bound, or is known to have few keys."""

import importlib

import pytest

from cardrecipe.commands.asking import list_structures
from tests.long_use.bounds import BOUNDS, OTHERS
from tests.long_use.caches import memories, memories_in, remembering
from tests.recipes import SAMPLES, run

ENDLESS = {"each key": BOUNDS, "within a call": OTHERS, "of the module": OTHERS}


def test_whatever_remembers_has_a_bound() -> None:
    found = {each.place: each.kind for each in memories()}
    unbounded = [place for place, kind in found.items() if place not in ENDLESS.get(kind, found)]
    assert not unbounded, "say in tests/long_use/bounds.py how many keys there can be, or give it a size"
    assert not {*BOUNDS, *OTHERS} - set(found), "these remember no longer"


@pytest.mark.parametrize("place", [each.place for each in memories() if each.kind == "the last ones"])
def test_those_that_keep_the_last_ones_are_not_large(place: str) -> None:
    importlib.import_module(f"cardrecipe.{place.rpartition('.')[0]}")
    function = remembering(place)
    if hasattr(function, "cache_parameters"):
        assert 0 < function.cache_parameters()["maxsize"] <= 1 << 15
    else:
        assert function.__wrapped__.__name__ == function.__name__  # `once_for_each`, which has its own test


def test_the_keys_are_no_more_than_is_said(tmp_path: object) -> None:
    """After a build and a check of everything that is shipped, and of nothing else."""
    for place in BOUNDS:
        if memory := remembering(place):
            memory.cache_clear()
    list_structures()
    for name in ("night-market.recipe", "orchard-walk.recipe"):
        assert run("build", str(SAMPLES / name), "-o", str(tmp_path), "--to", "html,md").status == 0
    sizes = {place: remembering(place).cache_info().currsize for place in BOUNDS if remembering(place)}
    assert sizes["render.page_style.template_text"] and sizes["syntax.read_line._pattern"]
    assert not {place: size for place, size in sizes.items() if size > BOUNDS[place].most()}


# ---- the search itself ---------------------------------------------------------------------------

SOURCE = """
import functools
from functools import cache, lru_cache
KNOWN, SEEN, FIXED = {}, [], {1: 2}
COUNT: int = 0
@cache
def alone(): ...
@cache
def endless(key): ...
@functools.cache
def endless_too(*keys): ...
@lru_cache
def usual(key): ...
@lru_cache(maxsize=8)
def few(key): ...
@lru_cache(None)
def all_of_them(key): ...
@functools.lru_cache(maxsize=None)
def all_again(*, key): ...
@once_for_each
def last(value): ...
class Box:
    @cache
    def held(self): ...
def outer(FIXED):
    @cache
    def inner(key): ...
    SEEN.append(1)
    KNOWN[2] = FIXED[1]
    FIXED[3] = 4
    local = []
    local.append(1)
later = cache(outer)
other = functools.lru_cache(maxsize=None)(outer)
def count():
    global COUNT
    COUNT += 1
"""


def test_the_search_finds_every_sort() -> None:
    found = {each.place: each.kind for each in memories_in(SOURCE, "m")}
    assert found == {
        "m.alone": "one value", "m.endless": "each key", "m.endless_too": "each key",
        "m.usual": "the last ones", "m.few": "the last ones", "m.all_of_them": "each key",
        "m.all_again": "each key", "m.last": "the last ones", "m.Box.held": "each key",
        "m.outer.inner": "within a call", "m": "each key",
        "m.SEEN": "of the module", "m.KNOWN": "of the module", "m.COUNT": "of the module",
    }  # fmt: skip
