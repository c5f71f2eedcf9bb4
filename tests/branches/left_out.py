"""What a counted run of the tests left out: lines that never ran, and branches that were never taken."""

import json
import tempfile
import tomllib
from pathlib import Path
from typing import NamedTuple

from coverage import Coverage

Key = tuple[str, str]  # a file and the text of one of its lines: numbers move with every edit


class LeftOut(NamedTuple):
    file: str
    number: int
    what: str
    line: str

    @property
    def key(self) -> Key:
        return self.file, self.line


def exceptions(path: Path) -> dict[Key, str]:
    """The reason for each line that may be left out; a reason is never empty."""
    entries = tomllib.loads(path.read_text("utf-8"))["exception"]
    reasons = {(each["file"], each["line"]): each["why"].strip() for each in entries}
    assert len(reasons) == len(entries) and all(reasons.values())
    return reasons


def left_out(root: Path) -> list[LeftOut]:
    """What the last counted run left out, in the order of the files and lines."""
    counted = Coverage(config_file=str(root / "pyproject.toml"))
    counted.combine(keep=True)
    with tempfile.NamedTemporaryFile(suffix=".json") as report:
        # Tests of the installed program count copies of it elsewhere, which are gone by now.
        counted.json_report(outfile=report.name, include=[f"{root}/*"])
        files = json.loads(Path(report.name).read_bytes())["files"]
    return [each for name in sorted(files) for each in of_file(root, name, files[name])]


def of_file(root: Path, name: str, counts: dict[str, list]) -> list[LeftOut]:
    """The lines of one file that never ran; the branches of the others that were never taken."""
    lines = Path(root, name).read_text("utf-8").splitlines()
    never = [(number, "never runs") for number in counts["missing_lines"]]
    never += [
        (start, f"never goes to line {end}" if end > 0 else "never ends here")
        for start, end in counts["missing_branches"]
        if start not in counts["missing_lines"] and end not in counts["missing_lines"]
    ]
    return [LeftOut(name, number, what, lines[number - 1].strip()) for number, what in sorted(never)]
