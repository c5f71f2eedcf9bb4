"""Steps that have an outline drawn → the same, saying where the printed sheet shows it at true size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardrecipe.plan.sheet import Step
from cardrecipe.plan.words import listed, spoken, the
from cardrecipe.render.true_scale.wanted import is_by_the_way, wants_template
from cardrecipe.solve.sized import SizedCard


def told_of_templates(steps: Sequence[Step], card: SizedCard) -> Iterator[Step]:
    """The steps of a printed sheet; a piece is told of once, where its outline is first spoken of."""
    shaped = {piece.name for piece in card.pieces
              if piece.kind != "base" and wants_template(piece) and not is_by_the_way(piece)}  # fmt: skip
    for step in steps:
        here = [name for name in step.pieces if name in shaped] if "outline" in step.text else []
        shaped -= set(here)
        yield step._replace(text=f"{step.text} {_said(here)}") if here else step


def _said(names: Sequence[str]) -> str:
    if len(names) == 1:
        return f"To trace it, {the(names[0])} stands at true size at the end of this sheet."
    said = listed([spoken(name) for name in names])
    return f"To trace them, the {said} stand at true size at the end of this sheet."
