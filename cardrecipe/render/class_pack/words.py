"""The words and groupings that all formats of a class pack share, so that they say a thing alike."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from cardrecipe.model.lengths import TIMES
from cardrecipe.plan.classes.facts import minutes_in_class, time_told
from cardrecipe.plan.classes.sheet import Bag, BagLine, ClassSheet, Kit, PrepTask, ShoppingLine
from cardrecipe.plan.sheet import CuttingSheet, PaperTotal
from cardrecipe.plan.wording import say
from cardrecipe.plan.words import listed
from cardrecipe.render.words import SUPPLY_GROUPS, piece_written

KITS_NOTE = (
    "Each card has a letter, and what is cut for it bears that letter: a K+M card is one for kit K or kit M. "
    "They begin at K, since strips that are cut further bear letters from A."
)
PREP_NOTE = (
    "Cut paper after paper, and of one paper all that has one size, one sheet or strip at a time. Lay what "
    "is finished on a pile of its own, with a slip that bears its name; strips that wait lie by their sheet "
    "and letter. The clock counts hours and minutes from the first task."
)
PREP_NOTE_BY_SETTING = (
    "All papers are cut together, so that the trimmer is set as seldom as can be. Cut one sheet or strip "
    "at a time. Lay what is finished on a pile of its own, with a slip that bears its name; give each "
    "strip that waits a slip with the number of its sheet and its letter. The clock counts hours and "
    "minutes from the first task."
)
SIGNS_NOTE = (
    "In the pictures a number in a ring stands where a cut of that line begins, a letter in a box names a "
    "strip, what is hatched is scrap, and “grain” and “pattern” tell which way they run."
)
PLAN_NOTE = "These are cut as they stand here."
PLAN_NOTE_BY_SETTING = (
    "The pictures for the list before. The same cuts are told here sheet by sheet: go by one of the two."
)

AT_HAND = say("class/there")


class Run(NamedTuple):
    """Tasks in a row with one tool, at the trimmer those of one paper, with the sheets that are cut."""

    heading: str
    tasks: tuple[PrepTask, ...]
    sheets: tuple[CuttingSheet, ...]


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


def kit_told(kit: Kit) -> str:
    """How exacting a card is, and how long it takes out of its bag."""
    level = next((fact.value for fact in kit.sheet.facts if fact.label == "Level"), "")
    time = f"about {time_told(minutes_in_class(kit.sheet.folded.card))} in the class"
    return "; ".join(filter(None, (level, time))).capitalize()


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


def told_in_short(line: ShoppingLine) -> str:
    """A thing to get in one phrase: `two to share, at hand`."""
    there = line.have if line.have in ("", AT_HAND) else f"have {line.have}"
    buy = line.buy if line.buy != line.need else ""
    return ", ".join(filter(None, (line.need, there, f"buy {buy}" if buy and line.need else buy, line.cost)))


def cost_written(sheet: ClassSheet) -> str:
    """Under the shopping list: what is bought, and what has no price."""
    return sheet.cost_told or (f"{sheet.cost} for the papers" if sheet.cost else "")


def runs(sheet: ClassSheet) -> tuple[Run, ...]:
    """The tasks in their order, those in a row with one tool and of one paper together."""
    return tuple(_runs(sheet))


def _runs(sheet: ClassSheet) -> Iterator[Run]:
    titles = {total.paper: total.title for total in sheet.paper_totals}
    for (tool, paper), tasks in groupby(sheet.prep, lambda task: (task.tool, task.paper)):
        of = f": {titles.get(paper, paper)}" if paper else ""
        cut = tuple(each for each in sheet.cutting if paper and each.paper == paper)
        yield Run(f"At the {tool}{of}", tuple(tasks), cut)


def in_no_run(sheet: ClassSheet) -> tuple[CuttingSheet, ...]:
    """The sheets that no task cuts: such as are whole pieces themselves."""
    papers = {task.paper for task in sheet.prep}
    return tuple(each for each in sheet.cutting if each.paper not in papers)


def totals_in_no_run(sheet: ClassSheet) -> tuple[PaperTotal, ...]:
    papers = {each.paper for each in in_no_run(sheet)}
    return tuple(each for each in sheet.paper_totals if each.paper in papers)


def prep_note(sheet: ClassSheet) -> str:
    return PREP_NOTE_BY_SETTING if sheet.by_setting else PREP_NOTE


def plan_note(sheet: ClassSheet) -> str:
    return PLAN_NOTE_BY_SETTING if sheet.by_setting else PLAN_NOTE


def signs_note(sheet: ClassSheet) -> str:
    return SIGNS_NOTE if sheet.by_setting or any(run.sheets for run in runs(sheet)) else ""


def sheet_caption(each: CuttingSheet) -> tuple[str, str]:
    """The name of a picture, and what is said of it in small: `Sheet 7`, `4 like this`."""
    told = (
        AT_HAND if each.size.endswith(AT_HAND) else "",
        "" if each.settings else "no cut: it is the piece",
        f"{each.count} like this" if each.count > 1 else "",
    )
    return f"Sheet {each.number}", ", ".join(filter(None, told))


def task_told(task: PrepTask, kits: Sequence[Kit]) -> str:
    """What is said of a task in small: `36 pieces, 35 min, for kit A`."""
    return ", ".join(filter(None, (task.amount, lasting(task.minutes), task_kits(task, kits))))


def task_kits(task: PrepTask, kits: Sequence[Kit]) -> str:
    """`for kit A`; nothing where each line names the kits itself."""
    use = "" if task.paper or task.lines else kits_written(task.kits, kits)
    return f"for {use}" if use else ""


def span_written(tasks: Sequence[PrepTask]) -> str:
    """When a run of tasks begins and ends: `0:40 to 1:15`."""
    return f"{clock(tasks[0].starts)} to {clock(tasks[-1].starts + tasks[-1].minutes)}"


def times_written(line: BagLine) -> str:
    return f"{line.count}\u00a0{TIMES}"


def in_all_written(line: BagLine, bag: Bag) -> str:
    """`18`: in all bags of the kit."""
    return f"{line.count * bag.bags:,}"


def item_written(line: BagLine) -> str:
    """A thing in a bag in short: `2 door papers`, `sash`."""
    name = what_written(line)
    return f"{line.count} {TIMES} {name}" if line.count > 1 else name


def what_written(line: BagLine) -> str:
    """A thing in a bag: its name as it is read, and the maker's own words after it as they are."""
    name, quote, said = line.what.partition("\u201c")
    return piece_written(name) + quote + said


def notes_written(line: BagLine) -> str:
    """What is said of a thing in small: its paper, its note."""
    return ", ".join(filter(None, (line.paper, line.note)))


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'' if number == 1 else 's'}"
