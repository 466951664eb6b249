"""One drawing of a batch, and what a batch gives back."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from planform._planform import (
    Allowance,
    MatingOutline,
    Model,
    OtherPart,
    Plate,
    ProfileSet,
    Solid,
)
from planform.naming import one_line

Outcome = Literal["drawn", "empty", "failed"]


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
        """ "plate", "bent sheet", or the word of `planform.plates` for what is none; empty where nobody
        asked."""
        if self.no_plate is not None:
            return self.no_plate.word
        if self.plate is None:
            return ""
        return "bent sheet" if self.plate.bends else "plate"

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
