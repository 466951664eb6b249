"""The outline at the top, at the bottom and through the full thickness: in Python, at the command line, and
what the files say of it. Closed forms: areas of rectangles and circles."""

from __future__ import annotations

import json
import math
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import ezdxf
import kernel_models as kernel
import planform
import pytest
from drawing_judges import measure_dxf
from planform.cli import main

PLATE = 60.0 * 40.0
NARROW, WIDE = PLATE - math.pi * 2.5**2, PLATE - math.pi * 5.0**2


@pytest.fixture(scope="module")
def countersunk(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plate of 60 x 40 x 5 mm with a hole of 5 mm, countersunk to 10 mm on top."""
    sink = kernel.moved(kernel.cone(2.5, 5.0, 2.5), 30.0, 20.0, 2.5)
    plate = kernel.cut(
        kernel.box(60.0, 40.0, 5.0), [kernel.through_hole(30.0, 20.0, 5.0, 5.0), sink]
    )
    return kernel.write_step(
        [("perch", plate)], tmp_path_factory.mktemp("countersunk") / "perch.step"
    )


@pytest.mark.parametrize(
    ("at", "area"), [("shadow", NARROW), ("top", WIDE), ("bottom", NARROW), ("through", WIDE)]
)
def test_outlines_of_a_countersunk_plate(countersunk: Path, at: str, area: float) -> None:
    solids = planform.load(countersunk).solids
    profiles = planform.silhouette(solids, planform.Datum.xy(), at=at)
    assert profiles.area == pytest.approx(area, rel=1e-9)


def test_an_unknown_word_lists_the_valid_ones(countersunk: Path) -> None:
    solids = planform.load(countersunk).solids
    with pytest.raises(planform.GeometryError, match="'shadow', 'top', 'bottom', 'through'"):
        planform.silhouette(solids, planform.Datum.xy(), at="middle")


def test_the_files_say_what_was_taken(countersunk: Path, tmp_path: Path) -> None:
    arguments = ["flatten", str(countersunk), "--datum", "xy", "--at", "top"]
    assert main([*arguments, "--formats", "dxf,svg,json", "--report", "--out", str(tmp_path)]) == 0
    said = "outline at the top (--at top); also to be had: --at bottom, through, shadow"
    assert measure_dxf(tmp_path / "perch.dxf").area == pytest.approx(WIDE, rel=1e-9)
    assert (tmp_path / "perch.dxf").read_text().startswith(f"999\n{said}\n")
    assert not ezdxf.readfile(tmp_path / "perch.dxf").audit().has_errors
    root = ElementTree.parse(tmp_path / "perch.svg").getroot()
    assert root.findtext("{http://www.w3.org/2000/svg}desc") == said
    assert json.loads((tmp_path / "perch.json").read_text())["notes"] == [said]
    page = (tmp_path / "report.html").read_text()
    assert "outline at the top<br>" in page
    assert said in page


def test_the_shadow_needs_no_remark(countersunk: Path, tmp_path: Path) -> None:
    assert main(["flatten", str(countersunk), "--datum", "xy", "--out", str(tmp_path)]) == 0
    assert not (tmp_path / "perch.dxf").read_text().startswith("999")
    assert "<desc>" not in (tmp_path / "perch.svg").read_text()


def test_at_and_section_exclude_each_other(
    countersunk: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["flatten", str(countersunk), "--section", "1", "--at", "top"]
    assert main([*arguments, "--out", str(tmp_path)]) == 2
    assert "--section" in capsys.readouterr().err
