"""The command `language-server`: an editor's questions → answers, on standard input and output."""

import gc
import os
import sys

from cardrecipe.cli import WRONG


def start() -> int:
    """Serve an editor until it leaves. Exit status: 0 after its `shutdown`, 1 without it, 2 without pygls."""
    try:
        from cardrecipe.editor.protocol.serving import serve
    except ModuleNotFoundError as missing:
        if missing.name is None or missing.name.partition(".")[0] not in ("pygls", "lsprotocol"):
            raise
        print("cardrecipe: the language server needs the extra `editor`: pip install 'cardrecipe[editor]'",
              file=sys.stderr)  # fmt: skip
        return WRONG
    gc.enable()  # other commands live too short a time for collecting
    gc.freeze()
    # Whatever prints by mistake, here or in a library, must not stand between the messages of the protocol.
    protocol = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    sys.stdout = sys.stderr
    return serve(sys.stdin.buffer, protocol)
