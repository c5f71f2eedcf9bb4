"""The sheet as `card.json`, for other programs: exact rationals as strings, described by a schema.

Lengths are in the recipe's unit. `card.schema.json` beside this file is the contract.
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import floor

from cardrecipe.fold.folded import GlueZone
from cardrecipe.fold.geometry import signed_area
from cardrecipe.model.work import Glue
from cardrecipe.plan.envelopes import closed_size
from cardrecipe.plan.sheet import EnvelopeFit, PostFit, Sheet, Step, SupplyLine
from cardrecipe.render.cutting_json import cutting_value
from cardrecipe.solve.sized import Edges, Placement, SizedPiece, SizedScore, SizedSection
from cardrecipe.syntax.diagnostics import Diagnostic
from cardrecipe.syntax.spans import Span
from cardrecipe.syntax.unseen import json_text

FORMAT = "cardrecipe/1"
Value = dict[str, object]


def render_json(sheet: Sheet, diagnostics: Iterable[Diagnostic] = ()) -> str:
    """The whole sheet as one JSON object, indented by two, with a last newline."""
    card = sheet.folded.card
    value: Value = {
        "format": FORMAT,
        "title": card.title,
        "variant": card.variant,
        "unit": card.unit,
        "nearest": str(card.nearest),
        "copies": card.makes,
        "finished": finished_value(sheet),
        "pieces": [_piece(piece, sheet.folded.zones) for piece in card.pieces],
        "envelopes": [_envelope(fit) for fit in sheet.envelopes],
        "post": [_post(fit) for fit in sheet.post],
        "cutting": cutting_value(sheet.paper_plans),
        "supplies": [_supply(line) for line in sheet.supplies],
        "steps": [_step(step) for step in sheet.steps],
        "diagnostics": [diagnostic_value(each) for each in diagnostics],
    }
    return json_text(value)


def finished_value(sheet: Sheet) -> Value | None:
    """The closed size of the first base with all that reaches beyond it; None for loose pieces."""
    size, thickness = closed_size(sheet.folded), sheet.folded.thickness
    if size is None or thickness is None:
        return None
    thick = _two_decimals(thickness.likely_mm)
    return {"width": str(size[0]), "height": str(size[1]), "thickness_mm": thick}


def _piece(piece: SizedPiece, every_zone: Sequence[GlueZone]) -> Value:
    value: Value = {
        "name": piece.name,
        "kind": piece.kind,
        "paper": piece.paper,
        "count": piece.count,
        "width": str(piece.width),
        "height": str(piece.height),
    }
    if piece.outline is not None:
        value["outline"] = [[str(x), str(y)] for x, y in piece.outline]
    if piece.kind == "base" or piece.scores:
        value["scores"] = [_score(score) for score in piece.scores]
    if piece.sections:
        value["sections"] = [_section(section) for section in piece.sections]
    if piece.placements:
        zones = [zone for zone in every_zone if zone.piece == piece.name]
        value["hosts"] = _hosts(piece, zones)
        value["border"] = _edges(piece.placements[0].border)
        glue = _glue(piece.glue) | _same_zone(piece.glue, zones)
    else:
        glue = _glue(piece.glue)
    if glue:
        value["glue"] = glue
    return value


def _score(score: SizedScore) -> Value:
    return {
        "at": str(score.at),
        "from": "left" if score.axis == "x" else "top",
        "direction": score.direction,
        "start": [str(value) for value in score.start],
        "end": [str(value) for value in score.end],
    }


def _section(section: SizedSection) -> Value:
    return {
        "name": section.name,
        "x": str(section.x),
        "y": str(section.y),
        "width": str(section.width),
        "height": str(section.height),
    }


def _host(placement: Placement) -> Value:
    return {"name": placement.host, "side": placement.side, "x": str(placement.x), "y": str(placement.y)}


def _edges(edges: Edges) -> Value:
    return {edge: str(value) for edge, value in edges._asdict().items()}


def _hosts(piece: SizedPiece, zones: Sequence[GlueZone]) -> list[Value]:
    """Every placement; with the zone of each copy where those are not the same for all."""
    hosts = [_host(placement) for placement in piece.placements]
    if len({zone.rings for zone in zones}) > 1:
        for zone in zones:
            hosts[zone.copy] |= _zone(zone)
    return hosts


def _same_zone(glue: Glue | None, zones: Sequence[GlueZone]) -> Value:
    """The zone that all copies share, and what they are glued to where they lie on more than that."""
    if not zones or len({zone.rings for zone in zones}) > 1:
        return {}
    value = _zone(zones[0])
    if zones[0].others and len({zone.host_body for zone in zones}) == 1 and not (glue and glue.only_on):
        value["only_on"] = zones[0].host_body
    return value


def _zone(zone: GlueZone) -> Value:
    """A ring that is safe: where the zone is in several parts, the largest of them."""
    if not zone.rings:
        return {}
    largest = max(zone.rings, key=lambda ring: abs(signed_area(ring)))
    return {"zone": [[str(x), str(y)] for x, y in largest]}


def _glue(glue: Glue | None) -> Value:
    """What the recipe says of the glue."""
    value: Value = {}
    if glue is None:
        return value
    if glue.adhesive is not None:
        value["with"] = glue.adhesive
    if glue.thick is not None:
        value["thick"] = str(glue.thick)
    if glue.only_on is not None:
        value["only_on"] = glue.only_on
    if glue.all_over:
        value["all_over"] = True
    if glue.along:
        value["along"] = list(glue.along)
    return value


def _envelope(fit: EnvelopeFit) -> Value:
    return {"name": fit.name, "width": str(fit.width), "height": str(fit.height), "fits": fit.fits}


def _post(fit: PostFit) -> Value:
    return {
        "service": fit.service,
        "fits": fit.fits,
        "because": list(fit.because),
        "check": fit.check,
    }


def _supply(line: SupplyLine) -> Value:
    return {"kind": line.kind, "name": line.name, "amount": line.amount}


def _step(step: Step) -> Value:
    return {
        "number": step.number,
        "title": step.title,
        "pieces": list(step.pieces),
        "text": step.text,
        "picture": step.picture or None,
    }


def diagnostic_value(each: Diagnostic) -> Value:
    return {
        "code": each.code,
        "severity": each.severity,
        **_place(each.span),
        "message": each.message,
        "hint": each.hint,
        "related": [{**_place(more.span), "message": more.message} for more in each.related],
    }


def _place(span: Span) -> Value:
    return {"file": span.file, "start": span.start, "end": span.end}


def _two_decimals(value: Fraction) -> str:
    """`value`, not negative, to two decimals, halves upward; no binary float on the way."""
    hundredths = floor(value * 100 + Fraction(1, 2))
    return f"{hundredths // 100}.{hundredths % 100:02d}"
