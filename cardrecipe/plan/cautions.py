"""Safety notes: general words for blades, heat, fumes, dust, small parts and magnets, each said once.

They defer to the maker's own instructions and to local rules, and never call a material harmless.
The hazards are those that public guidance on arts and crafts names (the US Consumer Product Safety
Commission's Art and Craft Safety Guide; 16 CFR 1501 on small parts; 16 CFR 1262 on magnets).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from cardrecipe.plan.sheet import Step

GENERAL = (
    "Follow the instructions that came with each tool and material, and your local rules; the notes "
    "here are only reminders."
)


class Caution(NamedTuple):
    """A note and the words in a step (whole words, any case, singular or plural) that call for it."""

    words: tuple[str, ...]
    text: str


CAUTIONS = (
    Caution(
        ("trimmer", "guillotine"),
        "Keep your fingers behind the guard of the trimmer and lock or close it when you stop; a "
        "grown-up cuts for small children.",
    ),
    Caution(
        ("craft knife", "scalpel"),
        "Use a sharp blade with a metal ruler on a cutting mat, keep your fingers out of its path, "
        "and cap it afterwards; a grown-up cuts for children.",
    ),
    Caution(
        ("hot glue", "glue gun", "heat tool", "heat gun", "embossing gun", "heat"),
        "Heat tools and hot glue burn: work on a surface that stands heat, away from paper scraps, "
        "and unplug the tool when you stop.",
    ),
    Caution(
        ("solvent", "alcohol", "spray", "alcohol ink", "alcohol marker"),
        "Open a window when you use solvents, alcohol inks or sprays, and keep them from flames; "
        "children use only what its label allows for them.",
    ),
    Caution(
        ("powder", "glitter", "embossing powder"),
        "Do not breathe in dust from powders and glitter; pour the rest back slowly and wipe up.",
    ),
    Caution(
        ("gem", "brad", "button", "bead", "eyelet", "sequin", "charm"),
        "Small parts come loose: not for children under 3.",
    ),
    Caution(
        ("magnet",),
        "Keep magnets away from children: a swallowed magnet is dangerous and needs a doctor at once.",
    ),
)


def with_cautions(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The steps, each with the cautions that no step before it has shown."""
    left = list(CAUTIONS)
    done: list[Step] = []
    for step in steps:
        said = _words_of(step)
        here = [caution for caution in left if _calls_for(said, caution)]
        left = [caution for caution in left if caution not in here]
        done.append(step._replace(cautions=tuple(caution.text for caution in here)))
    return tuple(done)


def cautions_of(text: str) -> tuple[str, ...]:
    """The cautions that a text calls for, without the names of designs in it."""
    said = _quoted.sub("", text).lower()
    return tuple(caution.text for caution in CAUTIONS if _calls_for(said, caution))


def _words_of(step: Step) -> str:
    """All that a step tells and takes up, without the names of designs: a stamp of a gem is no gem."""
    taken = (_design.sub("", thing) for thing in step.picks_up)
    told = _quoted.sub("", step.text)
    return " ".join((told, *taken, *step.tips)).lower()


_quoted = re.compile("“[^”]*”")
_design = re.compile("^(stamp|die|punch|embossing folder|foil) “[^”]*”")


def _calls_for(said: str, caution: Caution) -> bool:
    return any(re.search(rf"\b{word}s?\b", said) for word in caution.words)
