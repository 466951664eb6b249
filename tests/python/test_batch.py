"""Many models at once: what one breaks costs it alone, nothing is written outside of the output folder, the
same files whatever the number of processes, and again only what changed."""

from __future__ import annotations

import json
import math
import os
import time
from concurrent.futures import BrokenExecutor, Executor, Future
from pathlib import Path
from typing import Any

import batch_misbehaviour
import kernel_models as kernel
import planform
import planform.batch.many
import planform.batch.model_state
import planform.batch.one_source
import pytest
from batch_models import Here, files_of, plate, write_models
from planform.batch import Settings
from planform.batch.folders import layout_of, real_folder
from planform.batch.manifest import RECORD, file_digest, read_record
from planform.batch.model_state import model_digest
from planform.batch.workers import supervised
from planform.cli import main


@pytest.fixture(scope="module")
def models(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_models(tmp_path_factory.mktemp("models"))


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


def test_large_models_come_first(models: Path, tmp_path: Path) -> None:
    told: list[str] = []
    summary = planform.flatten_all(
        models,
        tmp_path / "out",
        workers=1,
        progress=lambda name, finished, total: told.append(name) if name else None,
    )
    sizes = [(models / name).stat().st_size for name in told]
    assert sizes == sorted(sizes, reverse=True) and sizes[0] > sizes[-1]
    assert [result.source for result in summary.results] == sorted(told)


def test_what_breaks_costs_itself_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A crash, a hang, 10 GiB and an exception nobody thought of, among good models."""
    for name in ("a", "crash", "hang", "hungry", "odd", "z"):
        plate(tmp_path / "in" / f"{name}.step", 90)
    monkeypatch.setattr(
        planform.batch.many, "flatten_source", batch_misbehaviour.flatten_or_misbehave
    )
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
    assert sorted(here.sources) == ["crash.step", "hang.step", "hungry.step", "odd.step"]
    assert again.errors == [] and again.count("done") == 6


def test_no_process_is_left_behind_when_the_caller_stops_early() -> None:
    outcomes = supervised(process_number, [0.0, 60.0], workers=1)
    _, outcome = next(outcomes)
    outcomes.close()
    deadline = time.monotonic() + 5
    while Path(f"/proc/{outcome.value}").exists() and time.monotonic() < deadline:
        time.sleep(0.05)
    assert not Path(f"/proc/{outcome.value}").exists()


def test_a_process_has_ended_when_its_failure_is_told() -> None:
    """So that the caller can clear away what it left half done."""
    ((_, outcome),) = supervised(process_number, [60.0], workers=1, timeout=0.2)
    assert "longer than 0.2 s" in outcome.error
    assert outcome.process > 0 and not Path(f"/proc/{outcome.process}").exists()


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
        assert (
            capsys.readouterr().out
            == "changed: b.step (the model has changed)\n1 of 2 models to do\n"
        )
        assert main([*call, "--check", "--tolerance", "0.1"]) == 1
        assert files_of(out) == before

    def test_check_fails_where_the_last_run_did(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        source = plate(tmp_path / "in" / "a.step", 80)
        source.write_bytes(source.read_bytes()[:900])
        call = ["batch", str(tmp_path / "in"), "--out", str(tmp_path / "out")]
        planform.flatten_all(tmp_path / "in", tmp_path / "out", executor=Here())
        assert main([*call, "--check"]) == 1
        said = capsys.readouterr()
        assert said.out == "0 of 1 model to do\n"
        assert "a.step" in said.err and "damaged" in said.err

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

    def test_a_bend_table_of_other_bytes_is_a_change(self, tmp_path: Path) -> None:
        source, table = plate(tmp_path / "in" / "a.step", 100), tmp_path / "bends.toml"
        row = "bend = [{{thickness = 1, inside_radius = 1, angle = 90, allowance = {}}}]"
        table.write_text(row.format(2.1))
        settings = Settings(bend_table=str(table))
        planform.flatten_all(source, tmp_path / "out", settings, executor=Here())
        table.write_text(row.format(2.2))
        (pending,) = planform.flatten_all(
            source, tmp_path / "out", settings, executor=Here()
        ).pending
        assert pending.action == "changed"
        # It counts what is in it, not what it is called.
        moved = Settings(bend_table=str(table.rename(tmp_path / "moved.toml")))
        assert planform.flatten_all(source, tmp_path / "out", moved, executor=Here()).pending == []

    def test_a_model_is_read_once_to_look_and_once_to_draw(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        seen: list[str] = []

        def counting(path: Path) -> bytes | None:
            seen.append(path.name)
            return read(path)

        read = planform.batch.model_state.read
        monkeypatch.setattr(planform.batch.model_state, "read", counting)
        monkeypatch.setattr(planform.batch.one_source, "load_cached", None)  # would read it, too
        source = plate(tmp_path / "in" / "a.step", 100)
        planform.flatten_all(source, tmp_path / "out", executor=Here())
        assert seen == ["a.step", "a.step"]
        planform.flatten_all(source, tmp_path / "out", executor=Here())
        assert seen == ["a.step"] * 3

    def test_a_model_that_changes_before_it_is_drawn_is_not_drawn(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        source = plate(tmp_path / "in" / "a.step", 100)

        class Late(Here):
            def submit(self, *args: Any, **keywords: Any) -> Future[Any]:
                plate(source, 120)
                return super().submit(*args, **keywords)

        (result,) = planform.flatten_all(source, tmp_path / "out", executor=Late()).results
        assert result.status == "stopped" and "written while" in result.errors[0]
        assert not list((tmp_path / "out").rglob("*.dxf"))
        (again,) = planform.flatten_all(source, tmp_path / "out", executor=Here()).results
        assert (again.action, again.status) == ("changed", "done")


class TestCache:
    def test_another_option_reads_no_step(self, tmp_path: Path) -> None:
        """The entry is used (its time is renewed) and not written again."""
        source = plate(tmp_path / "in" / "a.step", 100)
        cache = tmp_path / "cache"
        planform.flatten_all(source, tmp_path / "out", executor=Here(), cache=cache)
        (entry,) = cache.iterdir()
        os.utime(entry, (0, 0))
        before = entry.stat()
        wider = Settings(tolerance=0.05)
        planform.flatten_all(source, tmp_path / "out", wider, executor=Here(), cache=cache)
        assert list(cache.iterdir()) == [entry]
        assert entry.stat().st_ino == before.st_ino and entry.stat().st_mtime > 0

    def test_the_cache_does_not_show_in_the_drawings(self, tmp_path: Path) -> None:
        source = plate(tmp_path / "in" / "a.step", 100)
        cache = tmp_path / "cache"
        made = []
        for use in (False, cache, cache, "damaged", cache):
            if use == "damaged":
                (entry,) = cache.iterdir()
                entry.write_bytes(entry.read_bytes()[:-1] + b"?")
                use = cache
            out = tmp_path / str(len(made))
            planform.flatten_all(source, out, executor=Here(), cache=use)
            made.append(files_of(out))
        assert all(files == made[0] for files in made)

    def test_its_place(self, monkeypatch: pytest.MonkeyPatch) -> None:
        """XDG Base Directory Specification 0.8: relative paths in the variable are ignored."""
        monkeypatch.setenv("XDG_CACHE_HOME", "/caches")
        assert planform.default_cache_folder() == Path("/caches/planform")
        monkeypatch.setenv("XDG_CACHE_HOME", "caches")
        monkeypatch.setenv("HOME", "/home/ada")
        assert planform.default_cache_folder() == Path("/home/ada/.cache/planform")
        monkeypatch.delenv("HOME")
        assert planform.batch.many.cache_folder(True) is None


class TestExecutors:
    def test_a_broken_executor_is_reported_for_each_source(self, tmp_path: Path) -> None:
        class Broken(Executor):
            def submit(self, *_arguments: Any, **_keywords: Any) -> Future[Any]:
                raise BrokenExecutor("gone")

        class Failing(Executor):
            def submit(self, *_arguments: Any, **_keywords: Any) -> Future[Any]:
                future: Future[Any] = Future()
                future.set_exception(ConnectionError("cut"))
                return future

        plate(tmp_path / "in" / "a.step", 100)
        plate(tmp_path / "in" / "b.step", 100)
        for executor, words in ((Broken(), "takes no task: gone"), (Failing(), "cut")):
            summary = planform.flatten_all(tmp_path / "in", tmp_path / "out", executor=executor)
            assert summary.count("stopped") == 2
            assert all(words in error for error in summary.errors)

    def test_a_client_gives_its_executor(self, tmp_path: Path) -> None:
        here = Here()

        class Client:
            def get_executor(self) -> Executor:
                return here

        source = plate(tmp_path / "in" / "a.step", 100)
        assert planform.flatten_all(source, tmp_path / "out", executor=Client()).count("done") == 1
        assert here.sources == ["a.step"]


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

    def test_a_folder_that_cannot_be_read_is_an_error(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Its models must be neither left out nor taken for gone."""
        plate(tmp_path / "in" / "a.step", 100)
        plate(tmp_path / "in" / "closed" / "b.step", 90)
        out = tmp_path / "out"
        planform.flatten_all(tmp_path / "in", out, executor=Here())
        before = files_of(out)
        scandir, stat = os.scandir, os.stat
        closed = tmp_path / "in" / "closed"

        def refusing(path: Any) -> Any:
            if Path(path) == closed:
                raise PermissionError(13, "Permission denied", str(path))
            return scandir(path)

        def unseen(path: Any, **keywords: Any) -> os.stat_result:
            if not isinstance(path, int) and Path(path).parent == closed:
                raise PermissionError(13, "Permission denied", str(path))
            return stat(path, **keywords)

        monkeypatch.setattr(os, "scandir", refusing)
        monkeypatch.setattr(os, "stat", unseen)
        with pytest.raises(planform.LoadError, match="closed: the folder can't be read"):
            planform.flatten_all(tmp_path / "in", out, executor=Here())
        planform.flatten_all(tmp_path / "in" / "*.step", out, executor=Here())
        monkeypatch.undo()
        assert files_of(out) == before

    def test_steps_that_lead_out_are_refused(self, tmp_path: Path) -> None:
        with pytest.raises(planform.WriteError, match="leads out"):
            real_folder(tmp_path, "../x", make=True)

    def test_one_batch_at_a_time(self, models: Path, tmp_path: Path) -> None:
        with (
            planform.batch.many.locked(tmp_path),
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


def test_record_of_a_source(models: Path, tmp_path: Path) -> None:
    planform.flatten_all(models / "shelf.step", tmp_path, executor=Here())
    record = read_record(tmp_path / "shelf")
    assert record is not None
    assert set(record.files) == {"shelf.dxf", "shelf.svg", ".shelf.outline"}
    assert (record.source, record.status, record.drawings) == ("shelf.step", "done", 1)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"datum": "XY"}, "datum = 'XY' is unknown; valid: xy, xz, yz, auto"),
        ({"datum": planform.Datum.xy()}, "datum is a Datum"),
        ({"at": "middle"}, "shadow, top, bottom, through"),
        ({"formats": "dxf"}, "formats is 'dxf'"),
        ({"formats": ()}, "formats = ()"),
        ({"formats": ["pdf"]}, "'pdf' is unknown; valid: dxf, svg, json"),
        ({"unit": "cm"}, "mm, inch"),
        ({"tolerance": 0.0}, "tolerance = 0.0"),
        ({"tolerance": "0.1"}, "tolerance is '0.1'"),
        ({"scale": math.inf}, "scale = inf"),
        ({"section": math.nan}, "section = nan"),
        ({"section": 1.0, "at": "top"}, "don't go together"),
        ({"one_file": True}, "one_file needs a fixed datum"),
        ({"read_unit": "furlong"}, "inch"),
        ({"layers": {"cut": {"name": "CUT"}}}, "layers: [cut] is no role; valid: outer"),
        ({"layers": {"outer": {"color": 300}}}, "layers: [outer]: color must be an index"),
    ],
)
def test_settings_that_make_no_sense(wrong: dict[str, Any], words: str) -> None:
    with pytest.raises(planform.GeometryError) as caught:
        planform.Settings(**wrong)
    assert words in str(caught.value)


def test_a_part_in_a_file_of_its_own_is_a_reason_to_do_a_model_again(tmp_path: Path) -> None:
    """Whether the kernel finds the part is shown in C++ (references_test.cpp); here an entity names it."""
    path, part = tmp_path / "tray.step", tmp_path / "rail.STP"
    text = plate(tmp_path / "plain.step", 40.0).read_text()
    path.write_text(
        text.replace("DATA;", "DATA;\n#99999=DOCUMENT_FILE('rail.STP','','',$,'',$);", 1)
    )
    assert model_digest(path) == file_digest(path)
    part.write_text(text)
    with_part = model_digest(path)
    assert with_part != file_digest(path)
    part.write_text(text.replace("DATA;", "DATA;\n", 1))
    assert model_digest(path) not in (with_part, file_digest(path))
    assert model_digest(tmp_path / "absent.step") == ""
