"""What makers call a thing for which the language has another word: the line to write for it."""

_CIRCLE = "circle plate from white on back"
_PANEL = "panel message from white on back"
_SCORE = "score 2 1/2 from both sides"
_WINDOW = "window 2 x 3 at (1, 1)"
_ADD = 'add ribbon "sea blue" 8 long'
_FOAM = "glue with foam 1/16 thick"
_GLUE = "glue with tape"
_WRITE = 'write "Thank you"'
_PAPER = 'paper ink is cardstock "Ink blue" 8 1/2 x 11, 270 gsm'
_SUPPLY = 'supply coal is ink "Coal black"'
_PLACE = "place 1/4 from left, 1/2 from top"
_SIZE = "size 3 x 2 1/4"

LINES = {
    "card": "base card from ink", "cardbase": "base card from ink", "card-base": "base card from ink",
    "strip": _PANEL, "layer": _PANEL, "mat": _PANEL, "mount": _PANEL, "liner": _PANEL, "piece": _PANEL,
    "belly-band": "band sash from ink around card", "sleeve": "band sash from ink around card",
    "disc": _CIRCLE, "disk": _CIRCLE, "round": _CIRCLE, "ellipse": "oval plate from white on back",
    "label": "tag plate from white on back",
    "pennant": "banner plate from white on back",
    "crease": _SCORE, "mountain": _SCORE + " mountain", "valley": _SCORE + " valley",
    "slit": "cut 3 from left, between 1 and 2", "slot": "cut 3 from left, between 1 and 2",
    "hole": _WINDOW, "opening": _WINDOW, "aperture": _WINDOW,
    "rounded": "corners round 1/4",
    "radius": "diameter 2", "dimensions": _SIZE, "height": _SIZE, "wide": _SIZE, "tall": _SIZE,
    "position": _PLACE, "move": _PLACE, "centre": _PLACE, "center": _PLACE,
    "rotate": "turned 45", "rotated": "turned 45", "angle": "turned 45", "tilt": "turned 45",
    "tilted": "turned 45", "copies": "count 3", "quantity": "count 3",
    "raise": _FOAM, "raised": _FOAM, "foam": _FOAM,
    "adhere": _GLUE, "attach": _GLUE, "stick": _GLUE, "tape": _GLUE, "adhesive": _GLUE,
    "sentiment": 'stamp "Thank you" in coal', "text": _WRITE, "words": _WRITE, "greeting": _WRITE,
    "ribbon": _ADD, "bow": _ADD, "cord": _ADD, "twine": _ADD, "gem": _ADD, "gems": _ADD,
    "paint": "color with amber, rust", "die-cut": 'die "scallop"',
    "margin": "border 1/8", "reveal": "border 1/8",
    "material": _PAPER, "cardstock": _PAPER, "patterned": _PAPER, "vellum": _PAPER, "acetate": _PAPER,
    "tool": _SUPPLY, "marker": _SUPPLY,
    "note": 'tip "Press until dry."', "remark": 'tip "Press until dry."', "hint": 'tip "Press until dry."',
    "title": 'recipe "Night market lanterns"', "name": 'recipe "Night market lanterns"',
    "description": 'about "What the card is for."',
    "include": 'use "papers.recipe"', "import": 'use "papers.recipe"',
    "version": 'variant "Harvest"', "option": 'variant "Harvest"',
    "change": "set plate.width 3 1/4", "swap": 'replace glow with patterned "Harvest plaid" 12 x 12',
    "remove": "drop message", "omit": "drop message", "without": "drop message", "delete": "drop message",
}  # fmt: skip
# With the other word alone the rest of such a line would mean another size, or another fold.
NOT_THE_WORD_ALONE = {"radius", "mountain"}
