"""The stubs are those of the module: generated anew, nothing changes."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
STUB = ROOT / "python" / "planform" / "_planform.pyi"


def test_stubs_match_the_module() -> None:
    check = subprocess.run(
        [sys.executable, str(ROOT / "bindings" / "generate_stubs.py"), "--check"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert check.returncode == 0, check.stdout[:5000] + check.stderr[-2000:]


def test_the_check_notices_a_change() -> None:
    sys.path.insert(0, str(ROOT / "bindings"))
    try:
        from generate_stubs import difference
    finally:
        sys.path.pop(0)
    text = STUB.read_text()
    assert difference(text, text) == ""
    assert "-    def with_name" in difference(text, text.replace("def with_name", "def renamed"))


def test_stubs_show_what_is_written_in_python() -> None:
    text = STUB.read_text()
    for name in ("to_shapely", "from_shapely", "__geo_interface__", "_repr_svg_"):
        assert f"def {name}(" in text
    assert "typing.Literal['union', 'keep']" in text
    assert "planform::" not in text
