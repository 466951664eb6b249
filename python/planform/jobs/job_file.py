"""The job file (``job.toml``): models and drawings with quantities, machine, stock, options.

Relative paths are those of the file they stand in. Every mistake is told with the file, the line and the key.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal

from planform.allowances import CHOICES, Allowances
from planform.errors import Error
from planform.formats import DRAWING_FORMATS, MODEL_SUFFIXES, OUTLINE_SUFFIXES
from planform.planning.documents import LENGTHS, TIMES, Document, Table
from planform.planning.quote import QuoteHead
from planform.planning.sheet_plan import PlanSettings
from planform.sheets.lay_out import GAP, MARGIN, SECONDS
from planform.sheets.values import TURNS
from planform.words import WORDS

__all__ = ["STEPS", "JobFile", "JobSource", "read_job"]

STEPS = ("flatten", "inspect", "fits", "sheets", "plan", "quote")
"""What a job may ask for, in the order in which it is made."""


@dataclass(frozen=True, kw_only=True)
class JobSource:
    """A model or a drawing, and how often all of it is wanted.

    Attributes
    ----------
    kind : {"model", "drawing"}
    path : Path
    quantity : int
    material : str
        Of a drawing, and of a model's plates that no rule names one for.
    thickness : float
        Of a drawing, mm; 0: unknown.
    unit : str
        Read lengths as this, whatever the file says; empty: what it says.
    scale : float
        Multiply all lengths by this.
    """

    kind: Literal["model", "drawing"]
    path: Path
    quantity: int = 1
    material: str = field(default_factory=lambda: "")
    thickness: float = 0.0
    unit: str = field(default_factory=lambda: "")
    scale: float = 1.0


@dataclass(frozen=True, kw_only=True)
class PieceWish:
    """What one piece, by its name, is wanted to be."""

    name: str
    material: str = field(default_factory=lambda: "")
    quantity: int | None = field(default_factory=lambda: None)
    turns: str = field(default_factory=lambda: "")
    may_mirror: bool = False
    priority: int = 0
    spares: int = 0


@dataclass(frozen=True, kw_only=True)
class JobFile:
    """All that a job asks for. Lengths are mm, times s.

    Attributes
    ----------
    path : Path
    name : str
    steps : tuple of str
        Out of `STEPS`.
    sources : tuple of JobSource
    machine, materials : Path or None
    stock : Path or str
        A stock file, or a size.
    densities : dict
        kg/m³ by material.
    wishes : tuple of PieceWish
    allowances : Allowances
    kerf : float or None
        Width of the cut; None: the machine's for each material.
    plan : PlanSettings
    quote : QuoteHead
        Whom the quote is for.
    """

    path: Path
    name: str
    steps: tuple[str, ...] = STEPS
    sources: tuple[JobSource, ...] = ()
    machine: Path | None = field(default_factory=lambda: None)
    materials: Path | None = field(default_factory=lambda: None)
    stock: Path | str = field(default_factory=lambda: "")
    densities: Mapping[str, float] = field(default_factory=dict)
    wishes: tuple[PieceWish, ...] = ()
    allowances: Allowances = field(default_factory=Allowances)
    kerf: float | None = field(default_factory=lambda: None)
    tolerance: float = 0.01
    at: Literal["shadow", "top", "bottom", "through"] = field(default_factory=lambda: "shadow")
    unit: Literal["mm", "inch"] = field(default_factory=lambda: "mm")
    formats: tuple[str, ...] = DRAWING_FORMATS
    gap: float = GAP
    margin: float = MARGIN
    seconds: float = SECONDS
    seed: int = 0
    plain: bool = False
    turns: str = field(default_factory=lambda: "")
    plan: PlanSettings = field(default_factory=PlanSettings)
    quote: QuoteHead = field(default_factory=QuoteHead)
    files: tuple[Path, ...] = ()
    """The job file and those that it includes."""


def read_job(path: str | Path) -> JobFile:
    """Read a job file and those that it includes; what stands in it goes before what they say.

    Raises LoadError if a file can't be read; GeometryError that names file, line and key for what makes no
    sense: unknown keys, files that are not there, a part with two materials, units, files that include each
    other."""
    path = Path(path)
    collected = Collected()
    collect(path, collected, ())
    return collected.job(path)


@dataclass
class Collected:
    """What the files say: each setting with a way to tell where it stands."""

    settings: dict[str, Any] = field(default_factory=dict)
    sources: list[JobSource] = field(default_factory=list)
    wishes: list[PieceWish] = field(default_factory=list)
    places: list[Callable[[str, str], Error]] = field(default_factory=list)
    densities: dict[str, float] = field(default_factory=dict)
    files: list[Path] = field(default_factory=list)
    root: Table | None = None

    def job(self, path: Path) -> JobFile:
        """All together."""
        assert self.root is not None
        if not self.sources:
            raise self.root.mistake(
                "", f"{path}: names nothing to cut; add [[model]] or [[drawing]] with a file"
            )
        parts = dict(self.settings)
        plan = PlanSettings(
            **{key[5:]: parts.pop(key) for key in list(parts) if key.startswith("plan.")}
        )
        head = {key[6:]: parts.pop(key) for key in list(parts) if key.startswith("quote.")}
        allowances = {key[4:]: parts.pop(key) for key in list(parts) if key.startswith("all.")}
        steps = parts.get("steps", STEPS)
        needed = {"sheets": ("stock",), "plan": ("stock", "machine"), "quote": ("stock", "machine")}
        for step in steps:
            for key in needed.get(step, ()):
                if not parts.get(key):
                    example = (
                        'stock = "2440x1220" or a file'
                        if key == "stock"
                        else 'machine = "machine.toml"'
                    )
                    raise self.root.mistake(
                        "", f"{path}: the step '{step}' needs a {key}; add {example}"
                    )
        return JobFile(
            path=path,
            name=parts.pop("name", "") or path.parent.resolve().name,
            sources=tuple(self.sources),
            wishes=tuple(self.wishes),
            densities=self.densities,
            allowances=Allowances(**allowances),
            plan=plan,
            quote=QuoteHead(**head),
            files=tuple(self.files),
            **parts,
        )


def collect(path: Path, collected: Collected, above: tuple[Path, ...]) -> None:
    """Read one file; first what it includes, so that its own words go before."""
    root = Document(path).root
    if collected.root is None:
        collected.root = root
    here = path.resolve()
    for name in root.texts("include"):
        included = path.parent / name
        if included.resolve() in (*above, here):
            raise root.mistake(
                "include", f"{name} includes this file again: files can't include each other"
            )
        if not included.is_file():
            raise root.mistake("include", f"{included} does not exist")
        collect(included, collected, (*above, here))
    collected.files.append(path)
    read_head(root, collected)
    read_sources(root, collected)
    read_wishes(root, collected)
    density = root.table("density")
    for material in density.data:
        collected.densities[material] = density.number(material, above=True) or 0.0
    root.done()


def read_head(root: Table, collected: Collected) -> None:
    """Everything but lists."""
    settings = collected.settings
    if root.has("name"):
        settings["name"] = root.text("name")
    if root.has("steps"):
        steps = root.texts("steps")
        for step in steps:
            if step not in STEPS:
                raise root.mistake("steps", f"'{step}' is unknown; valid: {', '.join(STEPS)}")
        settings["steps"] = tuple(step for step in STEPS if step in steps)
    for key in ("machine", "materials"):
        if root.has(key):
            settings[key] = file_of(root, key)
    if root.has("stock"):
        stock = root.text("stock")
        settings["stock"] = (
            file_of(root, "stock") if stock.lower().endswith(".toml") else size_of(root, stock)
        )
    read_options(root.table("options"), settings)
    read_allowances(root.table("allowances"), settings)
    read_layout(root.table("layout"), settings)
    read_plan(root.table("cuts"), settings)
    read_quote(root.table("quote"), settings)


def file_of(table: Table, key: str) -> Path:
    """A file beside this one that has to be there."""
    name = table.text(key)
    path = table.document.path.parent / name
    if not path.is_file():
        raise table.mistake(key, f"{path} does not exist")
    return path


def size_of(table: Table, text: str) -> str:
    """The size of a sheet, such as ``2440x1220``."""
    from planform.units.lengths import parse_size

    try:
        parse_size(text)
    except ValueError as error:
        raise table.mistake(
            "stock", f'{error}; write "2440x1220" (mm), "96inx48in" or a .toml file'
        ) from error
    return text


def length(
    table: Table, key: str, settings: dict[str, Any], name: str = "", *, above: bool = False
) -> None:
    """A length in mm, if it is given."""
    if table.has(key):
        settings[name or key] = table.quantity(key, LENGTHS, plain="mm", above=above)


def word(
    table: Table, key: str, words: tuple[str, ...], settings: dict[str, Any], name: str = ""
) -> None:
    """One of some words, if it is given."""
    if table.has(key):
        settings[name or key] = table.word(key, words, "")


def read_options(table: Table, settings: dict[str, Any]) -> None:
    """``[options]``: how outlines are made and drawn."""
    length(table, "tolerance", settings, above=True)
    word(table, "at", WORDS["at"], settings)
    word(table, "unit", WORDS["unit"], settings)
    if table.has("formats"):
        formats = table.texts("formats")
        for one in formats:
            if one not in DRAWING_FORMATS:
                raise table.mistake(
                    "formats", f"'{one}' is unknown; valid: {', '.join(DRAWING_FORMATS)}"
                )
        settings["formats"] = tuple(dict.fromkeys(formats))
    table.done()


def read_allowances(table: Table, settings: dict[str, Any]) -> None:
    """``[allowances]``: width of cut, fits, reliefs."""
    length(table, "kerf", settings)
    length(table, "relief", settings, "all.relief")
    if table.has("fit"):
        fit = table.raw("fit")
        if isinstance(fit, bool) or not isinstance(fit, int | float):
            raise table.mistake("fit", "must be a number in mm; negative for a press fit")
        settings["all.fit"] = float(fit)
    for key, words in CHOICES.items():
        word(table, key, words, settings, f"all.{key}")
    table.done()
    try:
        Allowances(**{key[4:]: value for key, value in settings.items() if key.startswith("all.")})
    except Error as error:
        raise table.mistake("", str(error)) from error


def read_layout(table: Table, settings: dict[str, Any]) -> None:
    """``[layout]``: how pieces are laid out."""
    length(table, "gap", settings)
    length(table, "margin", settings)
    if table.has("time"):
        settings["seconds"] = table.quantity("time", TIMES, plain="s", above=True)
    if table.has("seed"):
        settings["seed"] = table.whole("seed", 0)
    if table.has("plain"):
        settings["plain"] = table.flag("plain")
    word(table, "turns", TURNS, settings)
    table.done()


def read_plan(table: Table, settings: dict[str, Any]) -> None:
    """``[cuts]``: order, starts, holding strips."""
    word(table, "order", WORDS["order"], settings, "plan.order")
    word(table, "start", WORDS["start"], settings, "plan.start")
    for key in ("hold", "apart_distance", "band"):
        length(table, key, settings, f"plan.{key}")
    for key in ("hold_count", "apart_count"):
        if table.has(key):
            settings[f"plan.{key}"] = table.whole(key, 0)
    table.done()


def read_quote(table: Table, settings: dict[str, Any]) -> None:
    """``[quote]``: what stands on its head."""
    for key in ("customer", "number", "date", "valid_until"):
        if table.has(key):
            settings[f"quote.{key}"] = table.text(key)
    if table.has("remarks"):
        settings["quote.remarks"] = tuple(table.texts("remarks"))
    table.done()


def read_sources(root: Table, collected: Collected) -> None:
    """``[[model]]`` and ``[[drawing]]``."""
    kinds: tuple[Literal["model", "drawing"], ...] = ("model", "drawing")
    for kind in kinds:
        for table in root.tables(kind):
            source = source_of(kind, table)
            check_again(source, table, collected.sources)
            collected.sources.append(source)


def source_of(kind: Literal["model", "drawing"], table: Table) -> JobSource:
    """One of them."""
    table.required("file", f'file = "station.{"step" if kind == "model" else "dxf"}"')
    path = file_of(table, "file")
    suffixes = MODEL_SUFFIXES if kind == "model" else OUTLINE_SUFFIXES
    if not path.name.lower().endswith(suffixes):
        other = "drawing" if kind == "model" else "model"
        raise table.mistake(
            "file",
            f"{path.name} is no {kind} ({', '.join(suffixes)}); should it stand under [[{other}]]?",
        )
    source = JobSource(
        kind=kind,
        path=path,
        quantity=table.whole("quantity", 1, least=1),
        material=table.text("material"),
        unit=table.text("unit"),
        scale=table.number("scale", 1.0, above=True) or 1.0,
        thickness=table.quantity("thickness", LENGTHS, 0.0, plain="mm", above=True) or 0.0,
    )
    if kind == "model" and table.has("thickness"):
        raise table.mistake("thickness", "a model has its own thicknesses; leave it out")
    if kind == "drawing":
        table.required("thickness", "thickness = 3 (mm): a drawing does not say it")
        if table.has("scale"):
            raise table.mistake("scale", "drawings say their unit; leave it out, or give a unit")
    if source.unit:
        from planform._planform import unit_names

        if source.unit not in unit_names():
            raise table.mistake(
                "unit", f"'{source.unit}' is unknown; valid: {', '.join(unit_names())}"
            )
    table.done()
    return source


def check_again(source: JobSource, table: Table, before: list[JobSource]) -> None:
    """Raise an error for a file that is named twice with two materials or thicknesses."""
    for other in before:
        if other.path.resolve() != source.path.resolve():
            continue
        if source.kind == "model" or other.kind == "model" or other.thickness == source.thickness:
            if other.material != source.material:
                raise table.mistake(
                    "material" if table.has("material") else "file",
                    f"{source.path.name} is named before with the material '{other.material or 'none'}': "
                    "a part has one material",
                )
            raise table.mistake(
                "file", f"{source.path.name} is named before; raise its quantity instead"
            )


WISH_KEYS = ("material", "quantity", "turns", "may_mirror", "priority", "spares")


def read_wishes(root: Table, collected: Collected) -> None:
    """``[[piece]]``: wishes for pieces by their names."""
    for table in root.tables("piece"):
        table.required("name", 'name = "tray" (as in the cut list)')
        wish = PieceWish(
            name=table.text("name"),
            material=table.text("material"),
            quantity=table.whole("quantity", 1) if table.has("quantity") else None,
            turns=table.word("turns", TURNS, "any") if table.has("turns") else "",
            may_mirror=table.flag("may_mirror"),
            priority=table.whole("priority", 0),
            spares=table.whole("spares", 0),
        )
        for other in collected.wishes:
            if other.name != wish.name:
                continue
            if other.material and wish.material and other.material != wish.material:
                raise table.mistake(
                    "material",
                    f"'{wish.name}' is of '{other.material}' before: a part has one material",
                )
            raise table.mistake(
                "name", f"there is a table for '{wish.name}' before; put both together"
            )
        collected.wishes.append(wish)
        if not any(table.has(key) for key in WISH_KEYS):
            raise table.mistake(
                "name", f"says nothing of '{wish.name}'; add one of {', '.join(WISH_KEYS)}"
            )
        table.done()


def with_options(job: JobFile, **options: Any) -> JobFile:
    """The job with what the command line says: None leaves what the file says."""
    given = {key: value for key, value in options.items() if value is not None}
    plan = {key[5:]: given.pop(key) for key in list(given) if key.startswith("plan_")}
    return replace(job, plan=replace(job.plan, **plan), **given)
