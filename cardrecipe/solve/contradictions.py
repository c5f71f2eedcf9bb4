"""What to say of statements that cannot all be true: each line of the contradiction, and no other."""

from collections.abc import Sequence
from fractions import Fraction

from cardrecipe.model.lengths import with_unit
from cardrecipe.solve.equations import Origin, Said
from cardrecipe.solve.linear import Equation, System
from cardrecipe.syntax.diagnostics import Diagnostic, Related, error


def contradiction(system: System[Origin], equation: Said, unit: str) -> Diagnostic:
    """The diagnostic for `equation`, which contradicts what `system` has accepted."""
    # The equations form a circuit, so that each line is needed, however many of them it says.
    circuit = [*system.conflict(equation), equation]
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
