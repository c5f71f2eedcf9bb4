"""Recipes in which one name is marked in all its places; the same word elsewhere is another thing's."""

TOGETHER = {
    "an asked size, in its structure, in folds, behind a base and in a variant": """\
structure mine
  ask width, height, «flap» = width / 4
  flat width + 2 * «flap» x height
  score «flap» from left
base card from ink
  fold mine, width 4, height 5, «flap» 1
let flap = 3
panel a from ink on section-2
  size card.«flap» x flap
variant "A"
  set card.«flap» 2
  set flap 2
""",
    "a structure": """\
structure «mine»
  ask width, height
  flat width x height
base card from ink
  fold «mine», width 4, height 5
base other from ink
  fold «mine», width 3, height 5
""",
    "a section that a structure declares, by its name and behind its base": """\
structure mine
  ask width, height
  flat 2 * width x height
  score width from left
  sections front, «lid»
  panel a on «lid»
    loose
base card from ink
  fold mine, width 4, height 5
panel b from ink on card.«lid»
  size «lid».width x 1
  glue with tape only on «lid»
""",
    "a panel that a structure brings": """\
structure mine
  ask width, height
  flat width x height
  score width / 2 from left
  sections front, back
  panel «tray» on front
    score 1 from left
  pose up
    fold 1 of «tray» at 30
base card from ink
  fold mine, width 4, height 5
circle dot from ink on «tray»
  diameter «tray».height / 4
step after «tray» "Press."
""",
    "a supply": """\
supply «coal» is ink "Coal"
supply grey is ink "Grey"
base card from ink
  fold side-fold, width 4, height 5
panel coal from ink on front
  stamp "A" in grey, «coal»
  ink edges with «coal»
""",
    "an adhesive of one's own": """\
supply «tape» is adhesive "Red tape"
base card from ink
  fold side-fold, width 4, height 5
panel a from ink on front
  glue with «tape»
""",
    "a paper that a variant replaces": """\
paper «moss» is cardstock "Moss"
base card from ink
  fold side-fold, width 4, height 5
panel moss from «moss» on front
variant "A"
  replace «moss» with cardstock "Fern"
""",
    "a let, in sums and in a variant": """\
let «gap» = 1/8
let wide = 2 * «gap»
base card from ink
  fold side-fold, width 4, height 5
panel a from ink on front
  border «gap», min(«gap», 1) top
variant "A"
  let «gap» = 1/4
variant "B"
  set «gap» 1/2
""",
    "a piece of one variant, not that of another": """\
base card from ink
  fold side-fold, width 4, height 5
variant "A"
  panel «mat» from ink on front
  set «mat».width 3
  tip on «mat» "A"
variant "B"
  panel mat from ink on back
  drop mat
""",
    "sections that are glued": """\
base card from ink
  flat 8 x 5
  score 4, 7 1/2 from left
  sections front, back, «tab»
  glue «tab» on front
""",
    "a pose": """\
base card from ink
  fold side-fold, width 4, height 5
pose «standing»
  fold 1 at 60
""",
}
