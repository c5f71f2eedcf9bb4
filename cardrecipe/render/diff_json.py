"""A comparison as JSON, for other programs; `diff.schema.json` beside this file is the contract."""


from cardrecipe.compare.changes import Change, Comparison, Side
from cardrecipe.syntax.unseen import json_text

FORMAT = "cardrecipe-diff/1"


def render_diff_json(comparison: Comparison) -> str:
    """The whole comparison as one JSON object, indented by two, with a last newline."""
    value = {
        "format": FORMAT,
        "old": _side(comparison.old),
        "new": _side(comparison.new),
        "changes": [_change(change) for change in comparison.changes],
    }
    return json_text(value)


def _side(side: Side) -> dict[str, object]:
    return dict(side._asdict())


def _change(change: Change) -> dict[str, object]:
    return {**change._asdict(), "because": [dict(cause._asdict()) for cause in change.because]}
