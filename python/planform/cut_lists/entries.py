"""What a cut list holds: one entry a plate and material, with the figures of one piece."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Protocol

from planform._planform import (
    Allowance,
    Bend,
    MatingOutline,
    Plate,
    ProfileSet,
    _bends_on_datum,
)
from planform.allowances import Allowances
from planform.finishing import held_count
from planform.units.figures import MM_FIGURES, Figures, Unit, figures_in

KG_PER_MM3 = 1e-9
"""A density in kg/m³ times a volume in mm³ times this is a mass in kg."""


def columns(figures: Figures = MM_FIGURES) -> tuple[str, ...]:
    """The header of the CSV, with units: figures are those of one piece unless they say total. Width, height
    and area are those of the part, cut length and pierces those of the way of the tool."""
    length, area = f"[{figures.symbol}]", f"[{figures.plain_area_symbol}]"
    return (
        "position",
        "name",
        "material",
        f"thickness {length}",
        "quantity",
        "turned over",
        f"width {length}",
        f"height {length}",
        f"area {area}",
        f"cut length {length}",
        "pierces",
        "joints",
        "mass [kg]",
        f"total area {area}",
        f"total cut length {length}",
        "total pierces",
        "total mass [kg]",
        "volume share",
        "uncuttable features",
        "bends",
        "file",
        "also named",
        "notes",
    )


COLUMNS = columns()
"""Those of a list in mm."""


@dataclass(frozen=True)
class CutListEntry:
    """One plate of one material. Figures are those of one piece: mm, mm², kg (None if unknown).

    ``way`` is the way of the tool, with ``allowance`` applied; None where that can't be had: ``error`` says
    why then. ``mating`` tells where the plate meets others; None where that is not known.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> cut_list = planform.CutList.from_model(station, lambda _: planform.Material("larch", 590))
    >>> entry = cut_list.entries[0]
    >>> entry.name, entry.quantity, round(entry.mass, 3)
    ('gutter', 2, 0.008)
    """

    position: int
    name: str
    stem: str
    material: str
    density: float | None
    plate: Plate
    quantity: int
    turned_over: int
    names: tuple[str, ...]
    allowance: Allowance = field(default_factory=Allowance)
    way: ProfileSet | None = field(default_factory=lambda: None)
    mating: MatingOutline | None = field(default_factory=lambda: None)
    notes: tuple[str, ...] = ()
    error: str = field(default_factory=lambda: "")
    finished: ProfileSet | None = field(default_factory=lambda: None)

    @property
    def outline(self) -> ProfileSet:
        """The plate's profile set, mm: turned, held by bridges and labelled as far as that was wanted."""
        return self.finished or self.plate.outline

    @property
    def bends(self) -> list[Bend]:
        """Of a bent sheet, in coordinates of `outline`: they turn with it."""
        return _bends_on_datum(self.plate.bends, self.plate.outline.datum, self.outline.datum)

    @property
    def held(self) -> int:
        """How many islands, or drop-outs, bridges hold."""
        return held_count(self.plate.outline, self.outline)

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the outline's box, along the datum, mm."""
        lower, upper = self.outline.bounds
        return float(upper[0] - lower[0]), float(upper[1] - lower[1])

    @property
    def area(self) -> float:
        """Of one piece, holes taken off, mm^2."""
        return self.outline.area

    @property
    def cut_length(self) -> float:
        """All contours of one piece, mm, as the tool goes."""
        return (self.way or self.outline).length

    @property
    def pierces(self) -> int:
        """One a contour."""
        return sum(1 + len(profile.holes) for profile in (self.way or self.outline).profiles)

    @property
    def joints(self) -> int | None:
        """Joints of one piece, None if not known: a slot with what stands in it is one, and so are all places
        where its outer contour meshes with that of one other part."""
        return self.mating.joints if self.mating else None

    @property
    def remarks(self) -> tuple[str, ...]:
        """What a person should know of the plate, a sentence each."""
        error = (f"not drawn: {self.error}",) if self.error else ()
        known = {*self.plate.notes, *self.notes}
        added = (note for note in self.outline.notes if note not in known)
        return (*self.plate.notes, *added, *self.notes, *error)

    @property
    def mass(self) -> float | None:
        """Of the finished part: density times the solid's volume."""
        return None if self.density is None else self.density * self.plate.volume * KG_PER_MM3

    def row(self, unit: Unit = "mm") -> dict[str, Any]:
        """The entry by `columns` of a unit; lengths and areas to 0.001 mm (0.0001 in, 0.00001 in²),
        masses to 1e-6 kg."""
        figures = figures_in(unit)
        width, height = self.size
        mass = self.mass
        values = (
            self.position,
            self.name,
            self.material,
            figures.rounded(self.plate.thickness),
            self.quantity,
            self.turned_over,
            figures.rounded(width),
            figures.rounded(height),
            figures.rounded_area(self.area),
            figures.rounded(self.cut_length),
            self.pierces,
            self.joints,
            None if mass is None else round(mass, 6),
            figures.rounded_area(self.quantity * self.area),
            figures.rounded(self.quantity * self.cut_length),
            self.quantity * self.pierces,
            None if mass is None else round(self.quantity * mass, 6),
            round(self.plate.volume_share, 6),
            len(self.plate.cut.features),
            len(self.plate.bends),
            f"{self.stem}.dxf",
            "; ".join(self.names[1:]),
            " ".join(f"{note}." for note in self.remarks),
        )
        return dict(zip(columns(figures), values, strict=True))


@dataclass(frozen=True)
class OtherEntry:
    """A part of the model that is no plate, with the reason."""

    name: str
    quantity: int
    word: str
    text: str


class ListedPlates(Protocol):
    """What a page shows of a cut list; `planform.CutList` has it."""

    @property
    def source(self) -> str: ...
    @property
    def entries(self) -> tuple[CutListEntry, ...]: ...
    @property
    def others(self) -> tuple[OtherEntry, ...]: ...
    @property
    def allowances(self) -> Allowances: ...
    @property
    def notes(self) -> tuple[str, ...]: ...
    @property
    def pieces(self) -> int: ...
    def groups(self) -> list[tuple[float, str, list[CutListEntry]]]: ...
