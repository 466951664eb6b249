"""What a checker says to those who embed planform: a program that uses every public name is right in strict
mode."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import planform
import pytest

PROGRAM = Path(__file__).with_name("every_name.py")
PACKAGE = Path(planform.__file__).parent


def test_the_program_uses_every_public_name() -> None:
    used = set(re.findall(r"\bplanform\.(\w+)", PROGRAM.read_text()))
    assert set(planform.__all__) - used == set()


def test_the_program_is_right_in_strict_mode(tmp_path: Path) -> None:
    pytest.importorskip("mypy")
    check = [sys.executable, "-m", "mypy", "--strict", "--no-incremental", "--config-file="]
    # Only the program: what is inside the package has its own check.
    check += ["--follow-imports=silent", "--ignore-missing-imports", str(PROGRAM)]
    environment = {name: value for name, value in os.environ.items() if name != "MYPYPATH"}
    if (
        PACKAGE.parent.name != "site-packages"
    ):  # one that is installed is found, and may not be named
        environment["MYPYPATH"] = str(PACKAGE.parent)
    result = subprocess.run(
        check, capture_output=True, text=True, check=False, cwd=tmp_path, env=environment
    )
    assert result.returncode == 0, result.stdout + result.stderr
