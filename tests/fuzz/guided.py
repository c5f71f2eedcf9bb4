"""Fuzzing that is led by which lines of the compiler a text reaches (with atheris, where it is installed).

Texts are changed by bytes, as that library does it, and by lines and words, as `line_mutations` does.
"""

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from random import Random
from typing import Any

import cardrecipe

SHARE_OF_BYTES = 4  # one change in so many is one of bytes; most of those are no recipe any more
PROGRESS_EVERY = 2_000
MEASURED = {  # measuring the drawings and the cutting plan too would halve the number of runs
    "parser": ("cardrecipe.syntax",),
    "pipeline": (
        "cardrecipe.syntax",
        "cardrecipe.model",
        "cardrecipe.solve",
        "cardrecipe.fold",
        "cardrecipe.plan",
    ),
}
# The same few lines for every word of every text, and tables: they tell nothing of what a text reached.
_LOOPS = ("read_line", "record", "nearest", "tables", "codes", "make_tables")
UNMEASURED = [f"cardrecipe.syntax.{name}" for name in _LOOPS]


def guided(target: str, runs: int, seed: int, corpus: Path, found: Path, longest: int) -> None:
    """Run one target so many times; never returns, since the fuzzing library ends the process.

    `corpus` grows by the texts that reach something new.
    """
    import atheris

    measured = _modules(MEASURED[target])
    others = sorted(_all_modules() - set(measured))  # imported by one of them, they would be measured too
    with atheris.instrument_imports(include=["cardrecipe"], exclude=[*UNMEASURED, *others]):
        for name in measured:
            import_module(name)
    from tests.fuzz import laws_of_a_run
    from tests.fuzz.findings import Findings
    from tests.fuzz.first_texts import all_texts

    run = laws_of_a_run.after_parsing if target == "parser" else laws_of_a_run.after_building
    findings = Findings(run, found, target)
    _begin(corpus, list(all_texts().values()), longest, runs // 4)
    arguments = ["fuzz", str(corpus), f"-runs={runs}", f"-seed={seed}", f"-max_len={longest}",
                 "-timeout=60", "-rss_limit_mb=2000", "-verbosity=0"]  # fmt: skip
    atheris.Setup(arguments, _look(findings, runs), custom_mutator=_mutator(atheris, longest))
    print(f"{target}: seed {seed}, {runs:,} runs", flush=True)
    atheris.Fuzz()


def _modules(packages: Sequence[str]) -> list[str]:
    """Every module of these packages, without those of the packages in them."""
    return [f"{package}.{each.name}" for package in packages
            for each in iter_modules(import_module(package).__path__) if not each.ispkg]  # fmt: skip


def _all_modules() -> set[str]:
    """Every module of the program, by its file."""
    folder = Path(cardrecipe.__path__[0])
    return {".".join(("cardrecipe", *path.relative_to(folder).with_suffix("").parts))
            for path in folder.rglob("*.py")}  # fmt: skip


def text_of(content: bytes) -> str | None:
    """The text that the command would read from these bytes; None where it would refuse them."""
    from cardrecipe.files import CannotRead, source_of

    try:
        return source_of("card.recipe", content).text
    except CannotRead:
        return None


def _look(findings: Any, runs: int) -> Callable[[bytes], None]:
    """The target. The library ends the process after the last run, so the figures are told on the way."""
    from tests.fuzz.first_texts import samples

    files = samples()
    seen = 0

    def look(content: bytes) -> None:
        nonlocal seen
        seen += 1
        text = text_of(content)
        if text is not None:
            findings.look_at(text, files)
        if seen % PROGRESS_EVERY == 0 or seen == runs:
            print(f"after {seen:,}: {findings.summary()}", flush=True)

    return look


def _mutator(atheris: Any, longest: int) -> Callable[[bytes, int, int], bytes]:
    from tests.fuzz.first_texts import all_texts
    from tests.fuzz.line_mutations import mutated

    others = sorted({line for text in all_texts().values() for line in text.split("\n") if line.strip()})

    def mutate(content: bytes, most: int, seed: int) -> bytes:
        chance = Random(seed)
        text = text_of(content)
        if text is None or chance.randrange(SHARE_OF_BYTES) == 0:
            changed_bytes: bytes = atheris.Mutate(
                content, most
            )  # looked up late: there once fuzzing has begun
            return changed_bytes
        changed = mutated(text, chance, others).encode("utf-8", "surrogatepass")
        return changed[: min(most, longest)]

    return mutate


def _begin(corpus: Path, texts: list[str], longest: int, most: int) -> None:
    """Put at most so many first texts into the corpus: whole where short, and statement by statement.

    Each of them is a run; what is left of the runs is for changes of them.
    """
    corpus.mkdir(parents=True, exist_ok=True)
    every = {part for text in texts for part in (text, *_statements(text)) if len(part.encode()) <= longest}
    for number, part in enumerate(sorted(every)[:: 1 + len(every) // max(1, most)]):
        (corpus / f"first-{number:05}").write_bytes(part.encode())


def _statements(text: str) -> list[str]:
    """The statements of a recipe with their blocks, each alone."""
    found: list[str] = []
    for line in text.split("\n"):
        if line[:1].strip() or not found:
            found.append(line)
        else:
            found[-1] += f"\n{line}"
    return found


def is_there() -> bool:
    from importlib.util import find_spec

    return sys.platform == "linux" and find_spec("atheris") is not None
