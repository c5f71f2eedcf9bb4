"""Expressions to linear forms: `2 * width + 1/8` as so many of each unknown and a constant.

A number without a unit is *plain* until it meets a length or is used as one; then it is in the
recipe's unit. So `2 * width` counts and `width + 2` measures, and the other unit system can convert
exactly the numbers that measure.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from cardrecipe.model.card import Scope, Scoped
from cardrecipe.model.lengths import GRID, convert, round_near
from cardrecipe.syntax import tree
from cardrecipe.syntax.diagnostics import Diagnostic, error
from cardrecipe.syntax.nearest import nearest
from cardrecipe.syntax.spans import Span

Var = tuple[str, str]  # (owner, quantity): ("plate", "width"), ("left-door", "width")

MAX_BITS = 4096  # of a number that is worked out: twenty squarings in a row make one of a million bits
MAX_LETS = 64  # `let`s behind one another, each naming the next; a maker's notes have two or three


class Value(NamedTuple):
    """constant + Σ coefficient · unknown. `kind` is "plain", "length" or "ratio"."""

    terms: Mapping[Var, Fraction]
    constant: Fraction
    kind: str


class Unreadable(Exception):
    """An expression that means nothing; holds its diagnostic."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        self.diagnostic = diagnostic


class NotYet(Exception):
    """An expression that is not linear in what is still unknown; to be tried again when more is known."""


class Poisoned(Exception):
    """An expression that names something whose own line could not be read."""


class Names(NamedTuple):
    """What a dotted name may mean: its unknown, what else is known, and names that nobody may judge."""

    unknowns: Mapping[str, Var]
    poison: frozenset[str] = frozenset()


