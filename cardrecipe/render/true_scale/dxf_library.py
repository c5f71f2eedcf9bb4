"""ezdxf, loaded so that nothing of the user's or of the folder that the program runs in has a say in a file.

By itself it reads settings in the home folder and in the current one while it is imported, lists every font
of the system, and leaves that list in the home folder. It is shown a folder of ours instead, and no font.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import chdir, contextmanager
from importlib.resources import files

_OWN = ("XDG_CONFIG_HOME", "XDG_CACHE_HOME")
_NONE = "EZDXF_CONFIG_FILE"


def load_ezdxf() -> None:
    """From then on `import ezdxf` reads nothing any more."""
    if "ezdxf" not in sys.modules:
        with _only_ours(str(files("cardrecipe.render") / "fonts")):
            import ezdxf  # noqa: F401


@contextmanager
def _only_ours(folder: str) -> Iterator[None]:
    before = {name: os.environ.get(name) for name in (*_OWN, _NONE)}
    os.environ.update(dict.fromkeys(_OWN, folder))
    os.environ.pop(_NONE, None)
    try:
        with chdir(folder):
            yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
