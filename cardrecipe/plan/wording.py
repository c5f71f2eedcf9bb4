"""Every sentence of the steps, as templates: the wording in one place, the facts filled in elsewhere.

Read them aloud before changing one: somebody at a table hears them with both hands full.
"""

TEMPLATES = {
    # Cutting
    "cut/title": "Cut {names}",
    "cut/title-many": "Cut the pieces from {paper}",
    "cut/text": "From {paper} cut {pieces}.",
    "cut/any-paper": "a paper of your choice",
    "cut/each": "{pieces} ({count}\u00a0a\u00a0{one})",
    "cut/upright": "Keep the pattern upright: the second number of a size runs from top to bottom.",
    "cut/die": "Leave {names} a little larger all round; the die comes later.",
    "cut/hand": "Leave {names} whole for now; the outline is trimmed later.",
    "cut/outline": "For {names} use a die or a punch of that size, or draw the outline and cut it with "
    "scissors.",
    "cut/corners": "Round the corners of {name}: the radius is {radius}.",
    "cut/off-ruler": "{size} is between two marks of the ruler: {below} and {above}.",
    "cut/check-one": "{it} measures {width} from left to right and {height} from top to bottom.",
    "cut/check-many": "You have {count} of {paper}.",
    # Scoring
    "score/title": "Score {name}",
    "score/lay": "Lay {name} inside up, its {length} side from {near} to {far}.",
    "score/lay-plain": "Lay {name} inside up.",
    "score/slanted": "Score number {number} straight from {start} to {end}.",
    "score/slit": "Cut a slit straight from {start} to {end}.",
    "score/point": "{across} from the left, {down} from the top,",
    "score/mountains": "{scores} will fold back, away from you.",
    "score/panel-folds": "Fold it along {scores}.",
    "score/check": "From {near} to {far} the parts measure {parts}.",
    "score/check-plain": "You see {count} on the inside.",
    # Folding
    "fold/title-over": "Fold {moves} over",
    "fold/title-towards": "Fold {moves} in",
    "fold/title-away": "Fold {moves} back",
    "fold/title-many": "Fold {name} along every score",
    "fold/lay": "Lay {name} inside up.",
    "fold/towards": "Along {scores} fold {moves} over, towards you, onto {onto}.",
    "fold/away": "Along {scores} fold {moves} back, away from you, behind {onto}.",
    "fold/valley": "Along {scores} fold {moves} so that the inside faces meet.",
    "fold/mountain": "Along {scores} fold {moves} so that the outside faces meet.",
    "fold/fan": "Fold score 1 {first}, score 2 {second}, and so on by turns, like a fan.",
    "fold/in-turn": "Fold {actions}, in this order.",
    "fold/press": "Press {creases} down with the bone folder.",
    "fold/open": "Then open {name} out again, inside up.",
    "fold/check-lines": "The {edges} edges lie in line.",
    "fold/check-size": "Folded up, {name} measures {size}.",
    # Work on a piece
    "work/title": "{verbs} {name}",
    "work/stamp": "Stamp {it} with {text}{using}.",
    "work/emboss": "Emboss {it} with {text}.",
    "work/emboss-middle": "Emboss only the middle {middle} of {name} with {text}, so that the ends stay "
    "flat.",
    "work/color": "Colour {it}{using}.",
    "work/die": "Cut {it} out with the die {text}.",
    "work/punch": "Punch {it} with {text}.",
    "work/trim": "Draw the outline on {it} in pencil, then cut along it.",
    "work/foil": "Add the foil {text} to {it}.",
    "work/ink-edges": "Ink the edges of {it}{using}.",
    "work/write": "Write on {it}{using}: {text}.",
    "work/add": "Add the {item} {text} to {it}.",
    "work/add-long": "Add {long} of the {item} {text} to {it}.",
    "work/do": "{plain}",
    "work/middle": "Work only on the middle {middle}.",
    "work/dry": "Let {it} dry before you go on.",
    "work/each": "Do the same with {rest}.",
    "work/check-holds": "Nothing comes loose when you lift it.",
    "work/check-dry": "A fingertip comes away clean.",
    "work/check-edge": "The edge is clean all round.",
    "work/check-flat": "The pattern shows evenly and the ends are still flat.",
    "work/check-relief": "The pattern shows evenly.",
    # Putting pieces on
    "place/title": "Glue {name} to {host}",
    "place/title-loose": "Lay {name} on {host}",
    "place/title-slip": "Slip {name} into {host}",
    "place/slip": "Slip {name} into {host}, without glue.",
    "place/check-slip": "It slides in and out.",
    "place/tape": "Put double-sided tape on the back of {each}, close to the edges.",
    "place/liquid": "Put a thin line of liquid glue on the back of {each}, well inside the edge.",
    "place/dots": "Put glue dots on the back of {each}.",
    "place/foam": "Put foam{thick} on the back of {each}, well inside the edge.",
    "place/part": "Put {adhesive} on the back of {each}, only where it will lie on {host}.",
    "place/zone": "Put {adhesive} on the back of {each}, only on the part that will lie on {host}: {part}.",
    "place/zone-own": "Put {adhesive} on the back of {each}, only on {part}.",
    "place/own": "Put {adhesive} on the back of {each}.",
    "place/all-over": "Spread a thin layer of {adhesive} over the whole back of {each}.",
    "place/along": "Put {adhesive} along {edges} of the back of {each}, and nowhere else.",
    "place/band": "No glue touches the card, so that {band} still slides off.",
    "place/loose": "Use no glue: {name} must be free to move.",
    "place/press": "Press {what}.",
    "place/lay": "Lay {what}.",
    "place/pocket": "{edges} stay{s} open, as a pocket.",
    "place/closed": "Do this with the card closed.",
    "place/front": "Close the card and lay it front up{fold}.",
    "place/behind": "Close the card and lay it front down{fold}.",
    "place/over": "Lay the card open, its outside up.",
    # The band
    "band/title": "Wrap {name} round {base}",
    "band/across": "Close {base}. Lay {name} across the front, middle on middle, its top edge {at} from the "
    "top, and bring both ends round to the back.",
    "band/down": "Close {base}. Lay {name} down the front, middle on middle, its left edge {at} from the "
    "left, and bring both ends round to the back.",
    "band/mark": "Pull it snug, not tight, and mark where the ends cross: they overlap by about {overlap}.",
    "band/glue": "Glue the ends to each other with {adhesive}; no glue touches {base}.",
    "band/check": "{name} slides off the closed card and back on.",
    # Last touches and what the maker adds
    "finish/title": "Finish {name}",
    "finish/check": "It holds when you tilt the card.",
    "extra/before": "Before you go on with {name}",
    "extra/after": "After {name}",
}


def say(key: str, **facts: str) -> str:
    """The template called `key` with its facts filled in."""
    return TEMPLATES[key].format(**facts)
