"""How pieces, and what falls out of holes, lie on the bars of a grate: the rule ``drop_out`` by statics."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

from planform._planform import Contour, Finding, Profile, ProfileSet, RuleSet, rest_on

RULE: Final = "drop_out"


def grate_findings(
    profiles: ProfileSet, rules: RuleSet, grate: float, along: Literal["x", "y"] = "y"
) -> Iterator[Finding]:
    """Profiles that may fall between bars or tip up, and what falls out of a hole that may tip up, under
    the rule's weight; nothing if the rule is off. Lengths are mm."""
    rule = rules[RULE]
    if not rule.enabled:
        return
    opening = f"bars {grate:g} mm apart"
    for number, profile in enumerate(profiles.profiles):
        rest = rest_on(profile, grate, along)
        what = f'"{profile.name}"' if profile.name else "the piece"
        if rest == "falls_through":
            text = f"{what} may fall between {opening}: give it holding strips, or put something below."
            yield found(rule.severity, profile.outer, text, grate, number, 0)
        elif rest == "may_tip":
            text = f"{what} may tip up on {opening} and stand in the way of the head: give it holding strips."
            yield found(rule.severity, profile.outer, text, grate, number, 0)
        for place, hole in enumerate(profile.holes, start=1):
            if rest_on(Profile(hole), grate, along) == "may_tip":
                text = (
                    f"What falls out of a hole of {what} may tip up on {opening} and stand in the way of "
                    "the head: hold it by bridges, or take it away before the cut goes on."
                )
                yield found(rule.severity, hole, text, grate, number, place)


def found(
    severity: Literal["note", "warning", "error"],
    contour: Contour,
    text: str,
    grate: float,
    profile: int,
    number: int,
) -> Finding:
    """One of them: measured is the narrower side of the box, the limit the opening."""
    low, high = contour.bounds
    return Finding(
        RULE,
        severity,
        tuple(contour.curves[0].start),
        text[:1].upper() + text[1:],
        measured=float(min(high - low)),
        limit=grate,
        unit="mm",
        profile=profile,
        contour=number,
    )
