"""The long run of batches, on real models (kicad-packages3d, occt-misc): one process and two, what breaks,
kills at fifty moments, second runs, memory. Figures are printed. Run it by ``.ci/long``."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from batch_models import files_of

LIBRARY = Path(os.environ.get("PLANFORM_LONG_MODELS", "/usr/share/kicad/3dmodels"))
FOLDERS = [
    *(
        LIBRARY / f"{name}.3dshapes"
        for name in ("Heatsink", "MountingEquipment", "Connector_Dsub", "Package_QFP")
    ),
    Path("/usr/share/opencascade/data"),
]
FILES = sorted(
    path
    for folder in FOLDERS
    for path in folder.rglob("*")
    if path.suffix in (".step", ".brep") and path.is_file()
)


def run(sources: Sequence[Path], out: Path, *options: str) -> tuple[float, str, int]:
    """A batch by the command: its time in seconds, what it said, its exit status."""
    started = time.monotonic()
    finished = subprocess.run(
        [sys.executable, "-m", "planform.cli", "batch", *map(str, sources), "--out", out, *options],
        capture_output=True,
        text=True,
    )
    assert "Traceback" not in finished.stderr
    return time.monotonic() - started, finished.stdout, finished.returncode


def load_average() -> float:
    return os.getloadavg()[0]


@pytest.fixture(scope="module")
def hundred(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A hundred models, the small ones first left out: reading takes most of the time of such a run."""
    folder = tmp_path_factory.mktemp("hundred")
    step = [path for path in FILES if path.suffix == ".step"]
    for path in step[:: max(1, len(step) // 100)][:100]:
        shutil.copy(path, folder / path.name)
    assert len(list(folder.iterdir())) == 100
    return folder


def test_all_are_accounted_for_and_two_processes_are_faster(tmp_path: Path) -> None:
    assert len(FILES) > 150
    times = {}
    for workers in (1, 2):
        busy = load_average()
        times[workers], said, _ = run(
            FOLDERS, tmp_path / str(workers), "--workers", str(workers), "--no-cache"
        )
        print(f"\n{workers} workers: {times[workers]:.1f} s, load before {busy:.1f}; {said}")
    assert files_of(tmp_path / "1") == files_of(tmp_path / "2")
    manifest = json.loads((tmp_path / "1" / "manifest.json").read_text())
    assert len(manifest["sources"]) == len(FILES)
    print(f"throughput with two workers: {times[1] / times[2]:.2f} x")
    if load_average() < 2.5:
        assert times[1] / times[2] >= 1.8


def test_second_runs(tmp_path: Path) -> None:
    """All of the folders, unchanged and with another tolerance: their time over that of the first run."""
    out, cache = tmp_path / "out", ("--cache", str(tmp_path / "cache"))
    first, _, _ = run(FOLDERS, out, *cache)
    unchanged, said, _ = run(FOLDERS, out, *cache)
    assert "0 worked on now" in said
    other, said, _ = run(FOLDERS, out, *cache, "--tolerance", "0.02")
    assert "0 unchanged" in said
    print(
        f"\nfirst run {first:.1f} s; unchanged {unchanged / first:.4f}, "
        f"another tolerance {other / first:.4f}; load {load_average():.1f}"
    )
    assert unchanged <= 0.02 * first
    assert other <= 0.15 * first


def test_one_of_a_hundred_changed(hundred: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    first, _, _ = run([hundred], out)
    victim = sorted(hundred.iterdir())[17]
    victim.write_text(victim.read_text().replace("HEADER;", "HEADER;/* again */", 1))
    changed, said, _ = run([hundred], out)
    assert "1 worked on now, 99 unchanged" in said
    print(f"\nfirst run {first:.1f} s, one changed {changed / first:.4f}")


# The peak of our own by /proc: ru_maxrss of a process starts at that of the one that started it.
PEAK = """
import pathlib, planform, re, resource, sys
if __name__ == "__main__":
    summary = planform.flatten_all(sys.argv[1], sys.argv[2], workers=1, cache=False)
    status = pathlib.Path("/proc/self/status").read_text()
    print(len(summary.results), re.search(r"VmHWM:\\s*(\\d+) kB", status)[1],
          resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def test_memory_does_not_grow_with_the_number_of_models(tmp_path: Path) -> None:
    """50 and 500 files out of the same real models, each with bytes of its own."""
    step = [path for path in FILES if path.suffix == ".step" and path.stat().st_size < 1_200_000]
    script = tmp_path / "peak.py"
    script.write_text(PEAK)
    peaks = {}
    for count in (50, 500):
        folder = tmp_path / str(count)
        folder.mkdir()
        for number in range(count):
            text = step[number % 50].read_text()
            (folder / f"{number}.step").write_text(
                text.replace("HEADER;", f"HEADER;/* {number} */", 1)
            )
        finished = subprocess.run(
            [sys.executable, script, folder, tmp_path / f"out{count}"],
            capture_output=True,
            text=True,
            check=True,
        )
        results, *sizes = map(int, finished.stdout.split())
        assert results == count
        peaks[count] = sizes
    print(f"\npeak memory (parent, worker) in KiB: {peaks}")
    for few, many in zip(peaks[50], peaks[500], strict=True):
        assert many < 1.15 * few
