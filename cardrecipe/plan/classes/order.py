"""Things to do, each at some setting of some tool and after others → few groups of one setting, in an order
that can be followed."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from fractions import Fraction
from typing import NamedTuple

# Common practice, no published source: what is set once is set with care, so fewest settings come first.


class Setting(NamedTuple):
    """A tool as it is set: `stage` orders the tools, `size` what they are set to (0 where that is nothing),
    `label` tells settings apart that have no size."""

    stage: int
    tool: str
    size: Fraction = Fraction(0)
    label: str = ""


class Doing(NamedTuple):
    """One thing to do. `after` holds the keys of what must be done before; `what` is the caller's."""

    key: Hashable
    setting: Setting
    after: tuple[Hashable, ...]
    what: object


Group = tuple[Setting, tuple[Doing, ...]]


class Ring(ValueError):
    """Things that wait for each other."""


def in_groups(doings: Sequence[Doing]) -> tuple[Group, ...]:
    """All of `doings`, those of one setting together as far as what must come before allows.

    Of several ways to choose the next setting the one with the fewest groups is taken. Ring where some wait
    for each other.
    """
    return min((_grouped(doings, choice) for choice in _CHOICES), key=len)


_Choice = Callable[[Setting, int, int], tuple[object, ...]]

# How good a setting is to come next, the least first: given are how many things can be done at it now, and
# how many would still have to wait.
_CHOICES: tuple[_Choice, ...] = (
    lambda setting, ready, waiting: (setting.stage, waiting > 0, -setting.size, setting.label),
    lambda setting, ready, waiting: (setting.stage, waiting, -setting.size, setting.label),
    lambda setting, ready, waiting: (setting.stage, waiting > 0, -ready, -setting.size, setting.label),
    lambda setting, ready, waiting: (setting.stage, waiting > 0, setting.size, setting.label),
)


def _grouped(doings: Sequence[Doing], choice: _Choice) -> tuple[Group, ...]:
    left = {each.key: set(each.after) for each in doings}
    waiting = list(doings)
    groups: list[Group] = []
    while waiting:
        settings = {each.setting: None for each in waiting if not left[each.key]}
        if not settings:
            raise Ring(", ".join(str(each.key) for each in waiting))
        ready = {setting: _doable(waiting, left, setting) for setting in settings}
        counts = {setting: sum(each.setting == setting for each in waiting) for setting in settings}
        best = min(settings, key=lambda one: choice(one, len(ready[one]), counts[one] - len(ready[one])))
        done = {each.key for each in ready[best]}
        waiting = [each for each in waiting if each.key not in done]
        left = {key: before - done for key, before in left.items() if key not in done}
        groups.append((best, ready[best]))
    return tuple(groups)


def _doable(
    waiting: Sequence[Doing], left: dict[Hashable, set[Hashable]], setting: Setting
) -> tuple[Doing, ...]:
    """Everything that can be done at a setting now, one thing after the other."""
    done: set[Hashable] = set()
    found: list[Doing] = []
    rest = [each for each in waiting if each.setting == setting]
    while True:
        now = [each for each in rest if left[each.key] <= done]
        if not now:
            return tuple(found)
        found += now
        done |= {each.key for each in now}
        rest = [each for each in rest if each.key not in done]
