"""`python -m cardrecipe` is the command `cardrecipe`."""

import sys

from cardrecipe.cli import run

sys.exit(run())
