"""The shipped folds by name."""

import pytest

from cardrecipe.library.folds import fold_names, fold_source


def test_every_name_has_a_text_and_no_other_has() -> None:
    for name in fold_names():
        assert f"structure {name}\n" in fold_source(name).text
    for name in ("side-fald", "", "../structures/gate"):
        with pytest.raises(KeyError):
            fold_source(name)
