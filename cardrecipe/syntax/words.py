"""The words of the language: which line may stand where, and how it is written.

One table serves the parser's messages, the reference and the editors.
"""

from typing import NamedTuple

PAPER_KINDS = ("cardstock", "patterned", "plain", "vellum", "acetate")
SUPPLY_KINDS = (
    "stamp", "ink", "die", "folder", "punch", "marker", "ribbon", "cord", "gem", "adhesive", "tool",
    "other",
)  # fmt: skip
BASIS_KINDS = ("cover", "text", "bond", "index")
SHAPES = ("circle", "oval", "square", "rectangle", "banner", "tag", "cutout")
UNITS = ("inch", "mm")
LENGTH_UNITS = ("in", "mm", "cm")
ADHESIVES = ("tape", "liquid", "dots", "foam")


class Form(NamedTuple):
    """One line of the language: its first word, the blocks it may stand in, how it is written."""

    word: str
    places: tuple[str, ...]
    example: str


_PIECES = ("base", "panel", "band", "shape")
_GLUED = ("panel", "band", "shape")
_TOP = ("top",)
_TOP_OR_VARIANT = ("top", "variant")

FORMS = (
    Form("recipe", _TOP, 'recipe "Night market lanterns"'),
    Form("units", ("recipe", "class"), "units inch nearest 1/16"),
    Form("border", ("recipe", "panel", "shape"), "border 1/8, 1/4 top"),
    Form("makes", ("recipe",), "makes 1"),
    Form("envelope", ("recipe",), "envelope us-a2"),
    Form("about", ("recipe", "variant", "class"), 'about "What the card is for."'),
    Form("use", _TOP, 'use "papers.recipe"'),
    Form("let", _TOP_OR_VARIANT, "let reveal = 1/16"),
    Form("paper", _TOP_OR_VARIANT, 'paper ink is cardstock "Ink blue" 8 1/2 x 11, 270 gsm'),
    Form("supply", _TOP_OR_VARIANT, 'supply coal is ink "Coal black"'),
    Form("base", _TOP, "base card from ink"),
    Form("panel", (*_TOP_OR_VARIANT, "structure"), "panel message from white on back"),
    Form("band", _TOP_OR_VARIANT, "band sash from ink around card"),
    *(Form(shape, (*_TOP_OR_VARIANT, "structure"), f"{shape} plate from white on back") for shape in SHAPES),
    Form("flat", ("base", "structure"), "flat 10 x 7"),
    Form("score", ("base", "panel", "structure"), "score 2 1/2 from both sides"),
    Form("score", ("base", "panel", "structure"), "score every 3, 4 times from left, by turns"),
    Form("cut", ("base", "panel", "structure"), "cut 3 from left, between 1 and 2"),
    Form("window", ("base", "panel", "structure"), "window 2 x 3 at (1, 1)"),
    Form("corners", ("base", "panel", "structure", "shape"), "corners round 1/4"),
    Form("sections", ("base", "panel", "structure"), "sections left-door, back, right-door"),
    Form("fold", ("base", "panel", "structure"), "fold double-gate, width 5, height 7"),
    Form("fold", ("pose",), "fold 2 at 60"),
    Form("size", ("panel", "shape"), "size 3 x 2 1/4"),
    Form("diameter", ("shape",), "diameter 2"),
    Form("width", ("band",), "width 1 1/2"),
    Form("length", ("band",), "length 11"),
    Form("overlap", ("band",), "overlap 3/4"),
    Form("place", ("panel", "shape"), "place 1/4 from left, 1/2 from top"),
    Form("at", ("band",), "at 2 from top"),
    Form("turned", ("panel", "shape"), "turned 45"),
    Form("repeat", ("panel", "shape"), "repeat 3 across, gap 1/8"),
    Form("overhangs", ("panel", "shape"), "overhangs"),
    Form("stamp", _PIECES, 'stamp "Row of lanterns" in coal'),
    Form("emboss", _PIECES, 'emboss "ripple" on middle 5'),
    Form("color", _PIECES, "color with amber, rust"),
    Form("die", _PIECES, 'die "scallop"'),
    Form("punch", _PIECES, 'punch "corner leaf"'),
    Form("trim", _PIECES, "trim by hand"),
    Form("foil", _PIECES, 'foil "star field"'),
    Form("ink", _PIECES, "ink edges with coal"),
    Form("write", _PIECES, 'write "Thank you"'),
    Form("add", _PIECES, 'add ribbon "sea blue" 8 long'),
    Form("do", _PIECES, 'do "Curl the corners round a pencil."'),
    Form("glue", _GLUED, "glue with tape"),
    Form("glue", _GLUED, "glue with foam 1/16 thick"),
    Form("glue", ("base", "panel", "structure"), "glue left-tab on front, right-tab on back with tape"),
    Form("loose", _GLUED, "loose"),
    Form("count", _PIECES, "count 3"),
    Form("tip", _PIECES, 'tip "Press until dry."'),
    Form("tip", _TOP_OR_VARIANT, 'tip on message "Write before you glue."'),
    Form("step", _TOP_OR_VARIANT, 'step after message "Let it dry."'),
    Form("pose", ("top", "structure"), "pose standing"),
    Form("structure", _TOP, "structure side-fold"),
    Form("ask", ("structure",), "ask width, height, flap = width / 4"),
    Form("variant", _TOP, 'variant "Harvest"'),
    Form("replace", ("variant",), 'replace glow with patterned "Harvest plaid" 12 x 12'),
    Form("set", ("variant",), "set plate.width 3 1/4"),
    Form("drop", ("variant",), "drop message"),
    Form("class", _TOP, 'class "Saturday bench"'),
    Form("make", ("class",), 'make 12 of "night-market.recipe" variant "Harvest", 1 spare'),
    Form("spare", ("class",), "spare 2"),
    Form("have", ("class",), "have ink 3 sheets"),
    Form("have", ("class",), "have ink 2 sheets 6 x 8"),
    Form("have", ("class",), "have coal"),
)

WORDS = tuple(dict.fromkeys(form.word for form in FORMS))
BLOCK_OF = {
    "recipe": "recipe", "base": "base", "panel": "panel", "band": "band", "structure": "structure",
    "variant": "variant", "class": "class", "pose": "pose", **dict.fromkeys(SHAPES, "shape"),
}  # fmt: skip
PLACE_NAMES = {
    "top": "at the left edge of the file", "recipe": "under `recipe`", "base": "in a base",
    "panel": "in a panel", "band": "in a band", "shape": "in a shape",
    "structure": "in a structure", "variant": "in a variant", "class": "in a class",
    "pose": "in a pose",
}  # fmt: skip


def forms_of(word: str) -> tuple[Form, ...]:
    """Every form of the lines that begin with `word`."""
    return _BY_WORD.get(word, ())


def may_stand(word: str, form: str | None, place: str) -> bool:
    """True where a line of that word, and of the form whose example begins so, belongs in `place`.

    Under a broken line, "anything" may stand: nobody knows what it was meant to be.
    """
    if place == "anything":
        return True
    return any(place in each.places for each in _BY_WORD[word]
               if form is None or each.example.startswith(form))  # fmt: skip


_BY_WORD = {word: tuple(form for form in FORMS if form.word == word) for word in WORDS}


def words_in(place: str) -> tuple[str, ...]:
    """The first words of the lines that may stand in `place`, in the table's order."""
    return tuple(dict.fromkeys(form.word for form in FORMS if place in form.places))
