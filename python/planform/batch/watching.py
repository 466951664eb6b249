"""Models flattened again as they are saved: what ``planform batch --watch`` does, without a terminal.

A file is done when it is whole: it has not changed for a moment, and ends as its format says. What is
half-written waits, and so does a model of which a part, in a file of its own, is half-written. A file that is
written while it is read is not drawn but done again (see `planform.batch.one_source.draw_source`).
"""

from __future__ import annotations

import gzip
import re
import threading
import time
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from planform.batch.folders import Layout, expanded, layout_of
from planform.batch.many import BatchSummary, Options, run_batch
from planform.batch.model_state import KnownStates, Look, look_of
from planform.batch.settings import Settings
from planform.batch.workers import KeptWorkers
from planform.extras import needed
from planform.formats import BREP_SUFFIXES, MODEL_SUFFIXES, STEP_SUFFIXES

SETTLED = 0.2
"""Seconds without a change after which a file that ends as it should is taken for whole: programs write in
one go, with pauses shorter than this (our own choice; 0.2 leaves most of a second for the work)."""
LONG = 3.0
"""Seconds after which it is said that a file is waited for: it may be damaged (our own choice)."""
STEP_MS = 50
"""How often changes are looked for."""
TAIL = 4096
"""Bytes at the end of a file that its end is looked for in."""

STEP_END = re.compile(rb"END-ISO-10303-21\s*;\s*\Z")
"""Source: ISO 10303-21, clause 5 (exchange structure); from memory."""
BREP_END = re.compile(rb"\*\s*\n\s*\n[-+]\d+ \d+\s*\Z")
"""The last line of the kernel's text format, behind the list of all parts, names the shape: its orientation
and number, and its location.
From memory, judged by the files that the kernel writes."""


def is_whole(path: Path) -> bool:
    """True if a model's file ends as its format says; a file of another kind is taken at its word."""
    name = path.name.lower()
    try:
        if name.endswith((".gz", ".stpz")):
            # Its own sum shows whether anything is missing.
            tail = b""
            with gzip.open(path) as file:
                while block := file.read(1 << 20):
                    tail = (tail + block)[-TAIL:]
        else:
            with path.open("rb") as file:
                file.seek(0, 2)
                file.seek(max(0, file.tell() - TAIL))
                tail = file.read()
    except (OSError, EOFError, zlib.error):
        return False
    plain = name.removesuffix(".gz")
    if plain.endswith(BREP_SUFFIXES):
        return b"\0" in tail or BREP_END.search(tail) is not None
    if plain.endswith((*STEP_SUFFIXES, ".stpz")):
        return STEP_END.search(tail) is not None
    return True


@dataclass
class _Unsettled:
    """A file that has changed: how it looked last, and since when; whether that was told."""

    look: Look | None
    since: float
    told: bool = False


@dataclass
class Watched:
    """Which files have changed and are not done yet."""

    waiting: dict[Path, _Unsettled] = field(default_factory=dict)

    def changed(self, paths: Iterable[Path], now: float) -> None:
        """Take note of changes."""
        for path in paths:
            self.waiting[path] = _Unsettled(look_of(path), now)

    def settled(self, now: float) -> list[Path]:
        """Those that are whole, or gone, and no longer waited for."""
        ready = []
        for path, state in list(self.waiting.items()):
            look = look_of(path)
            if look != state.look:
                self.waiting[path] = _Unsettled(look, now)
            elif now - state.since >= SETTLED and (look is None or is_whole(path)):
                ready.append(path)
                del self.waiting[path]
        return ready

    def long_waited_for(self, now: float) -> list[Path]:
        """Those that have not become whole for long, each told once."""
        paths = [p for p, s in self.waiting.items() if not s.told and now - s.since >= LONG]
        for path in paths:
            self.waiting[path].told = True
        return paths


def watch_all(
    paths: Iterable[str | Path],
    out: str | Path,
    settings: Settings | None = None,
    options: Options | None = None,
    stop: threading.Event | None = None,
) -> Iterator[BatchSummary]:
    """Flatten many models as `flatten_all` does, then those that are saved, until ``stop`` is set.

    Yields the summary of the first run, then one for each time that something was done, and one without
    results where files are long waited for (``waiting``). A model that is deleted loses its drawings; one
    that comes back is done again. Files that models name as parts of their own, and the bend table, are
    watched wherever they are. Files, folders and patterns may be empty at first, but a folder has to exist.

    Raises
    ------
    LoadError
        If an argument names a folder that is not there.
    WriteError
        If the output folder can't be made, or another batch works in it.
    """
    with needed():
        import watchfiles  # most runs watch nothing

    arguments = list(paths)
    out = Path(out).absolute()
    settings = settings or Settings()
    stop = stop or threading.Event()
    state = Watched()
    known = KnownStates([Path(settings.bend_table)] if settings.bend_table else [])
    folders = watched_folders(arguments)
    with KeptWorkers() as kept:
        options = replace(options or Options(), kept=kept)
        changes = watchfiles.watch(
            *folders,
            watch_filter=lambda _change, path: concerns(Path(path), out),
            debounce=2 * STEP_MS,
            step=STEP_MS,
            rust_timeout=2 * STEP_MS,
            yield_on_timeout=True,
            stop_event=stop,
            raise_interrupt=True,
        )
        # From here on nothing that changes is missed, so that the first run may take its time.
        next(changes, None)
        layout = layout_of(arguments, may_be_empty=True)
        now = time.monotonic()
        state.changed((s.path for s in layout.sources if not is_whole(s.path)), now)
        leave = left_alone(layout, state, known)
        yield run_batch(layout, out, settings, options, leave, known.of)
        options = replace(options, redo=False)
        for found in changes:
            now = time.monotonic()
            for path in (Path(path) for _, path in found):
                known.forget(path)
                state.changed([path], now)
            state.changed(known.changed_parts(), now)
            if late := state.long_waited_for(now):
                yield BatchSummary((), waiting=tuple(map(str, late)))
            if not state.settled(now):
                continue
            layout = layout_of(arguments, may_be_empty=True)
            leave = left_alone(layout, state, known)
            summary = run_batch(layout, out, settings, options, leave, known.of)
            for path in stopped_paths(summary, layout):
                known.forget(path)
                state.changed([path], time.monotonic())
            if summary.pending:
                yield summary


def left_alone(layout: Layout, state: Watched, known: KnownStates) -> set[Path]:
    """The models that are not whole, or of which a part in a file of its own is not."""
    left = set()
    for path in (source.path for source in layout.sources):
        if path not in state.waiting:
            is_read = known.is_known(path)
            parts = known.of(path).others
            halves = [p for p in parts if look_of(p) and not is_whole(p)] if not is_read else []
            state.changed((p for p in halves if p not in state.waiting), time.monotonic())
            if not any(part in state.waiting for part in parts):
                continue
        left.add(path)
    return left


def stopped_paths(summary: BatchSummary, layout: Layout) -> list[Path]:
    """The models that were written while they were read: they are looked at again."""
    names = {
        r.source
        for r in summary.results
        if r.status == "stopped" and any("written while" in error for error in r.errors)
    }
    return [source.path for source in layout.sources if source.name in names]


def watched_folders(arguments: Iterable[str | Path]) -> list[Path]:
    """The folders that the arguments name models in."""
    return list(dict.fromkeys(expanded(argument, may_be_empty=True)[0] for argument in arguments))


def concerns(path: Path, out: Path) -> bool:
    """True for what may be a model, outside of the output folder."""
    return path.name.lower().endswith(MODEL_SUFFIXES) and not path.is_relative_to(out)
