"""Every diagnostic code of the compiler, once, with its rule, a recipe that gives it and its repair.

The reference pages are written from this table, and the tests hold it against the sources and against
the examples. Nothing that checks a recipe imports it.
"""

from typing import NamedTuple


class Code(NamedTuple):
    """One diagnostic code. `frame` is a whole recipe with `{}` where `wrong` or `right` goes.

    `files` are further files that the example uses, by name.
    """

    name: str
    severity: str  # "error" | "warning"
    rule: str
    frame: str
    wrong: str
    right: str
    files: tuple[tuple[str, str], ...] = ()

    @property
    def example(self) -> str:
        """A recipe with the mistake."""
        return self.frame.replace("{}", self.wrong)

    @property
    def repair(self) -> str:
        """The same recipe without it."""
        return self.frame.replace("{}", self.right)


_HEAD = """\
recipe "Evening walk"
  units inch nearest 1/16
  border 1/8

"""
_INK = """\
paper ink is cardstock "Ink blue" 12 x 12
"""
_BASE = """\
base card from ink
  flat 10 x 7
  score 2 1/2 from both sides
  sections left-door, back, right-door
"""
_CARD = f"{_HEAD}{_INK}\n{_BASE}\n"
_PLATE = f"{_CARD}oval plate from ink on back\n  size 3 x 2\n"
_POUCH = f"{_CARD}panel pouch from ink on back\n  size 4 x 3\n"
_STRIP = f"{_HEAD}{_INK}\nbase card from ink\n  flat 10 x 4\n{{}}\n"

_BOOKS = "".join(f"structure book-{n}\n  ask width, height\n  fold book-{n - 1}, width width, height height\n"
                 for n in range(1, 17))  # fmt: skip
_SHELVES = tuple((f"shelf-{n}.recipe", f'use "shelf-{n + 1}.recipe"\n') for n in range(16))
_BENCH = 'class "Saturday bench"\n{}\n'
_TAG = f'{_HEAD}{_INK}rectangle tag from ink\n  size 2 x 3\n  loose\n'
_OTHER_TAG = _TAG.replace("Ink blue", "Ink black")
_TAGS = (("tag.recipe", _TAG), ("other.recipe", _OTHER_TAG))

NO_EXAMPLE = "# no recipe that fits on a page is known to give this"

