"""Repairs of what is there twice: an unfinished merge, and a variant that says a thing two times."""

import pytest

from tests.editor.test_repairs import SHELF, mended, offered, snapshot_of

PLATE = f"{SHELF}oval plate from ink on back\n"
OURS, THEIRS = "  size 3 x 2\n", "  size 3 x 3\n"


def after_each(text: str, code: str) -> dict[str, str]:
    """The text as each repair leaves it, by the repair's title."""
    return {repair.title: mended(text, repair)[0] for _, found in offered(text, code) for repair in found}


@pytest.mark.parametrize("before", ["", "||||||| before\n  size 1 x 1\n"])
@pytest.mark.parametrize("end", ["\n", ""])
def test_one_version_or_the_other_is_kept(before: str, end: str) -> None:
    text = f"{PLATE}<<<<<<< ours\n{OURS}{before}=======\n{THEIRS}>>>>>>> theirs{end}"
    assert after_each(text, "merge-unfinished") == {
        "Keep the first of the two versions": PLATE + OURS,
        "Keep the second of the two versions": PLATE + THEIRS,
    }


def test_both_versions_are_kept_where_both_can_stand() -> None:
    text = f'{PLATE}{OURS}<<<<<<< ours\n  stamp "A"\n=======\n  stamp "B"\n>>>>>>> theirs\n'
    kept = after_each(text, "merge-unfinished")["Keep both versions"]
    assert kept == f'{PLATE}{OURS}  stamp "A"\n  stamp "B"\n'


def test_windows_line_ends_stay_as_they_are() -> None:
    text = f"{PLATE}<<<<<<< ours\n{OURS}=======\n{THEIRS}>>>>>>> theirs\n".replace("\n", "\r\n")
    kept = after_each(text, "merge-unfinished")["Keep the first of the two versions"]
    assert kept == (PLATE + OURS).replace("\n", "\r\n")


def test_a_mark_that_is_left_alone_goes() -> None:
    text = f"{PLATE}{OURS}>>>>>>> theirs\n"
    assert after_each(text, "merge-unfinished") == {"Take this line out": PLATE + OURS}


def test_nothing_is_offered_where_the_second_version_has_no_end() -> None:
    text = f"{PLATE}<<<<<<< ours\n{OURS}=======\n{THEIRS}"
    assert snapshot_of(text).diagnostics
    assert after_each(text, "merge-unfinished") == {}


def test_either_line_of_a_variant_can_go() -> None:
    variant = 'variant "Large"\n  set plate.width 4\n  set plate.width 5\n'
    kept = after_each(f"{PLATE}{OURS}{variant}", "said-twice")
    assert set(kept.values()) == {
        f'{PLATE}{OURS}variant "Large"\n  set plate.width {width}\n' for width in (4, 5)
    }
