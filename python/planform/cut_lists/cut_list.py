"""The cut list: which plates to cut, how many, of what, and how long that takes the machine.

A `CutList` is made from the plates of a model (`CutList.from_model`) and writes itself as CSV, JSON, HTML and
as DXF, one drawing a plate and one a thickness and material with the plates laid out in rows. Lengths are
millimetres, areas mm², masses kg; each column of the CSV names its unit.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planform._planform import (
    Model,
    PlateList,
    ProfileSet,
    Solid,
    placed_outlines,
    plates,
    write_whole_file,
)
from planform.allowances import (
    NAMES,
    Allowances,
    AllowedOutline,
    allowances_for,
    as_cut,
    failure_text,
    of_blank,
)
from planform.bending.bend_list import bend_figures
from planform.cut_lists.entries import COLUMNS, CutListEntry, OtherEntry, columns
from planform.cut_lists.materials import (
    Material,
    MaterialRule,
    MaterialRules,
    material_of,
    material_questions,
    rule_questions,
)
from planform.cut_lists.page import cut_list_html, cut_list_tables
from planform.cut_lists.plate_rows import rows_drawing
from planform.errors import GeometryError
from planform.finishing import FIELDS, Finishing, finished
from planform.grouping import grouped
from planform.naming import FileNames, one_line, printable
from planform.units.figures import MM_FIGURES, Unit, figures_in

__all__ = ["COLUMNS", "CutList", "CutListEntry", "Material", "MaterialRules", "OtherEntry"]


@dataclass(frozen=True)
class CutList:
    """All plates of a model by thickness, material and name, and what is none.

    ``notes`` say which rules of materials fitted nothing, which plates have no material, which materials no
    density, and which densities are not likely.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> model = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> cut_list = planform.CutList.from_model(model, lambda solid: planform.Material("plywood", 680.0))
    >>> [(e.name, e.quantity, e.plate.thickness) for e in cut_list.entries if e.name == "gable"]
    [('gable', 2, 6.0)]
    >>> cut_list.write_csv(folder / "cut_list.csv").name
    'cut_list.csv'
    """

    source: str
    entries: tuple[CutListEntry, ...]
    others: tuple[OtherEntry, ...] = ()
    allowances: Allowances = field(default_factory=Allowances)
    notes: tuple[str, ...] = ()

    @classmethod
    def from_model(
        cls, model: Model, material: MaterialRule | None = None, **options: Any
    ) -> CutList:
        """Find the plates of a model and list them; a plate of two materials is listed once for each.
        ``options`` are those of `planform.plates`, of `planform.Allowances`, ``kerf`` and ``fit`` for
        instance, and of `planform.Finishing`: ``turn``, ``bridges``, ``labels``. Lengths are mm."""
        wanted = Allowances(**{name: options.pop(name) for name in NAMES if name in options})
        finishing = Finishing(**{name: options.pop(name) for name in FIELDS if name in options})
        found = plates(model, **options)
        return cls.from_plates(found, model.solids, model.source, material, wanted, finishing)

    @classmethod
    def from_plates(
        cls,
        found: PlateList,
        solids: list[Solid],
        source: str = "",
        material: MaterialRule | None = None,
        allowances: Allowances | None = None,
        finishing: Finishing | None = None,
    ) -> CutList:
        """From plates that have been found among ``solids``; lengths are mm. A plate that has no room for the
        allowances or for a bridge is listed with its error and not drawn."""
        most = max((i.solid for plate in found.plates for i in plate.instances), default=-1)
        if most >= len(solids):
            raise GeometryError.of_kind(
                "invalid_argument",
                f"plates were found among more than {len(solids)} solids; pass those solids",
            )
        wanted = allowances or Allowances()
        outlines, unfinished = finished_outlines(found, finishing or Finishing())
        allowed = allowances_for(solids, outlines, placed_outlines(found), wanted, look=True)
        drafts = []
        for plate, outline, failure, allowance in zip(
            found.plates, outlines, unfinished, allowed, strict=True
        ):
            if plate.bends:
                allowance = of_blank(allowance, wanted)
            by_material: dict[Material, list[Any]] = {}
            for instance in plate.instances:
                made_of = material_of(solids[instance.solid], material)
                by_material.setdefault(made_of, []).append(instance)
            drafts += [
                (plate, made_of, pieces, (outline, failure, allowance))
                for made_of, pieces in by_material.items()
            ]
        drafts.sort(key=lambda d: (round(d[0].thickness, 6), d[1].name))  # stable: then as found
        names = FileNames()
        entries = []
        for position, (plate, made_of, pieces, drawn) in enumerate(drafts, start=1):
            named = tuple(dict.fromkeys(piece.name for piece in pieces))
            entries.append(
                CutListEntry(
                    position=position,
                    name=named[0],
                    stem=names.unique(named[0]),
                    material=made_of.name,
                    density=made_of.density,
                    plate=plate,
                    quantity=len(pieces),
                    turned_over=sum(piece.turned_over for piece in pieces),
                    names=named,
                    **way_of(*drawn),
                )
            )
        others = tuple(
            OtherEntry(part.name, len(part.solids), part.word, part.text) for part in found.others
        )
        asked = [solids[i.solid] for plate in found.plates for i in plate.instances]
        notes = (*rule_questions(material, asked), *material_questions(entries))
        return cls(source, tuple(entries), others, wanted, notes)

    def __len__(self) -> int:
        return len(self.entries)

    def __iter__(self) -> Iterator[CutListEntry]:
        return iter(self.entries)

    def __getitem__(self, index: int | str) -> CutListEntry:
        if not isinstance(index, str):
            return self.entries[index]
        named = [entry for entry in self.entries if entry.name == index]
        if len(named) != 1:
            raise KeyError(f"{len(named) or 'no'} entries are named {index!r}; ask by number")
        return named[0]

    @property
    def pieces(self) -> int:
        """How many pieces there are to cut."""
        return sum(entry.quantity for entry in self.entries)

    @property
    def errors(self) -> list[str]:
        """One line for each plate that has no room for the allowances."""
        return [one_line(f"{entry.name}: {entry.error}") for entry in self.entries if entry.error]

    def groups(self) -> list[tuple[float, str, list[CutListEntry]]]:
        """The entries of each thickness (mm, to 0.001) and material, in their order."""
        groups = grouped(
            self.entries, lambda entry: (round(entry.plate.thickness, 3), entry.material)
        )
        return [(thickness, material, group) for (thickness, material), group in groups.items()]

    def csv_text(self, unit: Unit = "mm") -> str:
        """CSV (RFC 4180: commas, CRLF, quotes where needed), one row a plate, the header with units;
        lengths in ``unit``."""
        stream = io.StringIO()
        writer = csv.DictWriter(stream, columns(figures_in(unit)))
        writer.writeheader()
        for entry in self.entries:
            writer.writerow({key: csv_cell(value) for key, value in entry.row(unit).items()})
        return stream.getvalue()

    def json_text(self, unit: Unit = "mm") -> str:
        """JSON: ``source``, ``unit``, ``allowances`` (always mm), ``plates`` (by `columns`; of bent sheets
        also ``bend table``), ``others``, ``notes``."""
        others = [
            {"name": o.name, "quantity": o.quantity, "reason": o.word, "text": o.text}
            for o in self.others
        ]
        data = {
            "source": Path(self.source).name,
            "unit": unit,
            "allowances": self.allowances.parts(),
            "plates": [entry.row(unit) | bend_table(entry) for entry in self.entries],
            "others": others,
            "notes": list(self.notes),
        }
        return json.dumps(data, indent=1, ensure_ascii=False) + "\n"

    def html_text(self, unit: Unit = "mm") -> str:
        """One page without script or network; see `planform.cut_lists.page`."""
        return cut_list_html(self, figures_in(unit))

    def write_csv(self, path: str | Path, unit: Unit = "mm") -> Path:
        """Write `csv_text`, lengths in ``unit``; the file is whole or absent. Raises WriteError."""
        return write_text(path, self.csv_text(unit))

    def write_json(self, path: str | Path, unit: Unit = "mm") -> Path:
        """Write `json_text`, lengths in ``unit``; the file is whole or absent. Raises WriteError."""
        return write_text(path, self.json_text(unit))

    def write_html(self, path: str | Path, unit: Unit = "mm") -> Path:
        """Write `html_text`, lengths in ``unit``; the file is whole or absent. Raises WriteError."""
        return write_text(path, self.html_text(unit))

    def write_dxf(self, folder: str | Path, **options: Any) -> list[Path]:
        """One DXF a plate, named as in the column ``file``, and one a thickness and material with the plates
        in rows: the way of the tool. ``options`` are those of `ProfileSet.to_dxf`; its unit is that of the
        thickness in the names, too. A plate with an error is not drawn, nor are the rows that it belongs to;
        earlier files of these names are removed. Raises WriteError."""
        paths = []
        for entry in self.entries:
            path = Path(folder) / f"{entry.stem}.dxf"
            if entry.way is None:
                path.unlink(missing_ok=True)
                continue
            entry.way.with_name(entry.name).to_dxf(path, **options)
            paths.append(path)
        names = FileNames()
        figures = figures_in(options.get("unit", "mm"))
        for thickness, material, group in self.groups():
            size = f"rows_{figures.exact(thickness)}{figures.symbol}"
            stem = names.unique(f"{size}_{material}" if material else size)
            path = Path(folder) / f"{stem}.dxf"
            if any(entry.way is None for entry in group):
                path.unlink(missing_ok=True)
                continue
            rows_drawing(group).to_dxf(path, **options)
            paths.append(path)
        return paths

    def _repr_html_(self) -> str:
        return cut_list_tables(self, MM_FIGURES)


def finished_outlines(found: PlateList, wanted: Finishing) -> tuple[list[ProfileSet], list[str]]:
    """The outline of each plate, turned, held and labelled as wanted; and why that failed, if it did."""
    outlines, failures = [], []
    for number, plate in enumerate(found.plates, start=1):
        try:
            outline, failure = (
                finished(
                    plate.outline, wanted, name=plate.name, number=number, quantity=plate.quantity
                ),
                "",
            )
        except GeometryError as error:
            outline, failure = plate.outline, one_line(str(error))
        outlines.append(outline)
        failures.append(failure)
    return outlines, failures


def way_of(outline: ProfileSet, failure: str, allowed: AllowedOutline) -> dict[str, Any]:
    """What an entry says about its outline and the way of the tool."""
    parts = {
        "finished": outline,
        "allowance": allowed.allowance,
        "mating": allowed.mating,
        "notes": allowed.notes,
    }
    if failure:
        return {**parts, "error": failure}
    try:
        noted = outline.with_notes(allowed.notes)
        return {**parts, "way": as_cut(noted, allowed.allowance)}
    except GeometryError as error:
        return {**parts, "error": failure_text(outline, error)}


def bend_table(entry: CutListEntry) -> dict[str, Any]:
    """The bends of a bent sheet under one key; nothing for a flat plate."""
    return {"bend table": [bend_figures(bend) for bend in entry.bends]} if entry.bends else {}


def csv_cell(value: Any) -> Any:
    """Names are data: one printable line, and nothing that a spreadsheet would take for a formula."""
    if not isinstance(value, str):
        return value
    text = printable(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


def write_text(path: str | Path, text: str) -> Path:
    write_whole_file(Path(path), text)
    return Path(path)
