"""What is wanted of models: which outlines, which files. All words and numbers are checked here."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from planform._planform import (
    BendRule,
    Datum,
    unit_names,
)
from planform.allowances import Allowances
from planform.bending.unfolding import bend_rule
from planform.errors import GeometryError
from planform.finishing import Finishing
from planform.formats import FORMATS
from planform.layer_files import LayerData, checked_layers
from planform.words import WORDS

FIXED_DATUMS: dict[str, Callable[[], Datum]] = {"xy": Datum.xy, "xz": Datum.xz, "yz": Datum.yz}
DATUMS = (*FIXED_DATUMS, "auto")
CHOICES: dict[str, Sequence[str]] = {
    "datum": DATUMS,
    **{name: WORDS[name] for name in ("at", "marks", "merge", "unit", "curves", "heal", "verify")},
}
"""The words that settings may be."""


@dataclass(frozen=True)
class Settings(Allowances, Finishing):
    """What to make of the models. Lengths are millimetres.

    Attributes
    ----------
    datum : {"xy", "xz", "yz", "auto"}
        Plane of the drawing; ``auto`` lays each part as `planform.side_up` tells.
    section : float or None
        Cut at this height above the datum, mm; None flattens the silhouette.
    at : {"shadow", "top", "bottom", "through"}
        Which outline of a silhouette; see `planform.silhouette`.
    marks : {"up", "down", "both", "none"}
        On which sides of plates recesses and raised areas become marks, with their depth; see
        `planform.feature_marks`. None on sections, or with another outline than the shadow.
    one_sided : bool
        The stock has a good side: mirror images are drawings of their own.
    tolerance : float
        Bound on the distance between the true outline and the drawn one, mm.
    merge : {"union", "keep"}
        Where a drawing has several solids: unite their outlines or keep them side by side.
    one_file : bool
        One drawing a model instead of one a solid; needs a fixed datum.
    formats : sequence of {"dxf", "svg", "json"}
        The files of each drawing; kept as a tuple.
    unit : {"mm", "inch"}
        Unit of the DXF, and of figures in tables and pages; SVG and JSON are always in mm.
    layers : mapping of str to mapping
        Layers and groups of the machine by role, as plain data; see `planform.layer_files`.
    svg_stroke : float or None
        Width of the strokes in SVG, mm, for screens; None: hairlines, for machines.
    curves : {"arcs", "exact"}
        How ellipses and splines go into the DXF.
    read_unit : str
        Read the models' lengths as this unit; empty: the file's own.
    scale : float
        Multiply the models' lengths by this.
    heal : {"needed", "always"}
        What the kernel repairs in STEP files; see `planform.load`.
    verify : {"quick", "full"}
        How much is proven of each silhouette; see `planform.silhouette`.
    k_factor : float or None
        How long the bends of bent sheets are, which the datum ``auto`` draws as their blanks; see
        `planform.bend_rule`. No unit.
    bend_table : str
        A file of a bend table instead; without either DIN 6935.
    sharp_radius : float or None
        Inside radius of bends at corners that are drawn sharp, mm; without it the thickness.
    kerf, fit, fit_on, fit_at, relief, relief_style
        Width of cut, fits and reliefs; see `planform.Allowances`. DXF and SVG show the way of the tool, JSON
        keeps the outline of the part and the allowance.
    turn, bridges, bridge_count, bridge_hold, labels
        What is done with outlines before; see `planform.finishing.Finishing`.

    Raises
    ------
    GeometryError
        For a word that is not one of those above, a number out of range, or settings that don't go
        together: ``one_file`` with the datum ``auto``, ``section`` with ``at``.

    Examples
    --------
    >>> import planform
    >>> settings = planform.Settings(datum="xy", formats=["dxf", "json"], kerf=0.15)
    >>> settings.formats
    ('dxf', 'json')
    """

    datum: str = "auto"
    section: float | None = None
    at: Literal["shadow", "top", "bottom", "through"] = "shadow"
    marks: Literal["up", "down", "both", "none"] = "up"
    one_sided: bool = False
    tolerance: float = 0.01
    merge: Literal["union", "keep"] = "union"
    one_file: bool = False
    formats: Sequence[str] = ("dxf", "svg")
    unit: Literal["mm", "inch"] = "mm"
    curves: Literal["arcs", "exact"] = "arcs"
    read_unit: str = ""
    scale: float = 1.0
    heal: Literal["needed", "always"] = "needed"
    verify: Literal["quick", "full"] = "quick"
    layers: LayerData = field(default_factory=dict, hash=False)
    svg_stroke: float | None = None
    k_factor: float | None = None
    bend_table: str = ""
    sharp_radius: float | None = None

    @property
    def bend_rule(self) -> BendRule:
        """By which rule bent sheets are unfolded. Raises LoadError for a table that can't be read."""
        return bend_rule(
            k_factor=self.k_factor, table=self.bend_table or None, sharp_radius=self.sharp_radius
        )

    def __post_init__(self) -> None:
        Allowances.__post_init__(self)
        Finishing.__post_init__(self)
        for name, words in CHOICES.items():
            require_word(name, getattr(self, name), words)
        formats: object = self.formats
        if isinstance(formats, str) or not isinstance(formats, Sequence) or not len(formats):
            raise GeometryError.of_kind(
                "invalid_argument", f"formats = {self.formats!r} is no list of some of {FORMATS}"
            )
        object.__setattr__(self, "formats", tuple(self.formats))
        object.__setattr__(self, "layers", checked_layers(self.layers))
        for word in self.formats:
            require_word("formats", word, FORMATS)
        if self.read_unit:
            require_word("read_unit", self.read_unit, unit_names())
        for name in ("tolerance", "scale"):
            if not (is_finite(getattr(self, name)) and getattr(self, name) > 0):
                raise GeometryError.of_kind(
                    "invalid_argument", f"{name} = {getattr(self, name)!r} is no number above 0"
                )
        if self.svg_stroke is not None and not (is_finite(self.svg_stroke) and self.svg_stroke > 0):
            raise GeometryError.of_kind(
                "invalid_argument", f"svg_stroke = {self.svg_stroke!r} is no number of mm above 0"
            )
        if self.section is not None and not is_finite(self.section):
            raise GeometryError.of_kind(
                "invalid_argument", f"section = {self.section!r} is no height in mm"
            )
        if self.section is not None and self.at != "shadow":
            raise GeometryError.of_kind(
                "invalid_argument", f"section and at = {self.at!r} don't go together; leave out one"
            )
        if self.k_factor is not None and not (is_finite(self.k_factor) and 0 <= self.k_factor <= 1):
            raise GeometryError.of_kind(
                "invalid_argument", f"k_factor = {self.k_factor!r} is no number from 0 to 1"
            )
        if self.sharp_radius is not None and not (
            is_finite(self.sharp_radius) and self.sharp_radius >= 0
        ):
            raise GeometryError.of_kind(
                "invalid_argument", f"sharp_radius = {self.sharp_radius!r} is no radius in mm"
            )
        if self.k_factor is not None and self.bend_table:
            raise GeometryError.of_kind(
                "invalid_argument", "k_factor and bend_table don't go together; leave out one"
            )
        if self.one_file and self.datum == "auto":
            raise GeometryError.of_kind(
                "invalid_argument",
                "one_file needs a fixed datum: with auto each part has its own plane",
            )

    @property
    def tells_plates(self) -> bool:
        """True if it is asked what is a plate: not of sections, nor of models as a whole."""
        return self.section is None and not self.one_file


def require_word(name: str, word: object, words: Sequence[str]) -> None:
    """Raise GeometryError unless a setting is one of the words."""
    if word not in words:
        raise GeometryError.of_kind(
            "unknown_option", f"{name} = {word!r} is unknown; valid: {', '.join(words)}"
        )


def is_finite(value: object) -> bool:
    """True for a number that is finite."""
    return isinstance(value, int | float) and math.isfinite(value)
