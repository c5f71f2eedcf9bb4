"""Fresh seeds for all the fuzzing: `python -m tests.fuzz parser --runs 100000 --seed 7`.

Prints how many runs there were, what they came to, the slowest, the most memory, and each law broken; the
texts that did so stand in the folder `--found`. Exit status 1 where a law was broken, a text took over two
seconds or the process over 300 MB; the guided ways end with 0 always, and print the same figures.
"""

import argparse
import sys
import tempfile
from collections.abc import Iterator
from itertools import count, islice
from pathlib import Path
from random import Random

from tests.fuzz import guided  # alone: the guided fuzzer measures what is imported after it has begun

PROGRESS_EVERY = 1_000
LONGEST = {
    "parser": 96,
    "pipeline": 700,
}  # bytes of a guided text: long enough for a card, short enough to be many


def changed_lines(seed: int) -> Iterator[str]:
    """Samples and structures with lines changed, without end, for one seed."""
    from tests.fuzz.first_texts import own_folds, samples, starters
    from tests.fuzz.line_mutations import mutated

    texts = [*samples().values(), *starters().values(), *own_folds().values()]
    others = sorted({line for text in texts for line in text.split("\n") if line.strip()})
    chance = Random(seed)
    while True:
        yield mutated(chance.choice(texts), chance, others)


def trees(seed: int) -> Iterator[str]:
    """Recipes from trees, without end; each seed begins a million further on."""
    from tests.fuzz.trees import tree_text

    return map(tree_text, count(seed * 1_000_000))


def odd_cards(seed: int) -> Iterator[str]:
    """Cards of odd pieces, without end; each seed begins a million further on."""
    from tests.fuzz.odd_cards import card_text

    return map(card_text, count(seed * 1_000_000))


WAYS = {"lines": changed_lines, "trees": trees, "cards": odd_cards}


def main() -> int:
    options = _options()
    folder = options.found or Path(tempfile.mkdtemp(prefix="fuzz-"))
    if options.way not in WAYS:
        if not guided.is_there():
            print("the guided part needs the extra `fuzz` (Linux only)", file=sys.stderr)
            return 2
        corpus = options.corpus or folder / f"corpus-{options.way}"
        guided.guided(options.way, options.runs, options.seed, corpus, folder, LONGEST[options.way])
    from tests.fuzz import laws_of_a_run
    from tests.fuzz.findings import Findings
    from tests.fuzz.first_texts import samples
    from tests.fuzz.trees import FILES

    laws_of_a_run.WHOLE_EVERY = options.whole_every or laws_of_a_run.WHOLE_EVERY
    files = {**samples(), **FILES}
    findings = Findings(laws_of_a_run.after_building, folder, options.way)
    print(f"{options.way}: seed {options.seed}, {options.runs:,} runs, findings in {folder}", flush=True)
    for text in islice(WAYS[options.way](options.seed), options.runs):
        findings.look_at(text, files)
        if findings.runs % PROGRESS_EVERY == 0:
            print(findings.summary(), flush=True)
    print(findings.summary())
    return 0 if findings.is_clean else 1


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=(__doc__ or "").split("\n")[0])
    parser.add_argument("way", choices=("parser", "pipeline", *WAYS))
    parser.add_argument("--runs", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--found", type=Path, help="where texts that break a law are kept")
    parser.add_argument("--corpus", type=Path, help="the guided fuzzer's texts; those of an earlier run help")
    parser.add_argument("--whole-every", type=int, metavar="N",
                        help="draw one card in so many, else in eight (not where it is guided)")  # fmt: skip
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())
