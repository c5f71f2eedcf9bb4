"""What to say of statements that cannot all be true: each line of the contradiction, and no other."""

from collections.abc import Sequence
from fractions import Fraction

from cardrecipe.model.lengths import with_unit
from cardrecipe.solve.equations import Origin, Said
from cardrecipe.solve.linear import Equation, System
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error
from cardrecipe.syntax.spans import Span


def contradiction(system: System[Origin], equation: Said, unit: str) -> Diagnostic:
    """The diagnostic for `equation`, which contradicts what `system` has accepted."""
    circuit = _smallest([*system.conflict(equation), equation])
    last = max(circuit, key=lambda each: (each.origin.span.file == equation.origin.span.file,
                                          each.origin.span))  # fmt: skip
    others = [each for each in circuit if each is not last]
    lines = {each.origin.span: each.origin.text for each in others if each.origin.span != last.origin.span}
    related = tuple(Related(span, text) for span, text in lines.items())
    hint = "change one of these lines, or write `?` for the size that should follow from the others"
    return error("conflict", last.origin.span, _message(last, others, unit), hint, related)


def _message(last: Said, others: Sequence[Said], unit: str) -> str:
    text = last.origin.text
    if not others:
        return f"{text} contradicts itself"
    implied = _implied(last, others)
    if implied is None or len(last.terms) > 1:
        return f"{text}: that does not agree with the other lines shown here"
    (coefficient,) = last.terms.values()
    said, other = last.constant / coefficient, implied / coefficient
    return f"{text} is {with_unit(said, unit)} here, but the other lines make it {with_unit(other, unit)}"


def _implied(last: Said, others: Sequence[Said]) -> Fraction | None:
    """What the other equations say of the left side of `last`."""
    system: System[Origin] = System()
    system.add_all(others)
    asked: tuple[str, str] = ("", "asked")
    system.add(Equation({**last.terms, asked: Fraction(-1)}, Fraction(0), last.origin))
    return system.value(asked)


def _smallest(equations: Sequence[Said]) -> list[Said]:
    """The equations of the contradiction, less those of any line without which it still stands.

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
    return [each for line in needed for each in by_line[line]]


def _agree(equations: Sequence[Said]) -> bool:
    system: System[Origin] = System()
    return all(system.add(each) for each in equations)

