"""`lay_out`: pieces and stock in, a proven layout out."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from planform.arguments import positive
from planform.batch.many import executed
from planform.batch.workers import KeptWorkers, default_workers
from planform.cut_lists.cut_list import CutList
from planform.grouping import grouped
from planform.sheets.checks import is_count, is_number, need, wrong
from planform.sheets.fill import Filling
from planform.sheets.group import Group
from planform.sheets.patterns import Pattern
from planform.sheets.proof import prove
from planform.sheets.reasons import not_placed
from planform.sheets.search import Clock, StripTask, is_installed, search_strip
from planform.sheets.shapes import Rules, Spot, Unit, shape_of
from planform.sheets.strips import Progress, Searcher
from planform.sheets.values import (
    TURNS,
    Layout,
    Piece,
    Placement,
    Sheet,
    Stock,
    Turns,
)

GAP = 5.0
"""mm between pieces: room for the cut and its heat in thin sheet (common practice, no source)."""
MARGIN = 5.0
"""mm to the edge of the sheet: where clamps grip and sheets are not square (common practice, no source)."""
SECONDS = 60.0
"""Of search in all: longer ones gain a percent or two."""
OVERHEAD = 1.5
"""Seconds of these that starting workers, proof and values take for jobs of some hundred pieces."""

Search = Callable[[StripTask], Any]


@dataclass(frozen=True)
class Task:
    """Groups that share stock, to be laid out one after the other; what an executor's process gets."""

    groups: tuple[tuple[Piece, ...], ...]
    stock: tuple[Stock, ...]
    rules: Rules
    seconds: float
    seed: int
    workers: int
    plain: bool
    function: Search = field(default_factory=lambda: search_strip)
    in_process: bool = False


@dataclass(frozen=True)
class Answer:
    """What came of a task: sheets by numbers, so that pieces and stock stay the caller's."""

    sheets: tuple[tuple[int, int, float | None, tuple[tuple[Any, ...], ...]], ...]
    """Stock, count, length, and for each placement: group, piece, x, y, angle, mirrored, spare."""
    failures: tuple[str, ...]

    def worth(self, task: Task) -> tuple[float, float]:
        """More pieces placed, then less material used: of several seeds the greatest counts."""
        placed = sum(count * len(places) for _, count, _, places in self.sheets)
        used = sum(
            count
            * task.stock[number].area
            * (1.0 if length is None else length / task.stock[number].size[0])
            for number, count, length, _ in self.sheets
        )
        return placed, -used


