"""What lies on a grate: the rule ``drop_out`` with the distance of its bars. Statics of a plate on parallel
bars."""

from __future__ import annotations

from pathlib import Path

import planform as pf
import pytest
from planform.cli.command import main
from random_outlines import polygon


def plate(holes: list[pf.Contour]) -> pf.ProfileSet:
    edge = polygon([(0, 0), (400, 0), (400, 300), (0, 300)])
    return pf.ProfileSet([pf.Profile(edge, holes, "plate")])


def rectangle(x: float, width: float) -> pf.Contour:
    return polygon([(x, 20), (x + width, 20), (x + width, 280), (x, 280)])


def test_what_falls_out_of_holes_by_the_opening_of_the_grate() -> None:
    """A symmetrical piece needs two openings across the bars: 29 falls, 31 and 59 may tip, 61 lies."""
    holes = [rectangle(x, width) for x, width in ((10, 29), (60, 31), (120, 59), (250, 61))]
    found = [f for f in pf.inspect(plate(holes), grate=30.0) if f.rule == "drop_out"]
    assert [(f.contour, round(f.measured or 0), f.limit) for f in found] == [
        (2, 31, 30),
        (3, 59, 30),
    ]
    # Bars the other way: all are long enough.
    assert not [
        f for f in pf.inspect(plate(holes), grate=30.0, grate_along="x") if f.rule == "drop_out"
    ]
    # Without a grate the rule asks for what is long.
    assert len([f for f in pf.inspect(plate(holes)) if f.rule == "drop_out"]) == 4
    off = pf.RuleSet().with_enabled("drop_out", False)
    assert not [f for f in pf.inspect(plate(holes), rules=off, grate=30.0) if f.rule == "drop_out"]


def test_pieces_that_fall_or_tip() -> None:
    sides = [polygon([(0, 0), (w, 0), (w, 200), (0, 200)]) for w in (20, 50, 90)]
    texts = [
        [
            f.text
            for f in pf.inspect(pf.ProfileSet([pf.Profile(side, [], "shelf")]), grate=40.0)
            if f.rule == "drop_out"
        ]
        for side in sides
    ]
    assert "may fall between bars 40 mm apart" in texts[0][0]
    assert "may tip up on bars 40 mm apart" in texts[1][0]
    assert texts[2] == []
    with pytest.raises(pf.Error):
        pf.inspect(plate([]), grate=0.0)


def test_on_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plate([rectangle(60, 50)]).to_json(tmp_path / "plate.json")
    arguments = ["inspect", str(tmp_path / "plate.json"), "--fail-on", "note"]
    assert main([*arguments, "--grate", "30"]) == 1
    assert "tip up" in capsys.readouterr().out
    assert main([*arguments, "--grate", "30", "--grate-along", "x"]) in (0, 1)
    assert "tip up" not in capsys.readouterr().out
