"""The few words and groupings that all page formats share, so that they say a thing alike."""

from collections.abc import Sequence

from cardrecipe.model.lengths import TIMES
from cardrecipe.plan.sheet import CutLine, EnvelopeFit, ScoreGuide, SupplyLine

SUPPLY_GROUPS = {
    "paper": "Paper",
    "stamp": "Stamps",
    "ink": "Inks",
    "die": "Dies",
    "folder": "Embossing folders",
    "punch": "Punches",
    "marker": "Markers",
    "ribbon": "Ribbon",
    "cord": "Cord",
    "gem": "Gems",
    "adhesive": "Adhesives",
    "tool": "Tools",
    "other": "And",
}
"""Headings of the groups of the supply list, in the order in which they are printed."""


MOST_USES = 3


def grouped_supplies(supplies: Sequence[SupplyLine]) -> tuple[tuple[str, tuple[SupplyLine, ...]], ...]:
    """The supplies by kind: known kinds in the order above, then others as they come."""
    kinds = dict.fromkeys((*SUPPLY_GROUPS, *(line.kind for line in supplies)))
    groups = ((kind, tuple(line for line in supplies if line.kind == kind)) for kind in kinds)
    return tuple((kind, lines) for kind, lines in groups if lines)


def grouped_cuts(cuts: Sequence[CutLine]) -> tuple[tuple[str, tuple[CutLine, ...]], ...]:
    """The cuts by paper (what is written for it), in the order in which the papers come."""
    papers = dict.fromkeys(paper_written(line) for line in cuts)
    return tuple((paper, tuple(line for line in cuts if paper_written(line) == paper)) for paper in papers)


def paper_written(line: CutLine) -> str:
    return line.paper_title or line.paper or "Any paper"


def piece_written(name: str) -> str:
    """A piece's name as a maker reads it: `door-paper` is a door paper."""
    return name.replace("-", " ")


def count_written(line: CutLine) -> str:
    """How many to cut; with several copies of the card, how many in all and for each."""
    if line.total == line.count:
        return str(line.count)
    return f"{line.total} ({line.count} a card)"


def times_written(line: CutLine) -> str:
    """`2 ×`, to stand before a name; nothing for a single piece."""
    return f"{line.total}\u00a0{TIMES}" if line.total > 1 else ""


def direction_written(direction: str) -> str:
    """A score's direction as an instruction."""
    return {"valley": "valley", "mountain": "mountain", "slit": "cut through"}.get(direction, direction)


def ends_of(guide: ScoreGuide) -> tuple[str, str]:
    """The two ends that a guide measures from."""
    return ("left", "right") if guide.along == "left" else ("top", "bottom")


def shown_envelopes(fits: Sequence[EnvelopeFit]) -> tuple[EnvelopeFit, ...]:
    """The envelopes worth printing: those that fit, and the one that the recipe asks for."""
    return tuple(fit for fit in fits if fit.fits or fit.wanted)


def envelope_written(fit: EnvelopeFit) -> str:
    """An envelope's title, with a word when it is the recipe's own choice or too small."""
    if not fit.fits:
        return f"{fit.title} (too small)"
    return f"{fit.title} (this recipe's choice)" if fit.wanted else fit.title


def use_written(line: SupplyLine) -> str:
    """`for the door paper, message`; nothing where it serves more than a glance takes in."""
    if not 0 < len(line.used_for) <= MOST_USES:
        return ""
    return f"for the {', '.join(map(piece_written, line.used_for))}"


def unbroken(text: str) -> str:
    """`text` in which a size, `11 × 5 1⁄2 in`, keeps to one line."""
    return text.replace(f" {TIMES} ", f"\u00a0{TIMES}\u00a0")
