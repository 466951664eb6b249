"""Makes the README's picture of a layout: the plates of ten demo stations on sheets of plywood.

The search is bounded by time: on another machine the picture may look a little different.

    python notebooks/pictures/make_sheets_picture.py [--out DIR] [--time S]
"""

from __future__ import annotations

import argparse
import re
import tempfile
from pathlib import Path

import planform
from planform.cli.command import DEMO_FIT, DEMO_GAP, DEMO_KERF, DEMO_SHEET, DEMO_STATIONS
from planform.sheets.jobs import Job, JobOptions, collect
from planform.sheets.left_over import left_over
from planform.sheets.page import percent, sheet_svg

STYLE = """
text { font: 12px 'DejaVu Sans', 'Liberation Sans', Arial, sans-serif; fill: #1d2b36; }
.figure { text-anchor: middle; }
.sheet-edge { fill: #f3ead2; stroke: #7b8791; stroke-width: 1; }
.material { fill: #d9c79c; }
.cut { stroke: #3b3323; stroke-width: .8; stroke-linejoin: round; }
.mark { fill: none; stroke: #1f5fa8; stroke-width: .8; }
.rest { fill: none; stroke: #2f7d4f; stroke-width: 1.2; stroke-dasharray: 6 4; }
"""
WIDTH = 560.0
"""Of one sheet, pixels."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(__file__).parent)
    parser.add_argument("--time", type=float, default=30.0)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "station.step"
        planform.write_demo_assembly(source)
        allowances = planform.Allowances(kerf=DEMO_KERF, fit=DEMO_FIT)
        pieces = collect([Job(source, DEMO_STATIONS)], JobOptions(allowances=allowances)).pieces
    stock = planform.Stock.rectangle(*DEMO_SHEET)
    layout = planform.lay_out(pieces, stock, gap=DEMO_GAP, seconds=arguments.time)
    parts, x, y, row = [], 0.0, 0.0, 0.0
    for number, sheet in enumerate(layout.sheets):
        rest = left_over(sheet, layout.gap).rectangle
        svg = sheet_svg(sheet, rest, width=WIDTH, height=WIDTH)
        size = re.match(r'<svg viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
        assert size
        inner = svg[svg.index(">") + 1 : svg.rindex("</svg>")]
        text = f"{sheet.count} × {sheet.thickness:g} mm, {percent(sheet.use)} used"
        if number % 2 == 0 and number:
            x, y = 0.0, y + row
        row = float(size[2]) + 26
        parts.append(
            f'<g transform="translate({x:.1f} {y:.1f})">{inner}'
            f'<text x="10" y="{float(size[2]) + 10:.1f}">{text}</text></g>'
        )
        x += WIDTH
    height = y + row
    path = arguments.out / "sheets.svg"
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {2 * WIDTH:.0f} {height:.0f}" '
        f'width="{2 * WIDTH:.0f}" height="{height:.0f}">\n<style>{STYLE}</style>\n'
        '<rect width="100%" height="100%" fill="#fdfcf8"/>\n' + "\n".join(parts) + "\n</svg>\n"
    )
    print(path)


if __name__ == "__main__":
    main()
