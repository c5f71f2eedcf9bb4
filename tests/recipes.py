"""The one door from the tests to the compiler: a text goes in, and what came of it comes out.

The many tests never call the compiler's own functions, so that those may change.
"""

import contextlib
import io
import re
import sys
from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

from cardrecipe.class_compile import CompiledClass, compile_class
from cardrecipe.cli import main
from cardrecipe.compile import Compiled, Folding, compile_recipe, solve_and_fold
from cardrecipe.model.lengths import typed
from cardrecipe.solve.explain import explain
from cardrecipe.solve.other_unit import nudges_for
from cardrecipe.solve.sized import SizedCard, SizedPiece
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.source import Source

NAME = "card.recipe"
ROOT = Path(__file__).resolve().parent.parent
CASES = ROOT / "tests" / "cases"
SAMPLES = ROOT / "samples"
STRUCTURES = ROOT / "cardrecipe" / "library" / "structures"

HEAD = (
    'recipe "Evening walk"\n  units inch nearest 1/16\n  border 1/8\npaper ink is cardstock "Ink" 12 x 12\n'
)
METRIC = 'recipe "Evening walk"\n  units mm nearest 1\n  border 3\npaper ink is cardstock "Ink" 300 x 300\n'
Files = Mapping[str, str]


class Texts:
    """A world whose files stand in a dictionary; it remembers what it was asked for."""

    def __init__(self, files: Files | None = None) -> None:
        self.files = dict(files or {})
        self.asked: list[str] = []

    def read(self, name: str) -> str | None:
        self.asked.append(name)
        return self.files.get(name)


class Found(NamedTuple):
    """A diagnostic as a reader meets it: where it stands and what it says."""

    file: str
    line: int
    severity: str
    code: str
    message: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.severity}[{self.code}]: {self.message}"


# ---- compiling -----------------------------------------------------------------------------------


def compile_text(
    text: str, files: Files | None = None, variant: str | None = None, name: str = NAME
) -> Compiled:
    return compile_recipe(Source(name, text), Texts(files), variant)


def checked(text: str, files: Files | None = None, name: str = NAME) -> list[Found]:
    """What `check` says: the recipe and all its variants, or the class with all its recipes; each diagnostic
    once, in order of place."""
    plain = compile_text(text, files, name=name)
    if plain.is_class:
        made = compile_class(Source(name, text), Texts(files))
        return sorted(_found(each, made) for each in made.diagnostics)
    runs = [plain, *(compile_text(text, files, title, name) for title in plain.variants)]
    found = {each: run for run in runs for each in run.diagnostics}
    return sorted(_found(each, run) for each, run in found.items())


def diagnostics_of(text: str, files: Files | None = None, variant: str | None = None) -> list[Diagnostic]:
    return compile_text(text, files, variant).diagnostics


def codes_of(text: str, files: Files | None = None, variant: str | None = None) -> list[str]:
    return [each.code for each in diagnostics_of(text, files, variant)]


def with_typed_signs(message: str) -> str:
    """A message with the spaces and the minus that a keyboard has; its fractions stay as they are printed."""
    return message.translate(str.maketrans("\u00a0\u202f−", "  -"))


def errors_told(text: str) -> list[tuple[str, str, str]]:
    """Each error of a recipe: its code, the words it points at, and what it says."""
    found = [each for each in diagnostics_of(text) if each.severity == "error"]
    return [(each.code, words_of(text, each), with_typed_signs(each.message)) for each in found]


def lines_of(text: str, diagnostic: Diagnostic) -> list[str]:
    """The words of `text` that a diagnostic and its related places point at, sorted."""
    places = [diagnostic.span, *(related.span for related in diagnostic.related)]
    source = Source(NAME, text)
    return sorted(source.line_text(source.line_of(span)).strip() for span in places)


def words_of(text: str, diagnostic: Diagnostic) -> str:
    """The words that the caret of a diagnostic stands under."""
    return text[diagnostic.span.start : diagnostic.span.end]


