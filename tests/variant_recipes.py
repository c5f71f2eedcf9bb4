"""Recipes with variants, each a whole text: all kinds of changes, a dozen variants, none."""

from functools import cache

from cardrecipe.plan.sheet import Sheet
from cardrecipe.plan.variant_sheet import VariantSheet, variant_sheet
from cardrecipe.sheets import sheet_of
from tests.recipes import SAMPLES, compile_text

FERRY = '''recipe "Ferry at dawn"
  units inch nearest 1/16
  border 1/8
  about "A gate for the *first ferry*."

paper ink is cardstock "Ink blue" 8 1/2 x 11, 270 gsm, color "#22304a", price 0.40, pack of 20
paper white is cardstock "Soft white" 8 1/2 x 11, 216 gsm, color "#f7f3ea", price 0.30
paper moss is cardstock "Moss" 8 1/2 x 11, color "#5d6b3c"
paper glow is patterned "Paper glow" 12 x 12, one-way, color "#f2b45c"
supply coal is ink "Coal black"

base card from ink
  fold gate, width 5, height 7

panel door-paper from glow on left-door outside, right-door outside
panel message from white on back
  write "Until soon"
circle sun from moss on left-door outside
  diameter 2
  glue with liquid only on left-door
step after sun "Open and close the doors once."

variant "Small"
  about "For a small envelope."
  set card.width 4
  set card.height 5 1/4
  set sun.diameter 1 1/2

variant "With a band"
  band sash from moss around card
    width 1 1/4
    overlap 3/4
    glue with tape
  step before message "Try the pen on a scrap first, since this paper takes ink slowly."

variant "Quiet"
  about """
  # Quietly
  Nothing on the doors but paper.

  - kraft
  - white

  | one | two |
  | - | - |
  | 1 | 2 |
  """
  drop sun
  replace glow with plain "Kraft" 8 1/2 x 11, 120 gsm, price 0.10, color "#b58a5a"

variant "All the trimmings"
  panel mat from moss under message
    border 1/16
  set message.border 1/4
  set sun.diameter 2 1/4
  square flag from white on message
    size 1 x 1
    stamp "Small flag" in coal
    glue with foam 2 mm thick
'''

NO_VARIANT = FERRY[: FERRY.index("variant ")]

DOZEN = NO_VARIANT + "".join(
    f'variant "Sun {number}"\n  set sun.diameter {number}/8\n{"" if number % 5 else "  drop message"}\n'
    for number in range(8, 20)
)

TEXTS = {
    "ferry": FERRY,
    "dozen": DOZEN,
    "none": NO_VARIANT,
    "night-market": (SAMPLES / "night-market.recipe").read_text("utf-8"),
}
SHELF = {"papers.recipe": (SAMPLES / "papers.recipe").read_text("utf-8")}
NAMES = tuple(TEXTS)


@cache
def sheets_of(text: str, units: str | None = None, copies: int | None = None) -> tuple[Sheet, ...]:
    """The sheet of the card without a variant and of each variant."""
    plain = compile_text(text, SHELF)
    results = (plain, *(compile_text(text, SHELF, title) for title in plain.variants))
    return tuple(sheet_of(result, units, copies) for result in results)


@cache
def together(text: str, units: str | None = None, copies: int | None = None) -> VariantSheet:
    plain, *others = sheets_of(text, units, copies)
    return variant_sheet(plain, others)
