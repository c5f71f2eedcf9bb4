"""Every statement of the language parses to the node that it says; numbers, texts and places of words."""

import pytest

from cardrecipe.syntax import tree
from cardrecipe.syntax.record import Record
from cardrecipe.syntax.spans import Span
from tests.recipes import NAME, ROOT, mistakes_of_form, node_of, parsed, shown

TOP = [
    ('recipe "Night market"', "Recipe('Night market')"),
    ('use "papers.recipe"', "Use('papers.recipe')"),
    ("let reveal = 1/16", "Let(reveal, 1/16)"),
    ('paper ink is cardstock "Ink"', "PaperLine(ink, PaperFacts(cardstock, 'Ink'))"),
    ('paper ink is cardstock "Ink", 12 x 12', "PaperLine(ink, PaperFacts(cardstock, 'Ink', sizes=[12 x "
                                              "12]))"),
    ('paper a is plain "A" 8 1/2 x 11 or 12 x 12, price 0.40 or 0.75',
     "PaperLine(a, PaperFacts(plain, 'A', sizes=[8 1/2 x 11, 12 x 12], prices=[2/5, 3/4]))"),
    ('paper a is vellum "A", 270 gsm, grain long, one-way, color "#22304a", pack of 20',
     "PaperLine(a, PaperFacts(vellum, 'A', weight=WeightFact(270, gsm, None), grain=long, one_way=True, "
     "color='#22304a', pack=20))"),
    ('paper a is acetate "A", 80 lb cover, thick 0.3 mm',
     "PaperLine(a, PaperFacts(acetate, 'A', weight=WeightFact(80, lb, cover), thick=3/10 mm))"),
    ('supply coal is ink "Coal"', "SupplyLine(coal, ink, 'Coal')"),
    ("base card from ink", "PieceHeader(base, card, paper=ink)"),
    ("base card", "PieceHeader(base, card)"),
    ("panel a from b on c", "PieceHeader(panel, a, paper=b, hosts=[Host(c, None)])"),
    ("panel a on c outside, d.e inside",
     "PieceHeader(panel, a, hosts=[Host(c, outside), Host(d.e, inside)])"),
    ("panel mat from coral under message", "PieceHeader(panel, mat, paper=coral, under=message)"),
    ("band sash from ink around card", "PieceHeader(band, sash, paper=ink, around=card)"),
    ("band sash around card downward", "PieceHeader(band, sash, around=card, downward=True)"),
    *((f"{shape} a from b on c", f"PieceHeader({shape}, a, paper=b, hosts=[Host(c, None)])")
      for shape in ("circle", "oval", "square", "rectangle", "banner", "tag", "cutout")),
    ('tip on message "Dry."', "Tip(message, 'Dry.')"),
    ('step after a.b "Wait."', "StepLine(after, a.b, 'Wait.')"),
    ('step before a "Wait."', "StepLine(before, a, 'Wait.')"),
    ("pose standing", "PoseLine(standing)"),
    ("structure double-gate", "Structure(double-gate)"),
    ('variant "Harvest"', "Variant('Harvest')"),
    ('class "Saturday bench"', "ClassHead('Saturday bench')"),
]  # fmt: skip
UNDER = [
    ('recipe "A"', "units inch nearest 1/16", "Units(inch, 1/16)"),
    ('recipe "A"', "units mm", "Units(mm, None)"),
    ('recipe "A"', "border 1/8", "Border([BorderEntry(1/8, [])])"),
    ('recipe "A"', "makes 3", "Amount(makes, 3)"),
    ('recipe "A"', "envelope us-a2", "EnvelopeWanted(us-a2)"),
    ('recipe "A"', 'about "B"', "About('B')"),
    ("base a", "flat 10 x 7", "Flat(10 x 7)"),
    ("base a", "flat 10×7", "Flat(10 x 7)"),
    ("base a", "flat ? x ?", "Flat(? x ?)"),
    ("base a", "score 1, 2 from left", "LineAcross(score, [1, 2], [left], None, None)"),
    ("base a", "score 1 from both sides, mountain", "LineAcross(score, [1], [left, right], mountain, None)"),
    ("base a", "cut 1 from top and bottom between 2 and 3",
     "LineAcross(cut, [1], [top, bottom], None, [2, 3])"),
    ("base a", "score 1 from right valley, between 2 and 3",
     "LineAcross(score, [1], [right], valley, [2, 3])"),
    ("base a", "score every w, n - 1 times from left, by turns",
     "LineAcross(score, [w], [left], by turns, None, times=(n - 1))"),
    ("base a", "score from (0, 1) to (2, 3), mountain",
     "LineSlanted(score, Point(0, 1), Point(2, 3), mountain, None)"),
    ("base a", "cut from (0, 1) to (2, 3)", "LineSlanted(cut, Point(0, 1), Point(2, 3), None, None)"),
    ("base a", "window 1 x 2 at (3, 4)", "Window(1 x 2, Point(3, 4))"),
    ("base a", "corners round 1/4", "Corners(1/4)"),
    ("base a", "sections left, x, top", "Sections([left, x, top])"),
    ("base a", "fold gate, width 5, flap ?", "Fold(gate, [Argument(width, 5), Argument(flap, ?)])"),
    ("base a", "fold gate", "Fold(gate, [])"),
    ("panel a", "size 3 x ?", "SizeLine(3 x ?)"),
    ("panel a", "border 1/8, 1/4 top", "Border([BorderEntry(1/8, []), BorderEntry(1/4, [top])])"),
    ("panel a", "border 1/4 left right", "Border([BorderEntry(1/4, [left, right])])"),
    ("panel a", "place 1/4 from left, 1/2 from top", "Place([FromEdge(1/4, left), FromEdge(1/2, top)])"),
    ("panel a", "turned 45", "Measure(turned, 45)"),
    ("panel a", "repeat 3 across, gap 1/8", "Repeat(3, across, 1/8)"),
    ("panel a", "repeat 3 down", "Repeat(3, down, None)"),
    ("panel a", "overhangs", "Flag(overhangs)"),
    ("panel a", "loose", "Flag(loose)"),
    ("panel a", "count 4", "Amount(count, 4)"),
    ("circle a", "diameter 2", "Measure(diameter, 2)"),
    ("band a", "width 1 1/2", "Measure(width, 1 1/2)"),
    ("band a", "length 11", "Measure(length, 11)"),
    ("band a", "overlap ?", "Measure(overlap, ?)"),
    ("band a", "at 2 from top", "At(FromEdge(2, top))"),
    ("panel a", 'stamp "B"', "WorkLine(stamp, text='B')"),
    ("panel a", 'stamp "B" in c, d', "WorkLine(stamp, text='B', using=[c, d])"),
    ("panel a", 'emboss "B" on middle 5', "WorkLine(emboss, text='B', middle=5)"),
    ("panel a", "color with b, c", "WorkLine(color, using=[b, c])"),
    ("panel a", 'die "B"', "WorkLine(die, text='B')"),
    ("panel a", 'punch "B"', "WorkLine(punch, text='B')"),
    ("panel a", "trim by hand", "WorkLine(trim)"),
    ("panel a", 'foil "B"', "WorkLine(foil, text='B')"),
    ("panel a", "ink edges with coal", "WorkLine(ink-edges, using=[coal])"),
    ("panel a", 'write "B"', "WorkLine(write, text='B')"),
    ("panel a", 'add ribbon "B" 8 long', "WorkLine(add, text='B', item=ribbon, long=8)"),
    ("panel a", "add gem", "WorkLine(add, item=gem)"),
    ("panel a", 'do "B"', "WorkLine(do, text='B')"),
    ("panel a", "glue with tape", "GlueLine(adhesive=tape)"),
    ("panel a", "glue with foam 2 mm thick only on b.c",
     "GlueLine(adhesive=foam, thick=2 mm, only_on=b.c)"),
    ("panel a", "glue all over", "GlueLine(all_over=True)"),
    ("panel a", "glue along left, bottom", "GlueLine(along=[left, bottom])"),
    ("panel a", 'tip "B"', "Tip(None, 'B')"),
    ("pose a", "fold 2 at 60", "FoldPose(2, None, 60)"),
    ("pose a", "fold 2 of b at 60", "FoldPose(2, b, 60)"),
    ("structure a", "ask width, flap = width / 4", "Ask([Asked(width, None), Asked(flap, (width / 4))])"),
    ('variant "A"', 'replace b with plain "C"', "Replace(b, PaperFacts(plain, 'C'))"),
    ('variant "A"', "set b.c 3 1/4", "Set(b.c, 3 1/4)"),
    ('variant "A"', "set b 3", "Set(b, 3)"),
    ('variant "A"', "set a.b.c d", "Set(a.b.c, d)"),
    ('variant "A"', "drop b", "Drop(b)"),
    ('class "A"', 'make 12 of "b.recipe"', "Make(12, 'b.recipe', None)"),
    ('class "A"', 'make 12 of "b.recipe" variant "C"', "Make(12, 'b.recipe', 'C')"),
    ('class "A"', 'make 12 of "b.recipe", 1 spare', "Make(12, 'b.recipe', None, spare=1)"),
    ('class "A"', 'make 12 of "b.recipe" variant "C", 2 spare', "Make(12, 'b.recipe', 'C', spare=2)"),
    ('class "A"', "spare 2", "Amount(spare, 2)"),
    ('class "A"', "units mm nearest 1", "Units(mm, 1)"),
    ('class "A"', 'about "B"', "About('B')"),
    ('class "A"', "have ink 3 sheets", "Have(ink, number=3)"),
    ('class "A"', "have ink 1 sheet", "Have(ink, number=1)"),
    ('class "A"', "have ink 2 sheets 6 x 11", "Have(ink, number=2, size=6 x 11)"),
    ('class "A"', 'have "Ink blue" 2 sheets', "Have('Ink blue', number=2)"),
    ('class "A"', "have coal", "Have(coal)"),
]  # fmt: skip
NUMBERS = [
    ("5", "5"), ("5.5", "5 1/2"), ("11/2", "5 1/2"), ("5 1/2", "5 1/2"), ("5½", "5 1/2"), ("5 ½", "5 1/2"),
    ("½", "1/2"), ("⅞", "7/8"), ("12⅔", "12 2/3"), ("0.40", "2/5"), ("2 mm", "2 mm"), ("2mm", "2 mm"),
    ("1.5 cm", "1 1/2 cm"), ("5 1/2 in", "5 1/2 in"), ("5\t1/2", "5 1/2"), ("000000000001", "1"),
    ("?", "?"), ("(5)", "5"), ("-5", "Negative(5)"), ("--5", "Negative(Negative(5))"),
]  # fmt: skip
EXPRESSIONS = [
    ("a - b", "(a - b)"), ("a-b", "a-b"), ("a - -b", "(a - Negative(b))"), ("1 + 2 * 3", "(1 + (2 * 3))"),
    ("8 - 2 - 1", "((8 - 2) - 1)"), ("8 / 2 / 2", "((8 / 2) / 2)"), ("(1 + 2) * 3", "((1 + 2) * 3)"),
    ("2 * back.width", "(2 * back.width)"), ("a.b.c", "a.b.c"), ("min(a, 2)", "Call(min, [a, 2])"),
    ("max (a, b, c)", "Call(max, [a, b, c])"), ("-a * b", "(Negative(a) * b)"),
    ("width / 4", "(width / 4)"), ("1/4 / 2", "(1/4 / 2)"), ("1 / 4", "(1 / 4)"), ("in-set", "in-set"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "node"), TOP)
