"""The demo as a job: a bird-feeding station from STEP to sheets, cuts and a quote. All figures are
invented."""

from __future__ import annotations

from pathlib import Path

from planform._planform import write_demo_assembly, write_whole_file

JOB, MACHINE, STOCK = "job.toml", "machine.toml", "stock.toml"

JOB_TEXT = """\
# A job: all that is cut for one bird-feeding station. Paths are those of this file.
name = "bird-feeding station"
machine = "machine.toml"
stock = "stock.toml"

[allowances]                  # the width of cut is the machine's
fit = 0.05                    # mm on each side where parts meet

[layout]
gap = 6
margin = 8
time = 20                     # seconds of search

[cuts]
order = "shortest"            # or "apart" (less heat), "along" (along the sheet)
hold = 0.4                    # mm of holding strips, where a piece may fall or tip

[quote]                       # what stands on its head, in your words
customer = "a garden full of birds"
number = "17"
remarks = "All plates come flat, for one station, with the hangers beside them."

[density]                     # kg/m3
"birch plywood" = 680

[[model]]
file = "station.step"
material = "birch plywood"
quantity = 1
"""

MACHINE_TEXT = """\
# The machine of the demo. Every figure is invented: none was measured on a machine, none is advice.
# Put your own in their place; planform machine machine.toml --check says what is missing or looks odd.
name = "demo beam"
source = "invented for the demo, measured on no machine"

[head]
travel_speed = "300 mm/s"
acceleration = "2500 mm/s2"
home = [0, 0]                 # mm

[grate]
opening = 40                  # mm from bar to bar
bars_along = "y"

[rates]                       # what is left out here is left out of every quote
currency = "EUR"
hour = 48.0
pierce = 0.01
metre = 0.15
sheet = 2.5                   # put on the table
part = 0.4                    # taken off

[[cut]]
material = "birch plywood"
thickness = 1                 # mm
speed = "45 mm/s"
marking_speed = "150 mm/s"
kerf = 0.15
pierce_time = "0.1 s"
entry_length = 2
clearance = 0.8
least_hole = 4
over_cut = 0.3

[[cut]]
material = "birch plywood"
thickness = 3                 # mm
speed = "28 mm/s"
marking_speed = "150 mm/s"
kerf = 0.15                   # mm
pierce_time = "0.2 s"
entry_shape = "line"          # or "arc"
entry_length = 2              # mm
clearance = 0.8               # mm from a pierce to every outline
least_hole = 4                # mm: smaller ones are entered from their middle
over_cut = 0.3                # mm

[[cut]]
material = "birch plywood"
thickness = 6
speed = "14 mm/s"
marking_speed = "150 mm/s"
kerf = 0.18
pierce_time = "0.4 s"
entry_length = 2.5
clearance = 1
least_hole = 5
over_cut = 0.3

[layers.entry]
name = "ENTRY"
color = "#b000b0"
"""

STOCK_TEXT = """\
# What there is to cut from; the price is invented.
[[stock]]
name = "whole sheet"
size = [800, 600]             # mm
material = "birch plywood"
price = 9.50
"""


def write_demo_job(folder: str | Path) -> Path:
    """Write the model, the job file, the machine file and the stock into a folder; return the job file.

    Raises WriteError if that can't be done.
    """
    folder = Path(folder)
    write_demo_assembly(folder / "station.step")
    for name, text in ((MACHINE, MACHINE_TEXT), (STOCK, STOCK_TEXT), (JOB, JOB_TEXT)):
        write_whole_file(folder / name, text)
    return folder / JOB
