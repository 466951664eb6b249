"""What the curves of a drawing are for, by their layer or colour."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from planform.errors import GeometryError
from planform.naming import name_fits

Role = Literal["cut", "outer", "inner", "mark", "ignore"]

ROLES: tuple[Role, ...] = ("cut", "outer", "inner", "mark", "ignore")
"""What a curve is for: cut (outside or inside follows from how the outlines lie in each other), cut
outside, cut inside, mark (scored, not cut), or nothing."""

DEFAULT_ROLES: Mapping[str, Role] = {
    "cut_outer": "outer",
    "cut-outer": "outer",
    "cut_inner": "inner",
    "cut-inner": "inner",
    "*mark*": "mark",
    "*engrav*": "mark",
    "*etch*": "mark",
    "*score*": "mark",
    "stray": "ignore",
    "*": "cut",
}
"""The rule without one of the caller's: the layers of planform's own files, layers named for marks
(common practice, no source), strays that a repair has set aside; all else is cut."""


def checked_roles(roles: Mapping[str, str]) -> dict[str, Role]:
    """The mapping with patterns in lower case. Raises GeometryError for an unknown role."""
    result: dict[str, Role] = {}
    for pattern, role in roles.items():
        if role not in ROLES:
            raise GeometryError.of_kind(
                "unknown_option", f"role = {role!r} is unknown; valid: {', '.join(ROLES)}"
            )
        result[pattern.casefold()] = role
    return result


def role_of(layer: str, color: str, rule: Mapping[str, Role]) -> Role:
    """The role of a curve by the first pattern of a checked rule that its layer or colour fits."""
    fitting = (role for pattern, role in rule.items() if fits(layer, color, pattern))
    return next(fitting, "cut")


def fits(layer: str, color: str, pattern: str) -> bool:
    """True if a layer or colour fits a pattern in lower case."""
    by_color = pattern.startswith("color:")
    return name_fits(pattern, f"color:{color}" if by_color else layer, whole=True)
