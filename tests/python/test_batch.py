"""Many models at once: what one breaks costs it alone, nothing is written outside of the output folder, the
same files whatever the number of processes, and again only what changed."""

from __future__ import annotations

import json
import math
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

import batch_misbehaviour
import kernel_models as kernel
import planform
import planform.many
import pytest
from planform.batch import Settings
from planform.cli import main
from planform.layout import layout_of, real_folder
from planform.manifest import RECORD, read_record
from planform.workers import supervised

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"


class Here(Executor):
    """Works at once, in this process: an executor that costs the tests no start of a process."""

    def __init__(self) -> None:
        self.sources: list[str] = []

    def submit(self, function: Callable[..., Any], /, *args: Any, **keywords: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self.sources.append(args[0].source.name)
        future.set_result(function(*args, **keywords))
        return future


def plate(path: Path, width: float, hole: float = 5.0) -> Path:
    """A plate ``width`` x 60 x 5 mm with a hole in its middle."""
    path.parent.mkdir(parents=True, exist_ok=True)
    body = kernel.cut(kernel.box(width, 60, 5), [kernel.through_hole(width / 2, 30.0, hole, 5.0)])
    return kernel.write_step([(path.stem, body)], path)


def files_of(folder: Path) -> dict[str, bytes]:
    """All files below a folder but the lock, with their bytes; no temporary one may be among them."""
    files = {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != ".lock"
    }
    assert not [name for name in files if name.endswith(".tmp")]
    return files


@pytest.fixture(scope="module")
def models(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Five plates, two of them of the same name in two folders, and a ball, which is not flat."""
    folder = tmp_path_factory.mktemp("models")
    plate(folder / "shelf.step", 100)
    plate(folder / "left" / "side.step", 120)
    plate(folder / "right" / "side.step", 140)
    plate(folder / "right" / "Side.step", 150)
    shutil.copy(folder / "shelf.step", folder / "shelf.stp")
    kernel.write_step([("ball", kernel.cylinder(10, 4))], folder / "button.step")
    (folder / "broken.step").write_text("ISO-10303-21;\nHEADER;\n")
    (folder / "notes.txt").write_text("no model")
    return folder


def test_one_and_two_processes_make_the_same_files(models: Path, tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    first = planform.flatten_all(models, tmp_path / "one", workers=1)
    second = planform.flatten_all(models, tmp_path / "two", workers=2)
    assert first == second
    assert [(r.source, r.folder, r.status) for r in first.results] == [
        ("broken.step", "broken", "failed"),
        ("button.step", "button", "done"),
        ("left/side.step", "left/side", "done"),
        ("right/Side.step", "right/Side", "done"),
        ("right/side.step", "right/side-2", "done"),
        ("shelf.step", "shelf", "done"),
        ("shelf.stp", "shelf-2", "done"),
    ]
    made = files_of(tmp_path / "one")
    assert made == files_of(tmp_path / "two")
    assert {"left/side/side.dxf", "right/side-2/side.svg", "shelf-2/shelf.dxf"} <= set(made)
    (error,) = first.errors
    assert "broken.step" in error and "cut off" in error


def test_what_breaks_costs_itself_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A crash, a hang, 10 GiB and an exception nobody thought of, among good models."""
    for name in ("a", "crash", "hang", "hungry", "odd", "z"):
        plate(tmp_path / "in" / f"{name}.step", 90)
    monkeypatch.setattr(planform.many, "flatten_source", batch_misbehaviour.flatten_or_misbehave)
    summary = planform.flatten_all(
        tmp_path / "in", tmp_path / "out", workers=2, timeout=4, memory=2
    )
    status = {result.source: result.status for result in summary.results}
    assert [name for name, word in status.items() if word == "done"] == ["a.step", "z.step"]
    assert list(status.values()).count("stopped") == 4
    crash, hang, hungry, odd = summary.errors
    assert "SIGSEGV" in crash and "crash.step" in crash
    assert "longer than 4 s" in hang
    assert "more memory" in hungry and "2 GiB" in hungry
    assert "ZeroDivisionError" in odd
    # The causes are gone: what was stopped is tried again, what is done is not.
    here = Here()
    monkeypatch.undo()
    again = planform.flatten_all(tmp_path / "in", tmp_path / "out", executor=here)
    assert here.sources == ["crash.step", "hang.step", "hungry.step", "odd.step"]
    assert again.errors == [] and again.count("done") == 6


def test_no_process_is_left_behind_when_the_caller_stops_early() -> None:
    outcomes = supervised(process_number, [0.0, 60.0], workers=1)
    _, outcome = next(outcomes)
    outcomes.close()
    deadline = time.monotonic() + 5
    while Path(f"/proc/{outcome.value}").exists() and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not Path(f"/proc/{outcome.value}").exists()


def process_number(seconds: float) -> int:
    time.sleep(seconds)
    return os.getpid()


class TestAgain:
    def test_only_what_changed_is_done(self, tmp_path: Path) -> None:
        for number in range(6):
            plate(tmp_path / "in" / f"{number}.step", 80 + number)
        out = tmp_path / "out"
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        before = files_of(out)
        times = {path: path.stat().st_mtime_ns for path in out.rglob("*.dxf")}
        here = Here()
        assert planform.flatten_all(tmp_path / "in", out, executor=here).pending == []
        assert here.sources == [] and files_of(out) == before
        plate(tmp_path / "in" / "3.step", 200)
        here = Here()
        (pending,) = planform.flatten_all(tmp_path / "in", out, executor=here).pending
        assert (pending.source, pending.action) == ("3.step", "changed")
        assert here.sources == ["3.step"]
        touched = [path for path, time in times.items() if path.stat().st_mtime_ns != time]
        assert touched == [out / "3" / "3.dxf"]

    def test_other_options_and_files_that_were_touched_are_done(self, tmp_path: Path) -> None:
        plate(tmp_path / "in" / "a.step", 80)
        plate(tmp_path / "in" / "b.step", 90)
        out = tmp_path / "out"
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        before = files_of(out)
        (out / "a" / "a.dxf").write_text("mine")
        (out / "b" / "b.svg").unlink()
        (out / "b" / "mine.txt").write_text("stays")
        here = Here()
        summary = planform.flatten_all(tmp_path / "in", out, executor=here)
        assert [result.action for result in summary.results] == ["again", "again"]
        (out / "b" / "mine.txt").unlink()
        assert files_of(out) == before
        summary = planform.flatten_all(
            tmp_path / "in", out, Settings(formats=("json",)), executor=here
        )
        assert [result.action for result in summary.results] == ["changed", "changed"]
        assert not list(out.rglob("*.dxf")) and len(list(out.rglob("*.json"))) == 3

    def test_what_belongs_to_sources_and_parts_that_are_gone_goes(self, tmp_path: Path) -> None:
        source = tmp_path / "in" / "deep" / "a.step"
        plate(source, 80)
        plate(tmp_path / "in" / "b.step", 90)
        out = tmp_path / "out"
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        kernel.write_step([("other", kernel.box(10, 10, 2))], source)
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        assert sorted(p.name for p in (out / "deep" / "a").iterdir()) == [
            ".manifest", ".other.outline", "other.dxf", "other.svg",
        ]  # fmt: skip
        # A part of the models alone: the others are neither done nor taken for gone.
        here = Here()
        planform.flatten_all([tmp_path / "in" / "b.step"], out, executor=here)
        assert here.sources == [] and (out / "deep" / "a" / "other.dxf").exists()
        source.unlink()
        (_, gone) = planform.flatten_all(tmp_path / "in", out, executor=Here()).results
        assert (gone.source, gone.action) == ("deep/a.step", "gone")
        assert not (out / "deep").exists()
        assert len(json.loads((out / "manifest.json").read_text())["sources"]) == 1

    def test_check_changes_nothing_and_says_what_would_be_done(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        plate(tmp_path / "in" / "a.step", 80)
        plate(tmp_path / "in" / "b.step", 90)
        out = tmp_path / "out"
        call = ["batch", str(tmp_path / "in"), "--out", str(out)]
        assert main([*call, "--check"]) == 1
        assert not out.exists()
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        before = files_of(out)
        assert main([*call, "--check"]) == 0
        plate(tmp_path / "in" / "b.step", 91)
        capsys.readouterr()
        assert main([*call, "--check"]) == 1
        assert capsys.readouterr().out == "changed: b.step\n1 of 2 models to do\n"
        assert main([*call, "--check", "--tolerance", "0.1"]) == 1
        assert files_of(out) == before

    def test_the_difference_of_the_outlines(self, tmp_path: Path) -> None:
        """Areas by arithmetic: a plate 100 x 60 with a hole of 5 mm grows by 10 x 60, its hole moves from x =
        50 to x = 55 with a diameter of 8."""
        source = plate(tmp_path / "in" / "a.step", 100, hole=5)
        out = tmp_path / "out"
        planform.flatten_all(source, out, executor=Here())
        plate(source, 110, hole=8)
        (result,) = planform.flatten_all(source, out, executor=Here(), compare=True).results
        (change,) = result.changes
        assert change.added - change.removed == pytest.approx(
            600 - math.pi * (4.0**2 - 2.5**2), abs=1e-3
        )
        assert change.added > 600 and 'class="added"' in change.picture
        assert 'class="removed"' in change.picture
        assert (
            planform.flatten_all(source, out, executor=Here(), redo=True, compare=True)
            .results[0]
            .changes
            == ()
        )

    def test_records_that_make_no_sense_cost_a_run_and_nothing_else(self, tmp_path: Path) -> None:
        source = plate(tmp_path / "in" / "a.step", 100)
        out = tmp_path / "out"
        precious = tmp_path / "precious.dxf"
        precious.write_text("precious")
        planform.flatten_all(source, out, executor=Here())
        good = files_of(out)
        record = out / "a" / RECORD
        words = json.loads(record.read_text())
        for damage in (
            "",
            "[]",
            "[" * 100_000,
            '{"files": 3}',
            "\udcff".encode("utf-8", "surrogateescape").decode("latin-1"),
            json.dumps({**words, "digest": "x", "files": {"../../precious.dxf": "", "/etc/x": ""}}),
            json.dumps({**words, "surplus": 1}),
        ):
            record.write_text(damage)
            here = Here()
            planform.flatten_all(source, out, executor=here)
            assert here.sources == ["a.step"], damage[:40]
            assert files_of(out) == good
            assert precious.read_text() == "precious"


class TestPlaces:
    def test_names_choose_no_place(self, tmp_path: Path) -> None:
        names = ["..step", "...step", "-rf.step", "con.step", "a b/c\nd.step", "x" * 200 + ".step"]
        names += ["manifest.json.step", "a/b.step", "a.step", "A/b.step", "é/ü.step", "?/*.step"]
        folder = tmp_path / "in"
        for name in names:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text("no model")
        layout = layout_of([folder])
        places = [source.folder for source in layout.sources]
        assert len({place.casefold() for place in places}) == len(names)
        for place in places:
            parts = place.split("/")
            assert all(part == planform.safe_file_stem(part) for part in parts)
            assert (tmp_path / "out" / place).resolve().is_relative_to(tmp_path / "out")
        # A folder that is both a model's and a folder of models would mix their files.
        assert {source.name: source.folder for source in layout.sources}["a.step"] == "a-3"
        assert "manifest.json" not in places

    def test_links_in_the_output_are_not_followed(self, tmp_path: Path) -> None:
        source = plate(tmp_path / "in" / "a.step", 100)
        plate(tmp_path / "in" / "b.step", 100)
        outside = tmp_path / "outside"
        outside.mkdir()
        victim = outside / "victim"
        victim.write_text("untouched")
        out = tmp_path / "out"
        out.mkdir()
        (out / "a").symlink_to(outside)
        (out / "b").mkdir()
        for name in ("b.dxf", ".b.outline", RECORD):
            (out / "b" / name).symlink_to(victim)
        (out / "manifest.json").symlink_to(victim)
        first, second = planform.flatten_all([source.parent], out, executor=Here()).results
        assert first.status == "failed" and "symbolic link" in first.errors[0]
        assert second.status == "done"
        assert victim.read_text() == "untouched" and list(outside.iterdir()) == [victim]
        assert not (out / "b" / "b.dxf").is_symlink()
        # The same with a folder that was the batch's own.
        (out / "a").unlink()
        planform.flatten_all([source.parent], out, executor=Here())
        (out / "b").rename(outside / "b")
        (out / "b").symlink_to(outside / "b")
        kept = files_of(outside)
        (tmp_path / "in" / "b.step").unlink()
        planform.flatten_all([source.parent], out, executor=Here())
        assert files_of(outside) == kept

    def test_steps_that_lead_out_are_refused(self, tmp_path: Path) -> None:
        with pytest.raises(planform.WriteError, match="leads out"):
            real_folder(tmp_path, "../x", make=True)

    def test_one_batch_at_a_time(self, models: Path, tmp_path: Path) -> None:
        with (
            planform.many.locked(tmp_path),
            pytest.raises(planform.WriteError, match="another batch"),
        ):
            planform.flatten_all(models, tmp_path, executor=Here())

    def test_patterns(self, models: Path) -> None:
        def names(*arguments: object) -> list[str]:
            return [source.name for source in layout_of(map(str, arguments)).sources]

        assert names(models / "*" / "side.step") == ["left/side.step", "right/side.step"]
        assert len(names(models / "**" / "*.st*p")) == 7
        assert names(models / "left" / "side.step", models / "right" / "side.step") == [
            "left/side.step", "right/side.step",
        ]  # fmt: skip
        assert names(models / "left") == ["side.step"]
        assert names(models, models / "shelf.step") == names(models)
        for nothing in (models / "*.txt", models / "left" / "*.brep"):
            with pytest.raises(planform.LoadError, match="fits no model"):
                names(nothing)


class TestKilled:
    """kill -9 at random moments, then a run to the end: the same files as if nothing had happened."""

    @pytest.mark.parametrize("victim", ["parent", "worker"])
    def test_a_run_after_kills_makes_the_same_files(
        self, models: Path, tmp_path: Path, victim: str
    ) -> None:
        chance = random.Random(20 if victim == "parent" else 21)
        expected_out = tmp_path / "a" / "expected"
        planform.flatten_all(models, expected_out, executor=Here())
        expected = files_of(expected_out)
        out = tmp_path / "b" / "cut"
        kills = 0
        for number in range(25 if LONG else 2):
            if out.exists() and number % 4 == 0:
                shutil.rmtree(out)
            kills += self.killed_run(models, out, victim, chance.uniform(0.3, 2.5))
        assert kills > 0
        assert planform.flatten_all(models, out, executor=Here()).count("stopped") == 0
        assert files_of(out) == expected

    def killed_run(self, models: Path, out: Path, victim: str, delay: float) -> bool:
        """Start a run and kill it (or one of its workers) after a while; True if there was one to kill."""
        command = [sys.executable, "-m", "planform.cli", "batch", str(models), "--out", str(out)]
        process = subprocess.Popen(
            [*command, "--workers", "2", "--redo"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(delay)
        children = children_of(process.pid)
        killed = process.poll() is None
        if victim == "parent":
            process.kill()
        elif children:
            os.kill(random.Random(delay).choice(children), signal.SIGKILL)
        else:
            killed = False
        process.wait(120)
        deadline = time.monotonic() + 10
        while any(Path(f"/proc/{child}/cwd").exists() for child in children):
            assert time.monotonic() < deadline, "a worker outlives its parent"
            time.sleep(0.02)
        return killed

    def test_ctrl_c_leaves_whole_files_only(self, models: Path, tmp_path: Path) -> None:
        out = tmp_path / "cut"
        process = subprocess.Popen(
            [sys.executable, "-m", "planform.cli", "batch", str(models), "--out", str(out)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        deadline = time.monotonic() + 60
        while not list(out.rglob("*.dxf")) and time.monotonic() < deadline:
            time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        _, errors = process.communicate(timeout=60)
        if process.returncode == 130:
            assert "stopped" in errors and "Traceback" not in errors
        else:
            assert process.returncode == 1  # it was through already: broken.step fails
        for name, data in files_of(out).items():
            if name.endswith(".dxf"):
                assert data.endswith(b"EOF\n")
            if name.endswith(".svg"):
                assert data.endswith(b"</svg>\n")


def children_of(process: int) -> list[int]:
    """The workers of a process (Linux): its children but for the tracker of resources."""
    path = Path(f"/proc/{process}/task/{process}/children")
    numbers = path.read_text().split() if path.exists() else []
    return [
        int(number)
        for number in numbers
        if "spawn_main" in Path(f"/proc/{number}/cmdline").read_text()
    ]


def test_record_of_a_source(models: Path, tmp_path: Path) -> None:
    planform.flatten_all(models / "shelf.step", tmp_path, executor=Here())
    record = read_record(tmp_path / "shelf")
    assert record is not None
    assert set(record.files) == {"shelf.dxf", "shelf.svg", ".shelf.outline"}
    assert (record.source, record.status, record.drawings) == ("shelf.step", "done", 1)
