"""What a process holds at a moment: objects by type, memory, threads, open files, processes of its own."""

import gc
import os
import resource
import threading
import tracemalloc
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from cardrecipe.editor.desk.background import MOST_THREADS

_PROCESS = Path("/proc/self")  # where a system has none, what is read there is not counted


class Held(NamedTuple):
    """Counted after everything that is garbage has been collected.

    `items` is how much all containers hold together: a table of texts that grows is one object all the while.
    """

    objects: Counter[str]
    items: int
    traced: int  # bytes that Python has handed out; 0 where they are not traced
    resident: int  # bytes of the process in memory
    threads: int
    files: int
    children: int

    @property
    def count(self) -> int:
        return self.objects.total()


def held() -> Held:
    """What this process holds now."""
    for _ in range(3):  # what is freed by a finalizer is garbage one turn later
        gc.collect()
    kinds, items = Counter[type](), 0
    everything = gc.get_objects()
    for each in (*everything, *_plain_tables(everything)):
        kind = type(each)
        kinds[kind] += 1
        if kind in (dict, list, set, tuple):
            items += len(each)
    found = Counter[str]()
    for kind, number in kinds.items():
        found[f"{kind.__module__}.{kind.__qualname__}"] += number
    traced = tracemalloc.get_traced_memory()[0] if tracemalloc.is_tracing() else 0
    return Held(found, items, traced, _resident(), threading.active_count(), _files(), _children())


def grown(before: Held, after: Held, most: int) -> list[str]:
    """What there is more of than before, by more than `most` objects, in words; files and processes by any
    number, threads by more than those that may take over from work which is left to itself."""
    found = [
        f"{kind}: {before.objects[kind]:,} → {number:,}"
        for kind, number in after.objects.most_common()
        if number - before.objects[kind] > most
    ]
    if after.items - before.items > 4 * most:  # an object is held by several containers
        found.append(f"items of containers: {before.items:,} → {after.items:,}")
    for name, more in (("threads", MOST_THREADS - 1), ("files", 0), ("children", 0)):
        was, now = getattr(before, name), getattr(after, name)
        found += [f"{name}: {was} → {now}"] if now > was + more else []
    return found


def _plain_tables(everything: Sequence[object]) -> list[dict[object, object]]:
    """Tables of texts and numbers alone, of which the collector knows nothing until something holds them."""
    held = gc.get_referents(*everything)
    return list({id(each): each for each in held if type(each) is dict and not gc.is_tracked(each)}.values())


def _resident() -> int:
    try:
        pages = int((_PROCESS / "statm").read_text("ascii").split()[1])
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    return pages * resource.getpagesize()


def _files() -> int:
    """The open files of this process, without the one that lists them."""
    return len(os.listdir("/dev/fd")) - 1


def _children() -> int:
    """The processes that this one has begun and not yet waited for."""
    listed = _PROCESS.glob("task/*/children")
    return sum(len(each.read_text("ascii").split()) for each in listed)