def test_lines_at_the_left_edge(line: str, node: str) -> None:
    assert node_of(line) == node


@pytest.mark.parametrize(("under", "line", "node"), UNDER)
def test_lines_of_a_block(under: str, line: str, node: str) -> None:
    assert node_of(line, under) == node


@pytest.mark.parametrize(("text", "value"), NUMBERS + EXPRESSIONS)
def test_numbers_and_sums(text: str, value: str) -> None:
    assert node_of(f"let a = {text}") == f"Let(a, {value})"


@pytest.mark.parametrize("text", [
    "1.", ".5", "1e3", "1_000", "１", "٣", "0x10", "1//2", "5 1/2 1/2", "1½½", "mm", "2 mm mm", "2 inches",
    "5,5", "1 2", "a b", "a - ", "min()", "min(1", "Infinity +", "+5", "½ 1",
])  # fmt: skip
def test_what_is_no_number_is_refused(text: str) -> None:
    codes = mistakes_of_form(f"let a = {text}\n")
    assert (list(codes), len(codes.get(1, []))) == ([1], 1) or text in ("mm",), codes


def test_a_unit_word_alone_is_a_name() -> None:
    assert node_of("let a = mm") == "Let(a, mm)"


# ---- texts, comments, line ends ------------------------------------------------------------------


