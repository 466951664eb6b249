"""A batch that is killed or stopped at any moment; ``PLANFORM_LONG_TESTS=1`` tries fifty."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import planform
import pytest
from batch_models import Here, files_of, write_models
from planform.batch.many import locked

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"


@pytest.fixture(scope="module")
def models(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_models(tmp_path_factory.mktemp("models"))


def test_a_copy_of_the_process_does_not_keep_the_folder(tmp_path: Path) -> None:
    """A pool that is forked meanwhile has all our open files, the lock's too."""
    with locked(tmp_path):
        copy = os.fork()
        if copy == 0:
            time.sleep(60.0)
            os._exit(0)
    try:
        with locked(tmp_path):
            assert os.waitpid(copy, os.WNOHANG) == (0, 0)  # it still lives
    finally:
        os.kill(copy, signal.SIGKILL)
        os.waitpid(copy, 0)


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
        kills = runs = 0
        # Some runs are through before it comes to the kill.
        while kills < (25 if LONG else 2) and runs < 100:
            if out.exists() and runs % 4 == 0:
                shutil.rmtree(out)
            delay = chance.uniform(0.0, 1.5) if runs else 0.0
            kills += self.killed_run(models, out, victim, delay)
            runs += 1
        print(f"\n{kills} kills of the {victim} in {runs} runs")
        assert kills >= (25 if LONG else 1)
        assert planform.flatten_all(models, out, executor=Here()).count("stopped") == 0
        assert files_of(out) == expected

    def killed_run(self, models: Path, out: Path, victim: str, delay: float) -> bool:
        """Start a run and kill it (or one of its workers) that long after the first worker started; True if
        there was one to kill."""
        command = [sys.executable, "-m", "planform.cli", "batch", str(models), "--out", str(out)]
        process = subprocess.Popen(
            [*command, "--workers", "2", "--redo"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        while process.poll() is None and not children_of(process.pid):
            time.sleep(0.01)
        time.sleep(delay)
        children = children_of(process.pid)
        killed = process.poll() is None
        if victim == "parent":
            process.kill()
        elif children:
            with suppress(ProcessLookupError):
                os.kill(random.Random(delay).choice(children), signal.SIGKILL)
        else:
            killed = False
        process.wait(120)
        deadline = time.monotonic() + 60  # it may still be starting
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
    workers = []
    with suppress(FileNotFoundError, ProcessLookupError):
        numbers = Path(f"/proc/{process}/task/{process}/children").read_text().split()
        for number in numbers:
            if "spawn_main" in Path(f"/proc/{number}/cmdline").read_text():
                workers.append(int(number))
    return workers
