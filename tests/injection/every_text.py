"""A recipe and a class with a place for each text that the language has, to be filled at will.

A place is called by the rule of the grammar that it belongs to; the number tells apart two of one rule. The
tests hold the list against the grammar, so that no new text can be forgotten.
"""

import re
from collections.abc import Mapping

# Texts that stand in quotes on one line, and those that may be blocks between `\"\"\"`.
IN_QUOTES = ("use", "paper_facts", "paper_facts 2", "paper_facts 3", "color_fact", "supply", "supply 2",
             "variant", "class", "make", "make 2", "have")  # fmt: skip
IN_BLOCKS = ("recipe", "about", "about 2", "about 3", "stamp", "emboss", "die", "punch", "foil", "write",
             "add", "do", "tip", "tip_on", "step")  # fmt: skip
MARKDOWN = ("about", "about 2", "about 3", "tip", "tip_on")
# What is no free text: a file's name, a colour, and the title of what stands elsewhere.
NOT_FREE = ("use", "color_fact", "make", "make 2", "have")
FREE = tuple(each for each in (*IN_BLOCKS, *IN_QUOTES) if each not in NOT_FREE)

RECIPE = """\
recipe {recipe}
  units inch nearest 1/16
  border 1/8
  about {about}
use {use}
paper ink is cardstock {paper_facts} 12 x 12, color {color_fact}
paper glow is patterned {paper_facts 2} 12 x 12
supply coal is ink {supply}
supply knot is ribbon {supply 2}
base card from ink
  flat 8 x 5
  score 4 from left
  sections front, back
  write {write}
  tip {tip}
panel note from glow on back
  size 3 x 4
  stamp {stamp} in coal
  emboss {emboss}
  die {die}
  punch {punch}
  foil {foil}
  ink edges with coal
  add knot {add} 3 long
  do {do}
tip on note {tip_on}
step after note {step}
variant {variant}
  about {about 2}
  replace ink with cardstock {paper_facts 3} 12 x 12
"""
CLASS = """\
class {class}
  about {about 3}
  make 2 of {make} variant {make 2}, 1 spare
  make 1 of "card.recipe"
  have {have} 1 sheet
"""
SHELF = "let wide = 3\n"
NAME, SHELF_NAME = "card.recipe", "shelf.recipe"
_PLACE = re.compile(r"\{([a-z_]+(?: \d)?)\}")


def places(*texts: str) -> list[str]:
    return [found for text in texts or (RECIPE, CLASS) for found in _PLACE.findall(text)]


def texts_of(free: str, markdown: str) -> dict[str, str]:
    """What stands in each place: `free` words, or `markdown` in such fields, with the mark of the place.

    Texts that stand on one line between double quotes have single ones.
    """
    found = {name: f"{markdown if name in MARKDOWN else free} {mark_of(name)}" for name in FREE}
    found |= {name: found[name].replace('"', "'") for name in IN_QUOTES if name in found}
    return found | {"use": SHELF_NAME, "color_fact": "#22304a", "make": NAME, "make 2": found["variant"],
                    "have": found["paper_facts"]}  # fmt: skip


def mark_of(name: str) -> str:
    """A word that stands in no other text: `qqa`, `qqb`, …"""
    return f"qq{chr(ord('a') + sorted(FREE).index(name))}"


def filled(text: str, said: Mapping[str, str]) -> str:
    """The recipe or class `text` with its places filled."""
    return _PLACE.sub(lambda found: _quoted(found[1], said[found[1]]), text)


def files_with(said: Mapping[str, str]) -> dict[str, str]:
    """The recipe and what it uses, by name."""
    return {NAME: filled(RECIPE, said), SHELF_NAME: SHELF}


def _quoted(name: str, text: str) -> str:
    return f'"""{text}"""' if name in IN_BLOCKS else f'"{text}"'
