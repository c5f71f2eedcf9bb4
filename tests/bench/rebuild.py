"""A warm rebuild as `cardrecipe watch` does it: from a save to the bytes of the new page.

It is measured on the wall: two processes draw at once, and the maker waits for the slower one.
"""

import gc
import shutil
import tempfile
import time
from pathlib import Path

from cardrecipe.preview.drawing_aside import Aside
from cardrecipe.preview.rebuilding import Wanted, rebuild
from cardrecipe.preview.shown import Shown

SAMPLES = Path(__file__).parents[2] / "samples"
SAMPLE = "first-frost"


def seconds_to_rebuild(runs: int) -> float:
    """The least time of so many saves of a sample, each with another title; two before warm everything."""
    with tempfile.TemporaryDirectory() as folder, Aside() as aside:
        for path in SAMPLES.glob("*.recipe"):
            shutil.copy(path, folder)
        recipe = Path(folder) / f"{SAMPLE}.recipe"
        text, shown, times = recipe.read_text("utf-8"), Shown(recipe.name), []
        for number in range(runs + 2):
            recipe.write_text(text.replace('recipe "', f'recipe "{number} ', 1), "utf-8")
            start = time.perf_counter()
            shown.show(rebuild(Wanted(str(recipe)), aside))
            times.append(time.perf_counter() - start)
            assert b"<h1>%d " % number in shown.page
            gc.collect()  # after the page is shown, as the command does
    return min(times[2:])
