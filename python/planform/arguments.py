"""Arguments that fit no signature: one line that names the argument and says what to pass instead.

The compiled part hands over pybind11's account (`explained`); functions that are written in Python look at
their arguments themselves (`checked`). Both go by the annotations.
"""

from __future__ import annotations

import functools
import inspect
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from types import FunctionType
from typing import Any, ParamSpec, TypeVar

from planform import _planform
from planform.errors import ArgumentError

__all__ = ["checked", "checked_class", "explained", "know_classes", "positive"]

P = ParamSpec("P")
R = TypeVar("R")

MOST_CHARACTERS = 290

NUMBERS = {"float", "SupportsFloat"}
INTEGERS = {"int", "SupportsIndex", "SupportsInt"}
TEXTS = {"str": str, "bytes": bytes, "bool": bool}
PATHS = {"PathLike", "Path"}
LISTS = {"Sequence", "Iterable", "list", "List", "tuple"}
MAPPINGS = {"dict", "Dict", "Mapping"}
# What can't be told by looking at a value, or needs no look.
ANYTHING = {"Any", "object", "P", "R", "Self"}
HINTS = {
    "Solid": "a Solid, a Model or an iterable of Solids",
    "ProfileSet": "a ProfileSet",
}


class Missing:
    """The value of a parameter for which nothing was passed."""


class Parameter:
    """One parameter of a signature."""

    def __init__(self, name: str, annotation: str, has_default: bool, by_name: bool) -> None:
        self.name = name
        self.annotation = annotation
        self.has_default = has_default
        self.by_name = by_name


def explained(text: str, positional: Sequence[Any], named: Mapping[str, Any]) -> ArgumentError:
    """The error for a call that pybind11 refused, from its account of the signatures."""
    if "(): incompatible " not in text:
        return _error("", text)
    function = text.split("()", 1)[0]
    signatures = re.findall(r"^ +\d+\. (.*)$", text, re.MULTILINE)
    values = list(positional)
    if function == "__init__" and signatures:
        function = signatures[0].split("(", 1)[0].rsplit(".", 1)[-1]
        values = values[1:]
    complaints = []
    for signature in signatures:
        parameters = _parameters_in(signature)
        if parameters and parameters[0].name == "self":
            function = f"{parameters[0].annotation.rsplit('.', 1)[-1]}.{function}"
            parameters, given = parameters[1:], values[1:]
        else:
            given = values
        complaint = _complaint(parameters, given, named)
        if complaint is not None:
            complaints.append(complaint)
        function = function.rsplit(".", 1)[-1] if len(signatures) > 1 else function
    if complaints:
        # Of several signatures the one that fits best: whose first wrong argument comes last.
        return _error(function, max(complaints, key=lambda complaint: complaint[0])[1])
    shown = ", ".join(p.name for p in _parameters_in(signatures[0])) if signatures else ""
    return _error(function, f"the arguments don't fit; pass ({shown})")


def checked(function: Callable[P, R]) -> Callable[P, R]:
    """The function, with arguments that don't fit its annotations refused in one line."""
    signature = inspect.signature(function)
    parameters = [
        Parameter(
            parameter.name,
            "object"
            if parameter.annotation is parameter.empty
            else parameter.annotation
            if isinstance(parameter.annotation, str)
            else getattr(parameter.annotation, "__name__", "object"),
            parameter.default is not parameter.empty,
            parameter.kind is parameter.KEYWORD_ONLY,
        )
        for parameter in signature.parameters.values()
        if parameter.kind not in (parameter.VAR_POSITIONAL, parameter.VAR_KEYWORD)
    ]
    of_object = bool(parameters) and parameters[0].name in ("self", "cls")
    if of_object:
        parameters = parameters[1:]
    name = function.__qualname__.removesuffix(".__init__")
    has_rest = any(
        p.kind in (p.VAR_POSITIONAL, p.VAR_KEYWORD) for p in signature.parameters.values()
    )

    @functools.wraps(function)
    def look_first(*arguments: P.args, **named: P.kwargs) -> R:
        given = list(arguments)[1:] if of_object else list(arguments)
        complaint = _complaint(parameters, given, named, has_rest)
        if complaint is not None:
            raise _error(name, complaint[1])
        return function(*arguments, **named)

    # For what asks for the signature without looking through wrappers, as the stub generator does.
    look_first.__signature__ = signature  # type: ignore[attr-defined]
    return look_first


