"""What only a script can show → one short text for the page: JSON, deflated, in letters of base 85.

`boot.js` unpacks it with the browser's own DecompressionStream. The first version of the sheet never goes in
here: it is there for readers without a script too.
"""

import json
import zlib
from base64 import b85encode
from typing import Any

# The two letters of Python's base 85 that HTML takes for markup, and what stands for them.
_SAFE = str.maketrans("&<", ".,")


def packed(value: Any) -> str:
    """`value` as text that can stand in a page as it is."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return b85encode(zlib.compress(text.encode("utf-8", "replace"), 9)).decode("ascii").translate(_SAFE)
