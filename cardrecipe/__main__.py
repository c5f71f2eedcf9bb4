"""The program as a process: `cardrecipe`, or `python -m cardrecipe`."""

import gc
import os
import sys


def run() -> int:
    """Run one command; returns the exit status.

    The process lives for a fraction of a second, so collecting garbage is waste; frozen objects are
    not looked through when Python ends, which saves a tenth of a `check`.
    """
    gc.disable()
    if "_ARGCOMPLETE" in os.environ:  # a shell asks what may come next
        from cardrecipe.completing import complete

        complete()
    from cardrecipe.cli import main  # after that, since most of what is made is made by importing

    status = main()
    gc.freeze()
    return status


if __name__ == "__main__":
    sys.exit(run())
