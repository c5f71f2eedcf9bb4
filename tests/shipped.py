"""What is shipped, compiled once for all tests: samples with their variants, and a card of each structure."""

from functools import cache

from cardrecipe.commands.asking import starter
from cardrecipe.compile import compile_recipe
from cardrecipe.files import FolderTexts
from cardrecipe.fold.folded import FoldedCard
from cardrecipe.model.texts import NoTexts
from cardrecipe.syntax.source import Source
from tests.recipes import SAMPLES


@cache
def every_sample() -> dict[str, FoldedCard]:
    """Each sample by its file's name, and its variants as `NAME, VARIANT`."""
    found = {}
    for path in sorted(SAMPLES.glob("*.recipe")):
        source = Source(str(path), path.read_text(encoding="utf-8"))
        plain = compile_recipe(source, FolderTexts(str(path)))
        variants = {title: compile_recipe(source, FolderTexts(str(path)), title) for title in plain.variants}
        for name, made in {"": plain, **variants}.items():
            if made.folded is not None and made.folded.card.pieces:
                found[f"{path.stem}, {name}" if name else path.stem] = made.folded
    return found


@cache
def structure(name: str) -> FoldedCard:
    """The card that `cardrecipe new NAME` begins."""
    made = compile_recipe(Source(f"{name}.recipe", starter(name)), NoTexts()).folded
    assert made is not None, name
    return made
