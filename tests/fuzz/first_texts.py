"""What fuzzing begins with: every recipe that the project has, and the words of the language."""

from functools import cache

from cardrecipe.library.folds import fold_names, fold_source, fold_statement
from cardrecipe.syntax import tree, words
from cardrecipe.syntax.codes import CODES
from tests.recipes import CASES, NAME, SAMPLES, files_in, recipes_in

SIGNS = ("(", ")", ",", ".", "+", "-", "*", "/", "=", "?", "×", "½", "5 1/2", '"', '"""', "#", "\n", "\n  ",
         "\t", "\r\n", "0", "-1", "1/0", "999999999999", "9999999999999", "<<<<<<< ours", "\u202e", "\u0000",
         "\ufeff", "é", "😀")  # fmt: skip
JOINS = ("is", "from", "on", "under", "around", "downward", "every", "times", "both", "sides", "and", "by",
         "turns", "between", "of", "or", "x", "in", "mm", "cm", "gsm", "lb", "left", "right", "top", "bottom",
         "inside", "outside", "valley", "mountain", "across", "down", "gap", "after", "before", "min", "max",
         "nearest", "sheets", "long", "short", "all", "over", "along", "with", "only", "thick", "middle",
         "hand", "edges", "round", "spare", "width", "height", "finished-width", "thickness")  # fmt: skip


@cache
def samples() -> dict[str, str]:
    """The samples by their file names: they `use` and make each other."""
    return {path.name: path.read_text(encoding="utf-8") for path in recipes_in(SAMPLES)}


@cache
def starters() -> dict[str, str]:
    """A card of each shipped fold, with a panel on the first of its sections."""
    return {f"new {name}": _starter(name) for name in fold_names()}


def _starter(fold: str) -> str:
    given = "".join(f", {asked} {size}" for asked, size in (("width", "4 1/4"), ("height", "5 1/2"))
                    if asked in asked_by(fold))  # fmt: skip
    return f"""recipe "A card"
  units inch nearest 1/16
  border 1/8
  envelope us-a7
  about "What the card is for."

paper base is cardstock "Base colour" 12 x 24, 270 gsm, color "#3b5a6b"
paper light is cardstock "Light" 12 x 12, price 1

base card from base
  fold {fold}{given}

panel message from light on {sections_of(fold)[0]}
  tip "Write the message before you glue."
"""


def sections_of(fold: str) -> list[str]:
    """The names of the sections of a shipped fold, from its own lines; two common ones of any other."""
    found = [word.text for node in _lines_of(fold) if isinstance(node, tree.Sections) for word in node.names]
    return found or ["section-1", "section-2"]


def asked_by(fold: str) -> list[str]:
    """What a shipped fold asks for; width and height of any other."""
    found = [
        each.name.text for node in _lines_of(fold) if isinstance(node, tree.Ask) for each in node.parameters
    ]
    return found or ["width", "height"]


def _lines_of(fold: str) -> list[tree.Node]:
    return [each.node for each in fold_statement(fold).block] if fold in fold_names() else []


@cache
def own_folds() -> dict[str, str]:
    """Each shipped fold written out in a recipe, where its lines can be changed."""
    found = {}
    for name in fold_names():
        whole = starters()[f"new {name}"].replace(f"fold {name},", f"fold own-{name},")
        fold = fold_source(name).text.replace(f"structure {name}", f"structure own-{name}", 1)
        found[f"own {name}"] = f"{whole}\n{fold}"
    return found


@cache
def cases() -> dict[str, str]:
    """The texts in `tests/cases`, and the examples and repairs of every diagnostic."""
    found = {path.stem: files_in(path.read_text(encoding="utf-8"))[NAME] for path in recipes_in(CASES)}
    for code in CODES:
        found[f"{code.name}, wrong"], found[f"{code.name}, right"] = code.example, code.repair
    return found


@cache
def all_texts() -> dict[str, str]:
    return {**samples(), **starters(), **own_folds(), **cases()}


@cache
def vocabulary() -> tuple[str, ...]:
    """Words and signs of the language, to put anywhere."""
    kinds = (*words.PAPER_KINDS, *words.SUPPLY_KINDS, *words.BASIS_KINDS, *words.ADHESIVES)
    return tuple(dict.fromkeys((*words.WORDS, *words.SHAPES, *kinds, *JOINS, *SIGNS, *fold_names())))
