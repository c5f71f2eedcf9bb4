"""Which pages of the old print hold no more, and which of the new one to print, by the parts on them.

This is no mirror of itself: a page that is thrown away takes along what would still be right on it.
"""

from collections.abc import Hashable, Iterable, Sequence

from cardrecipe.compare.changes import GROUPS, Change, Comparison
from cardrecipe.plan.words import listed

Page = Sequence[Hashable]


def with_pages(comparison: Comparison, old: Sequence[Page], new: Sequence[Page]) -> Comparison:
    """The comparison with its printed pages.

    An old page holds where all its parts stand, in their order, in the new print; a new page need not be
    printed where all its parts stand on old pages that hold.
    """
    fresh_parts = [part for page in new for part in page]
    void = [number for number, page in enumerate(old, 1) if not _stands_in(page, fresh_parts)]
    kept_parts = [part for number, page in enumerate(old, 1) if number not in void for part in page]
    fresh = [number for number, page in enumerate(new, 1) if not _stands_in(page, kept_parts)]
    if not void and not fresh:
        return comparison
    pages = Change("pages", "changed", "pages", _written(void, len(old)), _written(fresh, len(new)))
    changes = sorted((*comparison.changes, pages), key=lambda each: GROUPS.index(each.group))
    return comparison._replace(changes=tuple(changes))


def _stands_in(page: Page, parts: Iterable[Hashable]) -> bool:
    """True where the parts of a page come in this order among others."""
    left = iter(parts)
    return all(part in left for part in page)


def _written(numbers: Sequence[int], count: int) -> str:
    """`pages 2 to 4 and 6 of 7`; `none of the 7 pages`."""
    if not numbers:
        return f"none of the {count} pages"
    if len(numbers) == count:
        return f"all {count} pages" if count > 1 else "the one page"
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [part for run in runs for part in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))]
    return f"page{'' if len(numbers) == 1 else 's'} {listed(parts)} of {count}"
