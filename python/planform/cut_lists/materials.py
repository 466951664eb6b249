"""Materials of plates: by a rule of the caller's, as a function or as data."""

from __future__ import annotations

import json
import tomllib
import warnings
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Protocol

from planform._planform import Solid
from planform.arguments import positive
from planform.errors import Error, GeometryError
from planform.naming import counted, name_fits, one_line


class ListedPlate(Protocol):
    """What is asked of an entry of a cut list here."""

    @property
    def name(self) -> str: ...
    @property
    def material(self) -> str: ...
    @property
    def density(self) -> float | None: ...


LIGHTEST, HEAVIEST = 10.0, 25_000.0
"""kg/m³: foams of 10 and more are cut; osmium, the densest element, has 22,600 (handbooks; from memory)."""


def density_question(density: float, what: str = "a density") -> str:
    """A sentence if a density in kg/m³ is hardly one in that unit, else nothing."""
    if LIGHTEST <= density <= HEAVIEST:
        return ""
    hint = ""
    for factor, unit in ((1000.0, "g/cm³"), (0.001, "g/m³"), (27_679.9, "lb/in³")):
        if 100 <= density * factor <= HEAVIEST:
            hint = f"; read as {unit} it would be {density * factor:.6g}"
            break
    return (
        f"{what} of {density:g} kg/m³ is not likely: nothing that is cut has less than {LIGHTEST:g} or more "
        f"than {HEAVIEST:,.0f}{hint}"
    )


@dataclass(frozen=True)
class Material:
    """What a plate is made of; ``density`` in kg/m³, None if unknown (no mass is given then).

    A density below 10 or above 25,000 kg/m³ is taken, with a warning (`UserWarning`).

    Examples
    --------
    >>> import planform
    >>> planform.Material("larch", density=590.0).name
    'larch'
    """

    name: str
    density: float | None = field(default_factory=lambda: None)

    def __post_init__(self) -> None:
        positive(self.density, "the density of a material (kg/m³)")
        question = density_question(self.density, f"{self.name}: a density") if self.density else ""
        if question:
            warnings.warn(question, stacklevel=3)


RULE_KEYS = ("name", "part", "path", "layer", "color", "material")
"""What a rule of materials may hold."""

MaterialRule = Callable[[Solid], Material | str | None]
"""From a solid to its material; None where the rule says nothing."""


@dataclass(frozen=True)
class MaterialRules:
    """A material by the words in a solid's names, by its layers or its colour, as data.

    The first rule that fits counts. A rule asks for one or more of ``name`` (that of the solid), ``part``
    (that of its part), ``path`` (any name from the root of the assembly down), ``layer`` (any layer that it
    lies on), or ``color`` (six hexadecimal digits); all that it asks for must fit. Without any it fits all.
    A name fits if the word occurs in it; with ``*`` (any characters) or ``?`` (any one) in the word, if all
    of the name is as it says; case is ignored. ``material`` names the material; ``densities`` gives kg/m³ by
    material.

    Examples
    --------
    >>> import planform
    >>> rules = planform.MaterialRules.from_data({
    ...     "density": {"plywood": 680, "steel": 7850},
    ...     "rule": [{"part": "bracket", "material": "steel"}, {"material": "plywood"}],
    ... })
    >>> len(rules.rules), rules.densities["steel"]
    (2, 7850.0)
    """

    rules: tuple[Mapping[str, str], ...] = field(default_factory=tuple, hash=False)
    densities: Mapping[str, float] = field(default_factory=dict, hash=False)

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> MaterialRules:
        """From the content of a rule file: ``density``, a table of kg/m³ by material, and ``rule``, a list;
        texts have no unit. Raises GeometryError that names the rule and what is wrong."""
        for key in data:
            if key not in ("density", "rule"):
                raise wrong_rule(f"'{key}' is unknown; valid: density, rule")
        densities = data.get("density", {})
        rules = data.get("rule", [])
        if not isinstance(densities, Mapping) or not isinstance(rules, list):
            raise wrong_rule("density must be a table and rule a list of tables")
        for material, density in densities.items():
            if isinstance(density, bool) or not isinstance(density, int | float):
                raise wrong_rule(f"the density of '{material}' is no number (kg/m³)")
            if not 0 < density < float("inf"):
                raise wrong_rule(f"the density of '{material}' must be positive (kg/m³)")
        for number, rule in enumerate(rules, start=1):
            check_rule(number, rule)
        return cls(tuple(rules), {name: float(value) for name, value in densities.items()})

    @classmethod
    def read(cls, path: str | Path) -> MaterialRules:
        """From a TOML or JSON file (by its suffix). Raises GeometryError that names the file."""
        path = Path(path)
        try:
            text = path.read_text(encoding="utf-8")
            data = json.loads(text) if path.suffix.lower() == ".json" else tomllib.loads(text)
        except OSError as error:
            raise wrong_rule(f"{path}: can't be read: {error.strerror}") from error
        except ValueError as error:  # also what json, tomllib and decoding raise
            raise wrong_rule(f"{path}: is no TOML or JSON: {error}") from error
        if not isinstance(data, Mapping):
            raise wrong_rule(f"{path}: holds no table")
        try:
            return cls.from_data(data)
        except GeometryError as error:
            raise wrong_rule(f"{path}: {str(error).removeprefix(RULES_PREFIX)}") from error

    def __call__(self, solid: Solid) -> Material | None:
        for rule in self.rules:
            if fits(rule, solid):
                with warnings.catch_warnings():
                    warnings.simplefilter("ignore")  # the cut list says it once for all
                    return Material(rule["material"], self.densities.get(rule["material"]))
        return None