class Reader:
    """Reads expressions for one solve, in the unit `unit`.

    `written_unit` is the recipe's own. Where they differ, every number that measures is converted and
    rounded to the grid of `unit`, moved by `nudges` (grid steps by the number's place). `known`
    holds the unknowns that have been solved so far, for `min`, `max` and divisions. `used` collects
    the places of the numbers that were rounded.
    """

    def __init__(
        self,
        written_unit: str,
        unit: str,
        names: Names,
        known: Mapping[Var, Fraction] | None = None,
        nudges: Mapping[Span, int] | None = None,
    ) -> None:
        self.written_unit = written_unit
        self.unit = unit
        self.names = names
        self.known = known or {}
        self.nudges = nudges or {}
        self.used: dict[Span, Fraction] = {}
        # What `let`s mean; thirty that each name the one before twice would be read a billion times.
        self._named: dict[tuple[str, Scope], Value] = {}
        self._may_be_size = True

    def length(self, scoped: Scoped) -> Value:
        """`scoped` as a length in `unit`."""
        value = self._read(scoped)
        if value.kind == "ratio":
            raise Unreadable(error("not-a-length", scoped.expression.span,
                                   "this is a number of times, not a length",
                                   "multiply it by a length"))  # fmt: skip
        return self._measured(value, scoped.expression.span)

    def number(self, scoped: Scoped) -> Fraction:
        """`scoped` as a bare number that is known by itself: degrees, a count."""
        self._may_be_size = False
        try:
            value = self._read(scoped)
        finally:
            self._may_be_size = True
        if value.terms or value.kind == "length":
            raise Unreadable(error("not-a-number", scoped.expression.span,
                                   "this must be a number by itself, without a unit or a size",
                                   "write a number such as 45"))  # fmt: skip
        return value.constant

    def constant_length(self, scoped: Scoped) -> Fraction:
        """`scoped` as a length that is known by itself: a sheet's size, a paper's thickness.

        The reader has no names of sizes, so that one of the card is told as unknown.
        """
        return self.length(scoped).constant

    def anything(self, scoped: Scoped) -> None:
        """Read `scoped` whatever it measures, for what is wrong with it; raises like the others."""
        self._read(scoped)

    # ---- kinds of expression ---------------------------------------------------------------------

    def _read(self, scoped: Scoped) -> Value:
        self._named.clear()  # what is known may have changed since
        if not isinstance(scoped.expression, tree.Number):
            self._read_what_is_named(scoped)
        return self._value(scoped.expression, scoped.scope)

    def _read_what_is_named(self, scoped: Scoped) -> None:
        """Read the `let`s behind an expression, the innermost first: no walk runs through several of them."""
        trail: list[tuple[tuple[str, Scope] | None, Scoped, Iterator[tree.Reference]]]
        trail = [(None, scoped, references_in(scoped.expression))]
        while trail:
            key, each, waiting = trail[-1]
            reference = next(waiting, None)
            if reference is None:
                trail.pop()
                if key is not None:
                    self._named[key] = self._value(each.expression, each.scope)
                continue
            inner = (reference.text, each.scope)
            behind = _behind(*inner)
            if behind is None or inner in self._named:
                continue
            if any(inner == other for other, _, _ in trail):
                raise Unreadable(error("let-cycle", reference.span,
                                       f"`{reference.text}` is defined by itself",
                                       "give one of the names a number"))  # fmt: skip
            if len(trail) > MAX_LETS:
                raise Unreadable(error("lets-too-deep", scoped.expression.span,
                                       f"more than {MAX_LETS} names stand behind one another here",
                                       "write a number in one of them instead of the next name"))  # fmt: skip
            trail.append((inner, behind, references_in(behind.expression)))

    def _value(self, expression: tree.Expression, scope: Scope) -> Value:
        if isinstance(expression, tree.Number):
            return self._number(expression)
        if isinstance(expression, tree.Reference):
            return self._reference(expression, scope)
        if isinstance(expression, tree.Sum):
            return self._sum(expression, scope)
        if isinstance(expression, tree.Product):
            return self._product(expression, scope)
        if isinstance(expression, tree.Negative):
            return _scaled(self._value(expression.operand, scope), Fraction(-1))
        if isinstance(expression, tree.Call):
            return self._call(expression, scope)
        raise Unreadable(error("question-in-sum", expression.span, "`?` must stand alone",
                               "write `?` for the whole size, or give the number"))  # fmt: skip

    def _number(self, number: tree.Number) -> Value:
        if number.unit is None:
            return Value({}, number.value, "plain")
        if self.unit == self.written_unit:
            return Value({}, convert(number.value, number.unit, self.unit), "length")
        return Value({}, self._rounded(convert(number.value, number.unit, self.unit), number.span),
                     "length")  # fmt: skip

    def _sum(self, expression: tree.Sum, scope: Scope) -> Value:
        left = self._value(expression.left, scope)
        right = self._value(expression.right, scope)
        kinds = {left.kind, right.kind}
        if "length" in kinds:
            if "ratio" in kinds:
                raise Unreadable(error("mixed-sum", expression.span,
                                       "a length and a number of times cannot be added",
                                       "add lengths to lengths"))  # fmt: skip
            left = self._measured(left, expression.left.span)
            right = self._measured(right, expression.right.span)
        kind = "length" if "length" in kinds else "ratio" if "ratio" in kinds else "plain"
        sign = Fraction(1 if expression.operator == "+" else -1)
        return _small(_added(left, _scaled(right, sign), kind), expression.span)

    def _product(self, expression: tree.Product, scope: Scope) -> Value:
        left = self._value(expression.left, scope)
        right = self._value(expression.right, scope)
        if expression.operator == "/":
            return _small(self._quotient(left, right, expression.span), expression.span)
        if left.kind == "length" and right.kind == "length":
            raise Unreadable(error("area", expression.span, "a length times a length is an area",
                                   "multiply a length by a bare number"))  # fmt: skip
        if left.kind == "length":
            left, right = right, left
        kind = "length" if right.kind == "length" else left.kind if left.kind == "ratio" else right.kind
        return _small(_scaled(right, left.constant)._replace(kind=kind), expression.span)

    def _quotient(self, left: Value, right: Value, span: Span) -> Value:
        if right.kind == "length":
            if left.kind == "length":
                return Value({}, self._settled(left) / self._nonzero(self._settled(right), span), "ratio")
            raise Unreadable(error("upside-down", span, "a number divided by a length is not a length",
                                   "divide the length by the number"))  # fmt: skip
        return _scaled(left, 1 / self._nonzero(right.constant, span))

    def _nonzero(self, value: Fraction, span: Span) -> Fraction:
        if value == 0:
            raise Unreadable(error("divided-by-zero", span, "this divides by zero",
                                   "divide by another number"))  # fmt: skip
        return value

    def _call(self, call: tree.Call, scope: Scope) -> Value:
        values = [self._value(each, scope) for each in call.arguments]
        if any(value.kind == "length" for value in values):
            spans = [argument.span for argument in call.arguments]
            values = [self._measured(v, span) for v, span in zip(values, spans, strict=True)]
        kinds = {value.kind for value in values}
        if len(kinds) > 1 and "length" in kinds:
            raise Unreadable(error("mixed-sum", call.span,
                                   "a length and a number of times cannot be compared",
                                   "compare lengths with lengths"))  # fmt: skip
        kind = "ratio" if "ratio" in kinds else values[0].kind
        choose = min if call.function == "min" else max
        return Value({}, choose(self._settled(value) for value in values), kind)

    def _settled(self, value: Value) -> Fraction:
        """The number that `value` is, as far as is known by now; NotYet where it is not."""
        total = value.constant
        for var, coefficient in value.terms.items():
            if var not in self.known:
                raise NotYet
            total += coefficient * self.known[var]
        return total

    # ---- names -----------------------------------------------------------------------------------

    def _reference(self, reference: tree.Reference, scope: Scope) -> Value:
        name = reference.text
        if (name, scope) in self._named:
            return self._named[name, scope]
        if name in scope.asked:
            return Value({asked_var(scope, name): Fraction(1)}, Fraction(0), "length")
        if name in self.names.unknowns:
            return Value({self.names.unknowns[name]: Fraction(1)}, Fraction(0), "length")
        raise self._unknown(reference, scope)

    def _unknown(self, reference: tree.Reference, scope: Scope) -> Exception:
        if any(part in self.names.poison for part in reference.parts):
            return Poisoned()
        known = [*scope.asked, *scope.lets, *(self.names.unknowns if self._may_be_size else ())]
        meant = nearest(reference.text, known)
        owners = sorted({name.rpartition(".")[0] for name in known if "." in name})
        if meant:
            hint = f"did you mean `{meant}`?"
        elif reference.parts[0] in owners:
            sizes = [name for name in known if name.startswith(reference.parts[0] + ".")]
            hint = f"what is known of it: {', '.join(sizes)}"
        elif not self._may_be_size:
            let = f", or `let {reference.text} = 45` above" if len(reference.parts) == 1 else ""
            hint = f"write a number such as 45{let}"
        else:
            example = f"{(owners or ['back'])[0]}.width"
            hint = f"write `let {reference.parts[0]} = …`, or a size such as `{example}`"
        return Unreadable(error("unknown-name", reference.span,
                                f"nothing here is called `{reference.text}`", hint))  # fmt: skip

    # ---- units -----------------------------------------------------------------------------------

    def _measured(self, value: Value, span: Span) -> Value:
        """A plain value as a length; the constant of a plain value is in the recipe's own unit."""
        if value.kind != "plain":
            return value
        if self.unit == self.written_unit:
            return value._replace(kind="length")
        exact = convert(value.constant, self.written_unit, self.unit)
        return Value({}, self._rounded(exact, span), "length")

    def _rounded(self, exact: Fraction, span: Span) -> Fraction:
        grid = GRID[self.unit]
        rounded = round_near(exact, grid) + self.nudges.get(span, 0) * grid
        if rounded == 0 and exact != 0:
            rounded = grid if exact > 0 else -grid
        self.used[span] = exact
        return rounded


