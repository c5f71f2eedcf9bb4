"""What a changed module works out while it is loaded, put in the place of what the program holds."""

import sys
from types import ModuleType

import pytest

from tests.mutants.changes import Mutant, mutants
from tests.mutants.reloaded import reload

NAME = "cardrecipe_made_up"  # the program's modules are told by how their names begin
SOURCE = """from typing import NamedTuple

MOST = 3
KEPT = object() if 5 else None

class Card(NamedTuple):
    copies: int = 1

    def more(self, by: int = 7) -> int:
        return self.copies + by

def asked(count: int = 2) -> int:
    return count + MOST
"""


@pytest.fixture
def loaded(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    return module(monkeypatch, NAME, SOURCE)


def module(monkeypatch: pytest.MonkeyPatch, name: str, source: str) -> ModuleType:
    made = ModuleType(name)
    monkeypatch.setitem(sys.modules, name, made)
    exec(source, vars(made))
    return made


def change(after: str) -> Mutant:
    (found,) = (each for each in mutants(f"{NAME}.py", SOURCE) if each.after == after)
    assert not found.is_inside
    return found


def test_a_constant_changes_wherever_it_was_imported(
    monkeypatch: pytest.MonkeyPatch, loaded: ModuleType
) -> None:
    reader = module(monkeypatch, "cardrecipe_reader", f"from {NAME} import MOST")
    namesake = module(monkeypatch, "cardrecipe_namesake", "MOST = 8")
    stranger = module(monkeypatch, "made_up_elsewhere", f"from {NAME} import MOST")
    assert reload(change("MOST = (4)"), SOURCE, f"{NAME}.py")
    assert vars(loaded)["MOST"] == vars(reader)["MOST"] == 4
    assert vars(namesake)["MOST"] == 8 and vars(stranger)["MOST"] == 3
    assert vars(loaded)["asked"]() == 6


def test_a_function_takes_the_changed_value_unless_told(loaded: ModuleType) -> None:
    asked = vars(loaded)["asked"]
    assert reload(change("def asked(count: int = (3)) -> int:"), SOURCE, f"{NAME}.py")
    assert (asked(), asked(2)) == (6, 5)


def test_a_record_and_its_methods_take_the_changed_value_unless_told(loaded: ModuleType) -> None:
    card = vars(loaded)["Card"]
    assert reload(change("copies: int = (2)"), SOURCE, f"{NAME}.py")
    assert (card().copies, card(5).copies) == (2, 5)
    assert reload(change("def more(self, by: int = (8)) -> int:"), SOURCE, f"{NAME}.py")
    assert (card(1).more(), card(1).more(1)) == (9, 2)


def test_what_cannot_be_put_in_place_is_told(loaded: ModuleType) -> None:
    """A thing that other things may hold by itself; such a mutant is tried afresh."""
    before = vars(loaded)["KEPT"]
    assert not reload(change("KEPT = object() if (4) else None"), SOURCE, f"{NAME}.py")
    assert vars(loaded)["KEPT"] is before
