"""The page of mistakes says what the program says, and has every code."""

import re

from cardrecipe.syntax.codes import CODES
from tests.grammar.mistakes_page import PAGE, page


def test_the_page_is_up_to_date() -> None:
    again = "run python -m tests.grammar.renew"
    assert PAGE.read_text(encoding="utf-8") == page(), again


def test_each_code_has_a_heading_that_an_editor_can_link_to() -> None:
    headings = re.findall(r"^## (.*)$", page(), re.M)
    assert headings == [each.name for each in CODES]