def references_in(expression: tree.Expression) -> Iterator[tree.Reference]:
    """The names in an expression, from left to right."""
    waiting = [expression]
    while waiting:
        each = waiting.pop()
        if isinstance(each, tree.Reference):
            yield each
        elif isinstance(each, tree.Sum | tree.Product):
            waiting += (each.right, each.left)
        elif isinstance(each, tree.Negative):
            waiting.append(each.operand)
        elif isinstance(each, tree.Call):
            waiting += reversed(each.arguments)


def _behind(name: str, scope: Scope) -> Scoped | None:
    """The expression that a name stands for; None where it is a size, or nothing at all."""
    if name not in scope.asked:
        return scope.lets.get(name)
    return (scope.asked[name] or scope.defaults.get(name)) if name in scope.scalars else None


def is_beyond_measure(numbers: Iterable[Fraction]) -> bool:
    """True where a number has more bits than any sum needs: to work on with it takes ever longer."""
    return any(each.numerator.bit_length() > MAX_BITS or each.denominator.bit_length() > MAX_BITS
               for each in numbers)  # fmt: skip


def beyond_measure(span: Span) -> Diagnostic:
    return error("number-too-large", span, "this number grows beyond all measure",
                 "check the multiplications in it")  # fmt: skip


def asked_var(scope: Scope, name: str) -> Var:
    """The unknown behind an asked size of the structure that a base is folded by."""
    number = f" {scope.number}" if scope.number > 1 else ""
    return (scope.base or "", f"fold {name}{number}")


def _scaled(value: Value, factor: Fraction) -> Value:
    terms = {var: coefficient * factor for var, coefficient in value.terms.items()}
    return Value(terms, value.constant * factor, value.kind)


def _added(left: Value, right: Value, kind: str) -> Value:
    terms = dict(left.terms)
    for var, coefficient in right.terms.items():
        terms[var] = terms.get(var, Fraction(0)) + coefficient
    return Value(terms, left.constant + right.constant, kind)


def _small(value: Value, span: Span) -> Value:
    if is_beyond_measure((value.constant, *value.terms.values())):
        raise Unreadable(beyond_measure(span))
    return value