_CLASSES = {"Settings"} | {
    name for name, member in vars(_planform).items() if name[0] != "_" and isinstance(member, type)
}
"""Names of the classes that callers pass; `checked_class` adds those that are written in Python."""

# Made by the hundred thousand when a drawing is read; what is in them is looked at when it is used.
UNCHECKED = {"LooseCurve"}


def know_classes(names: Iterable[str]) -> None:
    """Names that stand for classes, loaded or not: values for them are held against these."""
    _CLASSES.update(names)


def positive(value: float | None, what: str) -> None:
    """Raise ArgumentError unless the value is None or a positive finite number."""
    if value is not None and not 0 < value < float("inf"):
        raise _error("", f"{what} is {_description(value)}; pass a positive number or None")


def checked_class(kind: type) -> None:
    """Puts `checked` on a class's constructor and public methods, in place."""
    _CLASSES.add(kind.__name__)
    for name, member in list(vars(kind).items()):
        if (name.startswith("_") and name != "__init__") or kind.__name__ in UNCHECKED:
            continue
        if isinstance(member, FunctionType):
            setattr(kind, name, checked(member))
        elif isinstance(member, classmethod):
            setattr(kind, name, classmethod(checked(member.__func__)))


def _error(function: str, complaint: str) -> ArgumentError:
    message = " ".join((f"{function}: {complaint}" if function else complaint).split())
    if len(message) > MOST_CHARACTERS:
        message = message[: MOST_CHARACTERS - 3] + "..."
    return ArgumentError(message)


def _complaint(
    parameters: Sequence[Parameter],
    positional: Sequence[Any],
    named: Mapping[str, Any],
    has_rest: bool = False,
) -> tuple[int, str] | None:
    """How far the signature fits, and what does not fit; None if all does.

    `has_rest`: it takes further arguments, whatever they are.
    """
    by_place = [parameter for parameter in parameters if not parameter.by_name]
    if len(positional) > len(by_place) and not has_rest:
        most = len(by_place)
        return most, (
            f"{len(positional)} arguments are passed by place, {most} at most are taken: "
            f"({', '.join(p.name for p in by_place)})"
        )
    values = {p.name: value for p, value in zip(by_place, positional, strict=False)}
    known = {p.name for p in parameters}
    for name, value in named.items():
        if name not in known:
            if has_rest:
                continue
            return 0, f"there is no argument {name!r}; there are: {', '.join(sorted(known))}"
        if name in values:
            return 0, f"{name} is passed twice; pass it once"
        values[name] = value
    for number, parameter in enumerate(parameters):
        value = values.get(parameter.name, Missing)
        if value is Missing:
            if parameter.has_default:
                continue
            return number, f"{parameter.name} is missing; pass {_words(parameter.annotation)}"
        if not _fits(parameter.annotation, value):
            return number, _refusal(parameter, value)
        if PATHS & _names_in(parameter.annotation) and _has_nul(value):
            return number, f"{parameter.name} holds a NUL character; pass a path"
    return None


def _has_nul(value: Any) -> bool:
    if isinstance(value, (list, tuple)):
        return any(map(_has_nul, value))
    return (isinstance(value, str) and "\0" in value) or (
        isinstance(value, bytes) and b"\0" in value
    )


def _refusal(parameter: Parameter, value: Any) -> str:
    annotation = parameter.annotation
    wanted = _words(annotation)
    where, wrong = parameter.name, value
    for part in _alternatives(annotation):
        head, inner = _head(part)
        if head in LISTS and inner and isinstance(value, (list, tuple)):
            bad = [i for i, item in enumerate(value) if not _fits(inner[0], item)]
            if bad and head != "tuple":
                where, wrong = f"{parameter.name}[{bad[0]}]", value[bad[0]]
    return f"{where} is {_description(wrong)}; pass {wanted}{_hint(annotation, value)}"


