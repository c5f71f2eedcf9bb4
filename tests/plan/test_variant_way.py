"""A variant's steps told by those of the main card: who follows the sentences makes the variant."""

import re
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardrecipe.plan.sheet import CuttingSheet, Sheet, Step
from cardrecipe.plan.variant_sheet import Variant
from tests.recipes import diagnostics_of
from tests.variant_recipes import NAMES, NO_VARIANT, SHELF, TEXTS, together

_SAID = re.compile(r"(Leave out )?[Ss]teps? (\d+)(?: (?:and|to) (\d+))?( as for the main card)?\.")
_OF_SHEETS = re.compile(r"Sheets? [\d, and]+ of (?:the|this variant's) cutting plan shows? how\.")


def followed(plain: Sheet, variant: Variant) -> Iterator[tuple[Step, bool]]:
    """The steps that a reader does who has only the sentences, and whether each is the main card's.

    No step of the main card may be passed over in silence.
    """
    steps = {step.number: step for step in plain.steps}
    at, last = 0, 0
    for before, place, step in (*variant.way.detours, (variant.way.after, "", None)):
        for sentence in before:
            said = _SAID.fullmatch(sentence)
            assert said and bool(said[1]) != bool(said[4]), sentence
            first, end = int(said[2]), int(said[3] or said[2])
            assert first == at + 1, sentence
            at = end
            if said[4]:
                last = end
                yield from ((steps[number], True) for number in range(first, end + 1))
        if step is None:
            continue
        if instead := re.fullmatch(r"Instead of step (\d+)", place):
            assert int(instead[1]) == at + 1
            at = last = at + 1
        elif after := re.fullmatch(r"After step (\d+)", place):
            assert int(after[1]) == last
        else:
            assert place == ("Then" if not before else "Before all other steps") or not at
        yield step, False
    assert at == len(plain.steps)


def words(step: Step) -> tuple[object, ...]:
    return step.title, _OF_SHEETS.sub("", step.text), step.picks_up, step.check, step.tips


def shown_for(sheet: Sheet, step: Step) -> list[CuttingSheet]:
    """The sheets of the cutting plan that a step sends its reader to, whatever their numbers."""
    found = _OF_SHEETS.search(step.text)
    numbers = set(map(int, re.findall(r"\d+", found[0]))) if found else set()
    return [each._replace(number=0, picture="") for each in sheet.cutting if each.number in numbers]


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
    assert (last.place, last.step.title) == ("After step 9", "Glue the flag to the back")
    assert variant.way.after == ("Leave out steps 10 and 11.",)
    check(text)


def test_a_step_that_only_names_another_sheet_stays() -> None:
    """Without the door papers the white paper is sheet 2, not 3; it is cut alike, so the step stays."""
    text = f'{NO_VARIANT}variant "Bare"\n  drop door-paper\n'
    (variant,) = together(text).variants
    assert not variant.way.detours
    assert any("is cut as sheet 3 of the main card" in said for said in variant.same_layouts)
