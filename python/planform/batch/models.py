"""Models in, drawings out: what ``planform flatten`` does, without a terminal.

A *drawing* is one profile set and the files it goes to. With the datum ``auto`` there is one drawing a
distinct part, with the number of its pieces (several where bodies of a part don't lie flat beside or in
each other); with a fixed datum one a placed solid; with ``one_file`` one a model. Which parts are the same,
and what is no plate, is what `planform.plates` says, asked once a model. A failure costs the drawing
or the model it happens in and no other.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal, Protocol

from planform._planform import (
    Allowance,
    Datum,
    MatingOutline,
    Model,
    OtherPart,
    PlacedOutline,
    Plate,
    ProfileSet,
    Solid,
    auto_datum,
    coplanar_groups,
    feature_marks,
    load,
    plates,
    section,
    silhouette,
    unit_names,
)
from planform.allowances import Allowances, allowances_for, as_cut, failure_text
from planform.errors import Error, GeometryError
from planform.finishing import Finishing, finished, held_count
from planform.layer_files import LayerData, drawing_layers
from planform.naming import FileNames, one_line

FORMATS = ("dxf", "svg", "json")
FIXED_DATUMS: dict[str, Callable[[], Datum]] = {"xy": Datum.xy, "xz": Datum.xz, "yz": Datum.yz}
MODEL_SUFFIXES = (".stp", ".step", ".stpz", ".stp.gz", ".step.gz", ".brep", ".brp")
OUTLINES = ("shadow", "top", "bottom", "through")
SIDES = ("up", "down", "both", "none")
PROOFS = ("quick", "full")
DATUMS = (*FIXED_DATUMS, "auto")
WORDS: dict[str, Sequence[str]] = {
    "datum": DATUMS,
    "at": OUTLINES,
    "marks": SIDES,
    "merge": ("union", "keep"),
    "unit": ("mm", "inch"),
    "curves": ("arcs", "exact"),
    "heal": ("needed", "always"),
    "verify": PROOFS,
}
"""The words that settings may be."""

UPRIGHT = 1.0 - 1e-8
"""Cosine of the angle up to which a datum looks squarely at a plate."""

SAME = 1e-9
"""Areas and lengths that differ by less, relative, are the same."""

Outcome = Literal["drawn", "empty", "failed"]


class Reader(Protocol):
    """What reads a model: `planform.load`, or what does the same otherwise."""

    def __call__(
        self, path: Path, /, *, unit: str | None, scale: float, heal: Literal["needed", "always"]
    ) -> Model:
        """Return the model of a file; raise LoadError."""


@dataclass(frozen=True)
class Settings(Allowances, Finishing):
    """What to make of the models. Lengths are millimetres.

    Attributes
    ----------
    datum : {"xy", "xz", "yz", "auto"}
        Plane of the drawing; ``auto`` lays each part as `planform.side_up` tells.
    section : float or None
        Cut at this height above the datum; None flattens the silhouette.
    at : {"shadow", "top", "bottom", "through"}
        Which outline of a silhouette; see `planform.silhouette`.
    marks : {"up", "down", "both", "none"}
        On which sides of plates recesses and raised areas become marks, with their depth; see
        `planform.feature_marks`. None on sections, or with another outline than the shadow.
    one_sided : bool
        The stock has a good side: mirror images are drawings of their own.
    tolerance : float
        Bound on the distance between the true outline and the drawn one.
    merge : {"union", "keep"}
        Where a drawing has several solids: unite their outlines or keep them side by side.
    one_file : bool
        One drawing a model instead of one a solid; needs a fixed datum.
    formats : sequence of {"dxf", "svg", "json"}
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
    layers: LayerData = field(default_factory=dict)
    svg_stroke: float | None = None

    def __post_init__(self) -> None:
        Allowances.__post_init__(self)
        Finishing.__post_init__(self)
        for name, words in WORDS.items():
            require_word(name, getattr(self, name), words)
        if isinstance(self.formats, str) or not self.formats:
            raise GeometryError.of_kind(
                "invalid_argument", f"formats = {self.formats!r} is no list of some of {FORMATS}"
            )
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


