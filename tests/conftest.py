"""Settings for all tests: laws try the same examples on every machine and day.

`pytest --hypothesis-profile=fresh` looks for new ones.
"""

from hypothesis import settings

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("fresh", derandomize=False, deadline=None)
settings.load_profile("same")
