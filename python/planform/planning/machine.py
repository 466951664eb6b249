"""A machine as data: what it cuts how fast, and what that costs. All figures are the user's own.

`Machine.read` reads a TOML file (``machine.toml``), `odd_figures` says what is missing or looks like
another unit. Lengths are mm, speeds mm/s, times s."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from planform.errors import ArgumentError
from planform.planning.documents import (
    ACCELERATIONS,
    LENGTHS,
    MASSES,
    SPEEDS,
    TIMES,
    Document,
    Table,
)
from planform.words import WORDS

__all__ = ["CutFigures", "Machine", "OddFigure", "Rates", "odd_figures"]

SAME_THICKNESS = 0.05
"""mm within which a sheet is of the thickness that figures are given for: sheets are not made more
exactly."""


@dataclass(frozen=True, kw_only=True)
class CutFigures:
    """How one material of one thickness is cut.

    Attributes
    ----------
    material : str
        Empty: any.
    thickness : float
        mm; 0: any.
    speed : float or None
        Of cutting, mm/s.
    marking_speed : float or None
        Of scoring, mm/s; None: that of cutting.
    kerf : float or None
        Width of the cut, mm.
    pierce_time : float or None
        s.
    entry_length, exit_length, clearance, least_hole, web, over_cut : float
        mm; see `planform.plan_cuts`.
    entry_shape : {"line", "arc"}
    entry_angle : float
        Degrees.
    """

    material: str = field(default_factory=lambda: "")
    thickness: float = 0.0
    speed: float | None = field(default_factory=lambda: None)
    marking_speed: float | None = field(default_factory=lambda: None)
    kerf: float | None = field(default_factory=lambda: None)
    pierce_time: float | None = field(default_factory=lambda: None)
    entry_shape: Literal["line", "arc"] = field(default_factory=lambda: "line")
    entry_length: float = 0.0
    entry_angle: float = 90.0
    exit_length: float = 0.0
    clearance: float = 0.0
    least_hole: float = 0.0
    web: float = 0.0
    over_cut: float = 0.0
    mass_per_strip: float = 0.0

    def serves(self, material: str, thickness: float) -> bool:
        """Are these the figures for this material and thickness (mm)?"""
        return (not self.material or self.material == material) and (
            self.thickness == 0 or abs(self.thickness - thickness) <= SAME_THICKNESS
        )

    @property
    def title(self) -> str:
        """For people: material and thickness."""
        return (
            f"{self.material or 'any material'}, {self.thickness:g} mm"
            if self.thickness
            else (self.material or "any material")
        )


@dataclass(frozen=True, kw_only=True)
class Rates:
    """What things cost, in `currency`; None: not known, and left out of every sum.

    Attributes
    ----------
    currency : str
        Free text.
    hour : float or None
        Of the machine at work.
    pierce, metre, sheet, part : float or None
        A pierce, a metre of cut, a sheet put on the table, a piece taken off.
    """

    currency: str = field(default_factory=lambda: "")
    hour: float | None = field(default_factory=lambda: None)
    pierce: float | None = field(default_factory=lambda: None)
    metre: float | None = field(default_factory=lambda: None)
    sheet: float | None = field(default_factory=lambda: None)
    part: float | None = field(default_factory=lambda: None)


RATES = ("hour", "pierce", "metre", "sheet", "part")


@dataclass(frozen=True, kw_only=True)
class Machine:
    """All figures of a machine.

    Attributes
    ----------
    name : str
        As it stands on pages.
    source : str
        Where the figures come from, in the user's words; stands on every page beside them.
    cuts : tuple of CutFigures
        The first that serves counts.
    travel_speed : float or None
        mm/s with the beam off.
    acceleration, travel_acceleration : float or None
        mm/s²; None: speeds are had at once.
    home : (float, float)
        Where the head stands at first, mm.
    grate : float
        From bar to bar, mm; 0: unknown.
    grate_along : {"x", "y"}
        Where the bars run.
    rates : Rates
    layers : dict
        Names and colours by "entry", "outer", "inner", "mark" and "sheet".

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "machine.toml"
    >>> _ = path.write_text('head.travel_speed = "200 mm/s"')
    >>> planform.Machine.read(path).travel_speed
    200.0
    """

    name: str = field(default_factory=lambda: "")
    source: str = field(default_factory=lambda: "")
    cuts: tuple[CutFigures, ...] = ()
    travel_speed: float | None = field(default_factory=lambda: None)
    acceleration: float | None = field(default_factory=lambda: None)
    travel_acceleration: float | None = field(default_factory=lambda: None)
    home: tuple[float, float] = (0.0, 0.0)
    grate: float = 0.0
    grate_along: Literal["x", "y"] = field(default_factory=lambda: "y")
    rates: Rates = field(default_factory=Rates)
    layers: dict[str, dict[str, Any]] = field(default_factory=dict, hash=False)

    @classmethod
    def read(cls, path: str | Path) -> Machine:
        """From a TOML file. Raises LoadError if it can't be read; GeometryError with file, line, key and what
        to write for a key that is unknown, a value of the wrong kind, or a speed without unit."""
        root = Document(Path(path)).root
        head = root.table("head")
        rates = root.table("rates")
        grate = root.table("grate")
        machine = cls(
            name=root.text("name"),
            source=root.text("source"),
            cuts=tuple(cut_figures(table) for table in root.tables("cut")),
            travel_speed=head.quantity("travel_speed", SPEEDS, above=True),
            acceleration=head.quantity("acceleration", ACCELERATIONS, above=True),
            travel_acceleration=head.quantity("travel_acceleration", ACCELERATIONS, above=True),
            home=head.point("home", (0.0, 0.0)),
            grate=grate.quantity("opening", LENGTHS, 0.0, plain="mm") or 0.0,
            grate_along="x" if grate.word("bars_along", ("x", "y"), "y") == "x" else "y",
            rates=Rates(
                currency=rates.text("currency"), **{key: rates.number(key) for key in RATES}
            ),
            layers=read_layers(root.table("layers")),
        )
        for table in (head, rates, grate, root):
            table.done()
        check_twice(root.tables("cut"), machine.cuts)
        return machine

    def figures(self, material: str, thickness: float) -> CutFigures | None:
        """Those for a material and thickness (mm); None if there are none. Raises ArgumentError for a
        thickness that is no finite number."""
        if not math.isfinite(thickness):
            raise ArgumentError("Machine.figures: thickness must be a finite number (mm)")
        return next((cut for cut in self.cuts if cut.serves(material, thickness)), None)


def cut_figures(table: Table) -> CutFigures:
    """One table ``[[cut]]``."""

    def length(key: str, default: float | None = 0.0) -> float | None:
        return table.quantity(key, LENGTHS, default, plain="mm")

    table.required("thickness", 'thickness = 3 (mm), or "any"')
    thickness = 0.0
    if table.raw("thickness") != "any":
        thickness = table.quantity("thickness", LENGTHS, plain="mm", above=True) or 0.0
    over_cut = table.raw("over_cut")
    if over_cut is not None and (
        isinstance(over_cut, bool)
        or not isinstance(over_cut, int | float)
        or not math.isfinite(over_cut)
    ):
        raise table.mistake("over_cut", "must be a number in mm; negative: what is left uncut")
    angle = table.number("entry_angle", 90.0)
    if angle is not None and angle > 90:
        raise table.mistake("entry_angle", "lies between 0 (tangential) and 90 degrees (square)")
    figures = CutFigures(
        material=table.text("material"),
        thickness=thickness,
        speed=table.quantity("speed", SPEEDS, above=True),
        marking_speed=table.quantity("marking_speed", SPEEDS, above=True),
        kerf=length("kerf", None),
        pierce_time=table.quantity("pierce_time", TIMES, plain="s"),
        entry_shape="arc"
        if table.word("entry_shape", WORDS["entry_shape"], "line") == "arc"
        else "line",
        entry_length=length("entry_length") or 0.0,
        entry_angle=90.0 if angle is None else angle,
        exit_length=length("exit_length") or 0.0,
        clearance=length("clearance") or 0.0,
        least_hole=length("least_hole") or 0.0,
        web=length("web") or 0.0,
        over_cut=float(over_cut or 0.0),
        mass_per_strip=table.quantity("mass_per_strip", MASSES, 0.0, plain="kg") or 0.0,
    )
    if figures.entry_length and figures.clearance > figures.entry_length:
        raise table.mistake(
            "clearance",
            f"an entry of {figures.entry_length:g} mm can't begin {figures.clearance:g} mm off the contour; "
            "make entry_length longer, or clearance less",
        )
    table.done()
    return figures


def check_twice(tables: list[Table], cuts: tuple[CutFigures, ...]) -> None:
    """Raise an error for figures that come after others for the same."""
    for number, cut in enumerate(cuts):
        for before in cuts[:number]:
            if (cut.material, cut.thickness) == (before.material, before.thickness):
                raise tables[number].mistake("", f"there are figures for {cut.title} before")


LAYER_ROLES = ("outer", "inner", "mark", "entry", "sheet")


def read_layers(table: Table) -> dict[str, dict[str, Any]]:
    """The table ``[layers]``: a name and a colour by what lies on it."""
    layers: dict[str, dict[str, Any]] = {}
    for role in LAYER_ROLES:
        one = table.table(role)
        layer: dict[str, Any] = {}
        if one.has("name"):
            layer["name"] = one.text("name")
        if one.has("color"):
            layer["color"] = color_of(one)
        one.done()
        if layer:
            layers[role] = layer
    table.done()
    return layers


def color_of(table: Table) -> str | int:
    """``"#rrggbb"``, or an index as DXF counts colours."""
    color = table.raw("color")
    if isinstance(color, int) and not isinstance(color, bool) and 1 <= color <= 255:
        return color
    digits = color.lstrip("#").lower() if isinstance(color, str) else ""
    if len(digits) != 6 or any(digit not in "0123456789abcdef" for digit in digits):
        raise table.mistake(
            "color", 'must be six hexadecimal digits, such as "#ff0000", or an index from 1 to 255'
        )
    return f"#{digits}"


@dataclass(frozen=True)
class OddFigure:
    """Something of a machine file that is missing ("missing") or looks wrong ("odd"), and what to do."""

    kind: Literal["missing", "odd"]
    place: str
    text: str


USUAL = {
    "kerf": (0.02, 8.0, "mm"),
    "speed": (0.2, 2000.0, "mm/s"),
    "marking_speed": (0.5, 10000.0, "mm/s"),
    "pierce_time": (0.0, 60.0, "s"),
    "thickness": (0.05, 200.0, "mm"),
}
"""Between these most machines lie that cut sheets (common practice, no source)."""
USUAL_HEAD = {
    "travel_speed": (10.0, 5000.0, "mm/s"),
    "acceleration": (50.0, 50000.0, "mm/s²"),
    "travel_acceleration": (50.0, 50000.0, "mm/s²"),
}
"""As above."""
FACTOR = 8.0
"""A figure that is so many times those of its neighbours may have slipped by a digit."""


def odd_figures(machine: Machine) -> list[OddFigure]:
    """What a machine file lacks, and what looks like a wrong unit or a slipped digit; nothing is changed."""
    return [*head_figures(machine), *cut_oddities(machine), *rate_figures(machine)]


def outside(value: float, low: float, high: float, unit: str) -> str:
    """What is said of a figure that is not between two; empty if it is."""
    if low <= value <= high:
        return ""
    return (
        f"{value:g} {unit} is {'more' if value > high else 'less'} than machines have "
        f"({low:g} to {high:g}): look at the unit"
    )


def head_figures(machine: Machine) -> Iterator[OddFigure]:
    """Of the head, the grate and the file itself."""
    if not machine.source:
        yield OddFigure(
            "missing", "source", "say where the figures come from: it stands on the quote"
        )
    if machine.travel_speed is None:
        yield OddFigure("missing", "head.travel_speed", "without it there are no times")
    if machine.acceleration is None:
        yield OddFigure(
            "missing",
            "head.acceleration",
            "without it every speed is had at once: times are too short",
        )
    for key, (low, high, unit) in USUAL_HEAD.items():
        value = getattr(machine, key)
        if value is not None and (text := outside(value, low, high, unit)):
            yield OddFigure("odd", f"head.{key}", text)
    if machine.grate and (text := outside(machine.grate, 3.0, 500.0, "mm")):
        yield OddFigure("odd", "grate.opening", text)
    if not machine.cuts:
        yield OddFigure("missing", "cut", "no material is given: add a table [[cut]]")


def cut_oddities(machine: Machine) -> Iterator[OddFigure]:
    """Of each table ``[[cut]]``."""
    for number, cut in enumerate(machine.cuts):
        place = f"cut[{number + 1}]"
        for key, need in (
            ("speed", "without it there are no times"),
            ("kerf", "without it parts come out too small"),
            ("pierce_time", "without it pierces take no time"),
        ):
            if getattr(cut, key) is None:
                yield OddFigure("missing", f"{place}.{key}", f"{cut.title}: {need}")
        for key, (low, high, unit) in USUAL.items():
            value = getattr(cut, key)
            if value and (text := outside(value, low, high, unit)):
                yield OddFigure("odd", f"{place}.{key}", f"{cut.title}: {text}")
        if cut.kerf and cut.thickness and cut.kerf > 2 * cut.thickness:
            yield OddFigure(
                "odd",
                f"{place}.kerf",
                f"{cut.title}: the cut is twice as wide as the sheet is thick",
            )
        if cut.speed and machine.travel_speed and cut.speed > machine.travel_speed:
            yield OddFigure("odd", f"{place}.speed", f"{cut.title}: cuts faster than it travels")
        yield from beside_others(machine, number)


def beside_others(machine: Machine, number: int) -> Iterator[OddFigure]:
    """A figure against those of the same material in other thicknesses."""
    cut = machine.cuts[number]
    place = f"cut[{number + 1}]"
    for other in machine.cuts:
        if (
            other is cut
            or other.material != cut.material
            or not (cut.thickness and other.thickness)
        ):
            continue
        ratio = cut.thickness / other.thickness
        if cut.speed and other.speed and ratio > 1 and cut.speed > other.speed:
            yield OddFigure(
                "odd", f"{place}.speed", f"{cut.title}: is cut faster than {other.thickness:g} mm"
            )
        if cut.kerf and other.kerf and cut.kerf > FACTOR * other.kerf:
            yield OddFigure(
                "odd",
                f"{place}.kerf",
                f"{cut.title}: {cut.kerf / other.kerf:.0f} times as wide as that of {other.thickness:g} mm",
            )


def rate_figures(machine: Machine) -> Iterator[OddFigure]:
    """Of the rates."""
    rates = machine.rates
    for key in RATES:
        value = getattr(rates, key)
        if value is None:
            yield OddFigure("missing", f"rates.{key}", "its cost is left out of every quote")
    if any(getattr(rates, key) is not None for key in RATES) and not rates.currency:
        yield OddFigure("missing", "rates.currency", "prices have no currency")
    if rates.hour and rates.metre and rates.metre > rates.hour:
        yield OddFigure("odd", "rates.metre", "a metre costs more than an hour")
    if rates.hour and rates.pierce and rates.pierce > rates.hour / 10:
        yield OddFigure(
            "odd", "rates.pierce", "a pierce costs more than six minutes of the machine"
        )
