"""Models flattened again as they are saved, in every way that programs save: each final state is drawn once,
none of them half-read."""

from __future__ import annotations

import gzip
import os
import random
import threading
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import kernel_models as kernel
import planform
import planform.batch.watching
import pytest
from planform.batch.manifest import file_digest
from planform.batch.many import BatchSummary, Options
from planform.batch.settings import Settings
from planform.batch.watching import is_whole, watch_all

SAVES = 200 if os.environ.get("PLANFORM_LONG_TESTS") else 16
PATIENCE = 60.0
"""Seconds until a test gives up; nothing is said of how fast a machine is."""


class Watching:
    """`watch_all` in a thread of its own; what it drew, by model and digest."""

    def __init__(self, models: Path, out: Path, settings: Settings | None = None) -> None:
        self.models, self.out = models, out
        self.settings = settings or Settings(formats=("json",))
        self.drawn: Counter[tuple[str, str]] = Counter()
        self.failed: list[str] = []
        self.gone: Counter[str] = Counter()
        self.reasons: list[str] = []
        self.waiting: list[str] = []
        self.runs = 0
        self.news = threading.Condition()
        self.stop = threading.Event()
        self.thread = threading.Thread(target=self.run, daemon=True)

    def run(self) -> None:
        options = Options(workers=1)
        for summary in watch_all([self.models], self.out, self.settings, options, self.stop):
            with self.news:
                self.take(summary)
                self.runs += 1
                self.news.notify_all()

    def take(self, summary: BatchSummary) -> None:
        self.waiting += summary.waiting
        for result in summary.pending:
            if result.action == "gone":
                self.gone[result.source] += 1
            elif result.status == "done":
                record = (self.out / result.folder / ".manifest").read_text()
                digest = record.split('"digest": "')[1].split('"')[0]
                self.drawn[result.source, digest] += 1
                self.reasons.append(result.reason)
            elif "written while" not in " ".join(result.errors):
                self.failed.append(f"{result.source}: {result.errors}")

    def wait(self, condition: str, *, until: float = PATIENCE) -> None:
        """Wait for a condition on ``self``."""
        end = time.monotonic() + until
        with self.news:
            while not eval(condition, {"self": self}):
                left = end - time.monotonic()
                assert left > 0, f"{condition}: {self.drawn} {self.failed} {self.gone}"
                self.news.wait(left)

    def __enter__(self) -> Watching:
        self.thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.stop.set()
        self.thread.join(PATIENCE)
        assert not self.thread.is_alive()


@pytest.fixture(scope="module")
def states(tmp_path_factory: pytest.TempPathFactory) -> list[bytes]:
    """Plates of different widths, as bytes of STEP files."""
    folder = tmp_path_factory.mktemp("states")
    texts = []
    for number in range(SAVES + 1):
        path = kernel.write_step(
            [("slat", kernel.box(40 + number, 20, 3))], folder / f"{number}.step"
        )
        texts.append(path.read_bytes())
    return texts


def save_whole(path: Path, data: bytes, _source: random.Random) -> None:
    path.write_bytes(data)