RULES_PREFIX = "material rules: "


def wrong_rule(message: str) -> Error:
    """The exception for a rule that makes no sense."""
    return GeometryError.of_kind("invalid_argument", f"{RULES_PREFIX}{message}")


def check_rule(number: int, rule: Any) -> None:
    """Raise GeometryError if a rule is no table of known words."""
    if not isinstance(rule, Mapping):
        raise wrong_rule(f"rule {number} is no table")
    for key, value in rule.items():
        if key not in RULE_KEYS:
            valid = ", ".join(RULE_KEYS)
            raise wrong_rule(f"rule {number}: '{key}' is unknown; valid: {valid}")
        if not isinstance(value, str):
            raise wrong_rule(f"rule {number}: {key} must be a text")
    if not rule.get("material"):
        raise wrong_rule(f"rule {number} names no material")


def fits(rule: Mapping[str, str], solid: Solid) -> bool:
    """Does all that a rule asks for hold for the solid?"""
    names = {
        "name": (solid.name,),
        "part": (solid.part_name,),
        "path": tuple(solid.path),
        "layer": solid.layers,
    }
    for key, candidates in names.items():
        if key in rule and not any(name_fits(rule[key], name) for name in candidates):
            return False
    return "color" not in rule or rule["color"].lstrip("#").lower() == color_digits(solid)


def color_digits(solid: Solid) -> str:
    """The solid's colour as six hexadecimal digits; empty if it has none."""
    if solid.color is None:
        return ""
    return "".join(f"{round(255 * channel):02x}" for channel in solid.color)


def material_of(solid: Solid, rule: MaterialRule | None) -> Material:
    """What the rule says; an empty name where it says nothing."""
    answer = rule(solid) if rule else None
    if answer is None:
        return Material("")
    material = Material(answer) if isinstance(answer, str) else answer
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # whoever made the material has heard it
        return Material(one_line(material.name), material.density)


def unfit_rules(rules: Sequence[Mapping[str, str]], solids: Iterable[Solid]) -> list[int]:
    """The numbers, from 1, of rules that decide nothing: they fit no solid, or others before them do."""
    unused = set(range(len(rules)))
    for solid in solids:
        first = next((i for i, rule in enumerate(rules) if fits(rule, solid)), None)
        unused.discard(-1 if first is None else first)
    return [number + 1 for number in sorted(unused)]


def rule_questions(material: MaterialRule | None, solids: Sequence[Solid]) -> Iterator[str]:
    """A sentence for each rule that decided nothing and each density that no rule asked for."""
    if not isinstance(material, MaterialRules):
        return
    for number in unfit_rules(material.rules, solids):
        asked = ", ".join(f'{key} = "{value}"' for key, value in material.rules[number - 1].items())
        others = [
            rule for rule in material.rules[: number - 1] if any(fits(rule, s) for s in solids)
        ]
        fitting = any(fits(material.rules[number - 1], solid) for solid in solids)
        why = "rules before it fit first" if fitting and others else "it fits no plate"
        yield f"material rule {number} ({asked}) decided nothing: {why}"
    used = {rule["material"] for rule in material.rules}
    for name in material.densities:
        if name not in used:
            yield f"the density of {name!r} belongs to no rule's material"


def material_questions(entries: Sequence[ListedPlate]) -> Iterator[str]:
    """A sentence for plates without a material, where others have one, for materials without a density, and
    for densities that are not likely."""
    bare = [entry.name for entry in entries if not entry.material]
    if bare and len(bare) < len(entries):
        names = ", ".join(dict.fromkeys(bare))
        yield f"{counted(len(bare), 'plate has', 'plates have')} no material: {names}"
    known = {entry.material: entry.density for entry in entries if entry.material}
    for name, density in known.items():
        if density is None:
            yield f"{name}: no density, so no masses"
        elif question := density_question(density, f"{name}: a density"):
            yield question
