"""Every template is used, and asks for nothing that nobody gives."""

import re
from pathlib import Path

import cardrecipe.plan
from cardrecipe.plan.wording import TEMPLATES

FOLDER = Path(cardrecipe.plan.__file__).parent
SOURCE = "".join(
    path.read_text(encoding="utf-8")
    for path in sorted(FOLDER.rglob("*.py"))
    if path.name != "wording.py"
)


def test_no_template_lies_unused() -> None:
    # Keys that are put together begin with the part before the braces: f"place/{method}".
    built = re.findall(r'f"(\w+/[\w-]*)\{', SOURCE)
    unused = [
        key
        for key in TEMPLATES
        if f'"{key}"' not in SOURCE and not any(key.startswith(start) for start in built)
    ]
    assert unused == []


def test_every_key_that_is_said_exists() -> None:
    said = re.findall(r'say\(\s*"([^"]+)"', SOURCE)
    assert said and [key for key in said if key not in TEMPLATES] == []