@dataclass(frozen=True)
class Drawing:
    """One profile set, made or failed, and the files it went to.

    ``outcome`` is ``"drawn"``, ``"empty"`` (the datum misses the part; no file is written) or
    ``"failed"`` (``error`` says why on one line). ``quantity`` counts the instances in the model that
    this one drawing stands for: ``instances``, of which the first was flattened. ``profiles`` is the outline
    of the part, ``way`` that of the tool, which DXF and SVG show: with ``allowance`` applied. ``mating``
    tells where the part meets others, if that was looked for. ``plate`` is what `planform.plates` found it to
    be, ``no_plate`` why it is none: both None where that was not asked. ``turned_over`` of the pieces are
    mirror images, cut like the others and then laid on their other face; ``held`` is how many islands (or
    drop-outs) bridges hold; ``left_out`` what an outline of another level than the shadow does not show.
    """

    name: str
    stem: str
    solids: tuple[Solid, ...]
    quantity: int = 1
    outcome: Outcome = "failed"
    profiles: ProfileSet | None = None
    error: str = ""
    files: tuple[Path, ...] = ()
    instances: tuple[tuple[Solid, ...], ...] = ()
    allowance: Allowance | None = None
    mating: MatingOutline | None = None
    way: ProfileSet | None = None
    number: int = 1
    plate: Plate | None = None
    no_plate: OtherPart | None = None
    turned_over: int = 0
    held: int = 0
    left_out: str = ""

    @property
    def verdict(self) -> str:
        """ "plate", or the word of `planform.plates` for what is none; empty where nobody asked."""
        if self.no_plate is not None:
            return self.no_plate.word
        return "plate" if self.plate is not None else ""

    @property
    def other_names(self) -> list[str]:
        """The names that its further instances have in the model, other than ``name``."""
        named = (
            group[0].name if len(group) == 1 else group[0].part_name for group in self.instances
        )
        return [name for name in dict.fromkeys(named) if name != self.name]

    @property
    def warnings(self) -> list[str]:
        """What is probably not meant, one line each: it is no plate; something in it falls out."""
        if self.outcome != "drawn":
            return []
        lines = []
        if self.no_plate is not None:
            lines.append(
                f"not_flat: no plate but {self.no_plate.word}: {self.no_plate.text}; what is drawn is its "
                "shadow"
            )
        if loose := loose_islands(self.profiles):
            lines.append(loose)
        return lines


def loose_islands(profiles: ProfileSet | None) -> str:
    """That material lies loose in holes, one line; empty if none does."""
    count = len(profiles.islands) if profiles is not None else 0
    if not count:
        return ""
    pieces = "1 piece of material lies" if count == 1 else f"{count} pieces of material lie"
    return f"island: {pieces} loose in its holes and will fall out: hold by bridges, or leave out"


@dataclass(frozen=True)
class ModelResult:
    """One model: what was read and what was drawn of it, or why it could not be read (``error``)."""

    source: Path
    model: Model | None = None
    drawings: tuple[Drawing, ...] = ()
    error: str = ""


@dataclass(frozen=True)
class BatchResult:
    """The results of all models, in the order given."""

    models: tuple[ModelResult, ...] = field(default_factory=tuple)

    @property
    def drawings(self) -> list[Drawing]:
        """All drawings of all models."""
        return [drawing for model in self.models for drawing in model.drawings]

    @property
    def errors(self) -> list[str]:
        """One line for each model or part that failed."""
        lines = []
        for result in self.models:
            if result.error:
                lines.append(result.error)
            lines += [one_line(f"{d.name}: {d.error}") for d in result.drawings if d.error]
        return lines


