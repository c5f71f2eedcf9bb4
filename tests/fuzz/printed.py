"""A tree to the text of its recipe: what the parser reads back as the same tree.

Written from the grammar's page alone and sharing nothing with the formatter, which works on text.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from cardrecipe.syntax import tree


def printed(statements: Iterable[tree.Statement]) -> str:
    """The recipe with two spaces for each block."""
    return "".join(f"{line}\n" for each in statements for line in _lines(each, ""))


def _lines(statement: tree.Statement, indent: str) -> Iterator[str]:
    said = line_of(statement.node).split("\n")
    yield from (indent + line if line else "" for line in said)
    for each in statement.block:
        yield from _lines(each, indent + "  ")


def line_of(node: tree.Node) -> str:
    """One line, or several where a text is a block."""
    return _PRINTERS[type(node)](node)


# ---- expressions ---------------------------------------------------------------------------------


def expression(value: tree.Expression) -> str:
    if isinstance(value, tree.Number):
        return number(value)
    if isinstance(value, tree.Reference):
        return value.text
    if isinstance(value, tree.Unknown):
        return "?"
    if isinstance(value, tree.Negative):
        return f"-{_factor(value.operand)}"
    if isinstance(value, tree.Call):
        return f"{value.function}({_listed(map(expression, value.arguments))})"
    if isinstance(value, tree.Sum):
        return f"{expression(value.left)} {value.operator} {_term(value.right)}"
    return f"{_term(value.left)} {value.operator} {_factor(value.right)}"


def number(value: tree.Number) -> str:
    whole, rest = divmod(value.value, 1)
    said = str(whole) if not rest else f"{whole} {rest}" if whole else str(rest)
    return f"{said} {value.unit}" if value.unit else said


def _term(value: tree.Expression) -> str:
    return f"({expression(value)})" if isinstance(value, tree.Sum) else expression(value)


def _factor(value: tree.Expression) -> str:
    return f"({expression(value)})" if isinstance(value, tree.Sum | tree.Product) else expression(value)


def _size(value: tree.SizeOf) -> str:
    return f"{expression(value.width)} x {expression(value.height)}"


def _point(value: tree.Point) -> str:
    return f"({expression(value.x)}, {expression(value.y)})"


def text(value: tree.Text) -> str:
    """In quotes, or between lines of three quotes where it has quotes or lines of its own."""
    return f'"""\n{value.text}\n"""' if '"' in value.text or "\n" in value.text else f'"{value.text}"'


def _listed(parts: Iterable[str]) -> str:
    return ", ".join(parts)


def _with(word: str, part: str | None) -> str:
    return f" {word} {part}" if part else ""


# ---- lines ---------------------------------------------------------------------------------------


def _facts(facts: tree.PaperFacts) -> str:
    said = [" or ".join(map(_size, facts.sizes))] if facts.sizes else []
    if facts.weight:
        basis = f" {facts.weight.basis.text}" if facts.weight.basis else ""
        said.append(f"{number(facts.weight.number)} {facts.weight.unit}{basis}")
    said += [f"thick {expression(facts.thick)}"] if facts.thick else []
    said += [f"grain {facts.grain.text}"] if facts.grain else []
    said += ["one-way"] if facts.one_way else []
    said += [f'color "{facts.color.text}"'] if facts.color else []
    said += [f"price {' or '.join(map(number, facts.prices))}"] if facts.prices else []
    said += [f"pack of {number(facts.pack)}"] if facts.pack else []
    return f"{facts.kind.text} {text(facts.title)} {_listed(said)}".rstrip()


def _piece(node: tree.PieceHeader) -> str:
    hosts = _listed(host.name.text + (f" {host.side}" if host.side else "") for host in node.hosts)
    return (f"{node.kind} {node.name.text}{_with('from', node.paper.text if node.paper else None)}"
            f"{_with('on', hosts)}{_with('under', node.under.text if node.under else None)}"
            f"{_with('around', node.around.text if node.around else None)}"
            f"{' downward' if node.downward else ''}")  # fmt: skip


_EDGES = {("left", "right"): "both sides", ("top", "bottom"): "top and bottom"}


def _across(node: tree.LineAcross) -> str:
    edges = _EDGES.get(node.edges, node.edges[0])
    said = _listed(map(expression, node.at))
    if node.times is not None:
        said = f"every {said}, {expression(node.times)} times"
    return f"{node.word} {said} from {edges}{_options(node)}"


def _options(node: tree.LineAcross | tree.LineSlanted) -> str:
    said = f", {node.direction}" if node.direction else ""
    if node.between:
        said += f", between {expression(node.between[0])} and {expression(node.between[1])}"
    return said


def _work(node: tree.WorkLine) -> str:
    using = _listed(word.text for word in node.using)
    if node.verb == "ink-edges":
        return f"ink edges with {using}"
    if node.verb == "color":
        return f"color with {using}"
    if node.verb == "trim":
        return "trim by hand"
    said = (
        f"{node.verb}{f' {node.item.text}' if node.item else ''}{f' {text(node.text)}' if node.text else ''}"
    )
    said += f"{_with('in', using)}{_with('on middle', expression(node.middle) if node.middle else None)}"
    return said + (f" {expression(node.long)} long" if node.long else "")


def _glue(node: tree.GlueLine) -> str:
    if node.all_over:
        return "glue all over"
    if node.along:
        return f"glue along {_listed(node.along)}"
    thick = f" {expression(node.thick)} thick" if node.thick else ""
    means = f" with {node.adhesive.text}{thick}" if node.adhesive else ""
    if node.sections:
        return "glue " + _listed(f"{each.section.text} on {each.host.text}" for each in node.sections) + means
    return f"glue{means}{_with('only on', node.only_on.text if node.only_on else None)}"


def _make(node: tree.Make) -> str:
    variant = f" variant {text(node.variant)}" if node.variant else ""
    spare = f", {number(node.spare)} spare" if node.spare else ""
    return f"make {number(node.number)} of {text(node.path)}{variant}{spare}"


def _have(node: tree.Have) -> str:
    name = node.name.text if isinstance(node.name, tree.Word) else text(node.name)
    sheets = f" {number(node.number)} sheets" if node.number else ""
    return f"have {name}{sheets}{f' {_size(node.size)}' if node.size else ''}"


def _asked(each: tree.Asked) -> str:
    return each.name.text + (f" = {expression(each.default)}" if each.default else "")


def _entry(each: tree.BorderEntry) -> str:
    return " ".join([expression(each.value), *each.edges])


def _from(each: tree.FromEdge) -> str:
    return f"{expression(each.value)} from {each.edge}"


_PRINTERS: dict[Any, Callable[[Any], str]] = {
    tree.Recipe: lambda n: f"recipe {text(n.title)}",
    tree.Units: lambda n: (
        f"units {n.unit.text}{_with('nearest', expression(n.nearest) if n.nearest else None)}"),
    tree.Border: lambda n: f"border {_listed(map(_entry, n.entries))}",
    tree.Amount: lambda n: f"{n.word} {number(n.number)}",
    tree.EnvelopeWanted: lambda n: f"envelope {n.name.text}",
    tree.About: lambda n: f"about {text(n.text)}",
    tree.Use: lambda n: f"use {text(n.path)}",
    tree.Let: lambda n: f"let {n.name.text} = {expression(n.value)}",
    tree.PaperLine: lambda n: f"paper {n.name.text} is {_facts(n.facts)}",
    tree.SupplyLine: lambda n: f"supply {n.name.text} is {n.kind.text} {text(n.title)}",
    tree.PieceHeader: _piece,
    tree.Flat: lambda n: f"flat {_size(n.size)}",
    tree.LineAcross: _across,
    tree.LineSlanted: lambda n: f"{n.word} from {_point(n.start)} to {_point(n.end)}{_options(n)}",
    tree.Window: lambda n: f"window {_size(n.size)} at {_point(n.at)}",
    tree.Corners: lambda n: f"corners round {expression(n.radius)}",
    tree.Sections: lambda n: f"sections {_listed(word.text for word in n.names)}",
    tree.Fold: lambda n: "fold " + _listed(
        [n.structure.text, *(f"{each.name.text} {expression(each.value)}" for each in n.arguments)]),
    tree.SizeLine: lambda n: f"size {_size(n.size)}",
    tree.Measure: lambda n: f"{n.word} {expression(n.value)}",
    tree.Place: lambda n: f"place {_listed(map(_from, n.entries))}",
    tree.At: lambda n: f"at {_from(n.where)}",
    tree.Repeat: lambda n: (
        f"repeat {number(n.number)} {n.way}{f', gap {expression(n.gap)}' if n.gap else ''}"),
    tree.Flag: lambda n: n.word,
    tree.WorkLine: _work,
    tree.GlueLine: _glue,
    tree.Tip: lambda n: f"tip{_with('on', n.on.text if n.on else None)} {text(n.text)}",
    tree.StepLine: lambda n: f"step {n.place} {n.piece.text} {text(n.text)}",
    tree.PoseLine: lambda n: f"pose {n.name.text}",
    tree.FoldPose: lambda n: f"fold {number(n.number)}{_with('of', n.base.text if n.base else None)}"
                             f" at {expression(n.degrees)}",
    tree.Structure: lambda n: f"structure {n.name.text}",
    tree.Ask: lambda n: f"ask {_listed(map(_asked, n.parameters))}",
    tree.Variant: lambda n: f"variant {text(n.title)}",
    tree.Replace: lambda n: f"replace {n.paper.text} with {_facts(n.facts)}",
    tree.Set: lambda n: f"set {n.target.text} {expression(n.value)}",
    tree.Drop: lambda n: f"drop {n.name.text}",
    tree.ClassHead: lambda n: f"class {text(n.title)}",
    tree.Make: _make,
    tree.Have: _have,
}  # fmt: skip