def lay_out(
    cut_list: CutList | Iterable[Piece],
    stock: Stock | Iterable[Stock],
    *,
    gap: float = GAP,
    margin: float = MARGIN,
    seconds: float = SECONDS,
    seed: int = 0,
    seeds: int = 1,
    turns: Turns | None = None,
    plain: bool = False,
    workers: int | None = None,
    executor: Any = None,
    progress: Progress | None = None,
    search: Search | None = None,
) -> Layout:
    """Lay pieces out on stock, grouped by material and thickness; proven on the exact outlines.

    Left-overs are used first where they serve, then as few whole sheets as are found to do. Small pieces
    go into the holes of larger ones. What finds no place is listed with the reason. Ctrl-C ends the search
    and keeps the best found.

    Parameters
    ----------
    cut_list : CutList or iterable of Piece
        What is to be cut. Of a cut list the way of the tool is laid out, with the width of cut in it.
    stock : Stock or iterable of Stock
        What there is to cut from.
    gap : float, optional
        Least distance between two outlines that are cut, mm.
    margin : float, optional
        Least distance between these and the edge of the sheet, mm.
    seconds : float, optional
        Of search in all; a rough bound. The plain layout comes on top of it.
    seed, seeds : int, optional
        The same seed, machine speed aside, gives the same. With an executor ``seeds`` of them are tried from
        ``seed`` on, and the best counts.
    turns : {"any", "90", "180", "none"}, optional
        For all pieces of a cut list; default: "180" where stock with a grain serves, else "any".
    plain : bool, optional
        Don't search: shelves, and piece by piece what is no rectangle. So it is, too, without the extra
        ``planform[sheets]``, and a note says so.
    workers : int, optional
        Processes that search; one a processor by default.
    executor : concurrent.futures.Executor or dask.distributed.Client, optional
        Works on groups and seeds instead, searching in its own processes.
    progress : callable, optional
        Called with a line of text on the best so far.
    search : callable, optional
        Another search: from a task to a result (see `planform.sheets.search`), importable by name.

    Returns
    -------
    Layout

    Raises
    ------
    GeometryError
        For numbers or words that make no sense, an entry of the cut list that has no way of the tool, and
        (law_broken) if the layout fails its proof, which would be a fault of planform's.

    Examples
    --------
    >>> import planform
    >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 40)]))])
    >>> pieces = [planform.Piece("tray", disc, 6, thickness=4.0)]
    >>> layout = planform.lay_out(pieces, planform.Stock.rectangle(300, 200), seconds=2, gap=4)
    >>> layout.sheet_count, layout.placed(pieces[0]), layout.not_placed
    (1, 6, ())
    """
    need(is_number(gap) and gap >= 0, "gap must be a finite number of 0 or more (mm)")
    need(is_number(margin) and margin >= 0, "margin must be a finite number of 0 or more (mm)")
    need(is_count(seed), "seed must be a whole number of 0 or more")
    need(is_count(seeds, 1), "seeds must be a whole number of 1 or more")
    need(workers is None or is_count(workers, 1), "workers must be a whole number of 1 or more")
    need(
        turns is None or (isinstance(turns, str) and turns in TURNS),
        f"turns = {turns!r} is unknown; valid: {', '.join(TURNS)}",
    )
    positive(seconds, "seconds")
    stocks = tuple([stock] if isinstance(stock, Stock) else stock)
    for one in stocks:
        need(isinstance(one, Stock), f"stock holds {one!r}, which is no Stock")
    pieces = pieces_from(cut_list, stocks, turns)
    notes = []
    if not plain and search is None and not is_installed():
        plain = True
        notes.append(
            "laid out plainly, without a search: the extra planform[sheets] is not installed"
        )
    rules = Rules(float(gap), float(margin))
    groups = list(grouped(pieces, lambda piece: piece.group).values())
    tasks = [
        Task(
            tuple(tuple(group) for group in chain),
            tuple(s for s in stocks if any(s.serves(*g[0].group) for g in chain)),
            rules,
            max(seconds - OVERHEAD, 1.0) * share,
            seed,
            workers or default_workers(),
            plain,
            search or search_strip,
            executor is not None,
        )
        for chain, share in chained(groups, stocks)
    ]
    answers = (
        [run(task, progress) for task in tasks]
        if executor is None
        else run_all(tasks, seeds, executor)
    )
    for failure in dict.fromkeys(f for answer in answers for f in answer.failures):
        notes.append(f"laid out plainly where the search failed: {failure}")
    layout = Layout(
        pieces,
        stocks,
        tuple(
            s for task, answer in zip(tasks, answers, strict=True) for s in sheets_of(task, answer)
        ),
        (),
        rules.gap,
        rules.margin,
        seed,
        tuple(notes),
    )
    layout = replace(layout, not_placed=not_placed(layout))
    prove(layout)
    return layout


def pieces_from(
    cut_list: CutList | Iterable[Piece], stocks: Sequence[Stock], turns: Turns | None
) -> tuple[Piece, ...]:
    """The pieces of a cut list; others as they are. Raises GeometryError for what can't be cut."""
    if not isinstance(cut_list, CutList):
        pieces = tuple(cut_list)
        for piece in pieces:
            need(isinstance(piece, Piece), f"the cut list holds {piece!r}, which is no Piece")
        return pieces
    result = []
    for entry in cut_list.entries:
        if entry.way is None:
            raise wrong(f"{entry.name}: has no outline to cut: {entry.error}")
        thickness = entry.plate.thickness
        grained = any(s.grain is not None and s.serves(entry.material, thickness) for s in stocks)
        result.append(
            Piece(
                entry.name,
                entry.way,
                entry.quantity,
                entry.material,
                thickness,
                turns or ("180" if grained else "any"),
            )
        )
    return tuple(result)


def chained(
    groups: Sequence[Sequence[Piece]], stocks: Sequence[Stock]
) -> list[tuple[list[Sequence[Piece]], float]]:
    """Groups that share stock of which there is not any number, together, each with its share of the time."""
    chains: list[list[Sequence[Piece]]] = []
    for group in groups:
        scarce = [s for s in stocks if s.count is not None and s.serves(*group[0].group)]
        linked = [
            chain
            for chain in chains
            if any(s.serves(*other[0].group) for s in scarce for other in chain)
        ]
        chains = [chain for chain in chains if chain not in linked]
        chains.append([other for chain in linked for other in chain] + [group])
    areas = [math.fsum(area_of(group) for group in chain) for chain in chains]
    total = math.fsum(areas) or 1.0
    return [(chain, area / total) for chain, area in zip(chains, areas, strict=True)]