class Batch:
    """Reads models, then draws their parts one by one, so that a caller can show how far it is.

    ``reader`` stands in for `planform.load`.

    Examples
    --------
    >>> import planform, tempfile, pathlib
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> _ = planform.write_demo_assembly(folder / "station.step")
    >>> batch = Batch([folder / "station.step"], Settings(datum="auto"))
    >>> for drawing in batch.run(folder / "cut"):
    ...     assert drawing.outcome == "drawn", drawing.error
    >>> len(batch.result.errors)
    0
    """

    def __init__(
        self, sources: Iterable[str | Path], settings: Settings, reader: Reader = load
    ) -> None:
        self.settings = settings
        self._reader = reader
        self._names = FileNames()
        self.result = BatchResult(tuple(self._read(Path(source)) for source in sources))

    @property
    def size(self) -> int:
        """Number of drawings to make."""
        return len(self.result.drawings)

    def _read(self, source: Path) -> ModelResult:
        try:
            model = self._reader(
                source,
                unit=self.settings.read_unit or None,
                scale=self.settings.scale,
                heal=self.settings.heal,
            )
        except Error as error:
            return ModelResult(source, error=one_line(str(error)))
        return ModelResult(source, model, tuple(self._plan(source, model)))

    def _plan(self, source: Path, model: Model) -> Iterator[Drawing]:
        """The drawings of a model, numbered, not made yet."""
        if self.settings.one_file:
            solids = tuple(model.solids)
            drawings = iter([Drawing(model_stem(source), "", solids, instances=(solids,))])
        elif self.settings.datum == "auto":
            drawings = drawings_of_parts(model, self.settings)
        else:
            drawings = drawings_of_solids(model, self.settings)
        for number, drawing in enumerate(drawings, start=1):
            yield replace(drawing, stem=self._names.unique(drawing.name), number=number)

    def run(
        self, folder: Path, starting: Callable[[Drawing], None] | None = None
    ) -> Iterator[Drawing]:
        """Flatten and write each drawing into ``folder`` and yield it when it is done.

        ``starting`` is called with each drawing before the work on it. The folder must exist. After the
        last drawing ``result`` holds them all.
        """
        models = []
        for model in self.result.models:
            drawings = []
            for outlined in self.outlined(model, starting):
                finished = written(outlined, self.settings, folder)
                drawings.append(finished)
                yield finished
            models.append(replace(model, drawings=tuple(drawings)))
        self.result = BatchResult(tuple(models))

    def outlined(
        self, model: ModelResult, starting: Callable[[Drawing], None] | None = None
    ) -> Iterator[Drawing]:
        """The drawings of a model with their outlines and the way of the tool, not written yet. Where it has
        to be known which parts meet, all are flattened before the first is handed out."""

        def flattened() -> Iterator[Drawing]:
            for planned in model.drawings:
                if starting:
                    starting(planned)
                yield with_outline(planned, self.settings)

        if model.model is None or not self.settings.wants_joints:
            for drawing in flattened():
                yield from with_ways((), [drawing], self.settings)
        else:
            yield from with_ways(model.model.solids, list(flattened()), self.settings)


@dataclass(frozen=True)
class Verdicts:
    """What `planform.plates` says of each solid of a model, by its index."""

    plates: dict[int, Plate]
    others: dict[int, OtherPart]

    @classmethod
    def of(cls, model: Model, settings: Settings) -> Verdicts:
        """Ask once; nothing is known where the settings don't ask."""
        if not settings.tells_plates:
            return cls({}, {})
        found = plates(
            model,
            tolerance=settings.tolerance,
            at=settings.at,
            one_sided=settings.one_sided,
            marks=settings.marks,
        )
        by_plate = {
            solid: plate
            for plate in found.plates
            for instance in plate.instances
            for solid in (instance.solid, *instance.islands)
        }
        return cls(by_plate, {solid: other for other in found.others for solid in other.solids})

    def no_plate(self, bodies: Sequence[int]) -> OtherPart | None:
        """Why one of the bodies is no plate, if one is none."""
        return next((self.others[body] for body in bodies if body in self.others), None)

    def piece_of(self, bodies: Sequence[int]) -> Plate | None:
        """The plate of which the bodies are one whole piece."""
        plate = self.plates.get(bodies[0])
        for instance in plate.instances if plate else ():
            if {instance.solid, *instance.islands} == set(bodies):
                return plate
        return None


