"""The words and groupings that all formats of a class pack share, so that they say a thing alike."""

import shlex
from collections.abc import Iterable, Sequence
from itertools import groupby

from cardrecipe.model.lengths import TIMES
from cardrecipe.plan.class_sheet import Bag, BagLine, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.plan.words import listed, spoken
from cardrecipe.render.words import SUPPLY_GROUPS, piece_written

PREP_NOTE = (
    "The clock counts hours and minutes from the first task. Sheets and strips are those of the cutting "
    "plan: lay a slip with the number of its sheet and its letter on each pile of strips that waits for a "
    "later setting."
)
PLAN_NOTE = (
    "The list before this plan sets the trimmer once for all papers; the plan cuts paper after paper. "
    "Cut by the one or by the other: they give the same pieces."
)


def clock(minutes: int) -> str:
    """Minutes since the first task as `0:40`."""
    return f"{minutes // 60}:{minutes % 60:02d}"


def lasting(minutes: int) -> str:
    """How long something takes: `45 min`, `2 h`, `1 h 20 min`."""
    hours, rest = divmod(minutes, 60)
    parts = (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "")
    return " ".join(filter(None, parts))


def seats_written(kit: Kit) -> str:
    """`12 seats and 1 spare kit`; without spares the seats alone."""
    seats = _count(kit.seats, "seat")
    return f"{seats} and {_count(kit.spare, 'spare kit')}" if kit.spare else seats


def bags_written(bag: Bag) -> str:
    return _count(bag.bags, "bag")


def kits_written(letters: Sequence[str], kits: Sequence[Kit]) -> str:
    """`kits A and B`; nothing where the class has one kit, or all of them are meant."""
    if len(kits) < 2 or not letters:
        return ""
    if {*letters} >= {kit.letter for kit in kits}:
        return "all kits"
    return f"kit{'s' if len(letters) > 1 else ''} {listed(letters)}"


def how_to_make(kit: Kit) -> str:
    """The command that makes the sheet with a card's steps, as one types it."""
    variant = ("--variant", kit.variant) if kit.variant is not None else ()
    return shlex.join(("cardrecipe", "build", kit.path, *variant))


def grouped_shopping(
    lines: Sequence[ShoppingLine],
) -> tuple[tuple[str, tuple[ShoppingLine, ...]], ...]:
    """The shopping list by kind, with the heading of each: known kinds first, then others as they come."""
    kinds = dict.fromkeys((*SUPPLY_GROUPS, *(line.kind for line in lines)))
    groups = ((kind, tuple(line for line in lines if line.kind == kind)) for kind in kinds)
    return tuple(
        (SUPPLY_GROUPS.get(kind, piece_written(kind).capitalize()), found) for kind, found in groups if found
    )


def shopping_columns(lines: Sequence[ShoppingLine]) -> list[tuple[str, str]]:
    """The columns that say anything, each by the name of its field and its heading."""
    every = (("need", "Need"), ("have", "Have"), ("buy", "Buy"), ("cost", "Cost"))
    return [(name, title) for name, title in every if any(getattr(line, name) for line in lines)]


def by_tool(prep: Iterable[PrepTask]) -> tuple[tuple[str, tuple[PrepTask, ...]], ...]:
    """The tasks in their order, those in a row with one tool together."""
    return tuple((tool, tuple(tasks)) for tool, tasks in groupby(prep, lambda task: task.tool))


def tool_written(tool: str) -> str:
    """A tool's name as a heading."""
    return f"At the {tool}"


def task_told(task: PrepTask, kits: Sequence[Kit]) -> str:
    """What is said of a task in small: `36 pieces, 35 min, for kit A`."""
    use = kits_written(task.kits, kits)
    return ", ".join(filter(None, (task.amount, lasting(task.minutes), use and f"for {use}")))


def span_written(tasks: Sequence[PrepTask]) -> str:
    """When a run of tasks begins and ends: `0:40 to 1:15`."""
    return f"{clock(tasks[0].starts)} to {clock(tasks[-1].starts + tasks[-1].minutes)}"


def whole_time(sheet: ClassSheet) -> int:
    """Minutes from the first task to the end of the last."""
    return max((task.starts + task.minutes for task in sheet.prep), default=0)


def times_written(line: BagLine) -> str:
    return f"{line.count}\u00a0{TIMES}"


def item_written(line: BagLine) -> str:
    """A thing in a bag in short: `2 door papers`, `sash`."""
    name = spoken(line.what)
    return f"{line.count} {TIMES} {name}" if line.count > 1 else name


def notes_written(line: BagLine) -> str:
    """What is said of a thing in small: its paper, its note."""
    return ", ".join(filter(None, (line.paper, line.note)))


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
