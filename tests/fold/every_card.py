"""Every shipped fold and every sample as a folded card, each compiled once."""

from functools import cache

from cardrecipe.fold.assembly import Assembly
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.fold.space import shut_card
from cardrecipe.library.folds import fold_names
from tests.recipes import HEAD, SAMPLES, compile_text

LARGE = HEAD.replace("12 x 12", "40 x 40")
SAMPLE_NAMES = tuple(sorted(path.stem for path in SAMPLES.glob("*.recipe")))
NO_HEIGHT = {"triangle"}


@cache
def sample(name: str) -> FoldedCard | None:
    files = {path.name: path.read_text("utf-8") for path in SAMPLES.glob("*.recipe")}
    return compile_text(files[f"{name}.recipe"], files, name=f"{name}.recipe").folded


@cache
def shipped(name: str) -> FoldedCard:
    tall = "" if name in NO_HEIGHT else ", height 6"
    folded = compile_text(f"{LARGE}base card from ink\n  fold {name}, width 4{tall}\n").folded
    assert folded is not None, name
    return folded


@cache
def every_card() -> dict[str, FoldedCard]:
    """Those that have a base, by name."""
    samples = {name: found for name in SAMPLE_NAMES if (found := sample(name)) is not None and found.closed}
    return samples | {name: shipped(name) for name in fold_names()}


CARDS = tuple(every_card())


def shut_base(folded: FoldedCard) -> Assembly:
    shut = shut_card(folded.card, folded.closed[0].base)
    assert shut is not None
    return shut
