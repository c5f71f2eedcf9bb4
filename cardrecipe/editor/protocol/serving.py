"""A language server at the two ends of a pipe, from its first message to its exit status."""

import logging
import os
import signal
from typing import BinaryIO

from cardrecipe.editor.protocol.answers import register_answers
from cardrecipe.editor.protocol.server import RecipeServer, register_notifications


def serve(requests: BinaryIO, answers: BinaryIO) -> int:
    """Serve a client until it leaves; the exit status is that of `cardrecipe.editor.command.start`."""
    logging.getLogger("pygls").addHandler(logging.NullHandler())
    logging.getLogger("pygls").propagate = False
    server = made_server()

    def end(*_: object) -> None:
        server.previews.end()
        os._exit(1)  # the thread that listens cannot be woken

    signal.signal(signal.SIGTERM, end)
    server.start_io(requests, answers)
    server.previews.end()
    return 0 if server.was_shut_down else 1


def made_server() -> RecipeServer:
    """A server that knows all its messages."""
    server = RecipeServer()
    register_notifications(server)
    register_answers(server)
    return server
