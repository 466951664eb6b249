"""What all Python tests share."""

from __future__ import annotations

import pytest

REAL_FILES = pytest.StashKey[dict[str, list[str]]]()


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