@pytest.mark.parametrize(("line", "node"), [
    ('do "No. # 5"  # a comment', "WorkLine(do, text='No. # 5')"),
    ("loose# close to it", "Flag(loose)"),
    ("loose   ", "Flag(loose)"),
    ('do ""', "WorkLine(do, text='')"),
    ('do "×½ – “curly”"', "WorkLine(do, text='×½ – “curly”')"),
    ('do """one line"""', "WorkLine(do, text='one line')"),
    ('do """\n    A first line,\n      indented;\n\n    # no comment, "quotes".\n  """  # a comment',
     "WorkLine(do, text='A first line,\\n  indented;\\n\\n# no comment, \"quotes\".')"),
])  # fmt: skip
def test_texts_and_comments(line: str, node: str) -> None:
    assert node_of(line, "panel a") == node


def test_line_ends_of_all_kinds_give_the_same_tree() -> None:
    text = 'recipe "A"\n  about """\n  One\n  two\n  """\n\npanel a # b\n  size 3 x 4\n'
    kinds = [text, text.replace("\n", "\r\n"), text.removesuffix("\n"), text + "\n\n# end", text + "   \n \n"]
    trees = [parsed(each) for each in kinds]
    assert not any(diagnostics for _, diagnostics in trees)
    shown_trees = [[_outline(each) for each in found.statements] for found, _ in trees]
    assert shown_trees == [shown_trees[0]] * len(kinds)


