"""The check of a recipe with variants: what is told of which, and that it ends where nobody waits."""

import pytest

from cardrecipe.checking import Checked, Outdated, checked
from cardrecipe.syntax.parse import parse
from cardrecipe.syntax.source import Source
from tests.recipes import HEAD, NAME, Texts

CARD = f"{HEAD}base card from ink\n  fold side-fold, width 4, height 5\n"
VARIANTS = "".join(f'variant "{title}"\n  set card.width {size}\n' for size, title in enumerate("ABC", 3))


def check(text: str, outdated_after: int) -> Checked:
    """A check that becomes outdated when it has asked so many times whether it is."""
    source, answers = Source(NAME, text), iter([*[False] * outdated_after, True])
    tree, mistakes = parse(source)
    return checked(tree, mistakes, source, Texts(), lambda: next(answers))


@pytest.mark.parametrize("after", [0, 1, 2])
def test_what_nobody_waits_for_ends_between_two_variants(after: int) -> None:
    with pytest.raises(Outdated):
        check(CARD + VARIANTS, after)


def test_a_check_that_is_waited_for_tells_of_every_variant() -> None:
    assert list(check(CARD + VARIANTS, 3).variants) == ["A", "B", "C"]
    assert check(CARD, 0).diagnostics == ()  # without variants it is over before anybody asks


def test_a_mistake_of_the_card_is_told_once_whatever_a_variant_drops() -> None:
    """The hint names what there is, and in the variant there is less."""
    pieces = "panel lost from ink on the-back\npanel other from ink on back\n"
    plain = 'variant "Plain"\n  drop other\n'
    (found,) = check(CARD + pieces + plain, 1).diagnostics
    assert found.message == "no section or piece is called `the-back`"
    assert found.hint == "there is front, back, card, other"
    more = "  panel more from ink on the-front\n"
    (found,) = check(CARD + pieces.replace("the-", "") + plain + more, 1).diagnostics
    assert found.message == 'in variant "Plain": no section or piece is called `the-front`'
