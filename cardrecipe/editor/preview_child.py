"""A preview as the child of a language server: `cardrecipe watch FILE` that ends when its input does.

The server holds the other end of that pipe and never writes to it: so the preview ends with the server,
however that ended.
"""

import _thread
import os
import signal
import sys
import threading
from typing import BinaryIO

from cardrecipe.cli import main


def run(path: str, parent: BinaryIO) -> int:
    """Watch the recipe at `path` for as long as `parent` is open."""
    # A server that was begun behind a shell script ignores interrupts, and so would its preview.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    threading.Thread(target=_follow, args=(parent,), daemon=True).start()
    return main(["watch", path])


def _follow(parent: BinaryIO) -> None:
    # Not `parent.read()`: a thread that waits in there holds the lock that Python wants when it ends.
    while os.read(parent.fileno(), 1024):
        pass
    _thread.interrupt_main()


if __name__ == "__main__":
    sys.exit(run(sys.argv[1], sys.stdin.buffer))
