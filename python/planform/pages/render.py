"""Templates into pages. Whatever comes from a model, a drawing or a rule is data: it is made printable and
escaped, and the page allows itself no script and no network by its content security policy."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from planform._planform import __version__
from planform.extras import needed
from planform.naming import counted, printable

CAUTIONS = (
    "Check every outline against the part before you cut. The software gives outlines; the person at "
    "the machine answers for the cut.",
    "Cut a test piece first, in the same material and thickness, and measure it.",
    "Follow the machine's manual. Wear eye protection rated for the beam or process, and never defeat "
    "an interlock.",
    "Never leave a cutting beam or flame alone; keep a fire watch and an extinguisher at hand.",
    "Never cut chlorinated plastics such as PVC with a beam: the fumes poison people and corrode the "
    "machine. Extract the fumes of every material.",
    "Where local codes or licensed practice apply to the part or the workshop, they rule.",
)
"""Stand on every page."""

template_folder = Path(__file__).parent / "templates"


def render(template: str, /, **data: Any) -> str:
    """A whole page, or a fragment, as text.

    Parameters
    ----------
    template : str
        Its name in `template_folder`, such as ``"cut_list.html"``.
    **data
        What the template asks for; a name that it asks for and does not get is an error. Texts are made
        printable and escaped; an ``<svg>`` of ours passes as `picture`.
    """
    text: str = _environment().get_template(template).render(**data)
    return text


def picture(svg: str) -> Any:
    """An ``<svg>`` element of ours, to be taken as it is. Never for what comes from a file."""
    from markupsafe import Markup

    return Markup(svg)


@cache
def _environment() -> Any:
    # Loaded when the first page is made: most runs make none.
    with needed():
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
        from markupsafe import Markup

    def shown(value: Any) -> Any:
        return (
            printable(value) if isinstance(value, str) and not isinstance(value, Markup) else value
        )

    environment = Environment(
        loader=FileSystemLoader(template_folder),
        autoescape=True,
        finalize=shown,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(version=__version__, cautions=CAUTIONS)
    environment.filters["counted"] = counted
    return environment
