"""What to say of statements that cannot all be true: each line of the contradiction, and no other."""

from collections.abc import Sequence

from cardrecipe.solve.equations import Origin, Said
from cardrecipe.solve.linear import System
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.spans import Span


def contradiction(system: System[Origin], equation: Said) -> Diagnostic:
    """The diagnostic for `equation`, which contradicts what `system` has accepted."""
    lines = _smallest([*system.conflict(equation), equation])
    last = max(lines, key=lambda origin: (origin.span.file == equation.origin.span.file, origin.span))
    others = [origin for origin in lines if origin is not last]
    related = tuple(Related(origin.span, origin.text) for origin in others)
    if not others:
        message = f"{last.text} contradicts itself"
    else:
        message = f"{last.text} does not agree with {_listed([origin.text for origin in others])}"
    hint = "change one of these lines, or write `?` for the size that should follow from the others"
    return error("conflict", last.span, message, hint, related)


def _smallest(equations: Sequence[Said]) -> list[Origin]:
    """The origins of the contradiction by line, less any line without which it still stands.

    The equations form a circuit, but a line may say several; taking lines out one by one leaves a
    set in which each line is needed (a deletion filter: Chinneck and Dravnieks 1991).
    """
    by_line: dict[Span, list[Said]] = {}
    for each in equations:
        by_line.setdefault(each.origin.span, []).append(each)
    needed = list(by_line)
    for line in list(by_line):
        rest = [other for other in needed if other != line]
        if not _agree([each for other in rest for each in by_line[other]]):
            needed = rest
    return [by_line[line][0].origin for line in needed]


def _agree(equations: Sequence[Said]) -> bool:
    system: System[Origin] = System()
    return all(system.add(each) for each in equations)


def _listed(texts: Sequence[str]) -> str:
    return texts[0] if len(texts) == 1 else f"{', '.join(texts[:-1])} and {texts[-1]}"