def drawings_of_parts(model: Model, settings: Settings) -> Iterator[Drawing]:
    """One drawing a distinct part, each as it lies by itself."""
    numbers = {solid: number for number, solid in enumerate(model.solids)}
    verdicts = Verdicts.of(model, settings)
    drawings: dict[tuple[object, ...], list[list[Solid]]] = {}
    for group in separate_pieces(drawn_together(model), numbers, verdicts):
        plate = verdicts.piece_of([numbers[solid] for solid in group])
        key: tuple[object, ...] = (
            ("plate", id(plate)) if plate else tuple(s.shape_index for s in group)
        )
        drawings.setdefault(key, []).append(group)
    for groups in drawings.values():
        first = groups[0]
        bodies = [numbers[solid] for solid in first]
        plate = verdicts.piece_of(bodies)
        over = {i.solid for i in plate.instances if i.turned_over} if plate else set()
        yield Drawing(
            first[0].name if len(first) == 1 else first[0].part_name,
            "",
            tuple(first),
            quantity=len(groups),
            instances=tuple(tuple(group) for group in groups),
            plate=plate or verdicts.plates.get(bodies[0]),
            no_plate=verdicts.no_plate(bodies),
            turned_over=sum(numbers[solid] in over for group in groups for solid in group),
        )


def drawings_of_solids(model: Model, settings: Settings) -> Iterator[Drawing]:
    """One drawing a placed solid."""
    verdicts = Verdicts.of(model, settings)
    for number, solid in enumerate(model.solids):
        yield Drawing(
            solid.name,
            "",
            (solid,),
            instances=((solid,),),
            plate=verdicts.plates.get(number),
            no_plate=verdicts.others.get(number),
        )


def separate_pieces(
    groups: Iterable[list[Solid]], numbers: dict[Solid, int], verdicts: Verdicts
) -> Iterator[list[Solid]]:
    """Groups, but those of bodies that are all the same plate come apart: copies that an exporter made bodies
    of one part are pieces to cut, counted as `planform.plates` does."""
    for group in groups:
        found = [verdicts.piece_of([numbers[solid]]) for solid in group]
        is_copies = len(group) > 1 and found[0] is not None and all(f is found[0] for f in found)
        yield from ([solid] for solid in group) if is_copies else (group,)


def drawn_together(model: Model) -> Iterator[list[Solid]]:
    """The solids of each drawing under the datum ``auto``: those of one part that lie flat beside or in each
    other, such as letters or what lies loose in a cut-out. Bodies whose outlines touch or overlap are apart:
    in one drawing the cut between them would be lost."""
    parts: dict[int, list[Solid]] = {}
    for solid in model.solids:
        parts.setdefault(solid.part, []).append(solid)
    for solids in parts.values():
        if len(solids) == 1:
            yield solids
            continue
        try:
            groups = coplanar_groups(solids)
        except Error:
            # A body that the kernel can't look at fails alone, in its own drawing.
            groups = [[solid] for solid in solids]
        for group in groups:
            yield from without_contact(group)


def without_contact(group: Sequence[Solid]) -> Iterator[list[Solid]]:
    """The solids of a group, taken apart so that no two in one list have outlines that touch or overlap."""
    if len(group) == 1:
        yield list(group)
        return
    try:
        datum = auto_datum(group)
        outlines = [silhouette(solid, datum) for solid in group]
    except Error:
        yield list(group)  # says why when it is drawn
        return
    lists: list[list[int]] = []
    for i, outline in enumerate(outlines):
        for places in lists:
            if not any(in_contact(outline, outlines[j]) for j in places):
                places.append(i)
                break
        else:
            lists.append([i])
    yield from ([group[i] for i in places] for places in lists)


