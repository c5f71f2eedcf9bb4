"""What is ticked off on the printed sheet: supplies in columns, the cut list on its slip."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cardrecipe.plan.cuts import one_copy
from cardrecipe.plan.sheet import CutLine, Sheet, SupplyLine
from cardrecipe.render.drawings.colors import paper_color
from cardrecipe.render.drawings.lettering import text_width
from cardrecipe.render.printed.columns import balanced
from cardrecipe.render.printed.grey import HATCHINGS, grey, hatchings
from cardrecipe.render.printed.lines_taken import lines_taken
from cardrecipe.render.printed.look import POINT, Grid, TypeScale, line_height, white
from cardrecipe.render.words import (
    SUPPLY_GROUPS,
    grouped_cuts,
    grouped_supplies,
    piece_written,
    times_written,
    use_written,
)
from cardrecipe.solve.sized import SizedCard

Data = dict[str, object]
SUPPLY_COLUMNS = 3
TICK = 5.0  # mm: the column of the boxes to tick
SWATCH = 7.6
GROUP_GAP = 1.5
ROW_GAP = 1.6  # mm between the lines of the cut list


class Swatches(NamedTuple):
    """What a card's papers look like beside their names; `hatched` is empty in colour."""

    card: SizedCard
    hatched: Mapping[str, int]
    in_grey: bool

    def of(self, paper: str) -> Data:
        """The swatch of a paper by its name in the recipe; one that is not named looks like ours."""
        color = paper_color(self.card.papers, paper)
        return {
            "color": grey(color) if self.in_grey else color,
            "hatching": HATCHINGS[self.hatched.get(paper, 0)],
        }

    def of_line(self, line: SupplyLine) -> Data | None:
        """The swatch of a line of the supplies; it names a paper by its title and what it weighs."""
        titles = {paper.title: name for name, paper in self.card.papers.items()}
        found = [title for title in titles if line.name.startswith(title)]
        return self.of(titles[max(found, key=len)]) if line.kind == "paper" and found else None


def swatches(card: SizedCard, in_grey: bool) -> Swatches:
    return Swatches(card, hatchings(card) if in_grey else {}, in_grey)


class Columns(NamedTuple):
    """Groups in columns, and the height of the tallest."""

    groups: list[list[Data]]
    height: float


def supply_columns(sheet: Sheet, looks: Swatches, grid: Grid, scale: TypeScale) -> Columns:
    """The groups of supplies in as many columns as end at about the same height."""
    count = SUPPLY_COLUMNS if grid.columns > 1 else 1
    width = (grid.width - (count - 1) * grid.gutter) / count
    groups = grouped_supplies(sheet.supplies)
    heights = [_group_height(lines, width, scale) for _, lines in groups]
    shown = [_supply_group(kind, lines, looks) for kind, lines in groups]
    columns = balanced(list(zip(shown, heights, strict=True)), heights, count)
    return Columns([[group for group, _ in column] for column in columns], _tallest(columns))


def cut_columns(sheet: Sheet, looks: Swatches, grid: Grid, scale: TypeScale) -> Columns:
    """The cuts by paper in the columns of the grid; a paper that goes on in the next one is named again."""
    rows = [(paper, line) for paper, lines in grouped_cuts(sheet.cuts) for line in lines]
    heights = [_cut_height(line, grid, scale) for _, line in rows]
    for place, (paper, _) in enumerate(rows):
        if not place or paper != rows[place - 1][0]:
            heights[place] += line_height(scale.small) + GROUP_GAP * white(scale)
    columns = balanced(list(zip(rows, heights, strict=True)), heights, grid.columns)
    return Columns([_by_paper([row for row, _ in column], looks) for column in columns], _tallest(columns))


def _tallest(columns: Sequence[Sequence[tuple[object, float]]]) -> float:
    return max((sum(height for _, height in column) for column in columns), default=0.0)


def _by_paper(rows: Sequence[tuple[str, CutLine]], looks: Swatches) -> list[Data]:
    one = one_copy(looks.card)
    return [
        {
            "paper": paper,
            "swatch": looks.of(lines[0].paper),
            "lines": [_cut(line, one) for line in lines],
        }
        for paper, lines in grouped_cuts([line for _, line in rows])
    ]


def _cut(line: CutLine, one: str) -> Data:
    each = [f"{line.count} a {one}"] if line.total != line.count else []
    return {
        "times": times_written(line),
        "piece": piece_written(line.piece),
        "size": line.size,
        "other": line.other_size,
        "notes": ", ".join((*each, *line.notes)),
    }


def _cut_height(line: CutLine, grid: Grid, scale: TypeScale) -> float:
    """The name with its notes, or the size with the other one beneath, whichever is taller."""
    size = max(
        text_width(part, points * POINT)
        for part, points in ((line.size, scale.step), (line.other_size, scale.small))
    )
    notes = lines_taken(", ".join(line.notes), scale.small, grid.column - TICK - size - 6.0)
    return line_height(scale.step) + line_height(scale.small) * max(1, notes) + ROW_GAP * white(scale)


def _supply_group(kind: str, lines: Sequence[SupplyLine], looks: Swatches) -> Data:
    return {
        "title": SUPPLY_GROUPS.get(kind, piece_written(kind).capitalize()),
        "lines": [
            {
                "name": line.name,
                "amount": line.amount,
                "used_for": use_written(line),
                "swatch": looks.of_line(line),
            }
            for line in lines
        ],
    }


def _group_height(lines: Sequence[SupplyLine], width: float, scale: TypeScale) -> float:
    """Head, lines and the gap after them."""
    gaps = 0.62 * scale.body * POINT * (len(lines) - 1)
    taken = sum(_supply_lines(line, width - TICK, scale) for line in lines)
    return 2 * GROUP_GAP + line_height(scale.small) + taken * line_height(scale.body) * 0.9 + gaps


def _supply_lines(line: SupplyLine, width: float, scale: TypeScale) -> int:
    """The name in the body's size, what it is for in small: as if the small words were fewer."""
    used = use_written(line)
    shown = used[: round(len(used) * scale.small / scale.body)]
    text = f"{', '.join(filter(None, (line.name, line.amount)))} {shown}"
    return lines_taken(text.strip(), scale.body, width - SWATCH * (line.kind == "paper"))
