"""The modules under trial → a sample of their mutants, drawn with a fixed seed in proportion to code."""

from __future__ import annotations

import random
from pathlib import Path

from tests.mutants.changes import Mutant, mutants

FOLDERS = ("cardrecipe/solve", "cardrecipe/fold", "cardrecipe/plan")


def all_mutants(root: Path) -> list[Mutant]:
    """Give every mutant of the folders under trial, by module and place."""
    paths = sorted(path for folder in FOLDERS for path in (root / folder).rglob("*.py"))
    return [
        mutant
        for path in paths
        for mutant in mutants(path.relative_to(root).as_posix(), path.read_text("utf-8"))
    ]


def sample(root: Path, seed: int, count: int) -> list[Mutant]:
    """Draw lines that can be changed, each as likely as any other and none twice, and one change of each.

    Lines rather than changes are drawn, so that a table of numbers does not count for more than the code
    that reads it.
    """
    by_line: dict[tuple[str, int], list[Mutant]] = {}
    for mutant in all_mutants(root):
        by_line.setdefault((mutant.module, mutant.line), []).append(mutant)
    chance = random.Random(seed)
    lines = chance.sample(sorted(by_line), min(count, len(by_line)))
    return [chance.choice(by_line[line]) for line in lines]