def save_slowly(path: Path, data: bytes, source: random.Random) -> None:
    with path.open("wb") as file:
        for start in range(0, len(data), 1 + len(data) // 6):
            file.write(data[start : start + 1 + len(data) // 6])
            file.flush()
            time.sleep(source.uniform(0.0, 0.12))


def save_by_rename(path: Path, data: bytes, _source: random.Random) -> None:
    other = path.with_name(path.name + "~")
    other.write_bytes(data)
    other.replace(path)


def save_half_then_whole(path: Path, data: bytes, source: random.Random) -> None:
    path.write_bytes(data[: len(data) // 2])
    time.sleep(source.uniform(0.3, 0.8))  # longer than a file needs to settle
    path.write_bytes(data)


def save_after_deleting(path: Path, data: bytes, source: random.Random) -> None:
    path.unlink(missing_ok=True)
    time.sleep(source.uniform(0.0, 0.6))
    path.write_bytes(data)


WAYS = (save_whole, save_slowly, save_by_rename, save_half_then_whole, save_after_deleting)


def test_every_saved_state_is_drawn_once_and_none_half(states: list[bytes], tmp_path: Path) -> None:
    source = random.Random(18)
    models = tmp_path / "models"
    models.mkdir()
    path = models / "slat.step"
    path.write_bytes(states[0])
    delays = []
    with Watching(models, tmp_path / "cut") as watching:
        watching.wait("self.runs >= 1")
        for number in range(1, SAVES + 1):
            WAYS[number % len(WAYS)](path, states[number], source)
            whole = time.monotonic()
            digest = file_digest(path)
            watching.wait(f"self.drawn['slat.step', {digest!r}] >= 1")
            delays.append(time.monotonic() - whole)
            (drawn,) = (tmp_path / "cut" / "slat").glob("*.json")
            low, high = planform.ProfileSet.from_json(drawn).bounds
            assert high[0] - low[0] == pytest.approx(40 + number, abs=1e-9)
        time.sleep(0.5)
    assert watching.failed == []
    assert len(watching.drawn) == SAVES + 1
    assert set(watching.drawn.values()) == {1}
    delays.sort()
    print(
        f"from whole to drawn: median {delays[len(delays) // 2]:.2f} s, longest {delays[-1]:.2f} s"
    )


def test_what_is_deleted_goes_and_what_is_new_comes(states: list[bytes], tmp_path: Path) -> None:
    models = tmp_path / "models"
    models.mkdir()
    with Watching(models, tmp_path / "cut") as watching:
        watching.wait("self.runs >= 1")  # there is no model yet
        (models / "a.step").write_bytes(states[1])
        (models / "later").mkdir()
        (models / "later" / "b.stp.gz").write_bytes(gzip.compress(states[2]))
        (models / "notes.txt").write_text("no model")
        watching.wait("len(self.drawn) == 2")
        (models / "a.step").unlink()
        watching.wait("self.gone['a.step'] == 1")
        assert not (tmp_path / "cut" / "a").exists()
        (models / "later" / "b.stp.gz").write_bytes(gzip.compress(states[3]))
        watching.wait("len(self.drawn) == 3")
    assert watching.failed == []
    assert watching.reasons == ["", "", "the model has changed"]


def naming(data: bytes, *names: str) -> bytes:
    """A STEP file that names others as parts."""
    entities = "".join(
        f"#{99990 + i}=DOCUMENT_FILE('{name}','','',$,'',$);\n" for i, name in enumerate(names)
    )
    return data.replace(b"DATA;", b"DATA;\n" + entities.encode(), 1)


def test_parts_in_other_folders_are_watched(states: list[bytes], tmp_path: Path) -> None:
    """One that is there, one that comes later, of whatever name; while one is half-written its model
    waits."""
    models, parts = tmp_path / "models", tmp_path / "parts"
    models.mkdir()
    parts.mkdir()
    rail, knob = parts / "rail.p21", parts / "knob.stp"
    rail.write_bytes(naming(states[1], "knob.stp"))
    (models / "a.step").write_bytes(naming(states[0], "../parts/rail.p21"))
    (models / "b.step").write_bytes(states[2])
    with Watching(models, tmp_path / "cut") as watching:
        watching.wait("len(self.drawn) == 2")
        save_whole(rail, naming(states[3], "knob.stp"), random.Random())
        watching.wait("len(self.drawn) == 3")
        knob.write_bytes(states[4][: len(states[4]) // 2])
        time.sleep(1.0)
        (models / "b.step").write_bytes(states[5])
        watching.wait("len(self.drawn) == 4")
        assert [name for name, _ in watching.drawn].count("a.step") == 2
        knob.write_bytes(states[4])
        watching.wait("len(self.drawn) == 5")
        knob.unlink()
        watching.wait("sum(self.drawn.values()) == 6")  # as it was before
        time.sleep(0.5)
    assert watching.failed == []
    assert sum(watching.drawn.values()) == 6
    assert Counter(name for name, _ in watching.drawn.elements()) == {"a.step": 4, "b.step": 2}


def test_a_file_that_never_becomes_whole_is_told(
    states: list[bytes], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(planform.batch.watching, "LONG", 0.3)
    models = tmp_path / "models"
    models.mkdir()
    (models / "a.step").write_bytes(states[0])
    (models / "cut off.step").write_bytes(states[1][:900])
    with Watching(models, tmp_path / "cut") as watching:
        watching.wait("len(self.drawn) == 1 and self.waiting")
        time.sleep(1.0)
    assert watching.waiting == [str(models / "cut off.step")]


def test_a_bend_table_that_is_saved_is_a_change(states: list[bytes], tmp_path: Path) -> None:
    models, table = tmp_path / "models", tmp_path / "bends.toml"
    models.mkdir()
    (models / "a.step").write_bytes(states[0])
    row = "bend = [{{thickness = 1, inside_radius = 1, angle = 90, allowance = {}}}]"
    table.write_text(row.format(2.1))
    settings = Settings(formats=("json",), bend_table=str(table))
    with Watching(models, tmp_path / "cut", settings) as watching:
        watching.wait("sum(self.drawn.values()) == 1")
        table.write_text(row.format(2.2))
        watching.wait("sum(self.drawn.values()) == 2")
    assert watching.reasons == ["", "the options or planform itself have changed"]


@pytest.fixture(scope="module")
def whole_files(
    tmp_path_factory: pytest.TempPathFactory, states: list[bytes]
) -> Iterator[list[Path]]:
    folder = tmp_path_factory.mktemp("whole")
    (folder / "a.step").write_bytes(states[0])
    (folder / "a.stpz").write_bytes(gzip.compress(states[0]))
    (folder / "a.step.gz").write_bytes(gzip.compress(states[0]))
    kernel.write_brep(kernel.cut(kernel.box(40, 20, 3), [kernel.through_hole(9, 9, 4, 3)]),
                      folder / "a.brep")  # fmt: skip
    (folder / "b.brep.gz").write_bytes(gzip.compress((folder / "a.brep").read_bytes()))
    yield sorted(folder.iterdir())


def test_no_part_of_a_file_passes_for_the_whole(whole_files: list[Path], tmp_path: Path) -> None:
    for path in whole_files:
        assert is_whole(path)
        data = path.read_bytes()
        part = tmp_path / path.name
        for share in range(1, 400):
            part.write_bytes(data[: len(data.rstrip()) * share // 400])
            assert not is_whole(part), (path.name, share)
    assert not is_whole(tmp_path / "absent.step")
    (tmp_path / "tray.dxf").write_text("0\nSECTION\n")
    assert is_whole(tmp_path / "tray.dxf"), "what is no model is taken at its word"
