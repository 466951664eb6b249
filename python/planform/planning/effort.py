"""What the machine does, and what that costs: efforts, costs by kind, and their sums."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from typing import Any

from planform._planform import Cut, CutTime
from planform.planning.machine import Rates

COST_KINDS = ("machine", "pierces", "metres", "sheets", "handling", "stock")
"""What costs are made of: hours of the machine, pierces, metres of cut, sheets put on the table, pieces taken
off, and the material."""


@dataclass(frozen=True, kw_only=True)
class Effort:
    """What the machine does. Lengths are mm, times s; times are 0 where speeds are not known."""

    cut_length: float = 0.0
    mark_length: float = 0.0
    travel_time: float = 0.0
    pierce_time: float = 0.0
    cutting_time: float = 0.0
    pierces: int = 0
    pieces: int = 0
    sheets: int = 0

    @property
    def seconds(self) -> float:
        """In all."""
        return self.travel_time + self.pierce_time + self.cutting_time


def sum_of(efforts: Iterable[Effort]) -> Effort:
    """All of them together."""
    parts = list(efforts)
    return Effort(
        **{one.name: add(getattr(part, one.name) for part in parts) for one in fields(Effort)}
    )


def add(values: Iterable[float]) -> Any:
    """The sum: of whole numbers a whole number, of others rounded once."""
    numbers = list(values)
    whole = all(isinstance(number, int) for number in numbers)
    return sum(numbers) if whole else math.fsum(numbers)


def scaled(effort: Effort, count: int) -> Effort:
    """So many times as much."""
    return Effort(**{one.name: count * getattr(effort, one.name) for one in fields(Effort)})


def effort_of(cut: Cut, time: CutTime | None) -> Effort:
    """Of one cut."""
    is_mark = cut.role == "mark"
    return Effort(
        cut_length=0.0 if is_mark else cut.length,
        mark_length=cut.length if is_mark else 0.0,
        travel_time=time.travel if time else 0.0,
        pierce_time=time.pierce if time else 0.0,
        cutting_time=time.cutting if time else 0.0,
        pierces=cut.pierces,
    )


def costs_of(effort: Effort, rates: Rates, has_times: bool) -> dict[str, float]:
    """By kind, as far as rates are known; without the material."""
    costs = {
        "machine": None
        if rates.hour is None or not has_times
        else rates.hour * effort.seconds / 3600,
        "pierces": None if rates.pierce is None else rates.pierce * effort.pierces,
        "metres": None if rates.metre is None else rates.metre * effort.cut_length / 1000,
        "sheets": None if rates.sheet is None else rates.sheet * effort.sheets,
        "handling": None if rates.part is None else rates.part * effort.pieces,
    }
    return {kind: cost for kind, cost in costs.items() if cost is not None}


def costs_together(parts: Iterable[Mapping[str, float]]) -> dict[str, float]:
    """Sums by kind, in the order of `COST_KINDS`."""
    listed = list(parts)
    return {
        kind: math.fsum(part[kind] for part in listed if kind in part)
        for kind in COST_KINDS
        if any(kind in part for part in listed)
    }


@dataclass(frozen=True, kw_only=True)
class Priced:
    """Something with an effort, and with costs by kind. ``price`` is their sum."""

    effort: Effort
    costs: dict[str, float] = field(hash=False)

    @property
    def price(self) -> float:
        """The sum of all costs that are known."""
        return math.fsum(self.costs.values())
