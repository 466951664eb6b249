"""Libraries that not everybody needs: an error that says which extra brings the one that is missing.

planform by itself needs NumPy. What else it uses is imported where it is used, and comes with an extra:
``pip install 'planform[drawings]'``.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

__all__ = ["EXTRAS", "extra_for", "needed", "stand_in"]

EXTRAS = {
    "click": "cli",
    "rich": "cli",
    "jinja2": "cli",
    "watchfiles": "cli",
    "ezdxf": "drawings",
    "svgelements": "drawings",
    "matplotlib": "pictures",
    "fontTools": "text",
    "HersheyFonts": "text",
    "spyrrow": "sheets",
    "trimesh": "preview",
}
"""The extra that brings a library, by the name under which it is imported."""


def extra_for(error: ImportError) -> ImportError:
    """The error for a library that is missing, in one line; the error itself if it is about another."""
    library = (error.name or "").partition(".")[0]
    extra = EXTRAS.get(library)
    if extra is None or not isinstance(error, ModuleNotFoundError):
        return error
    return ModuleNotFoundError(
        f"this needs the library {library}: pip install 'planform[{extra}]'", name=library
    )


@contextmanager
def needed() -> Iterator[None]:
    """Around imports of such libraries. Raises ModuleNotFoundError that names the extra."""
    try:
        yield
    except ModuleNotFoundError as error:
        better = extra_for(error)
        if better is error:
            raise
        raise better from None


def stand_in(name: str, error: ModuleNotFoundError) -> Any:
    """What a public name is without the library that it needs: using it raises the error.

    So ``from planform import *`` gives all names to those who have no extra. One name has one stand-in.
    """
    return _stand_in(name, str(error), error.name)


@cache
def _stand_in(name: str, text: str, library: str | None) -> Any:
    def refuse(*_arguments: object, **_named: object) -> Any:
        raise ModuleNotFoundError(text, name=library)

    if not name[:1].isupper():
        refuse.__name__ = refuse.__qualname__ = name
        refuse.__doc__ = text
        return refuse
    return type(name, (), {"__new__": refuse, "__doc__": text, "__module__": "planform"})
