"""Shipped folds folded shut, and opened by the angle of their first score."""

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.linkage import Linkage
from cardrecipe.fold.linked_card import linked_card
from cardrecipe.fold.space import shut_card
from tests.recipes import HEAD, sized


def structure(name: str, **sizes: str) -> Assembly:
    """A shipped fold, 4 by 6 unless told."""
    asked = ", ".join(f"{key} {value}" for key, value in {"width": "4", "height": "6", **sizes}.items())
    card = sized(f"{HEAD}base card from ink\n  fold {name}, {asked}\n".replace("12 x 12", "30 x 30"))
    found = shut_card(card, "card")
    assert found is not None
    return found


def opened(card: Assembly, angle: float) -> Linkage:
    found = linked_card(card, {1: angle}, {})
    assert isinstance(found, Linkage)
    return found
