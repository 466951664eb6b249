"""What is done with the outline of a part before it is cut: turned, held by bridges, labelled."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, fields
from typing import Any, Literal

from planform._planform import ProfileSet, bridges
from planform.errors import Error, GeometryError
from planform.words import WORDS

__all__ = ["Finishing", "finished"]

LABEL_PARTS = ("name", "number", "quantity")
"""What a label may say."""
CHOICES: dict[str, tuple[str, ...]] = {
    "turn": ("part", "smallest"),
    "bridge_hold": WORDS["hold"],
}
"""The words that these may be."""


@dataclass(frozen=True, kw_only=True)
class Finishing:
    """What is done with outlines. Lengths are millimetres.

    Attributes
    ----------
    turn : {"part", "smallest"}
        Which way round a part is drawn: as its own frame has it, or turned for the smallest rectangle.
    bridges : float
        Width of the bridges that hold what falls out; 0: it is not held.
    bridge_count : int
        How many a piece; where there is room for fewer, fewer.
    bridge_hold : {"islands", "drop-outs"}
        See `planform.bridges`.
    labels : sequence of {"name", "number", "quantity"}
        What is written inside of each piece, as single-stroke marks.

    Raises
    ------
    GeometryError
        For a word that is not one of those above, a number out of range.

    Examples
    --------
    >>> import planform
    >>> planform.Finishing(turn="smallest", bridges=1.5, labels=("name",))
    Finishing(turn='smallest', bridges=1.5, bridge_count=2, bridge_hold='islands', labels=('name',))
    """

    turn: Literal["part", "smallest"] = field(default_factory=lambda: "part")
    bridges: float = 0.0
    bridge_count: int = 2
    bridge_hold: Literal["islands", "drop-outs"] = field(default_factory=lambda: "islands")
    labels: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name, words in CHOICES.items():
            if getattr(self, name) not in words:
                raise wrong_word(name, getattr(self, name), words)
        is_number = isinstance(self.bridges, int | float) and math.isfinite(self.bridges)
        if not is_number or self.bridges < 0:
            raise GeometryError.of_kind(
                "invalid_argument",
                f"bridges = {self.bridges!r} is no finite number of 0 or more (mm)",
            )
        if not isinstance(self.bridge_count, int) or self.bridge_count < 1:
            raise GeometryError.of_kind(
                "invalid_argument", f"bridge_count = {self.bridge_count!r} is no number above 0"
            )
        if isinstance(self.labels, str):
            raise GeometryError.of_kind(
                "invalid_argument", f"labels = {self.labels!r} is no list of some of {LABEL_PARTS}"
            )
        for word in self.labels:
            if word not in LABEL_PARTS:
                raise wrong_word("labels", word, LABEL_PARTS)
        object.__setattr__(self, "labels", tuple(self.labels))

    def finishing(self) -> dict[str, Any]:
        """The fields by name."""
        return {one.name: getattr(self, one.name) for one in fields(Finishing)}


FIELDS = tuple(one.name for one in fields(Finishing))


def wrong_word(name: str, word: object, words: tuple[str, ...]) -> Error:
    """The exception for a word that is none of those known."""
    return GeometryError.of_kind(
        "unknown_option", f"{name} = {word!r} is unknown; valid: {', '.join(words)}"
    )


def finished(
    outline: ProfileSet, wanted: Finishing, *, name: str, number: int, quantity: int
) -> ProfileSet:
    """The outline turned, held by bridges and labelled, as far as that is wanted. Raises GeometryError, with
    the name and place of what has no room for a bridge."""
    if wanted.turn == "smallest":
        outline = outline.turned_to_smallest_rectangle()
    if wanted.bridges:
        outline = bridges(outline, wanted.bridges, wanted.bridge_count, wanted.bridge_hold)
    if wanted.labels:
        # The rooms above bring in Shapely: only where there is something to write.
        from planform.lettering.labels import labelled

        words = {"name": name, "number": f"no {number}", "quantity": f"x{quantity}"}
        outline = labelled(outline, " ".join(words[word] for word in wanted.labels))
    return outline


def held_count(before: ProfileSet, after: ProfileSet) -> int:
    """How many islands, and how many drop-outs, an outline has no more: bridges hold them."""
    holes = [sum(len(profile.holes) for profile in one.profiles) for one in (before, after)]
    islands = len(before.islands) - len(after.islands)
    return islands if islands else max(0, holes[0] - holes[1])
