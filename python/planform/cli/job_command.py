"""The command ``planform job``: all that a job file asks for."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click
from rich.table import Table

from planform.cli.options import (
    DONE,
    FAILED,
    MODEL_PATH,
    not_negative,
    out_option,
    output_console,
    positive,
    report_error,
    report_note,
)
from planform.cli.progress import found_so_far
from planform.jobs.contents import PLAN_PAGE
from planform.jobs.job_file import STEPS, read_job, with_options
from planform.jobs.run import JobSummary, run_job
from planform.planning.page import duration, money
from planform.words import WORDS


def step_list(
    _context: click.Context, _option: click.Parameter, value: str | None
) -> tuple[str, ...] | None:
    """Accept a comma-separated list out of `STEPS`."""
    if value is None:
        return None
    words = [word.strip() for word in value.split(",") if word.strip()]
    for word in words:
        if word not in STEPS:
            raise click.BadParameter(f"'{word}' is unknown; valid: {', '.join(STEPS)}")
    return tuple(step for step in STEPS if step in words)


@click.command("job")
@click.argument("source", metavar="JOB.TOML", type=MODEL_PATH)
@out_option
@click.option(
    "--steps",
    metavar="LIST",
    callback=step_list,
    help=f"Comma-separated, out of {', '.join(STEPS)}; default: what the file asks for.",
)
@click.option(
    "--time", "seconds", type=float, metavar="S", help="Seconds of search for the layout."
)
@click.option("--seed", type=click.IntRange(0), help="Of the search.")
@click.option(
    "--order",
    type=click.Choice(WORDS["order"]),
    help="Least travel, cuts that follow each other apart (heat), or along the sheet.",
)
@click.option("--hold", type=float, metavar="MM", help="Width of holding strips; 0: none.")
@click.option("--hold-count", type=click.IntRange(0), metavar="N", help="Strips a piece, at least.")
@click.option(
    "--check",
    is_flag=True,
    help="Change nothing, say what would be done; exit status 1 if there is any.",
)
@click.pass_context
def job_command(
    context: click.Context, /, source: Path, folder: Path, check: bool, **options: Any
) -> int:
    """Make all that JOB.TOML asks for: outlines, inspection, sheets, the order of cuts, the quote.

    Everything goes into one folder with one page, job.html. The next run does only what depends on a model,
    drawing, machine file or option that changed. There is no machine code in it."""
    seconds, hold = options["seconds"], options["hold"]
    if seconds is not None:
        positive(context, None, seconds)  # type: ignore[arg-type]
    if hold is not None:
        not_negative(context, None, hold)  # type: ignore[arg-type]
    job = with_options(
        read_job(source),
        steps=options["steps"],
        seconds=seconds,
        seed=options["seed"],
        plan_order=options["order"],
        plan_hold=hold,
        plan_hold_count=options["hold_count"],
    )
    return make(job, folder, check)


def make(job: Any, folder: Path, check: bool) -> int:
    """Run a job and say what became of it; return the exit status."""
    with found_so_far() as progress:
        summary = run_job(job, folder, check=check, progress=progress)
    for note in summary.notes:
        report_note(note)
    for line in summary.errors:
        report_error(line)
    print_summary(summary)
    if check:
        return FAILED if summary.pending else DONE
    return FAILED if summary.errors else DONE


def print_summary(summary: JobSummary) -> None:
    """The steps as a table, then one line on time and price."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("step")
    table.add_column("")
    table.add_column("files", justify="right")
    for step in summary.steps:
        table.add_row(step.name, step.action, str(len(step.files)))
    output_console().print(table)
    quote = summary.quote
    if quote is not None:
        time = duration(quote.effort.seconds) if quote.has_times else "times not known"
        price = money(quote.price, quote.currency)
        left_out = f", {len(quote.missing)} figures left out" if quote.missing else ""
        print(
            f"{quote.effort.pieces} pieces on {quote.effort.sheets} sheets: {time}, {price}{left_out}"
        )
    page = summary.folder / PLAN_PAGE
    if page.exists():
        print(f"page: {page}")
