"""`--unit inch` is the unit of all figures: each is held against the one in mm, divided by 25.4 (an inch by
definition)."""

from __future__ import annotations

import csv
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from planform.cli import main

INCH = 25.4


class Text(HTMLParser):
    def __init__(self, source: str) -> None:
        super().__init__()
        self.text = ""
        self.feed(source)

    def handle_data(self, data: str) -> None:
        self.text += f" {data}"


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return planform.write_demo_assembly(tmp_path_factory.mktemp("units") / "station.step")


def test_cut_lists(station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rows = {}
    for unit in ("mm", "in"):
        assert main(["plates", str(station), "--out", str(tmp_path / unit), "--unit", unit]) == 0
        with (tmp_path / unit / "cut_list.csv").open(newline="") as file:
            rows[unit] = list(csv.DictReader(file))
    assert len(rows["mm"]) == len(rows["in"]) >= 9
    for metric, imperial in zip(rows["mm"], rows["in"], strict=True):
        for key in ("thickness", "width", "height", "cut length", "total cut length"):
            expected = float(metric[f"{key} [mm]"]) / INCH
            assert float(imperial[f"{key} [in]"]) == pytest.approx(expected, abs=1e-4)
        for key in ("area", "total area"):
            expected = float(metric[f"{key} [mm2]"]) / INCH**2
            assert float(imperial[f"{key} [in2]"]) == pytest.approx(expected, abs=1e-5)
        assert metric["mass [kg]"] == imperial["mass [kg]"]
    assert not [key for key in rows["in"][0] if "mm" in key]
    data = json.loads((tmp_path / "in" / "cut_list.json").read_text())
    assert data["unit"] == "inch" and "width [in]" in data["plates"][0]
    # The file names say thicknesses in the unit, too.
    thickness = float(rows["mm"][0]["thickness [mm]"])
    assert (tmp_path / "mm" / f"rows_{thickness:g}mm.dxf").exists()
    assert (tmp_path / "in" / f"rows_{thickness / INCH:.6g}in.dxf").exists()
    page = Text((tmp_path / "in" / "cut_list.html").read_text()).text
    width, height = (float(rows["mm"][0][f"{k} [mm]"]) / INCH for k in ("width", "height"))
    assert f"{width:.3f} × {height:.3f}" in page
    assert " mm" not in page.split("Before you cut")[0]
    said = capsys.readouterr().out
    assert "width × height in" in said and f"{width:.3f} × {height:.3f}" in said


def test_outlines_and_show(
    station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "cut"
    assert main(["flatten", str(station), "--out", str(out), "--unit", "inch", "--report"]) == 0
    said = capsys.readouterr().out
    assert "width × height in" in said and "area in²" in said
    page = Text((out / "report.html").read_text()).text
    solid = next(s for s in planform.load(station).solids if s.name == "gable")
    outline = planform.silhouette(solid, planform.auto_datum(solid))
    width, height = (outline.bounds[1] - outline.bounds[0]) / INCH
    assert f"{width:.3f} × {height:.3f} in" in page
    assert f"{outline.area / INCH**2:.3f} in²" in page
    assert main(["show", str(station), "--unit", "in"]) == 0
    said = capsys.readouterr().out
    assert "all lengths below in in" in said and "volume in³" in said
    lower, upper = planform.load(station).solids[0].bounds
    assert f"{(upper[0] - lower[0]) / INCH:.3f} × " in said


def test_inspections_and_lengths_on_the_command_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plate = kernel.cut(kernel.box(100, 60, 3), [kernel.through_hole(20, 20, 1.0, 3)])
    source = str(kernel.write_step([("plate", plate)], tmp_path / "plate.step"))
    page, data = tmp_path / "a.html", tmp_path / "a.json"
    status = main(
        ["inspect", source, "--unit", "in", "--sheet", "4inx2in", "--thickness", "1/8in",
         "--html", str(page), "--json", str(data), "--density", "680"]
    )  # fmt: skip
    assert status == 1
    (drawing,) = json.loads(data.read_text())["drawings"]
    assert drawing["thickness"] == 3.175  # JSON is in mm always
    by_rule = {finding["rule"]: finding for finding in drawing["findings"]}
    assert "sheet" in by_rule  # 60 mm are more than 2 in
    assert by_rule["inner_width"]["limit"] == pytest.approx(3.175 / 2)
    said = capsys.readouterr().out
    assert "3.937 × 2.362 in (100 × 60 mm), 0.125 in thick" in said
    assert "0.03937 in" in said  # the hole
    text = Text(page.read_text()).text
    assert "0.03937 in" in text and "3.937 × 2.362 in" in text
    area = 6000 - 3.141592653589793 / 4
    assert f"{area * 3.175 * 680e-6:.1f} g at 680 kg/m³" in text


def test_rules_take_inch(tmp_path: Path) -> None:
    file = tmp_path / "rules.toml"
    file.write_text('[web]\nlimit = 0.125\nunit = "in"\n[neck]\nlimit = "1/16in"\n'
                    '[inner_width]\nlimit = 2\nunit = "inch"\n')  # fmt: skip
    rules = planform.read_rules(file)
    assert [(rules[name].limit, rules[name].unit) for name in ("web", "neck", "inner_width")] == [
        (pytest.approx(3.175), "mm"),
        (1.5875, "mm"),
        (pytest.approx(50.8), "mm"),
    ]


@pytest.mark.parametrize("density", [7.85, 0.68, 30_000.0])
def test_a_density_that_is_hardly_one_is_questioned(
    density: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = str(kernel.write_step([("plate", kernel.box(60, 40, 3))], tmp_path / "plate.step"))
    assert main(["inspect", source, "--density", str(density)]) == 0
    said = capsys.readouterr().err
    assert f"{density:g} kg/m³ is not likely" in said
    if density < 10:
        assert f"read as g/cm³ it would be {1000 * density:g}" in said
    with pytest.warns(UserWarning, match="not likely"):
        planform.Material("oak", density)
    assert main(["inspect", source, "--density", "680"]) == 0
    assert capsys.readouterr().err == ""


def test_what_a_materials_file_leaves_open(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    parts = [
        ("tray floor", kernel.box(60, 40, 3)),
        ("tray side", kernel.box(70, 40, 3)),
        ("hanger", kernel.box(80, 40, 5)),
    ]
    source = str(kernel.write_step(parts, tmp_path / "a.step", layers={"hanger": "METAL 2"}))
    file = tmp_path / "materials.toml"
    file.write_text(
        "[density]\noak = 0.7\ncork = 240\n"
        '[[rule]]\nname = "tray *"\nmaterial = "oak"\n'
        '[[rule]]\nname = "floor"\nmaterial = "larch"\n'
        '[[rule]]\nname = "roof"\nmaterial = "slate"\n'
    )
    out = tmp_path / "cut"
    assert main(["plates", source, "--out", str(out), "--materials", str(file)]) == 0
    said = capsys.readouterr().err
    for line in (
        'material rule 2 (name = "floor", material = "larch") decided nothing: rules before it fit first',
        'material rule 3 (name = "roof", material = "slate") decided nothing: it fits no plate',
        "the density of 'cork' belongs to no rule's material",
        "1 plate has no material: hanger",
        "oak: a density of 0.7 kg/m³ is not likely",
    ):
        assert line in said, line
        assert (
            line.replace('"', "&#34;").replace("'", "&#39;") in (out / "cut_list.html").read_text()
        )
    notes = json.loads((out / "cut_list.json").read_text())["notes"]
    assert len(notes) == 5
    file.write_text('[[rule]]\nlayer = "metal*"\nmaterial = "steel"\n[[rule]]\nmaterial = "oak"\n')
    assert main(["plates", source, "--out", str(out), "--materials", str(file)]) == 0
    said = capsys.readouterr().err
    assert "steel: no density" in said and "decided nothing" not in said
    with (out / "cut_list.csv").open(newline="") as csv_file:
        rows = {row["name"]: row["material"] for row in csv.DictReader(csv_file)}
    assert rows == {"tray floor": "oak", "tray side": "oak", "hanger": "steel"}


def test_show_lists_layers_and_colours(
    station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    parts = [(f"slat {i}", kernel.box(60 + i, 40, 3)) for i in range(4)]
    layers = {"slat 0": "ROOF", "slat 1": "ROOF", "slat 3": "前"}
    source = kernel.write_step(parts, tmp_path / "a.step", layers=layers)
    assert main(["show", str(source)]) == 0
    said = capsys.readouterr().out
    assert "layer ROOF: 2 solids (1-2)" in said and "layer 前: 1 solid (4)" in said
    assert "no colours" in said
    assert main(["show", str(station)]) == 0
    said = capsys.readouterr().out
    assert re.search(r"colour #[0-9a-f]{6}: \d+ solids? \(\d", said) and "no layers" in said


def test_names_of_every_script_are_names_of_files(tmp_path: Path) -> None:
    parts = [("前板", kernel.box(60, 40, 3)), ("Rückwand/links", kernel.box(61, 40, 3))]
    source = kernel.write_step(parts, tmp_path / "häuschen.step")
    assert main(["flatten", str(source), "--out", str(tmp_path / "cut")]) == 0
    names = {path.name for path in (tmp_path / "cut").iterdir()}
    assert names == {"前板.dxf", "前板.svg", "Rückwand_links.dxf", "Rückwand_links.svg"}