def area_of(group: Sequence[Piece]) -> float:
    """Of all pieces of a group, mm²."""
    return math.fsum(piece.area * piece.quantity for piece in group)


def run_all(tasks: Sequence[Task], seeds: int, executor: Any) -> list[Answer]:
    """All tasks with all seeds by an executor; of each task the best."""
    everything = [
        (number, replace(task, seed=task.seed + i))
        for number, task in enumerate(tasks)
        for i in range(seeds)
    ]
    best: dict[int, Answer] = {}
    errors: dict[int, str] = {}
    for place, outcome in executed(run, [task for _, task in everything], executor):
        number, task = everything[place]
        if not isinstance(outcome.value, Answer):
            errors[number] = outcome.error
            continue
        if number not in best or outcome.value.worth(task) > best[number].worth(task):
            best[number] = outcome.value
    for number, error in errors.items():
        if number not in best:
            answer = run(replace(tasks[number], plain=True))
            best[number] = replace(answer, failures=(*answer.failures, error))
    return [best[number] for number in range(len(tasks))]


def run(task: Task, progress: Progress | None = None) -> Answer:
    """Lay out the groups of a task one after the other."""
    with KeptWorkers() as kept:
        return run_with(task, progress, kept)


def run_with(task: Task, progress: Progress | None, kept: KeptWorkers) -> Answer:
    """The same with workers that are kept from one search to the next."""
    clock = Clock(task.seconds)
    sheets = []
    failures: list[str] = []
    used: dict[Stock, int] = {}
    areas = [area_of(group) for group in task.groups]
    for number, pieces in enumerate(task.groups):
        share = areas[number] / (math.fsum(areas[number:]) or 1.0)
        own = Clock(clock.left * share)
        searcher = Searcher(own, task.workers, task.function, task.in_process, progress, kept=kept)
        group = Group(
            pieces,
            [s for s in task.stock if s.serves(*pieces[0].group)],
            task.rules,
            searcher,
            task.seed,
            task.plain,
            own,
            used=used,
        )
        group.run()
        add_spares(group)
        failures += [one for one in searcher.failures if one not in failures]
        clock.stopped = clock.stopped or own.stopped
        numbers = {id(piece): i for i, piece in enumerate(pieces)}
        for pattern in equal_once(group.patterns):
            sheet = pattern.sheet(task.rules.margin)
            places = tuple(
                (number, numbers[id(p.piece)], p.x, p.y, p.angle, p.mirrored, p.spare)
                for p in sheet.placements
            )
            stock = next(i for i, s in enumerate(task.stock) if s is sheet.stock)
            sheets.append((stock, sheet.count, sheet.length, places))
    return Answer(tuple(sheets), tuple(failures))


def add_spares(group: Group) -> None:
    """Put spares where there is room on the sheets that are cut anyway, if nothing else is missing."""
    spares = [piece for piece in group.pieces if piece.spares > 0]
    if group.left or not spares:
        return
    wanted = {
        Unit(shape_of(piece, group.rules), (), 10**6 + i, spare=True): piece.spares
        for i, piece in enumerate(spares)
    }
    for pattern in group.patterns:
        filling = Filling(pattern.room)
        for spot in pattern.spots:
            filling.take(spot)
        room_for = {unit: n // pattern.count for unit, n in wanted.items() if n >= pattern.count}
        put = filling.add_all(room_for)
        for unit, n in put.items():
            wanted[unit] -= n * pattern.count
        pattern.spots = list(filling.spots)


def equal_once(patterns: Sequence[Pattern]) -> list[Pattern]:
    """Patterns that are the same, once with their number."""
    result: dict[tuple[Any, ...], Pattern] = {}
    for pattern in patterns:
        if not pattern.spots:
            continue
        key = (id(pattern.room), tuple(map(spot_key, pattern.spots)))
        if key in result:
            result[key].count += pattern.count
        else:
            result[key] = Pattern(pattern.room, pattern.spots, pattern.count)
    return list(result.values())


def spot_key(spot: Spot) -> tuple[Any, ...]:
    """What makes two spots the same."""
    return id(spot.unit), spot.mirrored, spot.angle, spot.x, spot.y


def sheets_of(task: Task, answer: Answer) -> list[Sheet]:
    """The sheets of an answer with the caller's own pieces and stock."""
    result = []
    for stock, count, length, places in answer.sheets:
        placements = tuple(
            Placement(task.groups[group][piece], x, y, angle, mirrored, spare)
            for group, piece, x, y, angle, mirrored, spare in places
        )
        material, thickness = placements[0].piece.group
        result.append(Sheet(task.stock[stock], placements, material, thickness, count, length))
    return result