def _found(each: Diagnostic, run: Compiled | CompiledClass) -> Found:
    source = run.sources[each.span.file]
    plain = each.message.replace("\u00a0", " ").replace("\u202f", " ").replace("⁄", "/")
    return Found(each.span.file, source.line_of(each.span), each.severity, each.code, plain)


# ---- sizes ---------------------------------------------------------------------------------------


def sized(text: str, files: Files | None = None, variant: str | None = None) -> SizedCard:
    """The sized card of a recipe that must have no errors."""
    result = compile_text(text, files, variant)
    assert result.folded is not None, [str(_found(each, result)) for each in result.diagnostics]
    return result.folded.card


def piece(text: str, name: str, variant: str | None = None) -> SizedPiece:
    return sized(text, variant=variant).piece(name)


def size(text: str, name: str, variant: str | None = None) -> str:
    """A solved size as it would be typed: `size(text, "plate.width")` is "3 1/2"; "?" where it is open."""
    solution = compile_text(text, variant=variant).solution
    assert solution is not None
    value = solution.values.get(solution.names.unknowns[name])
    return "?" if value is None else typed(value)


def sizes(text: str, *names: str) -> list[str]:
    return [size(text, name) for name in names]


def cut(text: str, name: str, variant: str | None = None) -> str:
    """A piece's size as it is cut: "1 7/8 x 5 1/4"."""
    found = piece(text, name, variant)
    return f"{typed(found.width)} x {typed(found.height)}"


def scores(text: str, name: str = "card") -> str:
    """A base's scores from the left or the top: "1 1/4 mountain, 3 3/8 valley"."""
    return ", ".join(f"{typed(each.at)} {each.direction}" for each in piece(text, name).scores)


def borders(text: str, name: str, at: int = 0) -> str:
    """What shows of the host round a copy of a piece: left, right, top, bottom."""
    return ", ".join(typed(edge) for edge in piece(text, name).placements[at].border)


def explained(text: str, name: str) -> list[str]:
    """What `explain` prints of a size, without the places."""
    solution = compile_text(text).solution
    assert solution is not None
    return [each.text for each in explain(solution, solution.names.unknowns[name])]


def unsolved_equations(text: str, variant: str | None = None) -> list[str]:
    """Accepted equations that the solved sizes, put back into them, do not satisfy exactly."""
    solution = compile_text(text, variant=variant).solution
    assert solution is not None
    wrong = []
    for equation in solution.system.accepted:
        if all(var in solution.values for var in equation.terms):
            total = sum((c * solution.values[var] for var, c in equation.terms.items()), Fraction(0))
            wrong += [equation.origin.text] if total != equation.constant else []
    return wrong


def in_other_unit(text: str) -> SizedCard:
    """The same card solved again in the other unit system; it must have no errors there."""
    solution = compile_text(text).solution
    assert solution is not None
    unit = {"inch": "mm", "mm": "inch"}[solution.unit]
    other: Folding = solve_and_fold(solution.card, unit, nudges_for(solution.card, solution, unit))
    assert other.folded is not None, other.diagnostics
    return other.folded.card


# ---- form ----------------------------------------------------------------------------------------


def parsed(text: str) -> tuple[tree.Tree, list[Diagnostic]]:
    return parse(Source(NAME, text))


def mistakes_of_form(text: str) -> dict[int, list[str]]:
    """The codes of the parser alone, by line."""
    source = Source(NAME, text)
    found: dict[int, list[str]] = {}
    for each in parse(source)[1]:
        found.setdefault(source.line_of(each.span), []).append(each.code)
    return found


def node_of(line: str, under: str = "") -> str:
    """A line's node as text, without places: `Flat(10 x 7)`. `under` is the line it is indented below."""
    text = f"{under}\n  {line}\n" if under else f"{line}\n"
    found, diagnostics = parsed(text)
    assert not diagnostics, diagnostics
    statement = found.statements[0].block[0] if under else found.statements[0]
    return shown(statement.node)