def _hint(annotation: str, value: Any) -> str:
    candidates = [value, *value] if isinstance(value, (list, tuple)) else [value]
    takes_solids = "Solid" in _names_in(annotation)
    for candidate in candidates:
        for held in (candidate, getattr(candidate, "wrapped", None)):
            if takes_solids and type(held).__module__.split(".")[0] == "OCP":
                return "; planform.from_ocp(shape) makes a Model of a shape of OCP"
    if takes_solids and (isinstance(value, str) or hasattr(value, "__fspath__")):
        return "; planform.load(path) reads a file"
    if "bytes" in _names_in(annotation) and isinstance(value, (bytearray, memoryview)):
        return ": bytes(data) makes them"
    return ""


def _names_in(annotation: str) -> set[str]:
    return set(re.findall(r"\w+", annotation))


def _description(value: Any) -> str:
    if value is None or isinstance(value, (bool, int, float)):
        text = repr(value)
        return text if len(text) <= 24 else f"{text[:20]}..."
    if isinstance(value, str):
        return f"{value!r}" if len(value) <= 24 else f"{value[:20]!r}..."
    kind = type(value)
    module = kind.__module__
    name = kind.__qualname__ if module in ("builtins",) else f"{module}.{kind.__qualname__}"
    name = name.removeprefix("planform._planform.")
    shape = getattr(value, "shape", None)
    if isinstance(shape, tuple):
        return f"an array of shape {shape}"
    if isinstance(value, (list, tuple)):
        return f"a {name} of {len(value)}"
    return f"{_article(name)} {name[:60]}"


def _article(word: str) -> str:
    return "an" if word[:1].lower() in "aeio" else "a"


# --- annotations ------------------------------------------------------------------------------------


def _split(text: str, separator: str) -> list[str]:
    """Split where no bracket and no quotation is open."""
    parts, depth, start, quote = [], 0, 0, ""
    for place, character in enumerate(text):
        if quote:
            quote = "" if character == quote else quote
        elif character in "'\"":
            quote = character
        elif character in "([{<":
            depth += 1
        elif character in ")]}>" and not text.startswith("->", place - 1):
            depth -= 1
        elif depth == 0 and text.startswith(separator, place):
            parts.append(text[start:place])
            start = place + len(separator)
    parts.append(text[start:])
    return [part.strip() for part in parts]


def _parameters_in(signature: str) -> list[Parameter]:
    """Those of ``name(first: type, second: type = default) -> type``."""
    first = signature.index("(")
    depth = 0
    last = len(signature)
    for place, character in enumerate(signature[first:], first):
        depth += (character in "([{") - (character in ")]}")
        if depth == 0:
            last = place
            break
    parameters, by_name = [], False
    for part in _split(signature[first + 1 : last], ","):
        if part == "*":
            by_name = True
        elif part and part != "/":
            name, _, rest = part.partition(":")
            annotation, *default = _split(rest.strip(), " = ")
            parameters.append(Parameter(name.strip(), annotation, bool(default), by_name))
    return parameters


@functools.cache
def _alternatives(annotation: str) -> tuple[str, ...]:
    annotation = annotation.strip()
    head, inner = _head(annotation)
    if head == "Optional":
        return (*inner, "None")
    if head == "Union":
        return inner
    return tuple(_split(annotation, "|"))


@functools.cache
def _head(part: str) -> tuple[str, tuple[str, ...]]:
    """The name without its module, and what stands in its brackets."""
    name, bracket, rest = part.strip().strip("'\"").partition("[")
    inner = _split(rest[:-1], ",") if bracket else []
    return name.rsplit(".", 1)[-1].strip(), tuple(item for item in inner if item != "...")


def _fits(annotation: str, value: Any) -> bool:
    return any(_fits_one(part, value) for part in _alternatives(annotation))


def _fits_one(part: str, value: Any) -> bool:
    head, inner = _head(part)
    if head in ANYTHING or (head.startswith("Supports") and head not in NUMBERS | INTEGERS):
        return True
    if head == "None":
        return value is None
    if head in NUMBERS:
        is_number = hasattr(value, "__float__") or hasattr(value, "__index__")
        return is_number and getattr(value, "shape", ()) == ()
    if head in ("Callable", "MaterialRule"):
        return callable(value)
    if head == "HasFinding":
        return callable(getattr(value, "finding", None))
    if head in INTEGERS:
        return hasattr(value, "__index__")
    if head in TEXTS:
        return isinstance(value, TEXTS[head])
    if head in PATHS:
        return hasattr(value, "__fspath__")
    if head == "Literal":
        return isinstance(value, str)
    if head == "type":
        return isinstance(value, type)
    if head in LISTS:
        return _is_list_of(head, inner, value)
    if head in MAPPINGS:
        return isinstance(value, Mapping)
    if head in ("Annotated", "ArrayLike", "NDArray", "ndarray"):
        return _is_array(part, value)
    if head not in _CLASSES:
        return True  # a name for a type, or a class that only its function knows
    return any(kind.__name__ == head for kind in type(value).__mro__)


