"""A drawing as the typst template takes it: its SVG, its description, and the size that it gets."""

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from cardrecipe.render.drawings.svg import Drawing

Data = dict[str, object]


class PictureRoom(NamedTuple):
    """The most a picture may take, in mm, and how much larger than drawn it is wanted."""

    width: float
    height: float
    growth: float = 1.0


def picture(drawing: "Drawing | None", room: PictureRoom) -> Data | None:
    """A drawing with its size: as large as wanted, or smaller where the room is smaller."""
    if drawing is None:
        return None
    scale = min(room.growth, room.width / drawing.width_mm, room.height / drawing.height_mm)
    return {
        "svg": drawing.svg,
        "alt": f"{drawing.title}. {drawing.description}".strip(),
        "width": round(drawing.width_mm * scale, 3),
        "height": round(drawing.height_mm * scale, 3),
    }


def width_of(shown: object) -> float:
    return float(shown["width"]) if isinstance(shown, dict) else 0.0


def height_of(shown: object) -> float:
    return float(shown["height"]) if isinstance(shown, dict) else 0.0
