"""The survivors that no test can or should notice, each with the reason; `explained.json` holds them.

An entry names a line as it was and as it is changed, so that it outlives what moves above it and dies with
the line itself.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

Key = tuple[str, ...]
FILE = Path(__file__).with_name("explained.json")


def explanations() -> Mapping[Key, str]:
    """Give the reason for each mutant that is explained."""
    entries = json.loads(FILE.read_text("utf-8"))
    keys = ("module", "function", "before", "after")
    return {tuple(entry[key] for key in keys): entry["why"] for entry in entries}
