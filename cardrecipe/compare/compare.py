"""Two versions of a card → what changed for the maker: every part of the sheet is held beside its partner.

Lengths are compared exactly and never as they are written. What a sheet does not show is not compared.
"""

from collections.abc import Callable, Iterator, Sequence

from cardrecipe.compare.both import Both
from cardrecipe.compare.changes import GROUPS, Change, Comparison, Side
from cardrecipe.compare.of_card import card_changes, fact_changes
from cardrecipe.compare.of_cutting import cut_changes, kit_changes
from cardrecipe.compare.of_papers import paper_changes
from cardrecipe.compare.of_pieces import piece_changes
from cardrecipe.compare.of_scores import score_changes
from cardrecipe.compare.of_steps import step_changes
from cardrecipe.compare.of_things import envelope_changes, note_changes, post_changes, shopping_changes
from cardrecipe.compare.of_variants import variant_changes
from cardrecipe.compare.version import Version

Part = Callable[[Both], Iterator[Change]]
PARTS: Sequence[Part] = (
    card_changes, paper_changes, piece_changes, score_changes, kit_changes, cut_changes, step_changes,
    shopping_changes, envelope_changes, post_changes, fact_changes, note_changes, variant_changes,
)  # fmt: skip


def compare(old: Version, new: Version) -> Comparison:
    """All that changed from `old` to `new`. Printed pages are compared by `with_pages`, as they cost more."""
    both = Both(old, new)
    changes = [change for part in PARTS for change in part(both)]
    return Comparison(
        _side(old), _side(new), tuple(sorted(changes, key=lambda each: GROUPS.index(each.group)))
    )


def _side(version: Version) -> Side:
    card = version.sheet.folded.card
    return Side(version.file, card.title, card.variant, version.sheet.copies)
