"""The cuts of one sheet of a layout: plan, times, what they were made with. Lengths are mm, times s."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal, Protocol

from planform._planform import CutPlan, CutTime, PlacedPiece, ProfileSet, plan_cuts
from planform.errors import ArgumentError, GeometryError
from planform.planning.machine import CutFigures, Machine

__all__ = ["PlanSettings", "SheetPlan", "plan_sheet", "plan_sheets"]

KG_PER_MM3 = 1e-9
"""A density in kg/m³ times a volume in mm³ times this is a mass in kg."""


class PlacedOn(Protocol):
    """What lies on a sheet, as `planform.sheets` has it."""

    @property
    def name(self) -> str: ...
    @property
    def outline(self) -> ProfileSet: ...


class LaidOut(Protocol):
    """A sheet with what lies on it, as `planform.sheets` has it; several equal ones once with their
    number."""

    @property
    def placements(self) -> Sequence[Any]: ...
    @property
    def outline(self) -> ProfileSet: ...
    @property
    def material(self) -> str: ...
    @property
    def thickness(self) -> float: ...
    @property
    def count(self) -> int: ...


@dataclass(frozen=True, kw_only=True)
class PlanSettings:
    """What is asked of a plan beside the machine's figures.

    Attributes
    ----------
    order : {"shortest", "apart", "along"}
        Least travel; cuts that follow each other keep apart; in bands along the sheet.
    start : {"middle", "corner"}
        Where cuts start if there is room.
    hold : float
        Width of holding strips, mm; 0: none.
    hold_count : int
        Strips a piece, at least.
    apart_count, apart_distance : int, float
        For "apart": so many cuts after one, none is nearer (mm) where that can be had.
    band : float
        For "along": mm; 0: an eighth of the longer side.
    """

    order: Literal["shortest", "apart", "along"] = field(default_factory=lambda: "shortest")
    start: Literal["middle", "corner"] = field(default_factory=lambda: "middle")
    hold: float = 0.0
    hold_count: int = 2
    apart_count: int = 2
    apart_distance: float = 50.0
    band: float = 0.0


@dataclass(frozen=True, eq=False)
class SheetPlan:
    """How a sheet is cut. ``times`` is None where speeds are not known: ``missing`` says which figures are.

    Attributes
    ----------
    name : str
        Of the sheet, for people.
    sheet : LaidOut
        The sheet with what lies on it.
    pieces : tuple of PlacedPiece
        What lies on it, as the plan numbers them.
    plan : CutPlan
    figures : CutFigures
        Those of the machine for material and thickness.
    kerf : float
        Width of the cut that was planned with, mm.
    times : tuple of CutTime or None
        One a cut.
    missing : tuple of str
        Figures that the machine file does not have, in words.
    """

    name: str
    sheet: LaidOut
    pieces: tuple[PlacedPiece, ...]
    plan: CutPlan
    figures: CutFigures
    kerf: float = 0.0
    times: tuple[CutTime, ...] | None = field(default_factory=lambda: None)
    missing: tuple[str, ...] = ()
    parts: tuple[ProfileSet, ...] = ()
    """The outlines of the parts, one a piece, as they are drawn: not turned, without width of cut."""

    @cached_property
    def seconds(self) -> float | None:
        """Of all cuts of one sheet; None if speeds are not known."""
        return None if self.times is None else sum(time.total for time in self.times)

    @property
    def title(self) -> str:
        """Material and thickness, for people."""
        parts = [
            self.sheet.material,
            f"{self.sheet.thickness:g} mm" if self.sheet.thickness else "",
        ]
        return ", ".join(part for part in parts if part)


def plan_sheet(
    sheet: LaidOut,
    machine: Machine,
    settings: PlanSettings | None = None,
    *,
    name: str = "sheet",
    kerf: float | None = None,
    density: float | None = None,
    avoid: Callable[[Any], Iterable[tuple[int, int, int]]] | None = None,
    part: Callable[[Any], ProfileSet | None] | None = None,
) -> SheetPlan:
    """Plan the cuts of one sheet.

    Parameters
    ----------
    sheet : LaidOut
        Its placements have a ``name`` and an ``outline``, the way of the tool where it lies (mm).
    machine : Machine
    settings : PlanSettings, optional
    name : str, optional
        Of the sheet, for people.
    kerf : float, optional
        Width of the cut that is in the outlines, mm; by default the machine's.
    density : float, optional
        kg/m³, for the mass that strips hold.
    avoid : callable, optional
        From a placement to the curves (profile, contour, curve) that nothing is to start on.
    part : callable, optional
        From a placement to the outline of the part, for sizes and pictures; by default what is cut.

    Returns
    -------
    SheetPlan

    Raises
    ------
    GeometryError
        If the plan can't be had.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> board = planform.Stock.rectangle(200, 100)
    >>> layout = planform.lay_out([planform.Piece("roof", roof, 2)], board, plain=True)
    >>> planform.plan_sheet(layout.sheets[0], planform.Machine()).plan.pierces
    2
    """
    check_arguments(sheet, machine, settings, kerf, density, avoid, part)
    settings = settings or PlanSettings()
    found = machine.figures(sheet.material, sheet.thickness)
    figures = found or CutFigures(material=sheet.material, thickness=sheet.thickness)
    width = figures.kerf or 0.0 if kerf is None else kerf
    pieces = tuple(
        PlacedPiece(
            placement.name,
            placement.outline,
            mass=(density or 0.0) * placement.outline.area * sheet.thickness * KG_PER_MM3,
            avoid=list(avoid(placement)) if avoid else [],
        )
        for placement in sheet.placements
    )
    plan = plan_cuts(
        pieces,
        kerf=width,
        entry_shape=figures.entry_shape,
        entry_length=figures.entry_length,
        entry_angle=figures.entry_angle,
        exit_length=figures.exit_length,
        clearance=figures.clearance,
        least_hole=figures.least_hole,
        web=figures.web,
        over_cut=figures.over_cut,
        start=settings.start,
        hold=settings.hold,
        hold_count=settings.hold_count,
        mass_per_strip=figures.mass_per_strip,
        grate=machine.grate,
        grate_along=machine.grate_along,
        order=settings.order,
        apart_count=settings.apart_count,
        apart_distance=settings.apart_distance,
        band=settings.band,
        home=machine.home,
        sheet=sheet.outline,
    )
    missing = [f"no figures for {figures.title} in the machine file"] if found is None else []
    if found is not None and figures.speed is None:
        missing.append(f"no cutting speed for {figures.title}")
    if machine.travel_speed is None:
        missing.append("no travel speed")
    if found is not None and figures.pierce_time is None:
        missing.append(f"no pierce time for {figures.title}: pierces take none")
    return SheetPlan(
        name,
        sheet,
        pieces,
        plan,
        figures,
        width,
        times_of(plan, machine, figures),
        tuple(missing),
        tuple(part_of(placement, part) for placement in sheet.placements),
    )


def check_arguments(
    sheet: Any, machine: Any, settings: Any, kerf: Any, density: Any, *calls: Any
) -> None:
    """Raise ArgumentError, a line that says what to pass."""
    for condition, what in (
        (
            all(
                hasattr(sheet, name)
                for name in ("placements", "outline", "material", "thickness", "count")
            ),
            "sheet is no sheet of a layout; pass one of `lay_out(...).sheets`",
        ),
        (isinstance(machine, Machine), "machine is no Machine; pass Machine.read(path)"),
        (settings is None or isinstance(settings, PlanSettings), "settings are no PlanSettings"),
        (
            all(is_amount(value) for value in (kerf, density)),
            "kerf (mm) and density (kg/m³) must be numbers of 0 or more, or None",
        ),
        (
            all(call is None or callable(call) for call in calls),
            "avoid and part must be functions, or None",
        ),
    ):
        if not condition:
            raise ArgumentError(f"plan_sheet: {what}")


def is_amount(value: Any) -> bool:
    """None, or a finite number of 0 or more?"""
    return value is None or (
        isinstance(value, int | float) and not isinstance(value, bool) and 0 <= value < math.inf
    )


def part_of(placement: Any, part: Callable[[Any], ProfileSet | None] | None) -> ProfileSet:
    """The outline of a placement's part: what is known of it, else what is cut, not turned if that is
    known."""
    found = part(placement) if part else None
    outline: ProfileSet = found or getattr(
        getattr(placement, "piece", None), "outline", placement.outline
    )
    return outline


def times_of(plan: CutPlan, machine: Machine, figures: CutFigures) -> tuple[CutTime, ...] | None:
    """The times of all cuts; None if a speed is not known."""
    if figures.speed is None or machine.travel_speed is None:
        return None
    return tuple(
        plan.times(
            figures.speed,
            machine.travel_speed,
            marking_speed=figures.marking_speed,
            acceleration=machine.acceleration,
            travel_acceleration=machine.travel_acceleration,
            pierce_time=figures.pierce_time or 0.0,
        )
    )


def plan_sheets(
    sheets: Sequence[LaidOut],
    machine: Machine,
    settings: PlanSettings | None = None,
    **options: Any,
) -> list[SheetPlan]:
    """`plan_sheet` for all sheets of a layout, named by their numbers; ``options`` as there. Raises
    GeometryError that names the sheet."""
    plans = []
    for number, sheet in enumerate(sheets, start=1):
        try:
            plans.append(plan_sheet(sheet, machine, settings, name=f"sheet {number}", **options))
        except GeometryError as error:
            raise GeometryError.of_kind(error.kind, f"sheet {number}: {error}") from error
    return plans
