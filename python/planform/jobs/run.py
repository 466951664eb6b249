"""A job from its file to sheets, plan and quote, and again only what changed.

Lengths are millimetres, times s.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from planform._planform import write_whole_file
from planform.batch.manifest import file_digest
from planform.batch.many import locked
from planform.errors import ArgumentError, Error, GeometryError
from planform.jobs.contents import (
    FITS,
    INSPECTION,
    PLAN,
    PLAN_PAGE,
    QUOTE_DATA,
    QUOTE_PAGE,
    QUOTE_TABLE,
    fits,
    links,
    outline_findings,
)
from planform.jobs.dependencies import (
    drawing_key,
    layout_key,
    outlines_key,
    plan_key,
    quote_key,
    source_key,
    ways_key,
)
from planform.jobs.job_file import JobFile, JobSource, read_job
from planform.jobs.record import StepResult, Steps
from planform.jobs.sources import JobPiece, SourcePieces, outline_json, pieces_of
from planform.jobs.wanted import avoided, kind_of, wanted_pieces
from planform.layer_files import ROLES, drawing_layers
from planform.naming import FileNames
from planform.planning.document import write_plans
from planform.planning.drawing import write_plan
from planform.planning.machine import Machine
from planform.planning.page import write_plan_page, write_quote_page
from planform.planning.quote import Quote
from planform.planning.sheet_plan import SheetPlan, plan_sheet
from planform.sheets.document import read_layout, write_layout
from planform.sheets.lay_out import lay_out
from planform.sheets.output import LAYOUT, write_drawings
from planform.sheets.page import sheet_names
from planform.sheets.stock_file import read_stock
from planform.sheets.values import Layout

__all__ = ["JobSummary", "run_job"]


def kept_pieces(path: Path) -> SourcePieces | None:
    """What an earlier run kept of a source; None if that can't be read."""
    try:
        return SourcePieces.from_text(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, KeyError, TypeError, Error):
        return None


@dataclass(frozen=True)
class JobSummary:
    """What became of a job: each step with its files, and what a person should know."""

    folder: Path
    steps: tuple[StepResult, ...]
    notes: tuple[str, ...] = ()
    quote: Quote | None = None

    @property
    def errors(self) -> list[str]:
        """One line for each thing that went wrong."""
        return [f"{step.name}: {error}" for step in self.steps for error in step.errors]

    @property
    def pending(self) -> list[StepResult]:
        """Steps that are not current."""
        return [step for step in self.steps if step.action != "current"]


def run_job(
    job: JobFile | str | Path,
    out: str | Path,
    *,
    check: bool = False,
    progress: Callable[[str], None] | None = None,
) -> JobSummary:
    """Make all that a job file asks for, in one folder with one page; again only what depends on a change.

    Parameters
    ----------
    job : JobFile or path-like
    out : path-like
        Folder for the files; made if missing. One job at a time may work in it.
    check : bool, optional
        Change nothing, only say what would be done.
    progress : callable, optional
        Called with a line of text before each step, and with the best layout so far.

    Returns
    -------
    JobSummary

    Raises
    ------
    LoadError
        If the job file or the machine file can't be read.
    GeometryError
        If something in them makes no sense: file, line, key.
    WriteError
        If the folder can't be made, or another run works in it.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> _ = roof.to_dxf(folder / "roof.dxf")
    >>> drawing = 'drawing = [{file = "roof.dxf", thickness = 3, material = "larch"}]'
    >>> _ = (folder / "job.toml").write_text(chr(10).join(['steps = ["flatten"]', drawing]))
    >>> summary = planform.run_job(folder / "job.toml", folder / "out")
    >>> [step.action for step in summary.steps], summary.errors
    (['done', 'done'], [])
    """
    if not isinstance(job, JobFile | str | Path) or (progress and not callable(progress)):
        raise ArgumentError("run_job: pass the path of a job file, and a function as progress")
    job = job if isinstance(job, JobFile) else read_job(job)
    out = Path(out)
    machine = Machine.read(job.machine) if job.machine else None
    if check:
        return Run(job, machine, out, True, progress).all()
    with locked(out):
        return Run(job, machine, out, False, progress).all()


