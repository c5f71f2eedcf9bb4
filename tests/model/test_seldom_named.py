"""Names in places where few recipes have them: counted backwards in a fold, missing from a used file."""

import pytest

from tests.recipes import HEAD, diagnostics_of, scores

FOLD = """structure strip
  ask n
  flat 8 x 5
  score every 1, {count} times from left, by turns
base card from ink
  fold strip, n 2
"""


@pytest.mark.parametrize(("count", "places"), [
    ("n", [1, 2]), ("5 - n", [1, 2, 3]), ("-n + 5", [1, 2, 3]), ("-(n - 3)", [1]),
    ("max(-n, 2) * n", [1, 2, 3, 4]),
])  # fmt: skip
def test_a_number_of_scores_may_be_counted_down_from_what_is_asked(count: str, places: list[int]) -> None:
    """What is asked is a number there and no length."""
    found = scores(HEAD + FOLD.format(count=count))
    assert [each.split()[0] for each in found.split(", ")] == [str(place) for place in places]


def test_a_name_missing_in_a_used_file_is_not_taken_for_what_a_variant_drops() -> None:
    """The place where it stands in that file is the place of the dropped name in the recipe."""
    recipe = HEAD + (
        'use "folds.recipe"\nbase card from ink\n  fold strip\nrectangle label from ink\n  size 2 x 1\n'
        'rectangle plate from ink\n  size 2 x label.width\nvariant "Plain"\n  drop label\n'
    )
    at = recipe.index("label.width")
    lines = "structure strip\n  flat 8 x 5\n  score "
    used = "#" * (at - len(lines) - 1) + "\n" + lines + "lapel.width from left\n"
    assert used.index("lapel.width") == at
    found = {each.span.file: each for each in diagnostics_of(recipe, {"folds.recipe": used}, "Plain")
             if each.code == "unknown-name"}  # fmt: skip
    assert "this variant drops `label`" in found["card.recipe"].hint
    assert "drops" not in found["folds.recipe"].hint and not found["folds.recipe"].related
