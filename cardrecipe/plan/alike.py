"""What is one and the same to a maker in the sheets of two cards, whatever its number on either of them."""

from collections.abc import Sequence

from cardrecipe.plan.sheet import CutLine, CuttingSheet, ScoreGuide


def new_cuts(before: Sequence[CutLine], after: Sequence[CutLine]) -> tuple[CutLine, ...]:
    """The lines of a cut list that the one before does not have."""
    known = set(map(_of_cut, before))
    return tuple(line for line in after if _of_cut(line) not in known)


def new_layouts(
    before: Sequence[CuttingSheet], after: Sequence[CuttingSheet]
) -> tuple[tuple[CuttingSheet, CuttingSheet | None], ...]:
    """Each sheet of the plan `after` with the sheet before that is cut alike; None where there is none."""
    known = {unnumbered(each): each for each in before}
    return tuple((each, known.get(unnumbered(each))) for each in after)


def unnumbered(sheet: CuttingSheet) -> CuttingSheet:
    """All that is said of how a sheet is cut, without its number."""
    return sheet._replace(number=0, picture="")


def new_guides(before: Sequence[ScoreGuide], after: Sequence[ScoreGuide]) -> tuple[ScoreGuide, ...]:
    """The score guides that are not as before."""
    known = set(before)
    return tuple(each for each in after if each not in known)


def _of_cut(line: CutLine) -> tuple[object, ...]:
    """All that is cut; how it is named is left to the list."""
    return (
        line.piece, line.kind, line.paper, line.paper_title, line.total, line.width, line.height,
        line.other_size, line.notes,
    )  # fmt: skip