CODES: tuple[Code, ...] = (
    # ---- form ------------------------------------------------------------------------------------
    Code("unknown-word", "error", "A line begins with one of the words of the language.",
         f"{_HEAD}{{}}\n", 'paiper ink is cardstock "Ink blue"',
         'paper ink is cardstock "Ink blue"\nrectangle tag from ink\n  size 2 x 3\n  loose'),
    Code("not-understood", "error", "A line is written in one of the forms of its first word.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3 by 2", "  size 3 x 2"),
    Code("line-incomplete", "error", "A line says all that its first word needs.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3 x", "  size 3 x 2"),
    Code("wrong-place", "error", "A line stands under the kind of line that it belongs to.",
         f"{_CARD}oval plate from ink on back\n  size 3 x 2\n{{}}\n", "  score 1 from left",
         "  stamp \"A star\""),
    Code("said-twice", "error", "A thing is said once; two lines that say it could disagree.",
         f"{_PLATE}{{}}\n", "  size 3 x 2 1/4", '  stamp "A star"'),
    Code("open-text", "error", "A text in quotes ends on its line, a block with a line of three quotes.",
         f"{_PLATE}{{}}\n", '  stamp "A star', '  stamp "A star"'),
    Code("merge-unfinished", "error", "A merge is finished: one version is kept, and no marks are left.",
         f"{_CARD}oval plate from ink on back\n{{}}\n",
         "<<<<<<< ours\n  size 3 x 2\n=======\n  size 3 x 2 1/4\n>>>>>>> theirs", "  size 3 x 2"),
    Code("tab-indent", "error", "Lines are indented with spaces, since a tab is as wide as an editor likes.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "\tsize 3 x 2", "  size 3 x 2"),
    Code("unseen-sign", "error",
         "A recipe has no control characters, and no signs that turn the letters after them round.",
         f"{_PLATE}{{}}\n", '  write "Thank you\u2069"', '  write "Thank you"'),
    Code("number-too-long", "error", "A number has at most 12 digits.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3.0000000000001 x 2", "  size 3 x 2"),
    Code("divided-by-zero", "error", "Nothing is divided by zero.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3/0 x 2", "  size 3/2 x 2"),
    Code("fraction-beyond-one", "error", "The fraction after a whole number is less than one.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 2 9/8 x 2", "  size 2 7/8 x 2"),
    Code("sum-too-long", "error", "A line has at most 200 operations; longer sums are named with `let`.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", f"  size {'1/128 + ' * 201}1 x 2",
         "  size 2 9/16 x 2"),
    Code("too-many-parentheses", "error", "A line has at most 64 parentheses.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", f"  size {'(' * 65}3{')' * 65} x 2",
         "  size (3) x 2"),
    Code("line-too-long", "error", "A line has at most 10,000 characters outside a text block.",
         f"{_PLATE}{{}}\n", f'  write "{"so " * 3400}long"', '  write "so long"'),
    Code("file-too-long", "error", "A file has at most 1,000,000 characters.",
         f"{_PLATE}{{}}", "# so long\n" * 100_000, "# so long\n"),
    # ---- names and kinds -------------------------------------------------------------------------
    Code("no-recipe", "error", "A file with pieces says which card they make.",
         f"{{}}{_INK}\nrectangle tag from ink\n  size 2 x 3\n  loose\n", "", 'recipe "A tag"\n\n'),
    Code("unknown-name", "error", "Every name that is used is the name of something.",
         f"{_CARD}{{}}\n", "panel message from ink on bakc", "panel message from ink on back"),
    Code("doubled-name", "error", "A name belongs to one thing of its kind.",
         f"{_PLATE}{{}}\n  diameter 1\n", "circle plate from ink on plate", "circle star from ink on plate"),
    Code("two-sections", "error", "A section's name that several pieces have is written with its piece.",
         f"{_CARD}base inner from ink\n  flat 9 x 6\n  score 2 from left\n"
         "  sections left-door, right-part\n\n{}\n",
         "panel door-paper from ink on left-door outside",
         "panel door-paper from ink on card.left-door outside"),
    Code("unknown-kind", "error", "A paper, a supply, a grain and a unit are of one of the known kinds.",
         f"{_PLATE}{{}}\n  stamp \"A star\" in coal\n",
         "supply coal is paint \"Coal black\"\ncircle star from ink on plate\n  diameter 1",
         "supply coal is ink \"Coal black\"\ncircle star from ink on plate\n  diameter 1"),
    Code("unknown-envelope", "error", "An envelope's name says which system it is of.",
         f'recipe "Evening walk"\n{{}}\n\n{_INK}\nbase card from ink\n'
         "  flat 8 1/2 x 5 1/2\n  score 4 1/4 from left\n",
         "  envelope a2", "  envelope us-a6"),
    Code("weight-kind", "error", "A weight in pounds says of which kind of paper it is.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'paper ink is cardstock "Ink blue" 12 x 12, 80 lb',
         'paper ink is cardstock "Ink blue" 12 x 12, 80 lb cover'),
    Code("not-a-color", "error", "A color is six hexadecimal digits after a #.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'paper ink is cardstock "Ink blue" 12 x 12, color "blue"',
         'paper ink is cardstock "Ink blue" 12 x 12, color "#22304a"'),
    Code("price-count", "error", "A paper has one price, or one for each of its sheet sizes.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'paper ink is cardstock "Ink blue" 12 x 12, price 0.40 or 0.75',
         'paper ink is cardstock "Ink blue" 8 1/2 x 11 or 12 x 12, price 0.40 or 0.75'),
    Code("not-a-count", "error", "What is counted is a whole number within reason.",
         f"{_PLATE}  loose\n{{}}\n", "  count 2 1/2", "  count 3"),
    Code("border-one", "error", "The recipe's default border is one length for all four edges.",
         f'recipe "Evening walk"\n{{}}\n\n{_INK}\n{_BASE}', "  border 1/8, 1/4 top", "  border 1/8"),
    Code("band-around", "error", "A band says which base it goes round, where there is not exactly one.",
         f"{_CARD}base inner from ink\n  flat 9 x 6\n  score 4 1/2 from left\n\n{{}}\n  width 1\n",
         "band sash from ink", "band sash from ink around inner"),
    Code("section-count", "error", "A piece has no more names of sections than sections.",
         f"{_HEAD}{_INK}\nbase card from ink\n  flat 10 x 7\n  score 5 from left\n{{}}\n",
         "  sections front, middle, back", "  sections front, back"),
    Code("too-many-pieces", "error", "A card has at most 2,000 pieces.",
         f"{_HEAD}{_INK}\n{{}}", "".join(f"rectangle tag-{n} from ink\n  size 1 x 1\n" for n in range(2_001)),
         "rectangle tag from ink\n  size 1 x 1\n  count 2000\n"),
    Code("host-cycle", "error", "No pieces stand on each other in a circle.",
         f"{_CARD}oval plate from ink on star\n  size 3 x 2\n{{}}\n  diameter 4\n",
         "circle star from ink on plate", "circle star from ink on back"),
    Code("structures-too-deep", "error", "Structures fold each other at most 16 deep.",
         f"{_HEAD}{_INK}\nstructure book-0\n  ask width, height\n  flat 2 * width x height\n"
         f"  score width from left\n{_BOOKS}\nbase card from ink\n{{}}\n",
         "  fold book-16, width 4, height 5", "  fold book-15, width 4, height 5"),
    Code("structure-cycle", "error", "A structure does not fold itself.",
         f"{_HEAD}{_INK}\nstructure book\n  ask width, height\n{{}}\n\n"
         "base card from ink\n  fold book, width 4, height 5\n",
         "  fold book, width width, height height", "  fold side-fold, width width, height height"),
    Code("too-many-folds", "error",
         "A base is folded by at most 100 structures, those within structures included.",
         f"{_HEAD}{_INK}\nstructure marked\n  ask depth = 1/4\n\n"
         "base card from ink\n  fold side-fold, width 4, height 5\n{}\n",
         "\n".join(f"  fold marked, depth {n}/16" for n in range(1, 101)), "  fold marked, depth 1/16"),
    Code("too-many-scores", "error", "A piece has at most 100 scores and slits, 24 of them slanted.",
         _STRIP, "  score every 1/8, 51 times from left\n  score every 1/16, 50 times from left",
         "  score every 1, 9 times from left, by turns"),
    Code("too-many-windows", "error", "A piece has at most 50 windows.",
         f"{_STRIP}", "  score 5 from left\n" + "\n".join(
             f"  window 1/16 x 1/16 at ({n}/8, 1)" for n in range(1, 52)),
         '  score 5 from left\n  die "lace"'),
    Code("cannot-set", "error", "A variant sets a size that its piece has.",
         f'{_PLATE}\nvariant "Large"\n{{}}\n', "  set plate.overlaps 1", "  set plate.width 4"),
    # ---- used files ------------------------------------------------------------------------------
    Code("use-missing", "error", "A used file stands beside the recipe or in a folder below, and is a text.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "paper.recipe"', 'use "papers.recipe"', (("papers.recipe", _INK),)),
    Code("use-outside", "error", "No file outside the recipe's folder is read.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "../papers.recipe"', 'use "papers.recipe"', (("papers.recipe",
         _INK),)),
    Code("use-name", "error", "The name of a used file is that of one file on every system.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "papers.recipe "', 'use "papers.recipe"',
         (("papers.recipe", _INK),)),
    Code("use-cycle", "error", "A file does not use itself in the end.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "round.recipe"', 'use "papers.recipe"',
         (("papers.recipe", _INK), ("round.recipe", f'use "round.recipe"\n{_INK}'))),
    Code("use-too-deep", "error", "A used file uses others at most 16 deep.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "shelf-0.recipe"', 'use "shelf-1.recipe"',
         (*_SHELVES, ("shelf-16.recipe", _INK))),
    Code("use-too-many", "error", "At most 50 files are used.",
         f"{_HEAD}{{}}\n{_BASE}", "".join(f'use "shelf-{n}.recipe"\n' for n in range(51)),
         'use "shelf-0.recipe"\n',
         tuple((f"shelf-{n}.recipe", _INK if n == 0 else f"let wide-{n} = {n}\n") for n in range(51))),
    Code("use-piece", "error", "A used file gives papers, supplies, structures and lets, and no pieces.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'use "tag.recipe"', 'use "papers.recipe"',
         (("papers.recipe", _INK), ("tag.recipe", f"{_INK}rectangle tag from ink\n  size 2 x 3\n"))),
    # ---- expressions -----------------------------------------------------------------------------
    Code("question-in-sum", "error", "`?` stands for a whole size and not in a sum.",
         f"{_CARD}panel message from ink on back\n{{}}\n", "  size ? + 1 x ?", "  size ? x ?"),
    Code("not-a-number", "error", "Degrees, counts and the like are bare numbers.",
         f"{_PLATE}{{}}\n", "  turned 45 in", "  turned 90"),
    Code("not-a-length", "error", "Where a length belongs, a number of times does not do.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3 in / 1 in x 2", "  size 3 in / 2 x 2"),
    Code("mixed-sum", "error", "Lengths are added to lengths.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 2 in + 2 in / 1 in x 2",
         "  size 2 in + 1 in x 2"),
    Code("area", "error", "A length times a length is an area.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3 in * 1 in x 2", "  size 3 in * 1 x 2"),
    Code("upside-down", "error", "A number divided by a length is no length.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 3 / 1 in x 2", "  size 3 in / 1 x 2"),
    Code("number-too-large", "error", "A number that is worked out has at most 4,096 bits (1,233 digits).",
         f"{_CARD}let many = {' * '.join(['999999999999'] * 60)}\n"
         "oval plate from ink on back\n{}\n",
         "  size many * many / many / many x 2", "  size 3 * many / many x 2"),
    Code("lets-too-deep", "error", "At most 64 `let`s stand behind one another.",
         f"{_CARD}let wide-0 = 1/16\n{{}}\noval plate from ink on back\n  size wide-64 x wide-64\n",
         "\n".join(f"let wide-{n} = wide-{n - 1} + 1/16" for n in range(1, 66)),
         "\n".join(f"let wide-{n} = {n + 1}/16" for n in range(1, 66))),
    Code("let-cycle", "error", "A `let` is not defined by itself.",
         f"{_CARD}let wide = tall + 1\n{{}}\noval plate from ink on back\n  size wide x tall\n",
         "let tall = wide - 1", "let tall = 2"),
    # ---- sizes -----------------------------------------------------------------------------------
    Code("conflict", "error", "No two statements about the sizes contradict each other.",
         f"{_CARD}panel message from ink on back\n  border 1/8\n{{}}\n", "  size 4 x ?", "  size ? x ?"),
    Code("unsolved", "error", "Every size is written or follows from what is written.",
         f"{_CARD}{{}}\n", "oval plate from ink on back", "oval plate from ink on back\n  size 3 x 2"),
    Code("size-not-positive", "error", "Every size is more than nothing.",
         f"{_CARD}oval plate from ink on back\n{{}}\n", "  size 2 - 3 x 2", "  size 3 - 2 x 2"),
    Code("border-leaves-nothing", "error", "A border leaves something of the panel inside it.",
         f"{_CARD}panel message from ink on back\n{{}}\n", "  border 3", "  border 1"),
    Code("corners-too-round", "error", "Round corners leave room for each other.",
         f"{_CARD}rectangle plate from ink on back\n  size 3 x 2\n{{}}\n",
         "  corners round 2", "  corners round 1/2"),
    Code("middle-too-long", "error", "The middle that is embossed lies within its piece.",
         f"{_CARD}band sash from ink around card\n  width 1\n{{}}\n", '  emboss "ripple" on middle 30',
         '  emboss "ripple" on middle 3'),
    Code("score-off-sheet", "error", "A score lies on its piece and not at or beyond an edge.",
         f"{_STRIP}", "  score 11 from left", "  score 5 from left"),
    Code("window-off-sheet", "error", "A window opens something of its piece.",
         f"{_STRIP}  score 5 from left\n", "  window 2 x 1 at (11, 1)", "  window 2 x 1 at (1, 1)"),
    Code("score-twice", "error", "No two scores lie in one place.",
         f"{_STRIP}", "  score 5 from both sides", "  score 5 from left"),
    Code("overhang", "warning", "A piece larger than what it lies on says `overhangs`.",
         f"{_CARD}panel message from ink on back\n  size 6 x 4\n  loose{{}}\n", "", "\n  overhangs"),
    Code("band-off-card", "error", "A band lies on its card, measured across the way that it goes.",
         f"{_CARD}band sash from ink around card\n  width 1\n{{}}\n", "  at 8 from top", "  at 3 from top"),
    Code("copies-overlap", "warning", "Copies in a row have room beside each other.",
         f"{_CARD}panel tile from ink on back\n  size 2 x 6 3/4\n{{}}\n", "  repeat 3 across",
         "  repeat 2 across"),
    Code("off-grid", "warning", "A solved size lies on a mark of the maker's ruler.",
         f"{_CARD}panel message from ink on back\n{{}}\n", "  size 4 1/3 x 5", "  size 4 1/4 x 5"),
    Code("border-not-equal", "warning", "A panel that fills its section shows one border on all edges.",
         f"{_CARD}panel message from ink on back\n{{}}\n", "  size ? x 6", "  size 4 x 6"),
    # ---- folding ---------------------------------------------------------------------------------
    Code("cannot-fold", "error", "A base can be folded flat without a section passing through another.",
         f"{_STRIP}", "  score 4, 6 from left", "  score 3 1/2, 7 from left"),
    Code("too-many-sections", "error",
         "A base, with the panels that are folded with it, has at most 120 sections.",
         f"{_STRIP}", "  score every 1/2, 10 times from left\n  score every 1/4, 10 times from top",
         "  score every 1, 9 times from left, by turns"),
    Code("cannot-tell", "error", "A base is simple enough to tell within bounds whether it folds.",
         f"{_STRIP}", NO_EXAMPLE, "  score 4 from left"),
    Code("score-dangles", "error", "A score runs from edge to edge, or to where another line stops it.",
         f"{_STRIP}", "  score 5 from left, between 1 and 3", "  score 5 from left"),
    Code("section-loose", "error", "Every section hangs on the rest of its base by a score.",
         f"{_STRIP}", "  cut 5 from left",
         "  cut 5 from left, between 1 and 3\n  score 5 from left"),
    Code("doors-overlap", "warning", "Doors that close from both sides meet edge to edge and do not overlap.",
         f"{_STRIP}", "  score 2 3/4 from both sides", "  score 2 1/2 from both sides"),
    Code("doors-gape", "warning", "Doors that close from both sides meet edge to edge and do not gape.",
         f"{_STRIP}", "  score 2 3/8 from both sides", "  score 2 1/2 from both sides"),
    Code("rolled-too-wide", "warning",
         "A section that is rolled in is a little narrower than what it is rolled into.",
         f"{_HEAD}{_INK}\nbase card from ink\n{{}}\n",
         "  flat 9 x 4\n  score 3, 6 from left", "  flat 8 7/8 x 4\n  score 3, 6 from left"),
    Code("score-across-grain", "warning", "Heavy card is scored along its grain.",
         f"{_HEAD}{{}}\n\nbase card from ink\n  flat 10 x 7\n  score 5 from left\n",
         'paper ink is cardstock "Ink blue" 8 1/2 x 11, 270 gsm, grain long',
         'paper ink is cardstock "Ink blue" 8 1/2 x 11, 270 gsm, grain short'),
    Code("glue-locks", "error", "Glue never holds together what must move; no piece lies in a fold's way.",
         f"{_CARD}oval plate from ink on left-door outside\n  size 3 x 2\n  place 1 from left\n"
         "  overhangs\n{}\n", "  glue all over", "  glue with tape only on left-door"),
    Code("glue-nowhere", "error", "A glued piece lies on what it is glued to.",
         f"{_PLATE}{{}}\n", "  glue with tape only on left-door", "  glue with tape only on back"),
    Code("slider-shut-in", "error", "What is loose under something glued can be drawn out on one side.",
         f"{_POUCH}{{}}\npanel slip from ink on pouch\n  size 3 x 2\n  loose\n",
         "  glue along left, bottom, right, top", "  glue along left, bottom, right"),
    Code("slider-too-wide", "error", "What slides in a sleeve is narrower than the sleeve.",
         f"{_HEAD}{_INK}\nbase card from ink\n  fold slider-pocket, width 4, height 5\n\n"
         "panel slip from ink on back\n{}\n  loose\n", "  size 4 x 5", "  size 3 3/4 x 4 3/4"),
    Code("slider-catches", "warning", "Nothing on foam has to pass under the edge of a pocket.",
         f"{_POUCH}  glue along left, bottom, right\npanel slip from ink on pouch\n  size 3 x 2\n  loose\n"
         "square star from ink on slip\n  size 1 x 1\n{}\n",
         "  glue with foam 2 mm thick", "  glue with tape"),
    Code("slider-glued", "warning", "What lies in a pocket, clear of its glue, is loose.",
         f"{_CARD}panel slip from ink on back\n  size 3 x 2\n{{}}"
         "panel pouch from ink on back\n  size 4 x 3\n  glue along left, bottom, right\n", "", "  loose\n"),
    Code("glued-to-itself", "error", "A section is glued to another part of the card.",
         f"{_HEAD}{_INK}\nbase card from ink\n  flat 9 x 5\n  score 4, 8 from left\n"
         "  sections front, back, tab\n{}\n", "  glue tab on tab", "  glue tab on front"),
    Code("no-such-score", "error", "A pose holds scores that its piece has.",
         f"{_CARD}pose standing\n{{}}\n", "  fold 3 at 60", "  fold 2 at 60"),
    Code("pose-angle", "error",
         "A score is held at 0 to 180 degrees, and in `closed` at one of these two.",
         f"{_CARD}pose standing\n{{}}\n", "  fold 2 at 200", "  fold 2 at 160"),
    Code("pose-torn", "error", "The angles of a pose can all be held at once, round every ring of sections.",
         f"{_HEAD}{_INK}\nbase card from ink\n  fold box-pop-up, width 4, height 5\n\n"
         "pose standing\n  fold 1 at 90\n{}\n", "  fold 3 at 45", "  fold 3 at 90"),
    Code("fold-order", "error", "The scores of the pose `closed` can be folded in the order of its lines.",
         f"{_HEAD}{_INK}\nbase card from ink\n  flat 11 x 4\n  score 5, 8 1/2 from left\n\n"
         "pose closed\n{}\n",
         "  fold 1 at 180\n  fold 2 at 180", "  fold 2 at 180\n  fold 1 at 180"),
    # ---- making ----------------------------------------------------------------------------------
    Code("no-sheet-holds", "error", "Every piece can be cut from one sheet of its paper.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'paper ink is cardstock "Ink blue" 8 x 8',
         'paper ink is cardstock "Ink blue" 8 x 11'),
    Code("sheet-nearly-full", "warning",
         "Sheets that are not used up wholly have a twentieth of one left for a slip.",
         f'{_HEAD}paper ink is cardstock "Ink" 8 1/2 x 11\n\nbase card from ink\n{{}}\n  score 5 from left\n',
         "  flat 10 3/4 x 8 3/8", "  flat 10 x 8"),
    Code("one-way-turned", "warning", "A pattern that must stay upright is not cut turned.",
         f"{_HEAD}{{}}\n\n{_BASE}", 'paper ink is patterned "Ink rain" 8 x 11, one-way',
         'paper ink is patterned "Ink rain" 12 x 12, one-way'),
    Code("unused-paper", "warning", "Every declared paper is used.",
         f"{_CARD}{{}}\n", 'paper coral is cardstock "Coral"',
         'paper coral is cardstock "Coral"\npanel message from coral on back'),
    Code("unused-supply", "warning", "Every declared supply is used.",
         f'{_PLATE}{{}}\nsupply coal is ink "Coal black"\n', '  stamp "A star"', '  stamp "A star" in coal'),
    Code("no-pieces", "warning", "A recipe makes something.",
         f"{_HEAD}{_INK}{{}}\n", "", "base card from ink\n  flat 10 x 7"),
    Code("mat-on-nothing", "warning", "A mat lies under a piece that is put on something.",
         f"{_CARD}band sash from ink around card\n  width 1\n\n{{}}\n  size 2 x 1\n",
         "panel label from ink under sash", "panel label from ink on sash"),
    Code("band-overlap-short", "warning", "The ends of a band overlap by 3/8 in (10 mm) or more.",
         f"{_CARD}band sash from ink around card\n  width 1\n{{}}\n", "  overlap 1/4", "  overlap 1/2"),
    Code("band-too-short", "error", "A band goes all round its card.",
         f"{_CARD}band sash from ink around card\n  width 1\n{{}}\n", "  length 6", "  overlap 1/2"),
    Code("work-too-late", "warning", "Work on a piece can be done in the order in which it is written.",
         f"{_PLATE}{{}}\n", '  emboss "ripple"\n  stamp "A star"', '  stamp "A star"\n  emboss "ripple"'),
    Code("envelope-too-small", "error", "The closed card goes into the envelope that the recipe names.",
         f'recipe "Evening walk"\n{{}}\n\n{_INK}\n{_BASE}', "  envelope us-a2", "  envelope us-a8"),
    Code("envelope-tight", "warning", "An envelope leaves 1/8 in (3 mm) beyond the thickness of the card.",
         f'recipe "Evening walk"\n{{}}\n\n{_INK}\nbase card from ink\n'
         "  flat 8 1/2 x 5 1/2\n  score 4 1/4 from left\n",
         "  envelope us-a2", "  envelope us-a6"),
    Code("post-too-thick", "warning", "The card in its envelope is no thicker than a letter may be.",
         f"{_HEAD}{_INK}\nbase card from ink\n"
         "  flat 10 x 6\n  score 5 from left\n  sections front, back\n\n"
         "rectangle plate from ink on front outside\n  size 2 x 3\n{}\n",
         "  glue with foam 6 mm thick", "  glue with foam 1 mm thick"),
    Code("post-square", "warning", "A square letter is no ordinary letter with some carriers.",
         f'recipe "Evening walk"\n{{}}\n\n{_INK}\nbase card from ink\n'
         "  flat 11 x 5 1/4\n  score 5 1/2 from left\n",
         "  envelope square-6in", "  envelope us-a9"),
    # ---- classes -------------------------------------------------------------------------------
    Code("class-empty", "error", "A class makes something.",
         _BENCH, "  spare 1", '  make 3 of "tag.recipe"', _TAGS),
    Code("class-alone", "error", "A class stands in a file of its own; what it makes stands in others.",
         'class "Saturday bench"\n  make 3 of "tag.recipe"\n{}', 'recipe "Evening walk"\n', "", _TAGS),
    Code("class-cycle", "error", "A class makes recipes, and neither itself nor another class.",
         _BENCH, '  make 3 of "bench.recipe"', '  make 3 of "tag.recipe"',
         (*_TAGS, ("bench.recipe", 'class "Bench"\n  make 3 of "tag.recipe"\n'))),
    Code("class-too-large", "error", "A class makes at most 10,000 kits, of at most 2,000 pieces.",
         _BENCH, '  make 6000 of "tag.recipe"\n  make 6000 of "other.recipe"',
         '  make 60 of "tag.recipe"\n  make 60 of "other.recipe"', _TAGS),
    Code("make-broken", "error", "A recipe that a class makes has no errors of its own.",
         _BENCH, '  make 3 of "torn.recipe"', '  make 3 of "tag.recipe"',
         (*_TAGS, ("torn.recipe", _TAG.replace("2 x 3", "2 x")))),
    Code("make-no-card", "error", "A class makes recipes that have pieces.",
         _BENCH, '  make 3 of "papers.recipe"', '  make 3 of "tag.recipe"',
         (*_TAGS, ("papers.recipe", _INK))),
    Code("have-count", "error", "Of a paper it is said how many sheets there are; a supply is there or not.",
         'class "Saturday bench"\n  make 3 of "tag.recipe"\n{}\n', "  have ink", "  have ink 3 sheets",
         _TAGS),
    Code("have-two-papers", "error",
         "A name that is two papers in the recipes of a class is told apart by its title.",
         'class "Saturday bench"\n  make 3 of "tag.recipe"\n  make 3 of "other.recipe"\n{}\n',
         "  have ink 3 sheets", '  have "Ink black" 3 sheets', _TAGS),
    Code("have-unused", "warning", "What there is for a class is needed in it.",
         'use "shelf.recipe"\nclass "Saturday bench"\n  make 3 of "tag.recipe"\n{}\n',
         "  have moss 3 sheets", "  have ink 3 sheets",
         (*_TAGS, ("shelf.recipe", f'{_INK}paper moss is cardstock "Moss" 12 x 12\n'))),
)  # fmt: skip
