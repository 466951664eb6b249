"""The command ``planform machine``: what a machine file holds, what it lacks, what looks odd."""

from __future__ import annotations

from pathlib import Path

import click
from rich.markup import escape
from rich.table import Table

from planform.cli.options import DONE, FAILED, MODEL_PATH, output_console
from planform.errors import GeometryError
from planform.jobs.job_file import read_job
from planform.naming import printable
from planform.planning.documents import Document
from planform.planning.machine import Machine, odd_figures


@click.command("machine")
@click.argument("source", metavar="MACHINE.TOML", type=MODEL_PATH)
@click.option("--check", is_flag=True, help="Exit status 1 if something is missing or looks odd.")
def machine_command(source: Path, check: bool) -> int:
    """Show what MACHINE.TOML says of a machine, what it lacks and what looks like another unit or a slipped
    digit.

    All figures are the user's own: by material and thickness the width of cut, speeds and pierce time,
    entries; acceleration and travel speed; rates; layers. A job file stands for the machine that it names."""
    machine = Machine.read(machine_file(source))
    name = printable(machine.name) or "machine without a name"
    print(f"{name}: {printable(machine.source) or 'no source given'}")
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("material", overflow="fold")
    for title in ("thickness mm", "kerf mm", "speed mm/s", "pierce s", "entry mm", "clearance mm"):
        table.add_column(title, justify="right")
    for cut in machine.cuts:
        values = (
            cut.thickness or None,
            cut.kerf,
            cut.speed,
            cut.pierce_time,
            cut.entry_length,
            cut.clearance,
        )
        table.add_row(
            escape(printable(cut.material or "any")),
            *("" if value is None else f"{value:g}" for value in values),
        )
    if machine.cuts:
        output_console().print(table)
    found = odd_figures(machine)
    for one in found:
        print(f"{one.kind}: {one.place}: {printable(one.text)}")
    if not found:
        print("nothing is missing, nothing looks odd")
    return FAILED if check and found else DONE


def machine_file(source: Path) -> Path:
    """The file itself, or the machine file of a job. Raises LoadError or GeometryError."""
    root = Document(source).root
    if not root.has("machine") and not root.has("include"):
        return source
    job = read_job(source)
    if job.machine is None:
        raise GeometryError.of_kind(
            "invalid_argument",
            f'{source}: the job names no machine; write machine = "machine.toml"',
        )
    return job.machine
