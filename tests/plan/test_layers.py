"""Which faces are drawn apart, layer by layer, and what is said to lie elsewhere."""

from cardrecipe.plan.layers import Layers, stacked_layers
from cardrecipe.solve.sized import SizedPiece
from tests.hand_made import piece, placed, side_fold
from tests.plan.cards import FRONT, folded


def on(section: str, name: str, size: tuple[int, int], side: str = "inside") -> SizedPiece:
    return piece(name, "panel", "white", size, placed(section, FRONT, size, side=side))


def on_piece(host: str, host_size: tuple[int, int], name: str) -> SizedPiece:
    spot = placed(host, host_size, (1, 1), host_piece=host, is_section=False)
    return piece(name, "panel", "glow", (1, 1), spot)


def found(*more: SizedPiece) -> tuple[Layers, ...]:
    return stacked_layers(folded(side_fold(*more)))


def test_three_layers_are_drawn_apart_and_two_are_not() -> None:
    plate = on("front", "plate", (3, 4), "outside")
    (front,) = found(plate, on_piece("plate", (3, 4), "dot"))
    assert (front.picture, len(front.levels)) == ("layers", 3)
    assert found(plate, on("front", "strip", (4, 1), "outside"))[0].levels != front.levels
    assert found(plate, on("back", "message", (3, 4))) == ()


def test_only_what_lies_inside_is_said_to_lie_inside() -> None:
    """What is on the outside of the back is neither on the front nor inside."""
    plate = on("front", "plate", (3, 4), "outside")
    dot, message = on_piece("plate", (3, 4), "dot"), on("back", "message", (3, 4))
    label = on("back", "label", (1, 1), "outside")
    note = on_piece("message", (3, 4), "note")
    (front,) = (each for each in found(plate, dot, message, label, note) if each.picture == "layers")
    assert front.elsewhere == "inside, and so not in it: the message and the note"