def in_contact(a: ProfileSet, b: ProfileSet) -> bool:
    """True if the union of two outlines has not all of both: then a cut between them would be lost."""
    (low_a, high_a), (low_b, high_b) = a.bounds, b.bounds
    near = max(a.tolerance, b.tolerance)
    if not all(low_a[k] <= high_b[k] + near and low_b[k] <= high_a[k] + near for k in (0, 1)):
        return False
    both = a | b
    return not (
        math.isclose(both.length, a.length + b.length, rel_tol=SAME)
        and math.isclose(both.area, a.area + b.area, rel_tol=SAME)
    )


def model_stem(source: Path) -> str:
    """The name of a model's file without folder and suffixes: ``a/b.stp.gz`` gives ``b``."""
    name = source.name
    for suffix in (".gz", ".stp", ".step", ".stpz", ".brep", ".brp"):
        if name.lower().endswith(suffix):
            name = name[: -len(suffix)]
    return name


def with_outline(planned: Drawing, settings: Settings) -> Drawing:
    """Flatten one drawing and finish its outline; a failure comes back in ``error``, nothing is raised."""
    try:
        outline = drawn_outline(planned, settings).with_name(planned.name)
        left_out = left_out_at(planned, settings)
        profiles = finished(
            outline,
            settings,
            name=planned.name,
            number=planned.number,
            quantity=planned.quantity,
        )
    except Error as error:
        return replace(planned, outcome="failed", error=one_line(str(error)))
    drawn = replace(
        planned,
        outcome="drawn" if profiles.profiles else "empty",
        profiles=profiles,
        held=held_count(outline, profiles),
        left_out=left_out,
    )
    # Into the files and pages, too.
    return replace(drawn, profiles=profiles.with_notes(drawn.warnings))


def drawn_outline(planned: Drawing, settings: Settings) -> ProfileSet:
    """The outline of a drawing with the marks of its features and what a person should know of it."""
    plate = planned.plate
    if plate is None or planned.no_plate is not None or settings.section is not None:
        return flatten(planned.solids, settings)
    if is_drawn_already(planned, settings):
        outline = plate.outline
    else:
        outline = outline_with_marks(planned, plate, settings)
    if plate.side.is_worked_from_both_sides:
        outline = outline.with_notes(
            ["features on both sides: the part must be turned over to make them"]
        )
    return outline


def is_drawn_already(planned: Drawing, settings: Settings) -> bool:
    """True if the outline that told the plate is the one that is asked for."""
    return (
        planned.plate is not None
        and len(planned.solids) == 1
        and settings.datum == "auto"
        and settings.at == "shadow"
        and settings.verify == "quick"
        and planned.plate.outline.tolerance == settings.tolerance
    )


def outline_with_marks(planned: Drawing, plate: Plate, settings: Settings) -> ProfileSet:
    """The outline, with marks where the datum looks squarely at the plate."""
    datum = datum_of(planned.solids, settings)
    outline = flatten(planned.solids, settings, datum)
    if settings.at == "shadow" and abs(float(datum.normal @ plate.datum.normal)) > UPRIGHT:
        outline = outline.with_marks(
            [
                *outline.marks,
                *(
                    mark
                    for solid in planned.solids
                    for mark in feature_marks(solid, datum, settings.marks, outline.tolerance)
                ),
            ]
        )
    return outline


def left_out_at(planned: Drawing, settings: Settings) -> str:
    """What an outline of another level than the shadow leaves out: the other features of a plate."""
    plate = planned.plate
    if settings.at == "shadow" or plate is None or planned.no_plate is not None:
        return ""
    count = len(plate.cut.features)
    return (
        f"all but --at {settings.at} of {count} feature{'' if count == 1 else 's'}" if count else ""
    )


