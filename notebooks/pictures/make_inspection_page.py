"""Makes the README's picture of an inspection: the page of a faulty perch board, in headless Chromium.

python notebooks/pictures/make_inspection_page.py [--out DIR]
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

import planform
from planform.pages.inspection_report import Inspected, write_inspection_report

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parents[1] / "tests" / "python"))

from browser import Browser  # noqa: E402
from test_inspection_page import faulty_plate  # noqa: E402


def main() -> None:
    """Inspect, write the page, take its picture."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=HERE)
    folder = parser.parse_args().out
    inspection = planform.inspect(faulty_plate(), 3.0, sheet=(150, 100))
    with tempfile.TemporaryDirectory() as scratch, Browser() as browser:
        page = Path(scratch) / "inspection.html"
        write_inspection_report([Inspected("perch board", inspection)], page, density=7.85)
        browser.open(page)
        planform.write_whole_file(folder / "inspection.png", browser.screenshot())


if __name__ == "__main__":
    main()