def _is_list_of(head: str, inner: tuple[str, ...], value: Any) -> bool:
    if isinstance(value, (str, bytes, bytearray, Mapping)) or not hasattr(value, "__iter__"):
        return False
    if head == "Iterable" and isinstance(value, Iterator):
        return True  # to look at it would use it up
    if not inner:
        return True
    if not isinstance(value, (list, tuple)):
        # All items of an array are of one type; other lists are looked at when they are used.
        is_array = hasattr(value, "dtype") and len(value) > 0
        return not is_array or _fits(inner[0], value[0])
    if head == "tuple" and len(inner) > 1:
        return len(value) == len(inner) and all(map(_fits, inner, value))
    items: Any = value
    if not LISTS & _names_in(inner[0]) and "ArrayLike" not in inner[0]:
        items = {type(item): item for item in value}.values()  # one of a kind tells for all
    return all(_fits(inner[0], item) for item in items)


def _is_array(annotation: str, value: Any) -> bool:
    import numpy as np

    shape = _shape_in(annotation)
    try:
        array = np.asarray(value, dtype=float)
    except (TypeError, ValueError):
        return False
    if shape is None:
        return True
    if len(shape) == 2 and shape[1] == "1" and array.ndim == 1:
        shape = shape[:1]
    return array.ndim == len(shape) and all(
        not wanted.isdigit() or int(wanted) == size
        for wanted, size in zip(shape, array.shape, strict=True)
    )


def _shape_in(annotation: str) -> tuple[str, ...] | None:
    found = re.search(r"[\"']\[([\w, ]+)\][\"']", annotation)
    return tuple(part.strip() for part in found.group(1).split(",")) if found else None


def _words(annotation: str) -> str:
    """What to pass, in words."""
    parts: list[str] = []
    names = {_head(part)[0] for part in _alternatives(annotation)}
    if {"Solid", "Model"} <= names:
        return HINTS["Solid"]
    for part in _alternatives(annotation):
        text = _words_of_one(part, names)
        if text and text not in parts:
            parts.append(text)
    return " or ".join(parts) if parts else "another value"


def _words_of_one(part: str, names: set[str]) -> str:
    head, inner = _head(part)
    if head == "None":
        return "None"
    if head in NUMBERS:
        return "a number"
    if head in INTEGERS:
        return "" if names & NUMBERS else "a whole number"
    if head in PATHS:
        return "a path"
    if head in TEXTS:
        if names & PATHS:
            return "a path"
        return {"str": "a str", "bytes": "bytes", "bool": "True or False"}[head]
    if head == "Literal":
        return "one of " + ", ".join(inner[:6])
    if head in LISTS:
        return _list_words(head, inner)
    if head in MAPPINGS:
        return "a dict"
    if head in ("Annotated", "ArrayLike", "NDArray", "ndarray"):
        return _array_words(part)
    return f"{_article(head)} {head}"


def _list_words(head: str, inner: tuple[str, ...]) -> str:
    if head == "tuple" and len(inner) > 1:
        return f"a tuple of {len(inner)}"
    if not inner:
        return "a list"
    items = [_head(part)[0] for part in _alternatives(inner[0])]
    if any(item in NUMBERS | INTEGERS for item in items):
        return "a list of numbers"
    if head == "tuple" or any(item in LISTS for item in items):
        return "a list of lists"
    return "a list of " + ", ".join(item for item in items if item != "None")


def _array_words(annotation: str) -> str:
    shape = _shape_in(annotation)
    if shape is None:
        return "an array of numbers"
    if len(shape) == 2 and shape[1] == "1":
        shape = shape[:1]
    if shape in (("2",), ("3",)):
        return f"{shape[0]} numbers"
    return "an array of numbers of shape (" + ", ".join(shape) + ")"
