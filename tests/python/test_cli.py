"""The command: what it writes, what it says, and its exit status."""

from __future__ import annotations

import math
import os
import pty
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import ezdxf
import kernel_models as kernel
import planform
import pytest
from drawing_judges import measure_dxf
from planform.batch import Batch
from planform.cli import main

PLATE = (120.0, 80.0, 6.0)


@pytest.fixture(scope="module")
def assembly(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two equal plates, one above the other, and a disc, as a STEP assembly in mm."""
    folder = tmp_path_factory.mktemp("assembly")
    plate = kernel.cut(
        kernel.box(*PLATE), [kernel.through_hole(x, 40.0, 10.0, 6.0) for x in (20.0, 100.0)]
    )
    disc = kernel.moved(kernel.cylinder(25.0, 4.0), 60.0, 40.0, 50.0)
    path = folder / "shelf.step"
    return kernel.write_step(
        [("plate", plate), ("plate", kernel.moved(plate, 0.0, 0.0, 30.0)), ("disc", disc)],
        path,
        assembly="shelf",
    )


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo assembly: it has real instances."""
    return planform.write_demo_assembly(tmp_path_factory.mktemp("station") / "station.step")


def names_in(folder: Path) -> list[str]:
    return sorted(entry.name for entry in folder.iterdir())


def run(*arguments: object) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, its output in pipes."""
    command = [sys.executable, "-m", "planform.cli", *map(str, arguments)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_version_is_that_of_the_package() -> None:
    finished = run("--version")
    assert finished.returncode == 0
    assert finished.stdout == f"planform {planform.__version__}\n"
    assert finished.stderr == ""


def test_the_command_is_installed() -> None:
    script = Path(sys.executable).parent / "planform"
    finished = subprocess.run([script, "--version"], capture_output=True, text=True, check=True)
    assert finished.stdout == f"planform {planform.__version__}\n"


def test_the_module_is_the_command() -> None:
    """As of `python -m pip`: a scheduler or a notebook's host may have no scripts on its path."""
    command = [sys.executable, "-m", "planform", "show", "nowhere.step"]
    finished = subprocess.run(command, capture_output=True, text=True, check=False)
    assert finished.returncode == 2
    assert "nowhere.step" in finished.stderr


def test_without_arguments_it_shows_help_and_fails() -> None:
    finished = run()
    assert finished.returncode == 2
    assert finished.stdout == ""
    assert "flatten" in finished.stderr


def test_fixed_datum_draws_each_placed_solid(assembly: Path, tmp_path: Path) -> None:
    assert main(["flatten", str(assembly), "--datum", "xy", "--out", str(tmp_path)]) == 0
    assert names_in(tmp_path) == [
        "disc.dxf",
        "disc.svg",
        "plate-2.dxf",
        "plate-2.svg",
        "plate.dxf",
        "plate.svg",
    ]
    plate = measure_dxf(tmp_path / "plate.dxf")
    assert plate.area == pytest.approx(120 * 80 - 2 * 25 * 3.141592653589793, rel=1e-9)
    assert plate.circles == pytest.approx([10.0, 10.0], rel=1e-9)
    assert plate.layers == {"CUT_OUTER": 1, "CUT_INNER": 2}


def test_auto_datum_draws_each_distinct_part_once(
    station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = planform.load(station)
    assert model.shape_count < len(model.solids), "the demo has repeated instances"
    arguments = ["flatten", str(station), "--out", str(tmp_path), "--formats", "dxf"]
    assert main(arguments) == 0
    parts = {solid.part_name for solid in model}
    assert len(names_in(tmp_path)) == len(parts)
    output = capsys.readouterr().out
    assert f"{len(parts)} drawings of {len(model.solids)} solids" in output
    assert "identical parts are drawn once" in output
    # name, quantity, width × height, ...
    quantities = re.findall(r" (\d+) +[\d.]+ × [\d.]+", output)
    assert sum(map(int, quantities)) == len({solid.part for solid in model})
    assert any(int(quantity) > 1 for quantity in quantities)


def test_a_part_of_several_bodies_in_one_plate_is_one_drawing(
    station: Path, tmp_path: Path
) -> None:
    arguments = ["flatten", str(station), "--out", str(tmp_path), "--formats", "json"]
    assert main(arguments) == 0
    number = planform.ProfileSet.from_json(tmp_path / "house_number.json")
    assert number.name == "house number"
    # 0, 6, 8 and 9 have five insides; the plate is body 1.
    assert [island.name for island in number.islands] == [
        f"house number ({body})" for body in range(2, 7)
    ]
    assert {number.profiles[island.parent].name for island in number.islands} == {
        "house number (1)"
    }
    held = planform.bridges(number, width=1.0)
    assert not held.islands and len(held.profiles) == 1


def test_bodies_of_one_part_are_drawn_together_if_they_lie_in_one_slab() -> None:
    slab = kernel.box(100.0, 60.0, 4.0)
    window = kernel.cut(slab, [kernel.moved(kernel.box(20.0, 20.0, 6.0), 10.0, 10.0, -1.0)])
    bodies = [
        kernel.moved(kernel.box(10.0, 10.0, 4.0), 15.0, 15.0),  # loose in the window
        window,
        kernel.moved(slab, 0.0, 0.0, 4.0),  # a plate on it
        kernel.moved(kernel.box(10.0, 10.0, 3.0), 110.0, 0.0, 0.5),  # beside it, thinner
        kernel.moved(kernel.box(4.0, 60.0, 30.0), -4.0, 0.0, 0.0),  # a wall
    ]
    solids = planform.from_ocp(kernel.compound(bodies)).solids
    groups = planform.coplanar_groups(solids)
    names = [[solid.name for solid in group] for group in groups]
    assert names == [["solid 1", "solid 2", "solid 4"], ["solid 3"], ["solid 5"]]
    datum = planform.auto_datum(groups[0])
    assert planform.silhouette(groups[0], datum).bounds.tolist() == [[0, 0], [120, 60]]
    with pytest.raises(planform.GeometryError, match="at least one solid"):
        planform.auto_datum([])


def test_bodies_of_one_part_that_touch_or_overlap_are_cut_apart(tmp_path: Path) -> None:
    """In one drawing their union would stand for them: the cut between them, a hole even, would be lost."""
    hole = kernel.moved(kernel.cylinder(15.0, 6.0), 50.0, 50.0, -1.0)
    disc = kernel.moved(kernel.cylinder(15.0, 4.0), 50.0, 50.0)
    loose = kernel.moved(kernel.cylinder(5.0, 4.0), 20.0, 130.0)
    plate = kernel.cut(kernel.box(100.0, 100.0, 4.0), [hole])
    half = kernel.box(50.0, 60.0, 4.0)
    kernel.write_step(
        [
            ("inlay", kernel.compound([plate, disc, loose])),
            ("halves", kernel.compound([half, kernel.moved(half, 50.0, 0.0)])),
            ("lap", kernel.compound([half, kernel.moved(half, 49.0, 0.0)])),
        ],
        tmp_path / "tray.step",
    )
    out = tmp_path / "out"
    assert (
        main(["flatten", str(tmp_path / "tray.step"), "--out", str(out), "--formats", "json"]) == 0
    )
    areas = sorted(planform.ProfileSet.from_json(path).area for path in out.iterdir())
    circle = math.pi * 15.0**2
    # The four halves are the same plate: one drawing.
    assert areas == pytest.approx([circle, 3000.0, 1e4 - circle + math.pi * 5.0**2], rel=1e-9)


def test_one_file_unites_or_keeps(assembly: Path, tmp_path: Path) -> None:
    united, kept = tmp_path / "united", tmp_path / "kept"
    options = ["flatten", str(assembly), "--datum", "xz", "--one-file", "--formats", "json"]
    assert main([*options, "--out", str(united)]) == 0
    assert main([*options, "--out", str(kept), "--merge", "keep"]) == 0
    assert names_in(united) == names_in(kept) == ["shelf.json"]
    both = [planform.ProfileSet.from_json(folder / "shelf.json") for folder in (united, kept)]
    # On xz nothing overlaps: two plates of 120 x 6 and a disc of 50 x 4, apart from each other.
    for profiles in both:
        assert profiles.area == pytest.approx(2 * 120 * 6 + 50 * 4, rel=1e-9)
        assert len(profiles.profiles) == 3
    assert sorted(profile.name for profile in both[1].profiles) == ["disc", "plate", "plate"]


def test_union_counts_overlap_once_and_keep_marks_what_lies_on_another(
    assembly: Path, tmp_path: Path
) -> None:
    drawn = {}
    for merge in ("union", "keep"):
        folder = tmp_path / merge
        options = ["--datum", "xy", "--one-file", "--merge", merge, "--formats", "json"]
        assert main(["flatten", str(assembly), *options, "--out", str(folder)]) == 0
        drawn[merge] = planform.ProfileSet.from_json(folder / "shelf.json")
    plate = 120 * 80 - 2 * 25 * math.pi
    # The two plates hide each other; the disc of radius 25 about (60, 40) clears the holes at 20 and 100.
    assert drawn["union"].area == pytest.approx(plate, rel=1e-9)
    assert not drawn["union"].marks
    assert drawn["keep"].area == pytest.approx(plate, rel=1e-9)
    marks = sorted((mark.name, mark.contour.area) for mark in drawn["keep"].marks)
    holes = -25 * math.pi
    assert [name for name, _ in marks] == ["disc", "plate", "plate", "plate"]
    assert [area for _, area in marks] == pytest.approx([625 * math.pi, holes, holes, 120 * 80])


def test_section_at_a_height(assembly: Path, tmp_path: Path) -> None:
    options = ["--datum", "xy", "--section", "52", "--formats", "dxf"]
    assert main(["flatten", str(assembly), *options, "--out", str(tmp_path)]) == 0
    assert names_in(tmp_path) == ["disc.dxf"]
    assert measure_dxf(tmp_path / "disc.dxf").circles == pytest.approx([50.0], rel=1e-9)


def test_section_that_misses_everything_writes_nothing_and_says_so(
    assembly: Path, tmp_path: Path
) -> None:
    finished = run("flatten", assembly, "--datum", "xy", "--section", "1000", "--out", tmp_path)
    assert finished.returncode == 1
    assert names_in(tmp_path) == []
    assert "meets none of the solids" in finished.stderr


def test_an_old_drawing_does_not_stand_for_one_that_failed(assembly: Path, tmp_path: Path) -> None:
    options = ["flatten", str(assembly), "--datum", "xy", "--out", str(tmp_path)]
    (tmp_path / "note.txt").write_text("keep me")
    assert main([*options, "--section", "1"]) == 0
    assert len(names_in(tmp_path)) > 1
    assert main([*options, "--section", "1000"]) == 1
    assert names_in(tmp_path) == ["note.txt"]


def test_output_that_can_not_be_written(assembly: Path) -> None:
    command = [sys.executable, "-m", "planform.cli", "show", str(assembly)]
    with Path("/dev/full").open("w") as full:
        finished = subprocess.run(
            command, stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert finished.returncode == 2
    assert finished.stderr.count("\n") == 1 and "can't be written: No space left" in finished.stderr


def test_inch_drawing_is_the_same_drawing(assembly: Path, tmp_path: Path) -> None:
    for unit in ("mm", "inch"):
        options = ["--datum", "xy", "--unit", unit, "--formats", "dxf"]
        assert main(["flatten", str(assembly), *options, "--out", str(tmp_path / unit)]) == 0
    metric, imperial = (measure_dxf(tmp_path / unit / "plate.dxf") for unit in ("mm", "inch"))
    assert imperial.length * 25.4 == pytest.approx(metric.length, rel=1e-9)
    # DXF reference, $INSUNITS: 1 is inches, 4 millimetres.
    codes = [
        ezdxf.readfile(tmp_path / unit / "plate.dxf").header["$INSUNITS"] for unit in ("mm", "inch")
    ]
    assert codes == [4, 1]


@pytest.mark.parametrize(
    ("options", "factor"),
    [
        (["--read-unit", "inch"], 25.4),
        (["--scale", "10"], 10.0),
        (["--read-unit", "m", "--scale", "0.5"], 500.0),
    ],
)
def test_lengths_can_be_read_otherwise(
    assembly: Path, tmp_path: Path, options: list[str], factor: float
) -> None:
    arguments = ["flatten", str(assembly), "--datum", "xy", "--formats", "json", *options]
    assert main([*arguments, "--out", str(tmp_path)]) == 0
    profiles = planform.ProfileSet.from_json(tmp_path / "disc.json")
    assert profiles.length == pytest.approx(2 * 3.141592653589793 * 25 * factor, rel=1e-9)


def test_formats_are_those_asked_for(assembly: Path, tmp_path: Path) -> None:
    arguments = ["flatten", str(assembly), "--datum", "xy", "--formats", "SVG, json,svg"]
    assert main([*arguments, "--out", str(tmp_path)]) == 0
    assert {Path(name).suffix for name in names_in(tmp_path)} == {".svg", ".json"}


def test_a_bad_model_costs_no_other(assembly: Path, tmp_path: Path) -> None:
    finished = run("flatten", "absent.step", assembly, "--datum", "xy", "--out", tmp_path)
    assert finished.returncode == 1
    assert len(names_in(tmp_path)) == 6
    assert finished.stderr.count("\n") == 1
    assert finished.stderr.startswith("planform: error: ")
    assert "absent.step" in finished.stderr


def test_nothing_readable_writes_nothing(tmp_path: Path) -> None:
    out = tmp_path / "out"
    finished = run("flatten", "absent.step", "gone.brep", "--out", out)
    assert finished.returncode == 2
    assert not out.exists()
    assert [line.split(":")[:2] for line in finished.stderr.splitlines()] == [
        ["planform", " error"],
        ["planform", " error"],
    ]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--datum", "xyz"], "'xy', 'xz', 'yz', 'auto'"),
        (["--formats", "dxf,pdf"], "valid: dxf, svg, json"),
        (["--formats", ","], "valid: dxf, svg, json"),
        (["--unit", "furlong"], "valid: mm, inch (or in)"),
        (["--tolerance", "2 furlongs"], "is no length"),
        (["--curves", "chords"], "'arcs', 'exact'"),
        (["--merge", "both"], "'union', 'keep'"),
        (["--tolerance", "0"], "above 0"),
        (["--tolerance", "nan"], "finite"),
        (["--section", "inf"], "finite"),
        (["--scale", "-1"], "above 0"),
        (["--read-unit", "furlong"], "inch"),
        (["--one-file"], "--datum xy, xz or yz"),
        (["--no-such-option"], "--no-such-option"),
    ],
)
def test_bad_usage_is_one_line_with_the_valid_words(
    assembly: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    words: str,
) -> None:
    out = tmp_path / "out"
    assert main(["flatten", str(assembly), "--out", str(out), *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.count("\n") == 1
    assert captured.err.startswith("planform: error: ")
    assert words in captured.err
    assert not out.exists()


def test_earlier_files_are_replaced_and_links_not_followed(assembly: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    elsewhere = tmp_path / "elsewhere.txt"
    elsewhere.write_text("keep me")
    (out / "disc.dxf").symlink_to(elsewhere)
    (out / "plate.dxf").write_text("old")
    options = ["--datum", "xy", "--formats", "dxf", "--out", str(out)]
    assert main(["flatten", str(assembly), *options]) == 0
    assert elsewhere.read_text() == "keep me"
    assert not (out / "disc.dxf").is_symlink()
    assert names_in(out) == ["disc.dxf", "plate-2.dxf", "plate.dxf"]
    assert len(measure_dxf(out / "plate.dxf").circles) == 2


def test_the_same_run_gives_the_same_bytes(station: Path, tmp_path: Path) -> None:
    for folder in ("first", "second"):
        arguments = ["--formats", "dxf,svg,json", "--report", "--out", str(tmp_path / folder)]
        assert main(["flatten", str(station), *arguments]) == 0
    names = names_in(tmp_path / "first")
    assert names == names_in(tmp_path / "second")
    assert len(names) > 10
    for name in names:
        first, second = ((tmp_path / folder / name).read_bytes() for folder in ("first", "second"))
        assert first == second, name


def test_a_pipe_gets_no_progress_bar(assembly: Path, tmp_path: Path) -> None:
    finished = run("flatten", assembly, "--datum", "xy", "--out", tmp_path)
    assert finished.returncode == 0
    assert finished.stderr == ""
    assert "\x1b" not in finished.stdout


def test_a_terminal_gets_a_progress_bar(assembly: Path, tmp_path: Path) -> None:
    controller, terminal = pty.openpty()
    command = [sys.executable, "-m", "planform.cli", "flatten", str(assembly), "--datum", "xy"]
    environment = {**os.environ, "TERM": "xterm", "COLUMNS": "100"}
    environment.pop("NO_COLOR", None)
    process = subprocess.Popen(
        [*command, "--out", str(tmp_path)],
        stdout=subprocess.PIPE,
        stderr=terminal,
        env=environment,
    )
    os.close(terminal)
    shown = b""
    try:
        while piece := os.read(controller, 4096):
            shown += piece
    except OSError:
        pass  # the other end closed
    output, _ = process.communicate()
    os.close(controller)
    assert process.returncode == 0
    assert b"3/3" in shown
    assert b"\x1b" not in output


def test_show_tells_names_unit_sizes_and_shapes(
    station: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = planform.load(station)
    assert main(["show", str(station)]) == 0
    output = capsys.readouterr().out
    assert f"unit mm, {len(model.solids)} solids, {model.shape_count} distinct shapes" in output
    for number, solid in enumerate(model.solids, start=1):
        row = next(
            line
            for line in output.splitlines()
            if re.match(rf" *{number} +{re.escape(solid.name)} ", line)
        )
        volume = re.search(r"(\d+\.\d) +\d+ +■", row)
        assert volume, row
        assert float(volume.group(1)) == pytest.approx(solid.volume, abs=0.051)


def test_show_of_some_unreadable_models_shows_the_rest(assembly: Path) -> None:
    finished = run("show", "absent.step", assembly)
    assert finished.returncode == 1
    assert "disc" in finished.stdout
    assert finished.stderr.count("\n") == 1
    assert run("show", "absent.step").returncode == 2


def test_demo_makes_every_format_and_the_page(tmp_path: Path) -> None:
    finished = run("demo", "--out", tmp_path / "new" / "folder")
    assert finished.returncode == 0, finished.stderr
    names = names_in(tmp_path / "new" / "folder")
    model = planform.load(tmp_path / "new" / "folder" / "station.step")
    parts = {solid.part_name for solid in model}
    for suffix in (".dxf", ".svg", ".json"):
        assert sum(name.endswith(suffix) for name in names) == len(parts)
    assert "report.html" in names
    assert not [name for name in names if name.endswith(".tmp")]
    beside = {
        "station.step",
        "report.html",
        "job.toml",
        "machine.toml",
        "stock.toml",
        "plates",
        "sheets",
    }
    assert len(names) == 3 * len(parts) + len(beside)
    assert beside <= set(names)
    assert "sheets.html" in names_in(tmp_path / "new" / "folder" / "sheets")
    assert "cut_list.html" in names_in(tmp_path / "new" / "folder" / "plates")


def test_output_folder_that_cannot_be_made(assembly: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    finished = run("flatten", assembly, "--out", tmp_path / "file" / "folder")
    assert finished.returncode == 2
    assert finished.stderr.count("\n") == 1
    assert "can't be made" in finished.stderr
    assert names_in(tmp_path) == ["file"]


@pytest.mark.parametrize("command", ["show", "flatten", "plates", "inspect"])
def test_every_command_that_reads_models_heals_as_asked(
    command: str, station: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[object] = []

    def load(path: Path, **options: Any) -> planform.Model:
        model = original(path, **options)
        asked.append((options["heal"], model.healed.shapes_in_full > 0))
        return model

    original = planform.load
    monkeypatch.setattr("planform.cli.command.load", load)
    monkeypatch.setattr("planform.cli.plates_command.load", load)
    monkeypatch.setattr(Batch.__init__, "__defaults__", (load,))
    out = ["--out", str(tmp_path)] if command in ("flatten", "plates") else []
    for heal in ("needed", "always"):
        main([command, str(station), "--heal", heal, *out])
    assert asked == [("needed", False), ("always", True)]
