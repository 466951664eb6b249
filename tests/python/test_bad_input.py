"""Bad input, each kind with an error of its own, from Python and from the command line, and no file left
behind; names in models that try to be more than names."""

from __future__ import annotations

import gzip
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from drawing_judges import audited, svg_area
from planform.cli import main

NAMES = ["../../x", "a/b", '"><script>', "n" * 300, "same", "same", "🐦 Haus"]


def good_step(folder: Path) -> Path:
    return kernel.write_step([("plate", kernel.box(30, 20, 5))], folder / "good.step")


def missing(folder: Path) -> Path:
    return folder / "absent.step"


def empty(folder: Path) -> Path:
    path = folder / "empty.step"
    path.write_bytes(b"")
    return path


def truncated_step(folder: Path) -> Path:
    whole = good_step(folder).read_bytes()
    path = folder / "truncated.step"
    path.write_bytes(whole[: len(whole) * 2 // 3])
    (folder / "good.step").unlink()
    return path


def truncated_gzip(folder: Path) -> Path:
    whole = gzip.compress(good_step(folder).read_bytes())
    path = folder / "truncated.step.gz"
    path.write_bytes(whole[: len(whole) * 2 // 3])
    (folder / "good.step").unlink()
    return path


def step_without_solid(folder: Path) -> Path:
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer

    face = TopExp_Explorer(kernel.box(30, 20, 5), TopAbs_FACE).Current()
    return kernel.write_step([("face", face)], folder / "face.step")


def text_named_step(folder: Path) -> Path:
    path = folder / "text.step"
    path.write_text("Dear workshop,\nplease cut forty perches.\n")
    return path


def folder_named_step(folder: Path) -> Path:
    path = folder / "folder.step"
    path.mkdir()
    return path


UNREADABLE: dict[str, Callable[[Path], Path]] = {
    "file_missing": missing,
    "file_empty": empty,
    "file_damaged": truncated_step,
    "file_damaged (gzip)": truncated_gzip,
    "no_solid": step_without_solid,
    "file_not_recognised": text_named_step,
    "file_unreadable": folder_named_step,
}


@pytest.mark.parametrize("kind", UNREADABLE)
def test_models_that_cannot_be_read(kind: str, tmp_path: Path) -> None:
    path = UNREADABLE[kind](tmp_path)
    with pytest.raises(planform.LoadError) as caught:
        planform.load(path)
    assert caught.value.kind == kind.split(" ")[0]
    assert path.name in str(caught.value)

    before = sorted(tmp_path.iterdir())
    command = [sys.executable, "-m", "planform.cli", "flatten", str(path)]
    finished = subprocess.run(
        [*command, "--out", str(tmp_path / "out")], capture_output=True, text=True, check=False
    )
    assert finished.returncode == 2
    assert finished.stdout == ""
    assert finished.stderr.count("\n") == 1
    assert finished.stderr.startswith("planform: error: ")
    assert path.name in finished.stderr
    assert sorted(tmp_path.iterdir()) == before


def test_each_reason_has_its_own_words(tmp_path: Path) -> None:
    messages = set()
    for number, make in enumerate(UNREADABLE.values()):
        folder = tmp_path / str(number)
        folder.mkdir()
        path = make(folder)
        with pytest.raises(planform.LoadError) as caught:
            planform.load(path)
        messages.add(str(caught.value).replace(str(path), "").replace(path.name, ""))
    assert len(messages) == len(UNREADABLE)


@contextmanager
def ordinary_rights() -> Iterator[Path]:
    """A folder of an ordinary user, with whose rights the block runs: rights don't bind the superuser."""
    nobody = 65534
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if os.geteuid() != 0:
            yield folder
            return
        os.chown(folder, nobody, nobody)
        os.seteuid(nobody)
        try:
            yield folder
        finally:
            os.seteuid(0)


def test_model_without_the_right_to_read() -> None:
    with ordinary_rights() as folder:
        path = good_step(folder)
        path.chmod(0)
        with pytest.raises(planform.LoadError) as caught:
            planform.load(path)
    assert caught.value.kind == "file_unreadable"
    assert "good.step" in str(caught.value)


@pytest.fixture(scope="module")
def plate() -> planform.Solid:
    return planform.from_ocp(kernel.box(30, 20, 5)).solids[0]


@pytest.mark.parametrize("suffix", ["dxf", "svg", "json"])
@pytest.mark.parametrize("folder", ["absent/x", "file/x", "folder"])
def test_output_that_cannot_be_written(
    plate: planform.Solid, tmp_path: Path, suffix: str, folder: str
) -> None:
    (tmp_path / "file").write_text("in the way")
    (tmp_path / "folder").mkdir()
    before = sorted(tmp_path.rglob("*"))
    outline = planform.silhouette(plate, planform.Datum.xy())
    write = getattr(outline, f"to_{suffix}")
    with pytest.raises(planform.WriteError) as caught:
        write(tmp_path / folder)
    assert caught.value.kind == "file_unwritable"
    assert str(tmp_path / folder) in str(caught.value)
    assert sorted(tmp_path.rglob("*")) == before


def test_folder_without_the_right_to_write(plate: planform.Solid) -> None:
    outline = planform.silhouette(plate, planform.Datum.xy())
    with ordinary_rights() as folder:
        folder.chmod(0o555)
        with pytest.raises(planform.WriteError) as caught:
            outline.to_dxf(folder / "x.dxf")
        assert list(folder.iterdir()) == []
        folder.chmod(0o755)
    assert caught.value.kind == "file_unwritable"


def test_command_into_a_folder_where_nothing_can_be_written(tmp_path: Path) -> None:
    # A folder stands where the drawing should go: the drawing fails, the others are made.
    source = kernel.write_step(
        [("one", kernel.box(3, 2, 1)), ("two", kernel.box(5, 4, 1))], tmp_path / "both.step"
    )
    out = tmp_path / "out"
    (out / "one.dxf").mkdir(parents=True)
    command = [sys.executable, "-m", "planform.cli", "flatten", str(source), "--datum", "xy"]
    finished = subprocess.run(
        [*command, "--formats", "dxf", "--out", str(out)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert finished.returncode == 1
    assert finished.stderr.count("\n") == 1
    assert "one.dxf" in finished.stderr
    assert sorted(entry.name for entry in out.iterdir()) == ["one.dxf", "two.dxf"]
    assert list((out / "one.dxf").iterdir()) == []


NAN, INFINITY = float("nan"), float("inf")


@pytest.mark.parametrize(
    "arguments",
    [
        {"origin": (NAN, 0, 0), "normal": (0, 0, 1)},
        {"origin": (0, 0, 0), "normal": (0, NAN, 1)},
        {"origin": (0, 0, 0), "normal": (0, 0, INFINITY)},
        {"origin": (0, 0, 0), "normal": (0, 0, 1), "x": (NAN, 0, 0)},
        {"origin": (0, 0, 0), "normal": (0, 0, 0)},
        {"origin": (0, 0, 0), "normal": (0, 0, 1), "x": (0, 0, 2)},
    ],
)
def test_planes_that_are_none(arguments: dict[str, tuple[float, float, float]]) -> None:
    with pytest.raises(planform.GeometryError) as caught:
        planform.Datum(**arguments)
    assert caught.value.kind == "invalid_argument"


def test_zero_normal_and_nan_are_told_apart() -> None:
    with pytest.raises(planform.GeometryError) as zero:
        planform.Datum(origin=(0, 0, 0), normal=(0, 0, 0))
    with pytest.raises(planform.GeometryError) as nan:
        planform.Datum(origin=(0, 0, 0), normal=(NAN, 0, 1))
    assert str(zero.value) != str(nan.value)


@pytest.mark.parametrize("tolerance", [0.0, -1.0, NAN, INFINITY])
def test_tolerances_that_are_none(plate: planform.Solid, tolerance: float) -> None:
    with pytest.raises(planform.GeometryError) as caught:
        planform.silhouette(plate, planform.Datum.xy(), tolerance)
    assert caught.value.kind == "invalid_argument"
    assert "tolerance" in str(caught.value)


def test_section_offset_that_is_none(plate: planform.Solid) -> None:
    with pytest.raises(planform.GeometryError) as caught:
        planform.section(plate, planform.Datum.xy(), offset=NAN)
    assert caught.value.kind == "invalid_argument"


def test_unknown_unit_names_the_valid_ones(tmp_path: Path) -> None:
    path = good_step(tmp_path)
    with pytest.raises(planform.GeometryError) as caught:
        planform.load(path, unit="furlong")
    assert caught.value.kind == "unknown_option"
    for word in ("furlong", *planform.unit_names()):
        assert word in str(caught.value)
    outline = planform.silhouette(planform.load(path), planform.Datum.xy())
    with pytest.raises(planform.GeometryError) as caught:
        outline.to_dxf(tmp_path / "x.dxf", unit="furlong")
    assert caught.value.kind == "unknown_option"
    assert not (tmp_path / "x.dxf").exists()


@pytest.mark.parametrize("scale", [0.0, -2.0, NAN, INFINITY])
def test_scales_that_are_none(tmp_path: Path, scale: float) -> None:
    with pytest.raises(planform.GeometryError) as caught:
        planform.load(good_step(tmp_path), scale=scale)
    assert caught.value.kind == "invalid_argument"


def test_section_that_misses_is_empty_and_says_so(plate: planform.Solid) -> None:
    outline = planform.section(plate, planform.Datum.xy(), offset=100.0)
    assert outline.profiles == []
    assert outline.area == 0.0
    assert len(outline.notes) == 1
    assert "meets none" in outline.notes[0]


def test_names_stay_names(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    parts = [
        (name, kernel.moved(kernel.box(20 + number, 10, 5), 0, 20 * number))
        for number, name in enumerate(NAMES)
    ]
    source = kernel.write_step(parts, tmp_path / "names.step")
    assert [solid.name for solid in planform.load(source).solids] == NAMES
    out = tmp_path / "deep" / "out"
    options = ["--datum", "xy", "--formats", "dxf,svg,json", "--report", "--out", str(out)]
    assert main(["flatten", str(source), *options]) == 0
    written = [path for path in tmp_path.rglob("*") if path.is_file() and path != source]
    assert all(path.parent == out for path in written)
    assert len(written) == 3 * len(NAMES) + 1
    assert {"same.dxf", "same-2.dxf"} <= {path.name for path in written}
    for number in range(len(NAMES)):
        area = (20 + number) * 10
        drawings = [
            path for path in written if path.suffix == ".svg" and round(svg_area(path)) == area
        ]
        assert len(drawings) == 1, f"part {number} has one SVG of its area"
        assert audited(drawings[0].with_suffix(".dxf")).modelspace()
        assert "<script" not in drawings[0].read_text(encoding="utf-8")
        profiles = planform.ProfileSet.from_json(drawings[0].with_suffix(".json"))
        assert profiles.name == NAMES[number]
    assert "<script" not in (out / "report.html").read_text(encoding="utf-8")
    assert "same" in capsys.readouterr().out
