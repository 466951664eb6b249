"""Job and machine files that are wrong: one clear line for each."""

from __future__ import annotations

import re
from pathlib import Path

import planform as pf
import pytest
from job_files import MACHINE, write_job
from planform.cli.command import main
from planform.planning.machine import Machine, odd_figures

HEAD = 'machine = "machine.toml"\nstock = "stock.toml"\n'
DRAWING = '[[drawing]]\nfile = "tray.json"\nthickness = 4\n'
BROKEN: list[tuple[str, str, str]] = [
    ("", "names nothing to cut", ""),
    ("nonsense", "no TOML", ""),
    (
        HEAD + DRAWING + "thicknes = 3\n",
        "drawing[1].thicknes: is unknown; do you mean thickness",
        "line 6",
    ),
    (HEAD + DRAWING.replace("tray", "trays"), "drawing[1].file", "line 4"),
    (HEAD + DRAWING.replace("file", "files"), "has no 'file'", "line 3"),
    (HEAD + DRAWING.replace("thickness = 4\n", ""), "has no 'thickness'", "line 3"),
    (HEAD + DRAWING.replace("4", '"4"'), "drawing[1].thickness", "line 5"),
    (HEAD + DRAWING.replace("4", '"4 mmm"'), "'mmm' is no unit", "line 5"),
    (HEAD + DRAWING.replace("4", "-4"), "drawing[1].thickness: must be above 0", "line 5"),
    (HEAD + DRAWING.replace("4", "nan"), "drawing[1].thickness", "line 5"),
    (HEAD + DRAWING + "quantity = 0\n", "quantity: must be a whole number of 1", "line 6"),
    (HEAD + DRAWING + "quantity = 2.5\n", "drawing[1].quantity", "line 6"),
    (HEAD + DRAWING + "quantity = true\n", "drawing[1].quantity", "line 6"),
    (HEAD + DRAWING + 'unit = "furlong"\n', "'furlong' is unknown", "line 6"),
    (HEAD + DRAWING + "scale = 2\n", "drawing[1].scale", "line 6"),
    (HEAD + DRAWING + "material = 3\n", "drawing[1].material: must be a text", "line 6"),
    (HEAD + DRAWING + DRAWING, "tray.json is named before", "line 7"),
    (HEAD + DRAWING + DRAWING + 'material = "steel"\n', "a part has one material", "line 9"),
    (HEAD + '[[model]]\nfile = "tray.json"\n', "is no model", "line 4"),
    (HEAD + '[[drawing]]\nfile = "job.toml"\nthickness = 3\n', "is no drawing", "line 4"),
    (HEAD + '[drawing]\nfile = "tray.json"\n', "must be a list of tables", "line 3"),
    (HEAD + '[[model]]\nfile = "x.step"\n', "x.step does not exist", "line 4"),
    (HEAD + DRAWING + '[[piece]]\nname = "tray"\n', "says nothing of 'tray'", "line 7"),
    (HEAD + DRAWING + '[[piece]]\nname = "tray"\nturns = "45"\n', "'45' is unknown", "line 8"),
    (
        HEAD
        + DRAWING
        + '[[piece]]\nname = "tray"\nmaterial = "oak"\n[[piece]]\nname = "tray"\nmaterial = "ash"\n',
        "piece[2].material: 'tray' is of 'oak' before",
        "line 11",
    ),
    (HEAD + DRAWING + "[[piece]]\nquantity = 2\n", "has no 'name'", "line 6"),
    (DRAWING.replace("[[", 'machine = "none.toml"\n[[', 1), "none.toml does not exist", "line 1"),
    ('stock = "stock.toml"\n' + DRAWING, "needs a machine", ""),
    ('machine = "machine.toml"\n' + DRAWING, "needs a stock", ""),
    ('machine = "machine.toml"\nstock = "wide"\n' + DRAWING, "stock: ", "line 2"),
    (
        'machine = "machine.toml"\nstock = "none.toml"\n' + DRAWING,
        "none.toml does not exist",
        "line 2",
    ),
    (HEAD + 'include = "job.toml"\n' + DRAWING, "files can't include each other", "line 3"),
    (HEAD + 'include = "circle.toml"\n' + DRAWING, "circle.toml, line 1: include: job.toml", ""),
    (HEAD + 'include = "none.toml"\n' + DRAWING, "none.toml does not exist", "line 3"),
    (HEAD + 'steps = ["flaten"]\n' + DRAWING, "'flaten' is unknown", "line 3"),
    (HEAD + 'material = "oak"\n' + DRAWING, "material: is unknown", "line 3"),
    (
        HEAD + '[cuts]\norder = "fast"\n' + DRAWING,
        "cuts.order: 'fast' is unknown; valid: shortest",
        "line 4",
    ),
    (HEAD + '[cuts]\nhold = "0.4 kg"\n' + DRAWING, "'kg' is no unit here; valid: mm", "line 4"),
    (HEAD + "[cuts]\nhold_count = -1\n" + DRAWING, "cuts.hold_count", "line 4"),
    (HEAD + "[layout]\ngap = -1\n" + DRAWING, "layout.gap: must be 0 or more", "line 4"),
    (HEAD + '[layout]\ntime = "5 hours"\n' + DRAWING, "'hours' is no unit here", "line 4"),
    (HEAD + "[layout]\nseed = 1.5\n" + DRAWING, "layout.seed", "line 4"),
    (
        HEAD + '[allowances]\nfit_on = "pin"\n' + DRAWING,
        "allowances.fit_on: 'pin' is unknown",
        "line 4",
    ),
    (HEAD + '[allowances]\nkerf = "0.2"\n' + DRAWING, "allowances.kerf", "line 4"),
    (HEAD + "[options]\ntolerance = 0\n" + DRAWING, "options.tolerance: must be above 0", "line 4"),
    (
        HEAD + '[options]\nformats = ["pdf"]\n' + DRAWING,
        "options.formats: 'pdf' is unknown",
        "line 4",
    ),
    (HEAD + "[quote]\ncustomer = 3\n" + DRAWING, "quote.customer: must be a text", "line 4"),
    (HEAD + "[quote]\nclient = 3\n" + DRAWING, "quote.client: is unknown", "line 4"),
    (HEAD + "options = 3\n" + DRAWING, "options: must be a table", "line 3"),
    (HEAD + '[density]\nlarch = "heavy"\n' + DRAWING, "density.larch: must be a number", "line 4"),
    (HEAD + "[density]\nlarch = 0\n" + DRAWING, "density.larch", "line 4"),
]


