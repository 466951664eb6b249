"""What all Python tests share."""

from __future__ import annotations

import os

import pytest

REAL_FILES = pytest.StashKey[dict[str, list[str]]]()


@pytest.fixture(scope="session", autouse=True)
def _cache_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The tests fill no cache of the person who runs them; their processes inherit this."""
    os.environ["XDG_CACHE_HOME"] = str(tmp_path_factory.mktemp("cache"))


@pytest.fixture(scope="session")
def real_file_results(request: pytest.FixtureRequest) -> dict[str, list[str]]:
    """Where the tests on real files note what became of each; printed at the end of the run."""
    return request.config.stash.setdefault(REAL_FILES, {})


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
