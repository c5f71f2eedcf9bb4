"""A variant's steps told by those of the main card: who follows the sentences makes the variant."""

import re
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardrecipe.plan.sheet import CuttingSheet, Sheet, Step
from cardrecipe.plan.variant_sheet import Variant
from cardrecipe.plan.variant_way import in_groups, named_steps
from tests.recipes import HEAD, diagnostics_of
from tests.variant_recipes import NAMES, NO_VARIANT, SHELF, TEXTS, together

_SAID = re.compile(
    r"(Leave out )?[Ss]teps? (\d+)(?: (?:and|to) (\d+))?( as for the main card)?"
    r"(?:\.|, with another check: (?P<check>.+)|, without its check\."
    r"|, from (?P<new>.+) instead of (?P<old>.+)\.)"
)
_OF_SHEETS = re.compile(r"Sheets? [\d, and]+ of (?:the|this variant's) cutting plan shows? how\.")


def followed(plain: Sheet, variant: Variant) -> Iterator[tuple[Step, bool]]:
    """The steps that a reader does who has only the sentences, and whether each is the main card's.

    No step of the main card may be passed over in silence.
    """
    steps = {step.number: step for step in plain.steps}
    at, last, come = 0, "", 0
    for before, number, place, step in (*variant.way.detours, (variant.way.after, "", "", None)):
        for sentence in before:
            said = _SAID.fullmatch(sentence)
            assert said and bool(said[1]) != bool(said[4]), sentence
            first, end = int(said[2]), int(said[3] or said[2])
            assert first == at + 1, sentence
            at, come = end, 0
            if said[4]:
                last = str(end)
                assert first == end or sentence.endswith("as for the main card.")
                yield from ((otherwise(steps[each], sentence), True) for each in range(first, end + 1))
        if step is None:
            continue
        if instead := re.fullmatch(r"Instead of step (\d+)", place):
            assert int(instead[1]) == at + 1
            at, come = at + 1, 0
            assert number == str(at)
        else:
            come += 1
            assert number == f"{at}{' abcdefgh'[come]}"
            assert place == (f"After step {last}" if last else "Before all other steps")
        last = number
        yield step, False
    assert at == len(plain.steps)


def otherwise(step: Step, sentence: str) -> Step:
    """A step of the main card as the sentence wants it."""
    said = _SAID.fullmatch(sentence)
    assert said
    if said["old"]:
        old, new = said["old"], said["new"]
        return step._replace(
            title=step.title.replace(old, new), text=step.text.replace(old, new),
            picks_up=tuple(each.replace(old, new) for each in step.picks_up),
            check=step.check.replace(old, new),
        )  # fmt: skip
    if said["check"] or "without its check" in sentence:
        return step._replace(check=said["check"] or "")
    return step


def words(step: Step) -> tuple[object, ...]:
    return step.title, _OF_SHEETS.sub("", step.text), step.picks_up, step.check, step.tips


def shown_for(sheet: Sheet, step: Step) -> list[CuttingSheet]:
    """The sheets of the cutting plan that a step sends its reader to, whatever their numbers and papers."""
    found = _OF_SHEETS.search(step.text)
    numbers = set(map(int, re.findall(r"\d+", found[0]))) if found else set()
    shown = [each for each in sheet.cutting if each.number in numbers]
    return [each._replace(number=0, picture="", paper="", paper_title="") for each in shown]


def check(text: str) -> None:
    sheet = together(text)
    for variant in sheet.variants:
        done = list(followed(sheet.plain, variant))
        assert [words(step) for step, _ in done] == [words(step) for step in variant.sheet.steps]
        warned: set[str] = set()
        for (step, is_main), own in zip(done, variant.sheet.steps, strict=True):
            warned.update(step.cautions)
            assert warned.issuperset(own.cautions), own.title
            sender = sheet.plain if is_main else variant.sheet
            assert shown_for(sender, step) == shown_for(variant.sheet, own), own.title
            assert is_main or "of the cutting plan" not in step.text


@pytest.mark.parametrize("name", NAMES)
def test_who_follows_the_sentences_makes_the_variant(name: str) -> None:
    check(TEXTS[name])


# Of each thing at most one change; of a thing that is dropped nothing else can be said.
CHANGES = {
    "message": ("  drop message\n", '  tip on message "Start at the top."\n', "  set message.border 1/4\n"),
    "sun": ("  drop sun\n", "  set sun.diameter 1 3/4\n", '  step before sun "Scatter some glitter."\n'),
    "door-paper": ("  drop door-paper\n", '  step before door-paper "Mind the pattern."\n'),
    "card": ("  set card.width 4 1/2\n", '  step after card "Rest the card under a book."\n'),
    "white": ('  replace white with cardstock "Cream" 8 1/2 x 11\n',),
    "moss": ('  replace moss with plain "Thin moss" 12 x 12, one-way\n',),
    "border": ("  set border 3/16\n",),
    "sash": ("  band sash from white around card\n    width 1\n    glue with tape\n",),
    "seal": ('  oval seal from glow on back outside\n    size 2 x 1\n    stamp "Seal" in coal\n',),
    "flag": ("  square flag from white on back\n    size 1 x 1\n    glue with foam 2 mm thick\n",),
}


