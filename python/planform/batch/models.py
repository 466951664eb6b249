"""Models in, drawings out: what ``planform flatten`` does, without a terminal.

A *drawing* is one profile set and the files it goes to. With the datum ``auto`` there is one drawing a
distinct part, with the number of its pieces (several where bodies of a part don't lie flat beside or in
each other); with a fixed datum one a placed solid; with ``one_file`` one a model. Which parts are the same,
and what is no plate, is what `planform.plates` says, asked once a model. A failure costs the drawing
or the model it happens in and no other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Literal, Protocol

from planform._planform import (
    Model,
    load,
)
from planform.batch.drawing import BatchResult, Drawing, ModelResult
from planform.batch.files import written
from planform.batch.outlines import with_outline, with_ways
from planform.batch.settings import Settings
from planform.batch.which_drawings import drawings_of_parts, drawings_of_solids, model_stem
from planform.errors import Error
from planform.naming import FileNames, one_line


class Reader(Protocol):
    """What reads a model: `planform.load`, or what does the same otherwise."""

    def __call__(
        self, path: Path, /, *, unit: str | None, scale: float, heal: Literal["needed", "always"]
    ) -> Model:
        """Return the model of a file; raise LoadError."""


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
        self._names = FileNames()
        self.result = BatchResult(tuple(self._read(Path(source), reader) for source in sources))

    @property
    def size(self) -> int:
        """Number of drawings to make."""
        return len(self.result.drawings)

    def _read(self, source: Path, reader: Reader) -> ModelResult:
        try:
            model = reader(
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
