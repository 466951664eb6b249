"""The SVG document beneath the shapes: safe XML, lengths, the size of a user unit, styles.

Sources: SVG 1.1 (second edition), chapters 7 (coordinate systems, viewBox, preserveAspectRatio) and 6
(styling); CSS Values and Units Module Level 3, section 5.2: an inch is 96 px, a point 1/72 and a pica 1/6
of an inch, a Q a quarter of a millimetre.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from pathlib import Path
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from planform.errors import LoadError

UNITS: Mapping[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "in": 25.4,
    "px": 25.4 / 96,
    "pt": 25.4 / 72,
    "pc": 25.4 / 6,
    "q": 0.25,
}
"""Absolute units in mm."""

DEEPEST = 512
MOST_ENTITIES, LONGEST_ENTITY = 64, 1024
"""Names for short texts are allowed, as some programs shorten namespaces so; nothing that could grow."""

_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([a-zA-Z%]*)\s*")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")


def parse_xml(data: bytes, source: Path) -> Element:
    """The root element. No network, no other file, no entity that stands for others.

    Raises LoadError for what is no XML, nests too deep or declares entities that could grow.
    """
    builder = TreeBuilder()
    parser = expat.ParserCreate(namespace_separator="}")
    parser.buffer_text = True
    depth = entities = 0

    def refuse(reason: str) -> None:
        raise LoadError.of_kind("file_damaged", f"{source}: {reason}")

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > DEEPEST:
            refuse(f"elements nest deeper than {DEEPEST}")
        builder.start(_qualified(tag), {_qualified(k): v for k, v in attributes.items()})

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1
        builder.end(_qualified(tag))

    def declare(
        name: str,
        is_parameter: bool,
        value: str | None,
        base: str | None,
        system: str | None,
        public: str | None,
        notation: str | None,
    ) -> None:
        nonlocal entities
        entities += 1
        if value is None:
            refuse(f"the entity {name!r} points outside the file; such entities are not followed")
        elif is_parameter or "&" in value or "%" in value or len(value) > LONGEST_ENTITY:
            refuse(f"the entity {name!r} is longer than a short text, or stands for others")
        if entities > MOST_ENTITIES:
            refuse(f"more than {MOST_ENTITIES} entities are declared")

    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = builder.data
    parser.EntityDeclHandler = declare
    try:
        parser.Parse(data, True)
    except expat.ExpatError as error:
        raise LoadError.of_kind(
            "file_damaged", f"{source}: no XML that can be read: {error}"
        ) from error
    except (LookupError, ValueError) as error:
        raise LoadError.of_kind("file_damaged", f"{source}: {error}") from error
    return builder.close()


def _qualified(name: str) -> str:
    """As ElementTree writes names: ``{namespace}local``."""
    return "{" + name if "}" in name else name


def local_name(element: Element) -> str:
    """The tag without its namespace; empty for elements of another one than SVG's."""
    tag = element.tag
    if not tag.startswith("{"):
        return tag
    namespace, _, name = tag[1:].partition("}")
    return name if namespace == "http://www.w3.org/2000/svg" else ""


def attribute(element: Element, name: str) -> str | None:
    """An attribute whatever its namespace (``xlink:href`` and ``href``); that without one goes first."""
    if name in element.attrib:
        return element.attrib[name]
    for key, value in element.attrib.items():
        if key.endswith("}" + name):
            return value
    return None


def split_length(text: str | None) -> tuple[float, str] | None:
    """Number and unit of a length, unit in lower case; None for what is no length."""
    match = _LENGTH.fullmatch(text or "")
    if match is None:
        return None
    return float(match.group(1)), match.group(2).lower()


def user_length(text: str | None, whole: float, missing: float = 0.0) -> float:
    """A length in user units (a px is one); per cent are of ``whole``. Raises ValueError."""
    if text is None or text.strip() == "auto":
        return missing
    parts = split_length(text)
    if parts is None:
        raise ValueError(f"{text!r} is no length")
    number, unit = parts
    if unit == "":
        return number
    if unit == "%":
        return number / 100 * whole
    if unit not in UNITS:
        raise ValueError(f"the length {text!r} depends on a font")
    return number * UNITS[unit] / UNITS["px"]


def numbers_of(text: str | None) -> list[float]:
    """The numbers of a list with commas or blanks. Raises ValueError."""
    return [float(word) for word in (text or "").replace(",", " ").split()]


def view_box(element: Element) -> tuple[float, float, float, float] | None:
    """Corner and size of the viewBox, None without a usable one."""
    try:
        numbers = numbers_of(element.get("viewBox"))
    except ValueError:
        return None
    if len(numbers) != 4 or not all(math.isfinite(n) for n in numbers):
        return None
    x, y, width, height = numbers
    return (x, y, width, height) if width > 0 and height > 0 else None


def view_scale(element: Element, width: float, height: float) -> tuple[float, float]:
    """Scales in x and y that fit the viewBox into a viewport."""
    box = view_box(element)
    if box is None:
        return 1.0, 1.0
    across, up = width / box[2], height / box[3]
    words = (element.get("preserveAspectRatio") or "xMidYMid meet").split()
    if "none" in words:
        return across, up
    both = max(across, up) if "slice" in words else min(across, up)
    return both, both


def view_shift(
    element: Element, width: float, height: float, scales: tuple[float, float]
) -> tuple[float, float]:
    """Where the origin of user space lies in the viewport, after scaling."""
    box = view_box(element)
    if box is None:
        return 0.0, 0.0
    words = (element.get("preserveAspectRatio") or "xMidYMid meet").split()
    shift = [-box[0] * scales[0], -box[1] * scales[1]]
    if "none" in words:
        return shift[0], shift[1]
    align = next((word for word in words if word.startswith("x")), "xMidYMid")
    room = (width - box[2] * scales[0], height - box[3] * scales[1])
    for axis, (start, space) in enumerate(((1, room[0]), (5, room[1]))):
        part = align[start : start + 3]
        shift[axis] += {"Min": 0.0, "Mid": 0.5, "Max": 1.0}.get(part, 0.5) * space
    return shift[0], shift[1]


class Styles:
    """Style sheets of a document: rules for a class, an id or a kind of element; others are left out."""

    def __init__(self, root: Element) -> None:
        self.rules: dict[str, dict[str, str]] = {}
        for element in root.iter():
            if local_name(element) != "style" or not element.text:
                continue
            text = re.sub(r"/\*.*?\*/", "", element.text, flags=re.S)
            for selectors, body in _RULE.findall(text):
                for selector in selectors.split(","):
                    self.rules.setdefault(selector.strip(), {}).update(declarations(body))

    def of(self, element: Element, name: str) -> str | None:
        """A property as the element itself states it: inline, by id, class or kind, by attribute."""
        style = element.get("style")
        if style:
            inline = declarations(style)
            if name in inline:
                return inline[name]
        if not self.rules:
            return element.get(name)
        selectors = ["#" + (element.get("id") or "")]
        selectors += ["." + word for word in reversed((element.get("class") or "").split())]
        selectors += [local_name(element)]
        for selector in selectors:
            if name in self.rules.get(selector, {}):
                return self.rules[selector][name]
        return element.get(name)


def declarations(text: str) -> dict[str, str]:
    """Property names (in lower case) and values of a style."""
    result = {}
    for part in text.split(";"):
        name, colon, value = part.partition(":")
        if colon:
            result[name.strip().lower()] = value.strip()
    return result
