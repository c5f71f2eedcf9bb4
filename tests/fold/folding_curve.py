"""The curve through a turn's angles as the page's script draws it, written down a second time."""

from collections.abc import Sequence


def curve(course: Sequence[float], share: float) -> float:
    """The angle at a share of the way: a cubic with the slopes of the chords (Catmull and Rom 1974), beyond
    both ends continued by the last step."""
    steps = len(course) - 1
    if steps == 1:
        return course[0] + share * (course[1] - course[0])
    at = min(int(share * steps), steps - 1)
    f = share * steps - at
    start, end = course[at], course[at + 1]
    slope_in = (end - course[at - 1]) / 2 if at else end - start
    slope_out = (course[at + 2] - start) / 2 if at + 2 <= steps else end - start
    return (
        (2 * f**3 - 3 * f**2 + 1) * start
        + (f**3 - 2 * f**2 + f) * slope_in
        + (3 * f**2 - 2 * f**3) * end
        + (f**3 - f**2) * slope_out
    )
