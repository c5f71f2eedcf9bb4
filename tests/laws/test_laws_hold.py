"""The laws of a card, each with the same seeds on every machine; `python -m tests.laws` tries others."""

import pytest

from tests.laws.laws import LAWS, Law


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.holds.__name__)
def test_a_law_holds(law: Law) -> None:
    told = [law.holds(seed) for seed in range(law.seeds)]
    assert sum(told) >= law.least