@settings(max_examples=40, deadline=None)
@given(st.fixed_dictionaries({}, optional={name: st.sampled_from(CHANGES[name]) for name in CHANGES}))
def test_who_follows_any_changes_makes_the_variant(changes: dict[str, str]) -> None:
    text = f'{NO_VARIANT}variant "Other"\n  about "Another one."\n{"".join(changes.values())}'
    assert not [each for each in diagnostics_of(text, SHELF, "Other") if each.severity == "error"]
    check(text)


GLITTER = """
circle moon from moss on right-door outside
  diameter 1
  do "Scatter glitter on it"
"""


def test_a_caution_is_told_where_its_own_step_is_left_out() -> None:
    """The sun is the first that is glittered; without it the moon is, and its step is not as it was."""
    glittered = NO_VARIANT.replace("  diameter 2\n", '  diameter 2\n  do "Scatter glitter on it"\n') + GLITTER
    text = f'{glittered}variant "Night"\n  drop sun\n'
    (variant,) = together(text).variants
    (told,) = (detour for detour in variant.way.detours if detour.step.cautions)
    assert told.place.startswith("Instead of step") and "moon" in told.step.title
    check(text)


def test_what_comes_in_stands_after_what_is_done_last() -> None:
    """Not after a step that is left out."""
    text = f'{NO_VARIANT}variant "Flag"\n  drop sun\n{CHANGES["flag"][0]}'
    (variant,) = together(text).variants
    last = variant.way.detours[-1]
    assert (last.number, last.place, last.step.title) == ("9a", "After step 9", "Glue the flag to the back")
    assert variant.way.after == ("Leave out steps 10 and 11.",)
    check(text)


def test_a_step_that_only_names_another_sheet_stays() -> None:
    """Without the door papers the white paper is sheet 2, not 3; it is cut alike, so the step stays."""
    text = f'{NO_VARIANT}variant "Bare"\n  drop door-paper\n'
    (variant,) = together(text).variants
    assert not variant.way.detours
    assert any("is cut as sheet 3 of the main card" in said for said in variant.same_layouts)


def test_only_another_check_or_another_paper_is_told_in_a_sentence() -> None:
    """Of the night market's richer variant; its plate is as wide as the sash asks for in both."""
    sheet = together(TEXTS["night-market"])
    harvest = sheet.variants[0]
    sentences = [said for detour in harvest.way.detours for said in detour.before] + [*harvest.way.after]
    assert [plain_text(said) for said in sentences] == [
        "Step 1 as for the main card.",
        "Step 2 as for the main card, from Harvest plaid patterned paper instead of Paper glow.",
        "Steps 4 to 11 as for the main card.",
        "Steps 13 to 15 as for the main card.",
        "Step 16 as for the main card, with another check: You see 7/8 in at the left and the right; "
        "1/4 in at the top and the bottom.",
        "Step 17 as for the main card.",
    ]
    assert [detour.number for detour in harvest.way.detours] == ["3", "3a", "11a", "12"]
    assert any("Sheet 2, Harvest plaid" in said for said in harvest.same_layouts)


def test_where_the_glue_goes_is_told_of_every_plate_on_the_sash() -> None:
    """The margin beside what moves on its own is round at the ends of an oval; words tell the strip in it."""
    for sheet in (together(TEXTS["night-market"]), together(TEXTS["night-market"], "mm")):
        for own in (sheet.plain, sheet.variants[0].sheet):
            (step,) = (step for step in own.steps if step.title.startswith("Glue the plate"))
            assert "the strip of it between" in step.text


def test_steps_between_two_sentences_stand_together() -> None:
    for name in NAMES:
        for variant in together(TEXTS[name]).variants:
            groups = list(in_groups(variant.way))
            assert [each for _, some in groups for each in some] == list(variant.way.detours)
            assert all(not each.before for _, some in groups for each in some[1:])
            assert [said for before, _ in groups for said in before] == [
                said for each in variant.way.detours for said in each.before
            ]


def test_pages_are_looked_up_between_the_steps_that_are_done() -> None:
    assert named_steps("Steps 4 to 11 as for the main card.") == (4, 11)
    assert named_steps("Steps 4 and 5 as for the main card.") == (4, 5)
    assert named_steps("Step 16 as for the main card, with another check: Steps 1 to 9.") == (16, 16)
    assert named_steps("Leave out steps 4 to 11.") is None


def plain_text(said: str) -> str:
    return said.replace("\u00a0", " ").replace("\u2044", "/")


def test_what_comes_before_all_steps_of_the_main_card_is_lettered_too() -> None:
    """A flat card is cut and no more, so what stands before it comes first of all."""
    flat = f"{HEAD}base card from ink\n  flat 4 x 5\n"
    text = f'{flat}variant "Tidy"\n  step before card "Clear the table."\n'
    (variant,) = together(text).variants
    (first,) = variant.way.detours
    assert (first.number, first.place) == ("0a", "Before all other steps")
    assert first.step.title == "Clear the table"
    check(text)
