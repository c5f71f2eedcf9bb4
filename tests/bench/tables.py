"""Measured times → the lines of two tables."""

from collections.abc import Sequence

from tests.bench.growth import Growing, Grown
from tests.bench.rows import Row

_ROW = "{:<62} {:>8} {:>22} {:>7} {:>8} {:>7} {:>7}"
_GROWTH = "{:<42} {:>22} {:>27} {:>7} {:>7} {:>9} {:>15}"


def heading_of_rows(tag: str) -> str:
    return _ROW.format("what", "ms", "floor", "ratio", "at most", tag or "kept", "change")


def row_of(row: Row, seconds: float, floor: float, kept: float | None) -> str:
    """A row beside its limit and the ratio of the kept run; `!` stands where a limit is passed."""
    ratio = seconds / floor
    most = "" if row.most is None else f"{'! ' if ratio > row.most else ''}{row.most:g}"
    was, change = ("", "") if kept is None else (_short(kept), f"{ratio / kept - 1:+.0%}")
    return _ROW.format(row.name, f"{seconds * 1000:.1f}", row.floor, _short(ratio), most, was, change)


def heading_of_growth(tag: str) -> str:
    return _GROWTH.format("how it grows", "size", "ms", "x 10", "x 10", "exponent", tag or "kept")


def growth_of(growing: Growing, grown: Grown, kept: Sequence[float]) -> str:
    """A line for what grows; the exponent is that of the last tenfold, 1 being in proportion."""
    measured = growing.sizes[: len(grown.seconds)]
    sizes, times = (" ".join(map(form, each)) for form, each in
                    (("{:,}".format, measured), (_milliseconds, grown.seconds)))  # fmt: skip
    factors = [f"{each:.1f}" for each in grown.factors]
    was = " ".join(f"{each:.1f}" for each in kept)
    return _GROWTH.format(growing.name, sizes, times, *(*factors, "")[:2], f"{grown.exponent:.2f}", was)


def _short(ratio: float) -> str:
    return f"{ratio:.2f}" if ratio >= 0.1 else f"{ratio:.4f}"


def _milliseconds(seconds: float) -> str:
    return f"{seconds * 1000:,.{0 if seconds > 0.1 else 1}f}"
