"""`python -m tests.render.drawings.renew` writes the snapshots of the drawings anew; look at what changed."""

from pathlib import Path

from tests.render.drawings import everything
from tests.render.drawings.outline_text import outline_of

FOLDER = Path(__file__).parent / "snapshots"
SAMPLES = ("first-frost", "paper-kites")
STRUCTURES = (
    *("double-gate inch", "z-fold mm", "tri-shutter inch"),
    *("corner inch", "double-wall-box mm", "accordion mm"),
)


def snapshots() -> dict[str, str]:
    """The texts by the names of their files."""
    made = {name: everything.sample(name) for name in SAMPLES}
    made |= {name: everything.structure(name) for name in STRUCTURES}
    return {f"{name.replace(' ', '-')}.txt": outline_of(shown) for name, shown in made.items()}


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in snapshots().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
        print(name)