def _outline(statement: tree.Statement) -> object:
    return [shown(statement.node), *map(_outline, statement.block)]


def test_deeper_lines_belong_to_the_nearest_line_above_that_is_less_deep() -> None:
    found, diagnostics = parsed("panel a\n    size 3 x 4\n    loose\n# note\n\nbase b\n flat 1 x 2\n")
    assert not diagnostics
    assert [[line.word for line in each.block] for each in found.statements] == [["size", "loose"], ["flat"]]


def test_a_tab_in_the_indentation_is_a_mistake_and_elsewhere_is_space() -> None:
    assert mistakes_of_form("panel a\n\tloose\n  size\t3 x\t4\n \t\n\t# note\n") == {2: ["tab-indent"]}


def test_an_empty_file_is_no_mistake_of_form() -> None:
    for text in ("", "\n", "# nothing", "   "):
        assert parsed(text) == (tree.Tree(NAME, ()), [])


# ---- places of words -----------------------------------------------------------------------------


def test_spans_stand_at_their_words() -> None:
    text = (
        'paper ink is cardstock "Ink é" 12 x 12, 80 lb cover, price 1/2  # note\n'
        "panel a from ink on left outside, b.c\n"
        "  size min(a, 2) x 3 1/2 in\n  border 1/8, 1/4 top\n  place 1/4 from left\n"
        '  stamp "Gull" in coal\n  glue with foam 2 mm thick only on b.c\n'
        'tip on a "Dry."\n'
    )  # fmt: skip
    found, diagnostics = parsed(text)
    assert not diagnostics
    words = [text[span.start : span.end] for span in _spans(found)]
    for expected in (
        'paper ink is cardstock "Ink é" 12 x 12, 80 lb cover, price 1/2', 'cardstock "Ink é"', "12 x 12",
        "80 lb cover", "cover", "ink", "left", "b.c", "min(a, 2", "3 1/2 in", "1/4", "2 mm", '"Gull"', "coal",
        '"Dry."',
    ):  # fmt: skip
        assert expected in words, (expected, words)
    assert all(word == word.strip() and word for word in words)
    inner = [(each.span, line.span) for each in found.statements for line in each.block]
    assert all(outer.end <= line.start for outer, line in inner)


def _spans(value: object) -> list[Span]:
    if isinstance(value, Span):
        return [value]
    if isinstance(value, Record):
        value = tuple(getattr(value, name) for name in value._fields)
    if isinstance(value, tuple):
        return [span for each in value for span in _spans(each)]
    return []


# ---- limits at n and n + 1 -----------------------------------------------------------------------


@pytest.mark.parametrize(("right", "wrong", "code"), [
    ("let a = " + "1" * 12, "let a = " + "1" * 13, "number-too-long"),
    ("let a = 2 7/8", "let a = 2 8/8", "fraction-beyond-one"),
    ("let a = 9/8", "let a = 0 9/8", "fraction-beyond-one"),
    ("let a = 1" + " + 1" * 200, "let a = 1" + " + 1" * 201, "sum-too-long"),
    ("let a = " + "-" * 200 + "1", "let a = " + "-" * 201 + "1", "sum-too-long"),
    ("let a = " + "(" * 64 + "1" + ")" * 64, "let a = " + "(" * 65 + "1" + ")" * 65, "too-many-parentheses"),
    ('variant "' + "a" * 9_990 + '"', 'variant "' + "a" * 9_991 + '"', "line-too-long"),
    ("# a\n" * 250_000, "# a\n" * 250_000 + "\n", "file-too-long"),
], ids=lambda value: value[:12])  # fmt: skip
def test_limits(right: str, wrong: str, code: str) -> None:
    assert mistakes_of_form(right) == {}
    assert mistakes_of_form(wrong) == {1: [code]}


def test_a_long_text_block_is_no_long_line() -> None:
    assert mistakes_of_form('recipe "A"\n  about """\n' + "a" * 20_000 + '\n  """\n') == {}


def test_the_language_page_lists_no_form_that_does_not_parse() -> None:
    """Every line in the code blocks of the language page that is a statement parses."""
    page = ROOT / "grammar" / "language.md"
    if not page.exists():
        pytest.skip("no language page in this tree")
    blocks = page.read_text(encoding="utf-8").split("```")[1::2]
    for block in blocks:
        first = block.split("\n", 1)[0]
        if first in ("", "recipe"):
            text = block.split("\n", 1)[1]
            assert not [code for codes in mistakes_of_form(text).values() for code in codes
                        if code != "wrong-place"], text  # fmt: skip
