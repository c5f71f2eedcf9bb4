"""What a long run has found: laws broken, once for each cause; texts that took too long; counts."""

import re
import time
from collections import Counter
from pathlib import Path

from tests.fuzz.laws_of_a_run import Run, guarded, most_memory_mb
from tests.recipes import Files

MAX_SECONDS = 2.0  # of processor time for one text
MAX_MEMORY_MB = 300.0
_FIGURES = re.compile(r"'[^']*'|[0-9]+")


class Findings:
    """Runs texts, counts them, and keeps those that broke a law in `folder`."""

    def __init__(self, run: Run, folder: Path, name: str) -> None:
        self._run, self._folder, self._name = run, folder, name
        self._began, self._causes = time.monotonic(), Counter[str]()
        self.runs, self.slowest, self.slow = 0, 0.0, 0
        self.statuses, self.reached = Counter[int](), Counter[str]()

    def look_at(self, text: str, files: Files) -> None:
        """One run. Processor time is taken, since other programs may have the machine too."""
        start = time.process_time()
        outcome = guarded(self._run, text, files)
        seconds = time.process_time() - start
        self.runs += 1
        self.statuses[outcome.status] += 1
        self.reached[outcome.reached] += 1
        self.slowest = max(self.slowest, seconds)
        if seconds > MAX_SECONDS:
            self.slow += 1
            self._keep(text, f"slow-{seconds:.1f}", f"took {seconds:.1f} s")
        for law in outcome.broken:
            cause = _FIGURES.sub("#", law)
            self._causes[cause] += 1
            if self._causes[cause] <= 3:
                self._keep(text, f"broken-{len(self._causes)}", law)

    @property
    def is_clean(self) -> bool:
        return not self._causes and not self.slow and most_memory_mb() <= MAX_MEMORY_MB

    def summary(self) -> str:
        """The figures so far, on one line, and one line for each cause."""
        seconds = time.monotonic() - self._began
        figures = (
            f"{self._name}: {self.runs:,} runs in {seconds:,.0f} s,"
            f" status {dict(sorted(self.statuses.items()))}, {dict(self.reached)},"
            f" slowest {self.slowest:.2f} s, {self.slow} over {MAX_SECONDS:.0f} s,"
            f" at most {most_memory_mb():.0f} MB"
        )
        return "\n".join([figures, *(f"  {count} x {cause}" for cause, count in self._causes.most_common())])

    def _keep(self, text: str, kind: str, why: str) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        place = self._folder / f"{self._name}-{kind}-{self.runs}.recipe"
        place.write_bytes(text.encode("utf-8", "surrogatepass"))
        print(f"{place}: {why}", flush=True)
