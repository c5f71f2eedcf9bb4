"""The base of the tree's nodes: fields, equality, immutability."""

import pytest

from cardrecipe.syntax.record import Record


class Line(Record):
    word: str
    times: int = 1


class Longer(Line):
    extra: tuple[int, ...] = ()


def test_fields_come_by_place_or_by_name() -> None:
    assert Line("score", 2) == Line(word="score", times=2) == Line("score", times=2)
    assert (Line("score").times, Longer("score").extra) == (1, ())
    assert repr(Line("score")) == "Line(word='score', times=1)"


def test_equality_goes_by_type_and_fields() -> None:
    assert Line("score") != Line("cut")
    assert Line("score") != Longer("score")
    assert len({Line("score"), Line("score"), Line("cut")}) == 2
    assert Line("score") != "score"


def test_a_record_does_not_change() -> None:
    line = Line("score")
    with pytest.raises(AttributeError):
        line.word = "cut"  # type: ignore[misc]
    changed = line.replace(word="cut")
    assert (line.word, changed.word, changed.times) == ("score", "cut", 1)


@pytest.mark.parametrize("values", [(), ("score", 1, 2)])
def test_missing_and_surplus_values_are_refused(values: tuple[object, ...]) -> None:
    with pytest.raises(TypeError):
        Line(*values)  # type: ignore[arg-type]


def test_unknown_names_are_refused() -> None:
    with pytest.raises(TypeError):
        Line("score", colour="red")  # type: ignore[call-arg]
    with pytest.raises(TypeError):
        Line("score").replace(colour="red")
