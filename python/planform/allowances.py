"""Width of cut, fits and reliefs: what lies between the outline of a part and the way of the tool.

`Allowances` holds what is asked for; `allowances_for` finds what that is for each outline of an assembly, and
`as_cut` applies it. Lengths are millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any, Literal

from planform import _planform
from planform._planform import (
    Allowance,
    MatingOutline,
    Model,
    PlacedOutline,
    ProfileSet,
    Solid,
    allowance_notes,
    inner_fits,
    mating,
)
from planform.errors import Error, GeometryError
from planform.naming import one_line
from planform.words import WORDS

__all__ = ["Allowances", "AllowedOutline", "allowances_for", "as_cut"]

CHOICES: dict[str, tuple[str, ...]] = {
    "fit_on": WORDS["fit_on"],
    "fit_at": ("joints", "inner"),
    "relief_style": WORDS["relief_style"],
}
"""The words that these may be."""


@dataclass(frozen=True, kw_only=True)
class Allowances:
    """What is to be allowed for in cutting. Lengths are millimetres.

    Attributes
    ----------
    kerf : float
        Width of material that the tool removes: half of it goes outward all round, so that outer contours
        and islands grow and holes shrink. Marks stay.
    fit : float
        The gap between walls that meet, on each side; negative for a press fit.
    fit_on : {"slot", "tab", "both"}
        Which part gets it where a wall in a slot meets one of a tab. A wall that meets what is not cut, such
        as the face of the sheet that stands in a slot, takes all of it in any case.
    fit_at : {"joints", "inner"}
        Only the walls that meet another solid of the model, or all inner contours. A model of one solid has
        no joints: there all inner contours get it.
    relief : float
        Diameter of the tool that inner corners are relieved for; 0: they are not. Wider than the cut.
    relief_style : {"corner", "side"}
        See `planform.relieved`.

    Raises
    ------
    GeometryError
        For a word that is not one of those above, a number out of range.

    Examples
    --------
    >>> import planform
    >>> planform.Allowances(kerf=0.15, fit=0.1, fit_on="slot")
    Allowances(kerf=0.15, fit=0.1, fit_on='slot', fit_at='joints', relief=0.0, relief_style='corner')
    """

    kerf: float = 0.0
    fit: float = 0.0
    fit_on: Literal["slot", "tab", "both"] = field(default_factory=lambda: "slot")
    fit_at: Literal["joints", "inner"] = field(default_factory=lambda: "joints")
    relief: float = 0.0
    relief_style: Literal["corner", "side"] = field(default_factory=lambda: "corner")

    def __post_init__(self) -> None:
        for name, words in CHOICES.items():
            if getattr(self, name) not in words:
                raise GeometryError.of_kind(
                    "unknown_option",
                    f"{name} = {getattr(self, name)!r} is unknown; valid: {', '.join(words)}",
                )
        for name in ("kerf", "fit", "relief"):
            value = getattr(self, name)
            is_number = isinstance(value, int | float) and math.isfinite(value)
            if not is_number or (value < 0 and name != "fit"):
                kind = "finite number" if name == "fit" else "finite number of 0 or more"
                raise GeometryError.of_kind(
                    "invalid_argument", f"{name} = {value!r} is no {kind} (mm)"
                )
        if 0 < self.relief <= self.kerf:
            raise GeometryError.of_kind(
                "invalid_argument",
                f"relief = {self.relief:g} is no wider than the cut of {self.kerf:g} mm: there is no way for "
                "the tool in it; leave the width of cut to the machine, or make the relief wider",
            )
        if self.fit and self.fit_at == "inner" and self.fit_on == "tab":
            raise GeometryError.of_kind(
                "invalid_argument",
                "fit_on = 'tab' and fit_at = 'inner' don't go together: inner contours are slots",
            )

    @property
    def is_none(self) -> bool:
        """True if the way of the tool is the outline itself."""
        return not (self.kerf or self.fit or self.relief)

    @property
    def wants_joints(self) -> bool:
        """True if it has to be known where parts meet."""
        return bool(self.fit) and self.fit_at == "joints"

    def parts(self) -> dict[str, Any]:
        """The fields by name."""
        return {one.name: getattr(self, one.name) for one in fields(Allowances)}

    def allowance(self, fits: Sequence[tuple[int, int, int, float]] = ()) -> Allowance:
        """With what curves give for the fit."""
        return Allowance(
            kerf=self.kerf,
            fit=self.fit,
            relief=self.relief,
            relief_style=self.relief_style,
            fits=list(fits),
        )


NAMES = tuple(one.name for one in fields(Allowances))


@dataclass(frozen=True)
class AllowedOutline:
    """The allowance of one outline, and where it meets others.

    ``mating`` is None where joints were not looked for. ``notes`` say what a person should know.

    Examples
    --------
    >>> import planform
    >>> one = planform.AllowedOutline(planform.Allowance(kerf=0.2))
    >>> one.allowance.kerf, one.mating, one.notes
    (0.2, None, ())
    """

    allowance: Allowance
    mating: MatingOutline | None = field(default_factory=lambda: None)
    notes: tuple[str, ...] = ()


def allowances_for(
    solids: Model | Sequence[Solid],
    outlines: Sequence[ProfileSet],
    pieces: Sequence[PlacedOutline],
    wanted: Allowances,
    *,
    look: bool = False,
) -> list[AllowedOutline]:
    """What is to be allowed for in each of the outlines of an assembly.

    Parameters
    ----------
    solids : Model or sequence of Solid
        The assembly.
    outlines : sequence of ProfileSet
        What is cut, mm.
    pieces : sequence of PlacedOutline
        Which solids are cut from which outline.
    wanted : Allowances
    look : bool, optional
        Look for joints also where nothing asks for them.

    Returns
    -------
    list of AllowedOutline
        One an outline.

    Raises
    ------
    GeometryError
        If the kernel fails on faces that touch; for a fit on tabs where none are known.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> plates = planform.plates(station)
    >>> outlines = [plate.outline for plate in plates]
    >>> wanted = planform.Allowances(kerf=0.15, fit=0.1)
    >>> ways = planform.allowances_for(station, outlines, planform.placed_outlines(plates), wanted)
    >>> len(ways), ways[0].allowance.kerf
    (12, 0.15)
    """
    count = len(solids.solids) if isinstance(solids, Model) else len(solids)
    found: list[MatingOutline] | None = None
    if count > 1 and (wanted.wants_joints or look):
        try:
            found = mating(solids, list(outlines), list(pieces), fit_on=wanted.fit_on).outlines
        except Error:  # who only counts joints can do without
            if wanted.wants_joints:
                raise
    if not wanted.fit:
        return [
            AllowedOutline(wanted.allowance(), found[i] if found else None)
            for i in range(len(outlines))
        ]
    if wanted.wants_joints and found is not None:
        meets = any(curve.share for outline in found for curve in outline.curves)
        nowhere = () if meets else ("no wall touches another solid: the fit is at no curve",)
        return [
            AllowedOutline(wanted.allowance(one.fits(wanted.fit)), one, (*one.notes, *nowhere))
            for one in found
        ]
    alone = ("a single solid has no joints: the fit is on all inner contours",)
    return [
        AllowedOutline(
            wanted.allowance(inner_fits(outline, wanted.fit, wanted.fit_on)),
            found[i] if found else None,
            alone if wanted.wants_joints else (),
        )
        for i, outline in enumerate(outlines)
    ]


def as_cut(
    self: ProfileSet,
    allowance: Allowance | None = None,
    *,
    kerf: float = 0.0,
    fit: float = 0.0,
    fit_on: Literal["slot", "both"] = "slot",
    relief: float = 0.0,
    relief_style: Literal["corner", "side"] = "corner",
) -> ProfileSet:
    """The way of the tool for the outline: first the fits, then the reliefs, then the width of cut.

    A part cut along it has walls at the outline's, moved by its fits: lines and arcs to 1e-9 of the
    coordinates, all else within a tenth of the tolerance. Corners stay sharp, unless the outline has a tip
    sharper than 29 degrees or tips led on would meet others; then arcs run around its corners. A tip that the
    tool can't reach is a note.

    Parameters
    ----------
    allowance : Allowance, optional
        All of it. Without it, it is made of the others, and the fit is on all inner contours.
    kerf : float, optional
        Width of material that the tool removes, mm.
    fit : float, optional
        mm by which inner contours are wider on each side, narrower if negative.
    fit_on : {'slot', 'both'}, optional
        All of the fit, or half of it.
    relief : float, optional
        Diameter in mm of the tool that inner corners are relieved for; 0: they are not.
    relief_style : {'corner', 'side'}, optional
        See `relieved`.

    Returns
    -------
    ProfileSet
        In mm; its notes say what is in it.

    Raises
    ------
    GeometryError
        For numbers that make no sense, and for an allowance that is in the outline already, as its notes say;
        with name and place where a hole, a slot, a notch or a gap is no wider than the cut, or a fit larger
        than a tab or a slot.

    Examples
    --------
    >>> import planform
    >>> def circle(radius):
    ...     return planform.Contour([planform.Arc((0, 0), radius)])
    >>> washer = planform.ProfileSet([planform.Profile(circle(10), [circle(6)])])
    >>> way = washer.as_cut(kerf=0.2, fit=0.05)
    >>> [round(contour.curves[0].radius, 9) for contour in (way.profiles[0].outer, *way.profiles[0].holes)]
    [10.1, 5.95]
    """
    if allowance is None:
        wanted = Allowances(
            kerf=kerf,
            fit=fit,
            fit_on=fit_on,
            fit_at="inner",
            relief=relief,
            relief_style=relief_style,
        )
        allowance = wanted.allowance(inner_fits(self, fit, fit_on) if fit else ())
    elif kerf or fit or relief:
        raise GeometryError.of_kind(
            "invalid_argument", "an allowance says all of it; leave out kerf, fit and relief"
        )
    return _planform.as_cut(self, allowance)


def failure_text(outline: ProfileSet, error: Exception) -> str:
    """What went wrong with an outline, on one line, without its name: that stands before it in lists."""
    return one_line(str(error)).removeprefix(f'"{outline.name}": ')


def allowance_of(
    outline: ProfileSet, own: Allowance | None, wanted: Allowances, kerf: float | None = None
) -> Allowance:
    """What is to be allowed for in an outline whose joints are not known: what is wanted, the fit on its
    inner contours, and what came with it (``own``, see `Allowance.from_json`). ``kerf`` stands in for that
    of ``wanted``. Raises GeometryError where both say something else."""
    asked = {
        "kerf": wanted.kerf if kerf is None else kerf,
        "fit": wanted.fit,
        "relief": wanted.relief,
    }
    fits = list(own.fits) if own else []
    if asked["fit"] and not fits:
        fits = list(inner_fits(outline, wanted.fit, wanted.fit_on))
    style = wanted.relief_style
    if own is not None:
        if own.relief:
            style = own.relief_style
        for name, title in (("kerf", "width of cut"), ("fit", "fit"), ("relief", "relief")):
            there = getattr(own, name)
            if there and asked[name] and there != asked[name]:
                raise GeometryError.of_kind(
                    "invalid_argument",
                    f"the outline comes with a {title} of its own, {there:g} mm, and {asked[name]:g} mm is "
                    "asked for; leave it out, or ask for the same",
                )
            asked[name] = there or asked[name]
    return Allowance(**asked, relief_style=style, fits=fits)


def notes_of_ways(ways: Iterable[tuple[str, ProfileSet]]) -> list[str]:
    """What is in the ways of pieces that lie side by side, with their names where it is not in all: nobody
    should add a width of cut to what has one, nor forget it where there is none."""
    pieces = {(name, tuple(allowance_notes(way))) for name, way in ways}
    said = sorted({note for _, notes in pieces for note in notes})
    lines = []
    for note in said:
        names = sorted({name for name, notes in pieces if note in notes})
        is_common = all(note in notes for _, notes in pieces)
        lines.append(note if is_common else f"{', '.join(names)}: {note}")
    without = sorted({name for name, notes in pieces if not any(map(is_of_kerf, notes))})
    if without and any(is_of_kerf(note) for note in said):
        lines.append(f"no width of cut is in: {', '.join(without)}")
    return lines


def of_blank(allowed: AllowedOutline, wanted: Allowances) -> AllowedOutline:
    """What is allowed for in the blank of a bent sheet, with a note on what was not looked at."""
    if not wanted.wants_joints or allowed.mating is None:
        return allowed
    note = (
        "of a bent sheet only what one wall meets was looked at, the one that the blank lies in: holes and "
        "edges of the others have no fit"
    )
    return replace(allowed, notes=(*allowed.notes, note))


def left_by_tool(way: ProfileSet) -> list[str]:
    """The notes of a way on what the tool leaves: corners without a relief, tips that it can't reach."""
    return [note for note in allowance_notes(way) if note.startswith(("no relief at", "tips that"))]


def is_of_kerf(note: str) -> bool:
    """Does a note say that a width of cut is in it?"""
    return "the width of cut" in note