class Run:
    """One run of a job."""

    def __init__(
        self,
        job: JobFile,
        machine: Machine | None,
        out: Path,
        check: bool,
        progress: Callable[[str], None] | None,
    ) -> None:
        self.job, self.machine, self.out = job, machine, out
        self.steps = Steps(out, check)
        self.say = progress or (lambda text: None)
        self.sources: list[SourcePieces] = []
        self.notes: list[str] = []
        self.quote: Quote | None = None
        self.has_layout = (
            False  # made by this run, or still current: never one that was left behind
        )

    def all(self) -> JobSummary:
        """All steps, in their order."""
        for number, source in enumerate(self.job.sources, start=1):
            self.read_source(number, source)
        if len(self.sources) == len(self.job.sources):
            for found in self.sources:
                self.notes += found.notes
            self.check_pieces()
            for name, make in (
                ("flatten", self.flatten),
                ("inspect", self.inspect),
                ("fits", self.list_fits),
                ("sheets", self.lay_out),
                ("sheets", self.draw_sheets),
                ("plan", self.plan),
                ("quote", self.make_quote),
            ):
                if name in self.job.steps:
                    self.say(name)
                    make()
            self.page()
        else:  # only asked, and what is in a source is not known without reading it
            for name in (*self.job.steps, "page"):
                if name == "sheets":
                    self.steps.leave("layout", "a source was not read")
                self.steps.leave(name, "a source was not read")
        self.steps.finish()
        return JobSummary(self.out, tuple(self.steps.results), tuple(self.notes), self.quote)

    @cached_property
    def layers(self) -> dict[str, dict[str, Any]]:
        """The machine's layers by role."""
        return self.machine.layers if self.machine else {}

    # The steps.

    def read_source(self, number: int, source: JobSource) -> None:
        """Read a source, or what an earlier run kept of it."""
        name = f"source {number}: {source.path.name}"
        kept = self.out / "sources" / f"source_{number}.json"

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            found = pieces_of(source, self.job, self.machine)
            kept.parent.mkdir(parents=True, exist_ok=True)
            write_whole_file(kept, found.to_text())
            return [kept], found.errors

        self.say(name)
        key = source_key(source, self.job, self.machine)
        result = self.steps.run(name, key, make)
        if result.action == "pending":
            return
        found = kept_pieces(kept)
        if found is None and result.action == "current":  # a file that is damaged: made again
            kept.unlink(missing_ok=True)
            self.steps.run(name, key, make)
            found = kept_pieces(kept)
        # Without any the step has failed, and says why.
        self.sources.append(SourcePieces() if found is None else found)

    def check_pieces(self) -> None:
        """Wishes for pieces that there are not."""
        names = {piece.name for found in self.sources for piece in found.pieces}
        for wish in self.job.wishes:
            if wish.name not in names:
                known = ", ".join(sorted(names))
                self.notes.append(f"there is no piece '{wish.name}'; there are {known}")

    def all_pieces(self) -> list[tuple[JobSource, JobPiece]]:
        """Each with its source."""
        return [
            (source, piece)
            for source, found in zip(self.job.sources, self.sources, strict=True)
            for piece in found.pieces
        ]

    def flatten(self) -> None:
        """A drawing of each piece: the way of the tool as DXF and SVG, the outline of the part as JSON."""

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            folder = self.out / "outlines"
            folder.mkdir(exist_ok=True)
            layers = drawing_layers({r: self.layers[r] for r in ROLES if r in self.layers})
            names = FileNames()
            files: list[Path] = []
            for _, piece in self.all_pieces():
                stem = names.unique(piece.name)
                way = piece.way.with_name(piece.name)
                if "dxf" in self.job.formats:
                    files.append(
                        way.to_dxf(folder / f"{stem}.dxf", unit=self.job.unit, layers=layers)
                    )
                if "svg" in self.job.formats:
                    files.append(way.to_svg(folder / f"{stem}.svg", layers=layers))
                path = folder / f"{stem}.json"
                write_whole_file(path, outline_json(piece))
                files.append(path)
            return files, ()

        pieces = self.all_pieces()
        how = drawing_key(self.job, self.machine)
        self.steps.run("flatten", [outlines_key(pieces), ways_key(pieces), how], make)

    def inspect(self) -> None:
        """The findings of each piece's outline, as JSON."""

        pieces = [
            {"name": piece.name, "findings": list(piece.findings)} for _, piece in self.all_pieces()
        ]

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            path = self.out / INSPECTION
            data = {"planform_inspections": 1, "pieces": pieces}
            write_whole_file(path, json.dumps(data, ensure_ascii=False, indent=1) + "\n")
            return [path], ()

        self.steps.run("inspect", [outlines_key(self.all_pieces()), pieces], make)

    def list_fits(self) -> None:
        """What was moved so that parts fit, as JSON: lengths in mm, curves by profile, contour, curve."""
        pieces = [
            {
                "name": piece.name,
                "joints": piece.joints,
                "kerf": piece.kerf,
                "curves": [list(fit) for fit in piece.fits],
            }
            for _, piece in self.all_pieces()
        ]

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            path = self.out / FITS
            data = {"planform_fits": 1, "unit": "mm", "pieces": pieces}
            write_whole_file(path, json.dumps(data, ensure_ascii=False, indent=1) + "\n")
            return [path], ()

        self.steps.run("fits", [outlines_key(self.all_pieces()), pieces], make)

    def lay_out(self) -> None:
        """The layout."""

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            stock = read_stock(self.job.stock)
            pieces = wanted_pieces(self.job, self.all_pieces(), stock)
            if not pieces:
                raise GeometryError.of_kind("invalid_argument", "there is nothing to lay out")
            layout = lay_out(
                pieces,
                stock,
                gap=self.job.gap,
                margin=self.job.margin,
                seconds=self.job.seconds,
                seed=self.job.seed,
                plain=self.job.plain,
                progress=lambda text, *_: self.say(f"layout: {text}"),
            )
            errors = [
                f"{one.piece.name}: {one.count} not placed: {one.reason}"
                for one in layout.not_placed
            ]
            return [write_layout(layout, self.out / LAYOUT)], errors

        key = layout_key(self.job, self.all_pieces())
        self.has_layout = LAYOUT in self.steps.run("layout", key, make).files

    def draw_sheets(self) -> None:
        """The drawings of the layout, its left-overs and its page."""
        if self.layout is None:
            self.steps.leave("sheets", "there is no layout to draw")
            return

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            assert self.layout is not None
            job = self.job
            errors = write_drawings(
                self.layout, self.out, job.name, job.formats, job.unit, self.layers
            )
            names = ("sheet_", "rest_", "sheets.", "left_overs.")
            written = [
                path
                for path in sorted(self.out.iterdir())
                if path.is_file() and path.name.startswith(names) and path.name != LAYOUT
            ]
            return written, errors

        how = [self.job.name, drawing_key(self.job, self.machine)]
        self.steps.run("sheets", [file_digest(self.out / LAYOUT), how], make)

    @cached_property
    def layout(self) -> Layout | None:
        """The layout of this run, or of the one that is still current."""
        if not self.has_layout:
            return None
        try:
            return read_layout(self.out / LAYOUT)
        except Error:
            return None

    @cached_property
    def plans(self) -> list[SheetPlan]:
        """The plans of all sheets. Raises GeometryError."""
        assert self.machine is not None and self.layout is not None
        known = {kind_of(piece): piece for _, piece in self.all_pieces()}

        def piece_of(placement: Any) -> JobPiece | None:
            return known.get(kind_of(placement.piece))

        plans = []
        for name, sheet in zip(sheet_names(self.layout), self.layout.sheets, strict=True):
            own = [piece_of(placement) for placement in sheet.placements]
            first = next((piece for piece in own if piece is not None), None)
            plans.append(
                plan_sheet(
                    sheet,
                    self.machine,
                    self.job.plan,
                    name=name,
                    kerf=first.kerf if first else None,
                    density=first.density if first else None,
                    avoid=lambda placement: avoided(placement, piece_of(placement)),
                    part=lambda placement: (
                        found.outline if (found := piece_of(placement)) else None
                    ),
                )
            )
        return plans

    def plan(self) -> None:
        """The cuts of each sheet: drawings in the order of cutting, and all of them as JSON."""
        if self.layout is None:
            self.steps.leave("plan", "there is no layout to plan")
            return

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            assert self.machine is not None
            files = []
            for number, plan in enumerate(self.plans, start=1):
                for suffix in self.job.formats:
                    path = self.out / f"cuts_{number:02d}.{suffix}"
                    files.append(write_plan(plan, path, unit=self.job.unit, layers=self.layers))
            files.append(write_plans(self.plans, self.machine, self.out / PLAN))
            return files, ()

        self.steps.run("plan", plan_key(*self.what_is_cut()), make)

    def make_quote(self) -> None:
        """The quote as CSV, JSON and a page."""
        if self.layout is None:
            self.steps.leave("quote", "there is no layout to price")
            return

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            quote = self.the_quote
            return [
                quote.write_csv(self.out / QUOTE_TABLE),
                quote.write_json(self.out / QUOTE_DATA),
                write_quote_page(self.plans, quote, self.out / QUOTE_PAGE, self.job.name),
            ], ()

        self.steps.run("quote", [quote_key(*self.what_is_cut()), self.problems()], make)

    @cached_property
    def the_quote(self) -> Quote:
        """Of all sheets. Raises GeometryError."""
        assert self.machine is not None
        quote = Quote.of(self.plans, self.machine)
        lacking = tuple(f"not in it: {problem}" for problem in self.problems())
        self.quote = replace(quote, missing=(*quote.missing, *lacking), head=self.job.quote)
        return self.quote

    def what_is_cut(self) -> tuple[JobFile, Machine, list[tuple[JobSource, JobPiece]], Path]:
        """What plan and quote depend on."""
        assert self.machine is not None
        return self.job, self.machine, self.all_pieces(), self.out

    def problems(self) -> list[str]:
        """What went wrong before there was a plan: pieces that are missing in it."""
        before = [step for step in self.steps.results if step.name not in ("plan", "quote", "page")]
        return [error for step in before for error in step.errors]

    def page(self) -> None:
        """The page of the whole job."""
        if self.machine is None or "plan" not in self.job.steps:
            return
        if self.layout is None:  # what went wrong is said by the steps before
            if self.steps.check:
                self.steps.leave("page", "there is no layout to show")
            return

        def make() -> tuple[Iterable[Path], Iterable[str]]:
            problems = [
                f"{step.name}: {error}" for step in self.steps.results for error in step.errors
            ]
            pieces = [piece for _, piece in self.all_pieces()]
            page = write_plan_page(
                self.plans,
                self.the_quote,
                self.out / PLAN_PAGE,
                self.job.name,
                links=links(self.out),
                problems=problems,
                notes=self.notes,
                outline_findings=outline_findings(pieces) if "inspect" in self.job.steps else [],
                fits=fits(pieces) if "fits" in self.job.steps else [],
            )
            return [page], ()

        results = [[step.name, step.errors] for step in self.steps.results]
        key = [
            quote_key(*self.what_is_cut()),
            results,
            file_digest(self.out / INSPECTION),
            self.notes,
        ]
        self.steps.run("page", key, make)
