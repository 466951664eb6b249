"""What a job remembers of each of its steps, so that only what depends on a change is done again."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from planform._planform import __version__, write_whole_file
from planform.batch.manifest import bytes_digest, file_digest
from planform.errors import Error
from planform.naming import one_line

RECORD = ".job.json"
SCHEMA = 3

Action = Literal["done", "current", "failed", "pending"]


@dataclass(frozen=True)
class StepResult:
    """What became of a step: "done" now, "current" since an earlier run, "failed", or "pending" when only
    asked."""

    name: str
    action: Action
    files: tuple[str, ...] = ()
    errors: tuple[str, ...] = ()


@dataclass
class Steps:
    """The steps of one run into one folder. A step whose key is the same, and whose files are as they were
    left, is current."""

    folder: Path
    check: bool = False
    results: list[StepResult] = field(default_factory=list)
    records: dict[str, dict[str, Any]] = field(default_factory=dict)
    kept: dict[str, dict[str, Any]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        try:
            data = json.loads((self.folder / RECORD).read_text(encoding="utf-8"))
            if data.get("planform_job") == SCHEMA and data.get("version") == __version__:
                self.records = data["steps"]
        except (OSError, ValueError, KeyError, AttributeError):
            self.records = {}

    def is_current(self, name: str, key: str) -> bool:
        """Was it done under this key, and are its files as it left them?"""
        record = self.records.get(name)
        return (
            isinstance(record, dict)
            and record.get("key") == key
            and not record.get("errors")
            and all(
                file_digest(self.folder / file) == digest
                for file, digest in record["files"].items()
            )
        )

    def run(
        self, name: str, key: Any, make: Callable[[], tuple[Iterable[Path], Iterable[str]]]
    ) -> StepResult:
        """Do a step, unless it is current. ``make`` returns the files that it wrote and what went wrong; an
        error of ours that it raises is one line of the result."""
        digest = bytes_digest(json.dumps([name, key], sort_keys=True, default=str).encode())
        if self.is_current(name, digest):
            self.kept[name] = self.records[name]
            result = StepResult(name, "current", tuple(self.records[name]["files"]))
        elif self.check:
            result = StepResult(name, "pending")
        else:
            earlier = set((self.records.get(name) or {}).get("files", ()))
            try:
                files, errors = make()
                written = [path.relative_to(self.folder).as_posix() for path in files]
                failed = tuple(one_line(error) for error in errors)
            except Error as error:
                written, failed = [], (one_line(str(error)),)
            for file in earlier - set(written):
                (self.folder / file).unlink(missing_ok=True)
            self.kept[name] = {
                "key": digest,
                "files": {file: file_digest(self.folder / file) for file in written},
                "errors": list(failed),
            }
            result = StepResult(name, "failed" if failed else "done", tuple(written), failed)
            self.write()
        self.results.append(result)
        return result

    def leave(self, name: str, reason: str) -> StepResult:
        """Leave out a step that needs what there is not: one before it failed or, if only asked, waits."""
        result = (
            StepResult(name, "pending") if self.check else StepResult(name, "failed", (), (reason,))
        )
        self.results.append(result)
        return result

    def finish(self) -> None:
        """Remove what steps left that there are no more, and write the record. Files of a step that failed
        stay out."""
        if self.check:
            return
        for name, record in self.records.items():
            if name not in self.kept and isinstance(record, dict):
                for file in record.get("files", ()):
                    if not any(file in kept["files"] for kept in self.kept.values()):
                        (self.folder / file).unlink(missing_ok=True)
        self.records = {}
        self.write()

    def write(self) -> None:
        """The record, after each step: a run that is stopped has not to be done again from the start."""
        steps = {**self.records, **self.kept}
        text = json.dumps(
            {"planform_job": SCHEMA, "version": __version__, "steps": steps}, indent=1
        )
        write_whole_file(self.folder / RECORD, text + "\n")
