"""The benchmarks run, and a kept run is read back; how long anything takes is never asserted here."""

import re
from pathlib import Path

import pytest

from tests.bench import __main__ as bench
from tests.bench.growth import GROWINGS, Growing, Grown, grown
from tests.bench.kept_runs import RUNS, Run, keep, last_kept, this_machine
from tests.bench.many_pieces import PIECES, tiled_card
from tests.bench.rows import FLOORS, ROWS, Row
from tests.bench.tables import growth_of, heading_of_growth, heading_of_rows, row_of
from tests.recipes import compile_text


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_each_row_is_measured(row: Row) -> None:
    assert row.floor in FLOORS
    assert row.measure(1) > 0


@pytest.mark.parametrize("growing", GROWINGS, ids=lambda growing: growing.name)
def test_what_grows_is_measured_at_its_smallest(growing: Growing) -> None:
    assert [size // growing.sizes[0] for size in growing.sizes] == [1, 10, 100]
    assert growing.measure(growing.sizes[0], 1) > 0


def test_the_card_of_many_pieces_has_so_many_and_no_mistake() -> None:
    found = compile_text(tiled_card(PIECES[1]))
    assert not found.diagnostics and found.folded is not None
    assert len(found.folded.card.pieces) == PIECES[1]


def test_factors_and_exponents() -> None:
    sizes = list[int]()

    def square(size: int, runs: int) -> float:
        sizes.append(size)
        return size**2 / 1000

    found = grown(Growing("squares", (1, 10, 100), square))
    assert sizes == [1, 10, 100]
    assert found.factors == pytest.approx([100, 100]) and found.exponent == pytest.approx(2)
    assert grown(Growing("squares", (1, 10, 100), square), decades=1).factors == pytest.approx([100])


# ---- what is printed and kept ---------------------------------------------------------------------


def test_a_run_is_kept_and_the_next_one_stands_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(bench, "ROWS", (Row("work", "floor", 1.5, lambda runs: 0.2),))
    monkeypatch.setattr(bench, "FLOORS", {"floor": lambda runs: 0.1})
    monkeypatch.setattr(bench, "GROWINGS", (Growing("much", (1, 10, 100), lambda size, runs: size * 0.001),))
    monkeypatch.setattr(bench, "keep", lambda run: keep(run, tmp_path))
    monkeypatch.setattr(bench, "last_kept", lambda: last_kept(tmp_path))
    monkeypatch.setattr("sys.argv", ["bench", "--keep", "v1"])
    assert bench.main() == 0
    first = capsys.readouterr().out
    assert "kept as v1.json" in first and "! 1.5" in first
    kept = last_kept(tmp_path)
    assert kept is not None and kept.tag == "v1"
    assert kept.ratios == {"work": 2.0} and kept.factors == {"much": [10.0, 10.0]}
    monkeypatch.setattr(bench, "ROWS", (Row("work", "floor", 1.5, lambda runs: 0.1),))
    monkeypatch.setattr("sys.argv", ["bench", "--quick"])
    bench.main()
    second = capsys.readouterr().out
    assert re.search(r"^work +100\.0 +floor +1\.00 +1\.5 +2\.00 +-50%$", second, re.M)
    assert re.search(r"^much +1 10 +1\.0 10\.0 +10\.0 +1\.00 +10\.0 10\.0$", second, re.M)


def test_the_last_kept_is_that_of_the_latest_date(tmp_path: Path) -> None:
    assert last_kept(tmp_path) is None
    for tag, date in (("b", "2031-02-03"), ("a", "2031-02-04"), ("c", "2030-12-31")):
        keep(Run(tag, date, {}, {}), tmp_path)
    found = last_kept(tmp_path)
    assert found is not None and found.tag == "a"


def test_the_machine_is_described_without_its_name() -> None:
    assert set(this_machine()) == {"system", "processors", "python", "commit"}
    assert not re.search(r"[/\\]|https?:", " ".join(this_machine().values()))


def test_runs_that_are_kept_fit_the_rows() -> None:
    """A row that is renamed would stand there without its past."""
    names = {row.name for row in ROWS} | {each.name for each in GROWINGS}
    for path in RUNS.glob("*.json"):
        kept = last_kept(path.parent)
        assert kept is not None and names >= {*kept.ratios, *kept.factors}


def test_columns_stand_below_their_headings() -> None:
    row = row_of(ROWS[0], 0.1, 0.07, 1.5)
    assert len(row) == len(heading_of_rows("v1"))
    line = growth_of(GROWINGS[0], Grown([0.001, 0.01, 0.1]), [10.0, 10.0])
    assert len(line) == len(heading_of_growth("v1"))
