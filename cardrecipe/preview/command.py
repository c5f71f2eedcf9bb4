"""The command `watch`: a recipe in the browser of this machine, made anew at each save."""

import argparse
import contextlib
import errno
import gc
import os
import sys
import threading
import time
from typing import NoReturn

from cardrecipe.cli import DONE, WRONG
from cardrecipe.preview.drawing_aside import Aside
from cardrecipe.preview.places import Place, editor_link, link_problem
from cardrecipe.preview.rebuilding import Rebuilt, Wanted, rebuild
from cardrecipe.preview.server import PreviewServer
from cardrecipe.preview.shown import Shown
from cardrecipe.preview.watching import LOOK_EVERY
from cardrecipe.report import say, visible

LINK_VARIABLE = "CARDRECIPE_EDITOR_LINK"


def watch(options: argparse.Namespace) -> int:
    """Show a recipe until Ctrl-C; see the exit status in `cardrecipe.cli`."""
    with contextlib.suppress(KeyboardInterrupt):
        return _watch(options)
    return DONE


def _watch(options: argparse.Namespace) -> int:
    template = options.editor_link or os.environ.get(LINK_VARIABLE, "")
    if template and (wrong := link_problem(template)):
        source = "--editor-link" if options.editor_link else LINK_VARIABLE
        return _stop(f"{source} {wrong}")
    wanted = Wanted(options.file, options.variant, options.units, options.copies, options.page)
    with Aside() as aside:
        return _show(options, wanted, template, aside)


def _show(options: argparse.Namespace, wanted: Wanted, template: str, aside: Aside) -> int:
    rebuilt = rebuild(wanted, aside)
    print(rebuilt.said, end="", file=sys.stderr)
    if rebuilt.problem and all(note.is_warning or note.place is None for note in rebuilt.notes):
        return WRONG  # nothing to repair in the recipe: the command is wrong
    shown = Shown(visible(os.path.basename(options.file)))
    shown.show(rebuilt)
    try:
        server = PreviewServer(options.port, shown, lambda place: _clicked(place, template))
    except OSError as problem:
        return _stop(_why_no_port(options.port, problem))
    with server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        print(server.address, flush=True)
        print("cardrecipe: the preview follows every save; Ctrl-C ends it", file=sys.stderr)
        if options.open:
            threading.Thread(target=_open, args=(server.address,), daemon=True).start()
        try:
            _follow(wanted, rebuilt, shown, aside)
        finally:
            shown.end()
            server.shutdown()


def _follow(wanted: Wanted, rebuilt: Rebuilt, shown: Shown, aside: Aside) -> NoReturn:
    """Make the sheet anew whenever a file has changed, for ever."""
    gc.freeze()  # the program itself is no garbage: it need not be looked through each time
    while True:
        gc.collect()  # after the page is shown; see `rebuild`
        while not rebuilt.files.have_changed():
            time.sleep(LOOK_EVERY)
        rebuilt.files.wait_until_written()
        before, rebuilt = rebuilt, rebuild(wanted, aside)
        shown.show(rebuilt)
        if rebuilt.said != before.said:
            all_well = f"cardrecipe: {visible(wanted.path)} is whole again\n"
            print(rebuilt.said or all_well, end="", file=sys.stderr, flush=True)


def _clicked(place: Place, template: str) -> str | None:
    """The link to the maker's editor; where there is none the place is printed."""
    if template:
        return editor_link(template, place)
    with contextlib.suppress(OSError):  # nobody reads the terminal any more
        print(visible(str(place)), flush=True)
    return None


def _open(address: str) -> None:
    import webbrowser  # only where it is asked for; some browsers hold the call until they are closed

    if not webbrowser.open(address):
        print("cardrecipe: no browser was found; open the address above in yours", file=sys.stderr)


def _why_no_port(port: int, problem: OSError) -> str:
    if problem.errno == errno.EADDRINUSE:
        return f"port {port} is taken by another program; leave --port out, and a free one is found"
    if problem.errno == errno.EACCES:
        return f"port {port} is kept for the system; leave --port out, or name one above 1023"
    return f"no preview on port {port}: {problem.strerror or problem}; leave --port out for a free one"


def _stop(sentence: str) -> int:
    say(sentence)
    return WRONG
