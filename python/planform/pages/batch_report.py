"""The HTML page of a batch: what became of each model, and how the outlines that changed differ from those
of the run before."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from planform._planform import write_whole_file
from planform.batch.changes import Change
from planform.batch.many import BatchSummary
from planform.batch.one_source import SourceResult
from planform.batch.settings import Settings
from planform.naming import counted
from planform.pages.render import picture, render
from planform.pages.report import allowance_notes, outlines_foot
from planform.units.figures import Figures, figures_in

ACTIONS = {
    "current": "unchanged",
    "new": "new",
    "changed": "changed",
    "again": "done again",
    "gone": "gone, output removed",
}

COLUMNS = (
    ("Model", "words"),
    ("State", "words"),
    ("Result", "words"),
    ("Drawings", ""),
    ("Pieces", ""),
    ("Remarks", "text"),
)


def write_batch_report(summary: BatchSummary, settings: Settings, path: Path) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, batch_html(summary, settings))


def batch_html(summary: BatchSummary, settings: Settings) -> str:
    """Return the page as text."""
    figures = figures_in(settings.unit)
    models = len([result for result in summary.results if result.action != "gone"])
    return render(
        "batch.html",
        title=counted(models, "model"),
        cells=[
            [("Done", summary.count("done")), ("Not flat", summary.count("not flat"))],
            [("Failed", summary.count("failed")), ("Stopped", summary.count("stopped"))],
            [
                ("Tolerance", f"{figures.exact(settings.tolerance)} {figures.symbol}"),
                ("Unit of the DXF", settings.unit),
            ],
        ],
        allowance_notes=allowance_notes(settings, figures, pictured=False),
        changes=[
            change_data(result, change, figures)
            for result in summary.results
            for change in result.changes
        ],
        columns=COLUMNS,
        rows=[row(result) for result in summary.results],
        foot=outlines_foot(settings),
    )


def row(result: SourceResult) -> list[Any]:
    """One model."""
    remarks = (*result.errors, *result.notes)
    return [
        result.source,
        ACTIONS[result.action] + (f": {result.reason}" if result.reason else ""),
        result.status,
        result.drawings,
        result.pieces,
        remarks,
    ]


def change_data(result: SourceResult, change: Change, figures: Figures) -> dict[str, Any]:
    """One outline that differs: picture, areas."""

    def area(value: float) -> str:
        digits = 2 if figures.unit == "mm" else 4
        return f"{value / figures.millimetres**2:.{digits}f} {figures.area_symbol}"

    return {
        "picture": picture(change.picture),
        "heading": f"{result.source}: {change.name}",
        "figures": [("Added", area(change.added), ""), ("Removed", area(change.removed), "")],
        "notes": [change.note] if change.note else [],
    }
