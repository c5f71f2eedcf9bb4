"""The cutting plans of a class → every cut of every sheet with what must be cut before it.

A strip must be there before it is cut across, and what is cut off one part comes off it in the order of its
sheet. Beyond that cuts are free, so that all of one size can be made together, whatever sheet they are on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from cardrecipe.model.lengths import to_mm
from cardrecipe.plan.classes.order import Doing
from cardrecipe.plan.classes.order import Setting as ToolSetting
from cardrecipe.plan.cutting.card_plans import NumberedLayout, PaperPlan
from cardrecipe.plan.cutting.cut_list import InHand, Setting, settings

TRIMMER = "trimmer"
CUT_STAGE = 0

CutKey = tuple[str, int, int, str, int]  # "cut", sheet, depth, letter, size in steps


class Cut(NamedTuple):
    """The cuts of one setting on one kind of part of one sheet; `gone` of it is cut off before, in steps."""

    plan: PaperPlan
    layout: NumberedLayout
    setting: Setting
    held: InHand
    gone: int

    @property
    def strokes(self) -> int:
        """How many cuts it takes on all sheets."""
        return self.held.count * self.held.times * self.layout.layout.count

    @property
    def key(self) -> CutKey:
        return "cut", self.layout.number, self.setting.depth, self.held.letter, self.setting.size


def cuts_to_do(plans: Sequence[PaperPlan], units: Mapping[str, str]) -> tuple[Doing, ...]:
    """Give all cuts of some plans, in the order of their sheets, set in millimetres; `units` are those that
    the papers are measured in."""
    return tuple(
        doing
        for plan in plans
        for layout in plan.layouts
        for doing in _of_sheet(plan, layout, units[plan.of.paper.name])
    )


def _of_sheet(plan: PaperPlan, layout: NumberedLayout, unit: str) -> Iterator[Doing]:
    found: list[Cut] = []
    for setting in settings(layout.layout.root):
        for held in setting.in_hand:
            same = [each for each in found if _part(each) == (setting.depth, held.letter)]
            gone = sum(each.setting.size * each.held.times for each in same)
            cut = Cut(plan, layout, setting, held, gone)
            before = same[-1:] or [each for each in found if _gives(each, setting.depth, held.letter)]
            size = ToolSetting(CUT_STAGE, TRIMMER, to_mm(plan.of.length(setting.size), unit))
            yield Doing(cut.key, size, tuple(each.key for each in before), cut)
            found.append(cut)


def _part(cut: Cut) -> tuple[int, str]:
    return cut.setting.depth, cut.held.letter


def _gives(cut: Cut, depth: int, letter: str) -> bool:
    """Tell whether a part of that letter, to be cut at that depth, comes of a cut."""
    comes = (*cut.held.off, *cut.held.left)
    return cut.setting.depth == depth - 1 and any(
        each.kind == "part" and each.name == letter for each in comes
    )
