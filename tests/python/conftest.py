"""What all Python tests share."""

from __future__ import annotations

import fcntl
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

REAL_FILES = pytest.StashKey[dict[str, list[str]]]()

# These start processes, kill them and wait for them: one after the other, not beside each other.
PROCESSES = {"test_batch", "test_batch_killed", "test_sheets_search"}


@pytest.fixture(scope="module", autouse=True)
def _one_after_the_other(request: pytest.FixtureRequest) -> Iterator[None]:
    """Holds files with processes back until no other such file is running, in any worker."""
    if request.path.stem not in PROCESSES:
        yield
        return
    place = Path(tempfile.gettempdir()) / "planform-tests-with-processes.lock"
    with place.open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session", autouse=True)
def _cache_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The tests fill no cache of the person who runs them; their processes inherit this."""
    os.environ["XDG_CACHE_HOME"] = str(tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def real_file_results(request: pytest.FixtureRequest) -> dict[str, list[str]]:
    """Where the tests on real files note what became of each; printed at the end of the run."""
    return request.config.stash.setdefault(REAL_FILES, {})


def pytest_sessionfinish(session: pytest.Session) -> None:
    """A process of several hands its notes on ..."""
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["real files"] = session.config.stash.get(REAL_FILES, {})


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any) -> None:
    """... to the one that prints them."""
    results = node.config.stash.setdefault(REAL_FILES, {})
    for outcome, entries in getattr(node, "workeroutput", {}).get("real files", {}).items():
        results.setdefault(outcome, []).extend(entries)


def pytest_terminal_summary(
    terminalreporter: pytest.TerminalReporter, config: pytest.Config
) -> None:
    results = config.stash.get(REAL_FILES, {})
    if results:
        terminalreporter.section("real files")
        for outcome, entries in results.items():
            terminalreporter.line(f"{outcome}: {len(entries)}")
            if not outcome.startswith("closed"):
                for entry in entries:
                    terminalreporter.line(f"  {entry}")
