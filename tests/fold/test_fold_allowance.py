"""What a fold takes of the paper that is rolled into it, by the square-corner model: 2 x layers x t."""

from pathlib import Path

import pytest

from cardrecipe.library.folds import fold_names
from tests.recipes import HEAD, METRIC, SAMPLES, Found, checked, recipes_in

CODE = "rolled-too-wide"


def rolled(flat: str, scores: str, paper: str, head: str = HEAD) -> list[Found]:
    """What is said of a strip that is rolled up, in a paper with these facts."""
    sheet = "12 x 12" if head == HEAD else "300 x 300"
    text = head.replace(sheet, f"{sheet}, {paper}" if paper else sheet)
    text += f"base card from ink\n  flat {flat}\n  score {scores} from left\n"
    return [each for each in checked(text) if each.code == CODE]


@pytest.mark.parametrize(("inner", "jams"), [(58, False), (59, True), (60, True), (61, True)])
def test_one_layer_of_half_a_millimetre_takes_one(inner: int, jams: bool) -> None:
    """2 x 1 x 0.6 = 1.2 mm: 60 - 58 is enough, 60 - 59 is not."""
    found = rolled(f"{inner + 120} x 90", f"{inner}, {inner + 60}", "thick 0.6 mm", METRIC)
    assert bool(found) is jams


def test_just_what_the_fold_takes_is_enough() -> None:
    """2 x 1 x 0.5 = 1 mm and the spare is 60 - 59."""
    assert not rolled("179 x 90", "59, 119", "thick 0.5 mm", METRIC)
    assert rolled("179 x 90", "59, 119", "thick 0.51 mm", METRIC)


def test_a_fold_round_two_layers_takes_twice_as_much() -> None:
    """2 x 2 x 0.3 = 1.2 mm, where 2 x 1 x 0.3 = 0.6 mm is all that the first fold takes."""
    found = rolled("237 x 90", "58, 117, 177", "thick 0.3 mm", METRIC)
    assert [each.message.split(",")[0] for each in found] == [
        "section-2 is rolled in under section-4 but is only 1 mm narrower than section-3: "
        "it will jam in the fold"
    ]
    assert "1.2 mm (0.047 in)" in found[0].message


def test_an_estimate_is_given_with_its_range() -> None:
    """216 gsm x 1.25 = 0.27 mm, 0.8 to 1.5 gives 0.173 to 0.324; twice that is what the fold takes."""
    (found,) = rolled("9 x 4", "3, 6", "216 gsm")
    assert "takes about 0.54 mm (0.021 in), between 0.35 mm and 0.65 mm" in found.message


def test_the_card_as_it_is_told_to_be_made_is_well() -> None:
    """In 300 gsm: 2 x 0.45 mm at most is 0.9 mm, and 3 in less that is 2 15/16 on the grid."""
    assert rolled("9 x 4", "3, 6", "300 gsm")
    assert not rolled("8 15/16 x 4", "2 15/16, 5 15/16", "300 gsm")


@pytest.mark.parametrize("weight", ["216 gsm", "300 gsm"])
@pytest.mark.parametrize("name", fold_names())
def test_no_shipped_structure_gives_a_false_alarm(name: str, weight: str) -> None:
    tall = "" if name == "triangle" else ", height 6"
    head = HEAD.replace("12 x 12", f"48 x 48, {weight}")
    found = checked(f"{head}base card from ink\n  fold {name}, width 4{tall}\n")
    assert [str(each) for each in found if each.code == CODE] == []


@pytest.mark.parametrize("path", recipes_in(SAMPLES), ids=lambda path: path.stem)
def test_no_sample_gives_a_false_alarm(path: Path) -> None:
    files = {each.name: each.read_text("utf-8") for each in recipes_in(SAMPLES)}
    found = checked(files[path.name], files, path.name)
    assert [str(each) for each in found if each.code == CODE] == []
