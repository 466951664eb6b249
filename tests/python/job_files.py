"""A small job for tests: two plates, a drawing, a machine and stock, all invented."""

from __future__ import annotations

from pathlib import Path

import planform as pf
from random_outlines import circle, polygon

MACHINE = """
name = "test beam"
source = "invented for a test"
[head]
travel_speed = "200 mm/s"
acceleration = "2000 mm/s2"
[rates]
currency = "EUR"
hour = 60
pierce = 0.02
metre = 0.3
sheet = 2
part = 0.5
[[cut]]
material = "larch"
thickness = 4
speed = "1.2 m/min"
kerf = 0.2
pierce_time = "400 ms"
entry_length = 2
clearance = 0.5
least_hole = 4
"""
STOCK = """
[[stock]]
name = "board"
size = [300, 200]
material = "larch"
price = 8
"""
JOB = """
name = "trays"
machine = "machine.toml"
stock = "stock.toml"
[layout]
time = 1
plain = true
[[drawing]]
file = "tray.json"
material = "larch"
thickness = 4
quantity = 3
[[drawing]]
file = "roof.json"
material = "larch"
thickness = 4
"""


def tray(width: float = 60.0) -> pf.ProfileSet:
    """A plate with two holes and a mark."""
    edge = polygon([(0, 0), (width, 0), (width, 30), (0, 30)])
    holes = [circle((15, 15), 6), polygon([(30, 10), (40, 10), (40, 20), (30, 20)])]
    mark = pf.Mark(circle((width - 8, 15), 2), "label")
    return pf.ProfileSet([pf.Profile(edge, holes, "tray")], [mark], name="tray")


def roof() -> pf.ProfileSet:
    """A disc with a slot."""
    slot = polygon([(-12, -2), (12, -2), (12, 2), (-12, 2)])
    return pf.ProfileSet([pf.Profile(circle((0, 0), 25), [slot], "roof")], name="roof")


def write_job(folder: Path) -> Path:
    """All files of the job; returns the job file."""
    folder.mkdir(parents=True, exist_ok=True)
    tray().to_json(folder / "tray.json")
    roof().to_json(folder / "roof.json")
    (folder / "machine.toml").write_text(MACHINE)
    (folder / "stock.toml").write_text(STOCK)
    (folder / "job.toml").write_text(JOB)
    return folder / "job.toml"
