"""A sheet and its pictures made by hand, so that the pages are tested without the stages before.

The scenario is invented: a double gate of 11 x 5 1/2 with a band and a raised plate.
"""

from fractions import Fraction

from cardrecipe.fold.folded import ClosedBase, FoldedCard, Thickness
from cardrecipe.model.lengths import size_written, written
from cardrecipe.plan.sheet import CutLine, EnvelopeFit, Fact, ScoreGuide, ScoreLine, Sheet, Step, SupplyLine
from cardrecipe.render.drawings.svg import Drawing
from cardrecipe.solve.sized import SizedCard
from tests.hand_made import double_gate, strip_card

F = Fraction
ONE, TWO, OVER = "1\u202f1\u20444", "3\u202f3\u20448", "2\u202f3\u20448\u00a0in"
ABOUT = """A card for the *harbour festival*: two doors, each with a flap that folds back.

- Papers by the sheet, **no offcut** wider than a thumb.
- Ask at the [harbour office](https://example.org/harbour?a=1&b=2) for the boats."""
SECTIONS = ["left-flap", "left-door", "back", "right-door", "right-flap"]


def sheet() -> Sheet:
    """The inch sheet with its metric sister inside."""
    other = _sheet(_metric_card(), "mm")
    return _sheet(double_gate(), "inch")._replace(other=other)


def pictures(of: Sheet) -> dict[str, Drawing]:
    """Placeholders: a frame, its name and a fraction in it."""
    names = [step.picture for step in of.steps if step.picture]
    names += ["finished", "legend", "score-card"]
    return {name: _placeholder(name) for name in dict.fromkeys(names)}


def _placeholder(name: str) -> Drawing:
    width, height = {"score-card": (180, 60), "legend": (120, 10)}.get(name, (70, 42))
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="{name}-title">'
        f'<title id="{name}-title">{name}</title>'
        f'<rect x="0.5" y="0.5" width="{width - 1}" height="{height - 1}" fill="#e8eef0" '
        'stroke="#1d2b33" stroke-width="0.35"/>'
        f'<text x="{width / 2}" y="{height / 2}" font-family="Nunito, sans-serif" font-size="3.2" '
        f'text-anchor="middle" fill="#1d2b33">{name} 1\u20448</text></svg>\n'
    )
    return Drawing(name, name.replace("-", " "), f"A placeholder for {name}.", svg, width, height)


def _metric_card() -> SizedCard:
    parts: list[Fraction | int | str] = [32, 48, 108, 48, 32]
    return strip_card(parts, "MVVM", SECTIONS, 140, title="Harbour lights", unit="mm")


def _sheet(card: SizedCard, unit: str) -> Sheet:
    base = card.bases[0]
    back = base.sections[2]
    closed = ClosedBase("card", "back", back.width, back.height, (), (), ())
    folded = FoldedCard(card, (closed,), (), Thickness(F("2.84"), F("2.1"), F("3.4"), True))
    size = size_written(back.width, back.height, unit)
    return Sheet(
        folded,
        "Harbour lights",
        ABOUT,
        (
            Fact("Closed size", size),
            Fact("Envelope", "US A2, 4\u202f3\u20444 \u00d7 5\u202f3\u20444\u00a0in"),
            Fact("Thickness", "about 2.8\u00a0mm at the plate"),
            Fact("Makes", "1 card"),
        ),
        _supplies(),
        _cuts(unit),
        (_score_guide(card, unit),),
        _steps(),
        (EnvelopeFit("us-a2", "US A2", F("19/4"), F("23/4"), True, "1\u20444 in to spare", True),),
        (
            "Blades, heat and glue: follow their makers' own instructions and your local rules.",
            "Small parts: keep them away from children under three.",
        ),
        (
            "The inch and the metric version differ by 0.6\u00a0mm at most.",
            "The band overlaps by 2\u202f3\u20448\u00a0in; the recipe asked for no overlap.",
        ),
    )


def _supplies() -> tuple[SupplyLine, ...]:
    return (
        SupplyLine("paper", "Ink blue", "1 sheet 8 1\u20442 \u00d7 11\u00a0in", (), "#22304a"),
        SupplyLine("paper", "Paper glow", "1 sheet 12 \u00d7 12\u00a0in", (), "#f2b45c"),
        SupplyLine("paper", "White", "1 sheet 8 1\u20442 \u00d7 11\u00a0in", (), "#ffffff"),
        SupplyLine("ink", "Coal black", "", ("message", "boats card")),
        SupplyLine("stamp", "Three paper boats", "", ("boats card",)),
        SupplyLine("folder", "Ripple", "", ("sash",)),
        SupplyLine("die", "Oval plate", "", ("plate",)),
        SupplyLine("marker", "Sea green", ""),
        SupplyLine("marker", "Rust", ""),
        SupplyLine("adhesive", "Double-sided tape", "about 38\u00a0in"),
        SupplyLine("adhesive", "Foam pads 2\u00a0mm", "about 6\u00a0in"),
        SupplyLine("tool", "Paper trimmer", ""),
        SupplyLine("tool", "Scoring board or bone folder", ""),
    )


