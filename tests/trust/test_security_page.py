"""The security page points at what is there, and is found from the README."""

import re

from tests.recipes import ROOT
from tests.trust.kills import LEFT

PAGE = ROOT / ".github" / "SECURITY.md"


def test_what_the_page_names_is_there() -> None:
    text = PAGE.read_text("utf-8")
    named = re.findall(r"`((?:tests|cardrecipe)/[\w/.]+)`", text)
    assert len(named) >= 5
    assert [each for each in named if not (ROOT / each).exists()] == []
    linked = re.findall(r"\]\(([^)]+)\)", text)
    assert linked and [each for each in linked if not (PAGE.parent / each).exists()] == []
    left = re.findall(r"`(\.cardrecipe-…\.\w+)`", text)
    assert left and all(LEFT.fullmatch(each.replace("…", "0" * 16)) for each in left)


def test_the_readme_leads_to_it() -> None:
    assert "(.github/SECURITY.md)" in (ROOT / "README.md").read_text("utf-8")
