"""What is shown beside the lines of a recipe, written into the text as `«…»`."""

from cardrecipe.editor.telling.values import values
from cardrecipe.syntax.spans import Span
from tests.editor.marked import samples, snapshot, texts_by_chance
from tests.recipes import HEAD, METRIC, NAME


def shown(text: str, files: dict[str, str] | None = None) -> str:
    for value in reversed(values(snapshot(text, files))):
        text = f"{text[: value.offset]}«{value.text}»{text[value.offset :]}"
    return text


def lines(text: str, files: dict[str, str] | None = None) -> list[str]:
    return [line.strip() for line in shown(text, files).split("\n") if "«" in line]


def test_each_question_mark_has_its_value() -> None:
    text = HEAD + ("base card from ink\n  flat ? x 5\n  score ? from left\n  sections front, back\n"
                   "panel a from ink on front\n  size 3 3/4 x ?\n"
                   "panel b from ink on back\n  size 4 x ?\n  border ? left\n")  # fmt: skip
    assert lines(text) == ["flat ?«8 1/4 in» x 5", "score ?«4 in» from left", "size 3 3/4 x ?«4 3/4 in»",
                           "size 4 x ?«4 3/4 in»", "border ?«1/8 in» left"]  # fmt: skip


def test_pieces_without_a_size_have_theirs_beside_them() -> None:
    text = HEAD + ("base card from ink\n  fold double-gate, width 5, height 7, flap ?\n"
                   "panel doors from ink on left-door outside, right-door outside\n"
                   "panel parts from ink on left-flap, back\n"
                   "band sash from ink around card\n  width 1 1/2\n")  # fmt: skip
    assert lines(text) == [
        "base card from ink«12 1/2 x 7 in»", "fold double-gate, width 5, height 7, flap ?«1 1/4 in»",
        "panel doors from ink on left-door outside, right-door outside«2 1/4 x 6 3/4 in»",
        "panel parts from ink on left-flap, back«1 x 6 3/4 in on left-flap, 4 3/4 x 6 3/4 in on back»",
        "band sash from ink around card«10 11/16 in long»",
    ]  # fmt: skip


def test_what_is_written_out_has_nothing_and_what_is_a_sum_has_its_value() -> None:
    text = HEAD + ("let a = 1/8\nlet b = a + 1/16\nlet times = 2 * 3\n"
                   "base card from ink\n  flat 8 x 2 * 2 1/2\n"
                   "  score 4 from left\n  sections front, back\n"
                   "oval plate from ink on front\n  size 2 x 1\n"
                   "circle dot from ink on plate\n  diameter plate.width / 4\n")  # fmt: skip
    assert lines(text) == ["let b = a + 1/16«= 3/16»", "let times = 2 * 3«= 6»",
                           "flat 8 x 2 * 2 1/2«= 8 x 5 in»",
                           "diameter plate.width / 4«= 1/2 in»"]  # fmt: skip


def test_a_variant_shows_its_own_values() -> None:
    text = METRIC + ("base card from ink\n  fold side-fold, width 100, height 150\n"
                     'panel a from ink on front\nvariant "Wide"\n  set a.border 5\n  set card.width 110\n'
                     "  panel mat from ink under a\n    border 2.5\n")  # fmt: skip
    assert lines(text) == ["base card from ink«200 x 150 mm»", "panel a from ink on front«94 x 144 mm»",
                           "set a.border 5«100 x 140 mm»",
                           "panel mat from ink under a«105 x 145 mm»"]  # fmt: skip


def test_a_variant_may_leave_a_size_open() -> None:
    text = HEAD + ("base card from ink\n  fold side-fold, width 4, height 5\n"
                   "panel a from ink on front\n  size 3 x 4\n"
                   'variant "Free"\n  set a.width ?\n  set card.height 4 1/4\n'
                   'variant "From the panel"\n  set card.width ?\n')  # fmt: skip
    shown_there = ["base card from ink«8 x 5 in»", "set a.width ?«3 3/4 in»", "set card.width ?«3 1/4 in»"]
    assert lines(text) == shown_there


def test_the_tooltip_is_the_sum() -> None:
    text = HEAD + "base card from ink\n  fold side-fold, width 4, height 5\npanel a from ink on front\n"
    told = next(each for each in values(snapshot(text)) if each.text == "3 3/4 x 4 3/4 in").tooltip
    assert [line.split(" = ")[0] for line in told.split("\n")] == ["a.width", "a.height"]
    assert all("border" in line for line in told.split("\n"))


def test_only_what_is_asked_for_is_worked_out() -> None:
    text = samples()["night-market.recipe"]
    found = snapshot(text, samples())
    middle = Span(NAME, text.index("panel door-paper"), text.index("band sash"))
    assert values(found, middle) == tuple(each for each in values(found)
                                          if middle.start <= each.offset <= middle.end)  # fmt: skip
    assert len(values(found, middle)) == 3


def test_an_older_card_gives_its_values_by_name() -> None:
    old = HEAD + "base card from ink\n  fold side-fold, width 4, height 5\npanel a from ink on front\n"
    before = snapshot(old)
    new = snapshot("\n\n# moved\n" + old.replace("panel a", "panel b"), compiled=False)
    found = values(new._replace(compiled=before.compiled))
    assert [each.text for each in found] == ["8 x 5 in"]


def test_broken_recipes_show_what_is_known_and_never_fail() -> None:
    for name, text in texts_by_chance(60, seed=5):
        for value in values(snapshot(text, samples(), name)):
            assert 0 <= value.offset <= len(text) and value.text
