"""Makes the README's picture of a cut plan: the thick plates of the demo station in two orders, that of the
shortest way and one that keeps neighbouring cuts apart.

    python notebooks/pictures/make_plan_picture.py [--out DIR]
"""

from __future__ import annotations

import argparse
import re
import tempfile
from pathlib import Path

import planform
from planform.jobs.demo import write_demo_job
from planform.planning.page import plan_svg_picture
from planform.planning.sheet_plan import PlanSettings
from planform.sheets.jobs import Job, JobOptions, collect

STYLE = """
text { font: 12px 'DejaVu Sans', 'Liberation Sans', Arial, sans-serif; fill: #1d2b36; }
.number { font-size: 9px; text-anchor: middle; paint-order: stroke; stroke: #fff; stroke-width: 2px; }
.sheet-edge { fill: #f3ead2; stroke: #7b8791; stroke-width: 1; }
.piece { fill: #d9c79c; }
.way { fill: none; stroke: #3b3323; stroke-width: .9; stroke-linejoin: round; }
.way.entry { stroke: #2f7d4f; stroke-width: 1.4; }
.way.mark { stroke: #1f5fa8; }
.travel { fill: none; stroke: #b3261e; stroke-width: .7; stroke-dasharray: 4 3; }
.pierce { fill: #2f7d4f; }
.found { fill: none; stroke: #8f5200; stroke-width: 1.6; }
"""
WIDTH = 560.0
"""Of one sheet, pixels."""
SHEET = (480.0, 430.0)
"""mm."""
THICKNESS = 6.0
"""mm: that of the plates that are shown."""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(__file__).parent)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_demo_job(folder)
        machine = planform.Machine.read(folder / "machine.toml")
        options = JobOptions(
            allowances=planform.Allowances(kerf=0.18, fit=0.05), material="birch plywood"
        )
        pieces = collect([Job(folder / "station.step", 1)], options).pieces
    thick = [piece for piece in pieces if abs(piece.thickness - THICKNESS) < 0.01]
    layout = planform.lay_out(
        thick, planform.Stock.rectangle(*SHEET), gap=6, margin=8, plain=True, seconds=1
    )
    (sheet,) = layout.sheets
    parts, height = [], 0.0
    for number, order in enumerate(("shortest", "apart")):
        plan = planform.plan_sheet(sheet, machine, PlanSettings(order=order, hold=0.4))
        svg = plan_svg_picture(plan, width=WIDTH, height=WIDTH)
        size = re.match(r'<svg viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
        assert size
        inner = re.sub(r"<title>.*?</title>", "", svg[svg.index(">") + 1 : svg.rindex("</svg>")])
        text = f'"{order}": {len(plan.plan.cuts)} cuts, {plan.plan.travel / 1000:.1f} m of travel'
        parts.append(
            f'<g transform="translate({number * WIDTH:.1f} 0)">{inner}'
            f'<text x="12" y="{float(size[2]) + 8:.1f}">{text}</text></g>'
        )
        height = float(size[2]) + 24
    path = arguments.out / "plan.svg"
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {2 * WIDTH:.0f} {height:.0f}" '
        f'width="{2 * WIDTH:.0f}" height="{height:.0f}">\n<style>{STYLE}</style>\n'
        '<rect width="100%" height="100%" fill="#fdfcf8"/>\n' + "\n".join(parts) + "\n</svg>\n"
    )
    print(path)


if __name__ == "__main__":
    main()