def shown(value: object) -> str:
    """A tree without its spans, short enough to read in a table."""
    if isinstance(value, tree.Number):
        return f"{typed(value.value)}{' ' + value.unit if value.unit else ''}"
    if isinstance(value, tree.Reference | tree.Word):
        return value.text
    if isinstance(value, tree.Text):
        return repr(value.text)
    if isinstance(value, tree.Unknown):
        return "?"
    if isinstance(value, tree.Sum | tree.Product):
        return f"({shown(value.left)} {value.operator} {shown(value.right)})"
    if isinstance(value, tree.SizeOf):
        return f"{shown(value.width)} x {shown(value.height)}"
    if isinstance(value, tuple):
        return f"[{', '.join(shown(each) for each in value)}]"
    if isinstance(value, Record):
        fields = [(name, getattr(value, name)) for name in value._fields if name != "span"]
        defaults = value._defaults
        kept = [name + "=" + shown(inner) if name in defaults else shown(inner)
                for name, inner in fields if name not in defaults or inner != defaults[name]]  # fmt: skip
        return f"{type(value).__name__}({', '.join(kept)})"
    return str(value)


# ---- the command ---------------------------------------------------------------------------------


class Ran(NamedTuple):
    """What came of a command."""

    status: int
    out: str
    err: str


def run(*arguments: str) -> Ran:
    """The command line, in this process; SystemExit counts as an exit status."""
    out, err = io.TextIOWrapper(io.BytesIO(), "utf-8"), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            status = main(arguments)
        except SystemExit as problem:
            status = problem.code if isinstance(problem.code, int) else 1
        sys.stdout.flush()
    out.seek(0)
    return Ran(status, out.read(), err.getvalue())


# ---- expected diagnostics, written in a recipe where they fall ------------------------------------

_NOTE = re.compile(r"# (error|warning)\[([a-z-]+)\](?:: ([^#]*))?")
_FILE = re.compile(r"^### (\S+\.recipe)$", re.M)


class Note(NamedTuple):
    """`# error[unsolved]: nothing settles` on a line: that diagnostic is expected there."""

    file: str
    line: int
    severity: str
    code: str
    part: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.severity}[{self.code}]: …{self.part}…"

    def fits(self, found: Found) -> bool:
        return found[:4] == self[:4] and self.part in found.message


def files_in(text: str) -> dict[str, str]:
    """A case's files: the recipe itself, and others after lines such as `### papers.recipe`."""
    first, *others = _FILE.split(text)
    return {NAME: first, **dict(zip(others[::2], (each[1:] for each in others[1::2]), strict=True))}


def notes_in(files: Files) -> list[Note]:
    return [
        Note(file, number, severity, code, part.strip())
        for file, text in files.items()
        for number, line in enumerate(text.split("\n"), 1)
        for severity, code, part in _NOTE.findall(line)
    ]


def disagreements(text: str) -> list[str]:
    """Diagnostics without their note and notes without their diagnostic; [] where all is as written."""
    files = files_in(text)
    notes = notes_in(files)
    others = {name: content for name, content in files.items() if name != NAME}
    surplus: list[str] = []
    for found in checked(files[NAME], others):
        fitting = next((note for note in notes if note.fits(found)), None)
        if fitting is None:
            surplus.append(f"without a note: {found}")
        else:
            notes.remove(fitting)
    return [*surplus, *(f"did not come: {note}" for note in notes)]


def recipes_in(*folders: Path) -> Sequence[Path]:
    return sorted(path for folder in folders for path in folder.glob("*.recipe"))


def sample_cards() -> Sequence[Path]:
    """The samples that make a card: neither the shelf of papers nor a class."""
    return [path for path in recipes_in(SAMPLES) if re.search(r"^recipe ", path.read_text("utf-8"), re.M)]
