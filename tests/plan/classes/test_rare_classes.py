"""Classes that are rare: glue of one's own, papers that sizes alone tell apart, plans without a proof."""

import pytest

from cardrecipe.plan.classes import plans
from cardrecipe.plan.classes.blanks import class_cut
from cardrecipe.plan.classes.plans import ClassPlan, class_plans
from cardrecipe.plan.cutting.job import Job
from cardrecipe.plan.cutting.planner import Plan
from cardrecipe.render.class_pack.markdown import render_class_markdown
from tests.plan.classes.making import cards, class_text, compiled, planned
from tests.recipes import codes_of

HEAD = 'recipe "{}"\n  units inch nearest 1/16\npaper ink is cardstock "Ink" {}\n'
LEAF = "rectangle leaf from ink\n  size {}\n  loose\n"
ONE = ['  make 2 of "a.recipe"']
TWO = [*ONE, '  make 2 of "b.recipe"']


def test_papers_of_one_name_and_one_title_need_other_titles() -> None:
    for title, hint in (("Ink", "give them different titles"), ("Deep ink", "say which by its title: have")):
        other = HEAD.replace('"Ink"', f'"{title}"').format("B", "8 x 10")
        files = {"a.recipe": HEAD.format("A", "12 x 12") + LEAF.format("2 x 3"),
                 "b.recipe": other + LEAF.format("2 x 3")}  # fmt: skip
        (found,) = compiled(class_text([*TWO, "  have ink 3 sheets"]), files).diagnostics
        assert found.code == "have-two-papers" and found.hint is not None and found.hint.startswith(hint)


def test_glue_of_the_recipe_s_own_is_told_by_the_pieces_that_it_glues() -> None:
    recipe = HEAD.format("Glued", "12 x 12") + (
        'supply paste is adhesive "Rice paste"\nbase card from ink\n  fold side-fold, width 4, height 5\n'
        "panel leaf from ink on front\n  size 2 x 2\n  glue with paste\n"
    )
    sheet = planned(class_text(ONE), {"a.recipe": recipe})
    (line,) = (each for each in sheet.shopping if each.title == "Rice paste")
    assert (line.kind, line.need) == ("adhesive", "for 2\u00a0pieces")


def test_a_card_that_nearly_fills_its_sheet_is_no_warning_to_its_class() -> None:
    """The class's own plan may lay it elsewhere."""
    full = HEAD.format("Full", "12 x 12") + LEAF.format("11 3/4 x 12")
    assert codes_of(full) == ["sheet-nearly-full"]
    unused = full + 'paper moss is cardstock "Moss"\n'
    found = [planned(class_text(ONE), {"a.recipe": text}).notes for text in (full, unused)]
    assert [sum(note.startswith("Kit ") for note in notes) for notes in found] == [0, 1]


def test_a_kit_that_needs_nothing_from_the_table_names_nothing_for_all() -> None:
    leaf = HEAD.format("A", "6 x 6") + LEAF.format("6 x 6")
    for work, is_shared in (("", False), ('  stamp "Boats"\n', True)):
        text = render_class_markdown(planned(class_text(ONE), {"a.recipe": leaf + work}))
        assert ("On the table, for all" in text) is is_shared


# ---- plans that are not proved -------------------------------------------------------------------


def unproved(lines: list[str], sizes: dict[str, str], patch: pytest.MonkeyPatch) -> ClassPlan:
    """The plan of a class of one paper whose search ends without a proof."""
    search = plans.plan

    def without_proof(job: Job, *budget: object) -> Plan | None:
        found = search(job, *budget)
        return found and found._replace(least=found.cost - 1)

    patch.setattr(plans, "plan", without_proof)
    made = cards(
        class_text(lines),
        {name: HEAD.format(name, "12 x 12") + LEAF.format(size) for name, size in sizes.items()},
    )
    (found,) = class_plans(class_cut(made), made.papers, None, lambda title: None)
    assert not found.is_proved
    return found


def test_a_plan_of_one_kit_is_kept_without_a_proof(monkeypatch: pytest.MonkeyPatch) -> None:
    assert unproved(ONE, {"a.recipe": "11 x 11"}, monkeypatch).new == 2


def test_kits_are_cut_together_where_that_takes_no_more_than_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of each fill half of a sheet."""
    found = unproved(TWO, {"a.recipe": "6 x 6", "b.recipe": "6 x 6"}, monkeypatch)
    assert found.new == 1
    (layout,) = found.paper_plan.layouts
    assert layout.layout.count == 1
