"""What changed between two cards, as data: one value for each thing that a maker would notice.

Texts are plain text with real characters; renderers escape, never interpret. Old and new stand side by side
everywhere, so that the comparison of the new card with the old one is the same with its sides changed over.
"""

from typing import NamedTuple

# In the order in which they are told.
GROUPS = (
    "card", "papers", "pieces", "scores", "notes", "shopping", "kits", "cuts", "steps", "pages", "envelope",
    "post", "facts", "variants",
)  # fmt: skip
GROUP_TITLES = {
    "card": "The card", "papers": "Papers", "pieces": "Pieces", "scores": "Scores and sections",
    "kits": "What is cut already", "cuts": "Cutting", "steps": "Steps", "pages": "Printed pages",
    "shopping": "Shopping", "envelope": "Envelope", "post": "Post", "facts": "Facts",
    "notes": "Notes and warnings", "variants": "Variants",
}  # fmt: skip
# What may happen to a thing. New and gone, larger and smaller (of what is cut already: cut it again, or trim
# it) are each other's mirror, all others their own.
KINDS = (
    "new", "gone", "larger", "smaller", "renamed", "resized", "other paper", "recoloured", "border", "moved",
    "turned", "worked", "fixed", "counted", "folded", "reworded", "renumbered", "changed",
)  # fmt: skip


class Cause(NamedTuple):
    """A line of one of the two texts that made a change; `side` is "old" or "new"."""

    side: str
    file: str
    line: int  # from 1
    text: str  # the line as it is written


class Change(NamedTuple):
    """One thing that is not as before. `old` is "" for what is new, `new` for what is gone.

    `what` names the thing in the words of both sides; a thing that is called otherwise is told by `old` and
    `new`. `old_piece` and `new_piece` are the names of the piece it is about in the two cards, "" where it is
    about none.
    """

    group: str  # of GROUPS
    kind: str  # of KINDS
    what: str  # "door-paper", "Ink blue", "Glue the message to the back"
    old: str  # "2 1⁄4 × 6 3⁄4 in"
    new: str
    note: str = ""  # "worked out anew"
    because: tuple[Cause, ...] = ()
    old_piece: str = ""
    new_piece: str = ""


class Side(NamedTuple):
    """One of the two cards: the file as its user calls it, title, variant or None, how many are made."""

    file: str
    title: str
    variant: str | None
    copies: int = 1


class Comparison(NamedTuple):
    """All changes from one card to another, in the order in which they are told; none where they are the
    same card."""

    old: Side
    new: Side
    changes: tuple[Change, ...]

    def in_group(self, group: str) -> tuple[Change, ...]:
        """The changes of one of the GROUPS."""
        return tuple(change for change in self.changes if change.group == group)
