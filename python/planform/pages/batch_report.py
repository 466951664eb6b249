"""The HTML page of a batch: what became of each model, and how the outlines that changed differ from those
of the run before."""

from __future__ import annotations

from pathlib import Path

from planform._planform import write_whole_file
from planform.batch.changes import Change
from planform.batch.many import BatchSummary
from planform.batch.models import Settings
from planform.batch.one_source import SourceResult
from planform.pages.report import allowance_notes, outlines_foot, page, text

ACTIONS = {
    "current": "unchanged",
    "new": "new",
    "changed": "changed",
    "again": "done again",
    "gone": "gone, output removed",
}


def write_batch_report(summary: BatchSummary, settings: Settings, path: Path) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, batch_html(summary, settings))


def batch_html(summary: BatchSummary, settings: Settings) -> str:
    """Return the page as text."""
    models = len([result for result in summary.results if result.action != "gone"])
    rows = "".join(map(row, summary.results))
    sheets = "".join(
        sheet(result, change) for result in summary.results for change in result.changes
    )
    changes = (
        "<section><h2>Changed outlines</h2><p>Filled: material that is added. Dashed: material that is "
        f'removed.</p><div class="sheets">{sheets}</div></section>'
        if sheets
        else ""
    )
    heading = (
        '<header class="block">'
        f'<div><span class="label">Outlines of</span><h1>{models} models</h1></div>'
        f'<div><span class="label">Done</span>{summary.count("done")}<br>'
        f'<span class="label">Not flat</span>{summary.count("not flat")}</div>'
        f'<div><span class="label">Failed</span>{summary.count("failed")}<br>'
        f'<span class="label">Stopped</span>{summary.count("stopped")}</div>'
        f'<div><span class="label">Tolerance</span>{settings.tolerance:g} mm<br>'
        f'<span class="label">Unit of the DXF</span>{settings.unit}</div></header>'
    )
    table = (
        "<section><h2>Models</h2><table><thead><tr><th>Model</th><th>State</th><th>Result</th>"
        f"<th>Drawings</th><th>Pieces</th><th>Remarks</th></tr></thead><tbody>{rows}</tbody></table></section>"
    )
    content = f"{heading}{allowance_notes(settings, pictured=False)}\n{changes}\n{table}"
    return page(f"Outlines of {models} models", content, foot=outlines_foot(settings))


def row(result: SourceResult) -> str:
    """One model of the table."""
    remarks = "<br>".join(text(line) for line in (*result.errors, *result.notes))
    return (
        f"<tr><td>{text(result.source)}</td><td>{ACTIONS[result.action]}</td><td>{result.status}</td>"
        f"<td>{result.drawings}</td><td>{result.pieces}</td><td>{remarks}</td></tr>"
    )


def sheet(result: SourceResult, change: Change) -> str:
    """One outline that differs: picture, areas."""
    note = f'<p class="note">{text(change.note)}</p>' if change.note else ""
    return (
        f"<figure>{change.picture}<figcaption><h3><span>{text(result.source)}: {text(change.name)}</span>"
        f"<span></span></h3><dl><div><dt>Added</dt><dd>{change.added:.2f} mm²</dd></div>"
        f"<div><dt>Removed</dt><dd>{change.removed:.2f} mm²</dd></div></dl>{note}</figcaption></figure>"
    )