def with_ways(
    solids: Sequence[Solid], drawings: Sequence[Drawing], settings: Settings
) -> Iterator[Drawing]:
    """Give drawings of an assembly the way of the tool; a failure comes back in ``error``.

    ``solids`` are those of the assembly, none where it needs not be known which parts meet.
    """
    drawn = [drawing for drawing in drawings if drawing.outcome == "drawn"]
    outlines = [drawing.profiles for drawing in drawn if drawing.profiles is not None]
    numbers = {solid: number for number, solid in enumerate(solids)}
    pieces = [
        PlacedOutline(i, [numbers[s] for s in instance], numbers[drawing.instances[0][0]])
        for i, drawing in enumerate(drawn if solids else ())
        for instance in drawing.instances
    ]
    try:
        allowed = iter(allowances_for(solids, outlines, pieces, settings))
    except Error as error:
        failure = one_line(str(error))
        for drawing in drawings:
            is_drawn = drawing.outcome == "drawn"
            yield replace(drawing, outcome="failed", error=failure) if is_drawn else drawing
        return
    for drawing in drawings:
        if drawing.outcome != "drawn" or drawing.profiles is None:
            yield drawing
            continue
        found = next(allowed)
        profiles = drawing.profiles.with_notes(found.notes)
        try:
            way = as_cut(profiles, found.allowance)
        except Error as error:
            yield replace(drawing, outcome="failed", error=failure_text(profiles, error))
            continue
        yield replace(
            drawing, profiles=profiles, allowance=found.allowance, mating=found.mating, way=way
        )


def written(drawing: Drawing, settings: Settings, folder: Path) -> Drawing:
    """Write the files of a drawing; a failure comes back in ``error``, nothing is raised.

    Where there is nothing to write, files that an earlier run wrote under these names go: an old drawing must
    not pass for a new one.
    """
    base = folder / drawing.stem
    if drawing.outcome != "drawn" or drawing.profiles is None or drawing.way is None:
        remove_earlier(base, settings)
        return drawing
    try:
        files = write(drawing.profiles, base, settings, drawing.way, drawing.allowance)
    except Error as error:
        remove_earlier(base, settings)
        return replace(drawing, outcome="failed", error=one_line(str(error)))
    return replace(drawing, files=tuple(files))


def remove_earlier(base: Path, settings: Settings) -> None:
    """Remove the files of a drawing, if there are any."""
    for path in file_paths(base, settings):
        with suppress(OSError):
            path.unlink(missing_ok=True)


def file_paths(base: Path, settings: Settings) -> list[Path]:
    """The files of a drawing: ``base`` with each format's suffix."""
    return [base.parent / f"{base.name}.{suffix}" for suffix in settings.formats]


def datum_of(solids: Sequence[Solid], settings: Settings) -> Datum:
    """The plane of a drawing. Raises GeometryError."""
    fixed = FIXED_DATUMS.get(settings.datum)
    return fixed() if fixed else auto_datum(solids)


def flatten(solids: Sequence[Solid], settings: Settings, datum: Datum | None = None) -> ProfileSet:
    """The profile set of some solids under the settings. Raises GeometryError."""
    datum = datum or datum_of(solids, settings)
    if settings.section is None:
        return silhouette(
            solids,
            datum,
            settings.tolerance,
            merge=settings.merge,
            at=settings.at,
            verify=settings.verify,
        )
    return section(solids, datum, settings.section, settings.tolerance, merge=settings.merge)


def write(
    profiles: ProfileSet,
    base: Path,
    settings: Settings,
    way: ProfileSet | None = None,
    allowance: Allowance | None = None,
) -> list[Path]:
    """Write a profile set as ``base`` with each format's suffix; return the paths. Raises WriteError.

    DXF and SVG show ``way``, where there is one; JSON keeps the outline and the allowance. An earlier file of
    that name is replaced, also where it is a symbolic link: the link goes, what it points to is not touched.
    """
    shown = profiles if way is None else way
    layers = drawing_layers(settings.layers)
    paths = file_paths(base, settings)
    for suffix, path in zip(settings.formats, paths, strict=True):
        if suffix == "dxf":
            shown.to_dxf(path, curves=settings.curves, unit=settings.unit, layers=layers)
        elif suffix == "svg":
            stroke = {} if settings.svg_stroke is None else {"stroke_width": settings.svg_stroke}
            shown.to_svg(path, layers=layers, **stroke)
        elif allowance is None or allowance.is_none:
            profiles.to_json(path)
        else:
            profiles.to_json(path, allowance=allowance)
    return paths
