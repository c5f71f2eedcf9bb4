"""Settings for all tests: laws try the same examples on every machine and day.

`pytest --hypothesis-profile=fresh` looks for new ones.
"""

import signal
import sys

import pytest
from hypothesis import settings

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("fresh", derandomize=False, deadline=None)
settings.load_profile("same")

# Where a shell runs the tests in the background Ctrl-C is ignored, and what they start would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_sessionfinish() -> None:
    """A worker that takes ten seconds to tidy up is killed, and all that it has counted would go with it."""
    if "coverage" in sys.modules:
        from tests.branches.kept import keep

        keep()


@pytest.fixture(autouse=True)
def _nothing_is_remembered() -> None:
    """What one test has planned or held hides nothing from the next; who has done neither loads nothing."""
    for module, name in (("plan.cutting.planner", "planned"), ("fold.linkage", "solved_once")):
        loaded = sys.modules.get(f"cardrecipe.{module}")
        if loaded is not None:
            getattr(loaded, name).cache_clear()
