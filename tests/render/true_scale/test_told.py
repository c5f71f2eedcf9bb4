"""A step that has an outline drawn says where it stands at true size, once for each piece."""

from cardrecipe.render.papers import PAGES
from cardrecipe.render.true_scale.templates import templates
from cardrecipe.render.true_scale.told import told_of_templates
from tests.render.printed_samples import sample


def test_it_is_said_of_what_has_a_template_and_of_nothing_else() -> None:
    for name, piece in (("night-market", "plate"), ("mill-letter", "seal")):
        sheet = sample(name)[0]
        steps = list(told_of_templates(sheet.steps, sheet.folded.card))
        told = [new for new, old in zip(steps, sheet.steps, strict=True) if new != old]
        assert [each.text.endswith(f"To trace it, the {piece} stands at true size at the end of this sheet.")
                for each in told] == [True]  # fmt: skip
        assert piece in told[0].pieces
        assert templates(sheet, PAGES["letter"])


def test_a_sheet_of_rectangles_is_left_as_it_is() -> None:
    sheet = sample("first-frost")[0]
    assert tuple(told_of_templates(sheet.steps, sheet.folded.card)) == sheet.steps