_CUTS = (
    ("card", "base", "Ink blue", 1, (11, "11/2"), (268, 140), ()),
    ("sash", "band", "Ink blue", 1, (11, 1), (279, 25), ("grain runs left to right",)),
    ("door-paper", "panel", "Paper glow", 2, ("15/8", "21/4"), (42, 134), ()),
    ("flap-paper", "panel", "Paper glow", 2, (1, "21/4"), (26, 134), ("upright pattern",)),
    ("plate", "oval", "Paper glow", 1, (3, "9/4"), (76, 57), ("die-cut",)),
    ("message", "panel", "White", 1, (4, "21/4"), (102, 134), ()),
    ("boats-card", "square", "White", 1, ("7/4", "7/4"), (44, 44), ()),
    ("pennant", "tag", "White", 1, (1, 2), (25, 51), ("trim along the outline",)),
)


def _cuts(unit: str) -> tuple[CutLine, ...]:
    lines = []
    for name, kind, paper, count, inch, mm, notes in _CUTS:
        sizes = {
            "inch": size_written(F(inch[0]), F(inch[1]), "inch"),
            "mm": size_written(F(mm[0]), F(mm[1]), "mm"),
        }
        width, height = inch if unit == "inch" else mm
        other = sizes["mm" if unit == "inch" else "inch"]
        size = (F(width), F(height), sizes[unit], other)
        lines.append(CutLine(name, kind, paper, paper, count, count, *size, notes))
    return tuple(lines)


def _score_guide(card: SizedCard, unit: str) -> ScoreGuide:
    base = card.bases[0]
    lines = tuple(
        ScoreLine(
            score.number, score.direction, written(score.at, unit), written(base.width - score.at, unit)
        )
        for score in base.scores
    )
    near, next_one = lines[0].at, lines[1].at
    short = f"Score at {near} and {next_one} from the left end, then turn the sheet and do the same."
    return ScoreGuide("card", "left", lines, short)


def _steps() -> tuple[Step, ...]:
    eighth = "The same 1\u20448\u00a0in shows on all four sides."
    knife = "A trimmer's blade cuts fingers too: follow its maker's instructions."
    titles: tuple[tuple[str, str, str, str], ...] = (
        ("Cut the papers", "Cut all pieces of the cut list, the largest first.", "cut-ink", ""),
        ("Score the card", f"Lay it inside up. Score at {ONE} and {TWO} from both ends.",
         "score-card", "The four scores mirror each other."),
        ("Fold the flaps back", "Fold both outer scores as mountains.", "fold-card-1", ""),
        ("Fold the doors in", "Fold both inner scores as valleys and crease.", "fold-card-2",
         "The doors meet over the back without a gap."),
        ("Emboss the sash", "Run the middle 5\u00a0in of the sash through the ripple folder.",
         "piece-sash", ""),
        ("Stamp the boats", "Stamp the boats in coal black on the boats card and let the ink dry.",
         "piece-boats-card", ""),
        ("Colour the boats", "Colour the sails with sea green, the hulls with rust.", "", ""),
        ("Glue on the door papers", "Glue one door paper on the outside of each door.",
         "place-door-paper", eighth),
        ("Glue on the flap papers", "Glue one flap paper on the inside of each flap.",
         "place-flap-paper", eighth),
        ("Glue in the message", "Write on the message first, then glue it on the back.",
         "place-message", eighth),
        ("Close the band", f"Wrap the sash round the closed card; it overlaps by {OVER}.",
         "band-sash", "The band slides off and on."),
        ("Raise the plate", "Glue the plate on the sash only, then the boats card on foam.",
         "place-plate", ""),
    )  # fmt: skip
    steps = []
    for index, (title, text, picture, check) in enumerate(titles):
        tips = ("Cut a *spare* plate while the die is out.",) if index == 11 else ()
        cautions = (knife,) if index == 0 else ()
        picks = (("Paper trimmer",) if index == 0 else ()) + (("Double-sided tape",) * (index > 6))
        step = Step(index + 1, title, text, ("card",), picks, picture, check, tips, cautions)
        steps.append(step)
    return tuple(steps)