@pytest.mark.parametrize("number", range(len(BROKEN)))
def test_broken_job_files_give_one_clear_line(
    number: int, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    text, expected, place = BROKEN[number]
    job = write_job(tmp_path)
    job.write_text(text)
    (tmp_path / "circle.toml").write_text('include = "job.toml"\n')
    assert main(["job", str(job), "--out", str(tmp_path / "out")]) == 2
    lines = capfd.readouterr().err.strip().splitlines()
    assert len(lines) == 1, lines
    assert lines[0].startswith("planform: error: ")
    assert expected in lines[0], lines[0]
    if place:
        assert f"job.toml, {place}: " in lines[0], lines[0]
    assert not (tmp_path / "out").exists()


def test_there_are_enough_broken_files() -> None:
    assert len(BROKEN) >= 40


BROKEN_MACHINES = [
    (MACHINE.replace('"1.2 m/min"', "20"), 'has no unit; write speed = "20 mm/s"'),
    (MACHINE.replace('"1.2 m/min"', '"1.2 m/h"'), "'m/h' is no unit here"),
    (MACHINE.replace('"1.2 m/min"', '"fast"'), "must be a number with its unit"),
    (MACHINE.replace("kerf", "kerv"), "do you mean kerf?"),
    (MACHINE.replace('"2000 mm/s2"', "2000"), "has no unit; write acceleration"),
    (MACHINE.replace("clearance = 0.5", "clearance = 5"), "an entry of 2 mm can't begin 5 mm off"),
    (MACHINE.replace("hour = 60", "hour = -1"), "must be a finite number of 0 or more"),
    (MACHINE + MACHINE[MACHINE.index("[[cut]]") :], "there are figures for larch, 4 mm before"),
    (MACHINE + '[layers.outer]\ncolor = "red"\n', "six hexadecimal digits"),
    (MACHINE.replace("thickness = 4", ""), "has no 'thickness'"),
]


@pytest.mark.parametrize("number", range(len(BROKEN_MACHINES)))
def test_broken_machine_files(number: int, tmp_path: Path) -> None:
    text, expected = BROKEN_MACHINES[number]
    (tmp_path / "machine.toml").write_text(text)
    with pytest.raises(pf.GeometryError, match=re.escape(expected)) as caught:
        Machine.read(tmp_path / "machine.toml")
    assert "machine.toml, line " in str(caught.value)


def test_units_of_machine_files(tmp_path: Path) -> None:
    """The inch has 25.4 mm exactly (international inch)."""
    text = MACHINE.replace('"1.2 m/min"', '"60 in/min"').replace("kerf = 0.2", 'kerf = "0.01 in"')
    (tmp_path / "machine.toml").write_text(text)
    cut = Machine.read(tmp_path / "machine.toml").cuts[0]
    assert (cut.speed, cut.kerf, cut.pierce_time) == pytest.approx((25.4, 0.254, 0.4))


def test_what_is_missing_or_odd_in_a_machine_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "machine.toml"
    path.write_text(MACHINE)
    assert odd_figures(Machine.read(path)) == []
    assert main(["machine", str(path), "--check"]) == 0
    thin = '[[cut]]\nmaterial = "larch"\nthickness = 2\nspeed = "8 mm/s"\nkerf = 0.01\npierce_time = 0.2\n'
    path.write_text(
        MACHINE.replace("metre = 0.3\n", "")
        .replace("200 mm/s", "20 m/s")
        .replace("hour = 60", "hour = 6")
        + thin
    )
    assert main(["machine", str(path), "--check"]) == 1
    found = {(one.kind, one.place) for one in odd_figures(Machine.read(path))}
    assert found == {
        ("missing", "rates.metre"),
        ("odd", "head.travel_speed"),
        ("odd", "cut[1].speed"),
        ("odd", "cut[1].kerf"),
        ("odd", "cut[2].kerf"),
    }
    assert "rates.metre" in capsys.readouterr().out
