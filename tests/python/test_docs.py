"""Docstrings: every public name has one, lengths come with units, errors are told, examples run."""

from __future__ import annotations

import doctest
import inspect
import re
import tempfile
import types
from collections.abc import Iterator
from pathlib import Path

import planform
import planform.errors
import planform.exchange.ocp
import planform.exchange.shapely_exchange
import pytest
from planform import _planform

UNIT = re.compile(r"\bmm(\b|\^[23]|[²³])|radians|no unit")
# What deals in lengths, areas, angles or coordinates, by name.
MEASURES = re.compile(
    r"area|length|bounds|volume|radius|tolerance|points?$|^points|start|^end$|center|major|sweep|origin"
    r"|poles|placement|domain|derivative|distance|to_|^from_|moved|load|silhouette|section|transform"
)
WITHOUT_DOC = {"__init__", "__repr__", "__hash__", "__eq__", "__len__", "__iter__"}


def documented() -> Iterator[tuple[str, object]]:
    """Every public name with what it stands for; members of classes as Class.member."""
    for name in planform.__all__:
        thing = getattr(planform, name)
        if name == "__version__" or isinstance(thing, types.UnionType):
            continue
        yield name, thing
        if inspect.isclass(thing):
            for member in list(vars(thing)):
                getattr(thing, member, None)  # some are loaded when they are first asked for
                value = vars(thing)[member]
                if not member.startswith("_") or member in ("_repr_svg_", "__geo_interface__"):
                    yield f"{name}.{member}", value


NAMES = dict(documented())


def doc_of(name: str) -> str:
    thing = NAMES[name]
    owner, _, member = name.partition(".")
    if owner == "Settings":  # its class tells of each field
        found = re.search(
            rf"^{member} : .*\n((?:    .*\n?)+)", inspect.getdoc(NAMES[owner]) or "", re.MULTILINE
        )
        if found:
            return found.group(1)
    if thing is None or isinstance(
        thing, str
    ):  # a plain attribute: its text stands below it in the source
        source = inspect.getsource(planform.errors)
        text = re.search(rf"    {name.rpartition('.')[2]}: .*\n    \"\"\"(.*?)\"\"\"", source)
        return text.group(1) if text else ""
    return inspect.getdoc(getattr(thing, "__func__", thing)) or ""


def test_the_list_of_names_is_whole() -> None:
    assert len(NAMES) > 120
    assert {"Line.length", "ProfileSet.to_shapely", "ProfileSet.__geo_interface__", "load"} <= set(
        NAMES
    )
    public = {name for name in vars(_planform) if not name.startswith("_")}
    assert public <= set(planform.__all__)


@pytest.mark.parametrize("name", NAMES)
def test_every_name_has_a_docstring(name: str) -> None:
    assert len(prose(doc_of(name))) > 8


def prose(text: str) -> str:
    """The docstring without the signature that pybind11 puts in front."""
    return "\n".join(line for line in text.splitlines() if "self:" not in line and "->" not in line)


@pytest.mark.parametrize(
    "name", [name for name in NAMES if MEASURES.search(name.rpartition(".")[2])]
)
def test_measures_come_with_units(name: str) -> None:
    assert UNIT.search(prose(doc_of(name))), doc_of(name)


RAISING = [
    "Arc",
    "Contour",
    "Contour.points",
    "Contour.transformed",
    "Datum",
    "Datum.moved",
    "EllipticalArc",
    "Line.points",
    "ProfileSet",
    "ProfileSet.from_json",
    "ProfileSet.from_shapely",
    "ProfileSet.to_dxf",
    "ProfileSet.to_json",
    "ProfileSet.to_shapely",
    "ProfileSet.to_svg",
    "ProfileSet.transformed",
    "Provenance",
    "Spline",
    "auto_datum",
    "face_datum",
    "from_brep",
    "from_ocp",
    "load",
    "section",
    "silhouette",
    "write_demo_assembly",
    "write_whole_file",
]


@pytest.mark.parametrize("name", RAISING)
def test_errors_are_told(name: str) -> None:
    assert re.search(r"Raises\n\s*------\n\s*\w+Error", doc_of(name))


@pytest.mark.parametrize("name", NAMES)
def test_parameters_of_the_signature_are_described(name: str) -> None:
    """Names in the section "Parameters" are arguments of the function, spelled the same."""
    text = doc_of(name)
    section = re.search(
        r"Parameters\n\s*----------\n(.*?)(?:\n\s*\n\s*\w+\n\s*---|\Z)", text, re.DOTALL
    )
    if section is None:
        return
    described = re.findall(r"^\s*([\w, ]+?)(?: :|$)", section.group(1), re.MULTILINE)
    listed = {
        part.strip() for line in described for part in line.split(",") if " " not in part.strip()
    }
    signature = signature_of(name)
    arguments = set(re.findall(r"(\w+)(?=:|=|,|\))", signature))
    names = {part for part in listed if part in section.group(1)}
    assert names & arguments, (names, signature)
    assert {
        argument for argument in first_level(signature) if argument not in ("self", "cls")
    } <= listed


def signature_of(name: str) -> str:
    thing = NAMES[name]
    if inspect.isclass(thing):
        return next(line for line in (thing.__init__.__doc__ or "").splitlines() if "(" in line)
    thing = getattr(thing, "__func__", thing)
    if inspect.isfunction(thing):
        return "f" + str(inspect.signature(thing))
    lines = (thing.__doc__ or "").splitlines()
    return next(line for line in lines if "self:" in line or "->" in line)


def first_level(signature: str) -> list[str]:
    """Names of the arguments of "f(a: x[b, c] = 1, *, d: y) -> z"."""
    inside = signature[signature.index("(") + 1 :]
    names, depth, current = [], 0, ""
    for letter in inside:
        if letter == ")" and depth == 0:
            break
        depth += (letter in "[({") - (letter in "])}")
        if letter == "," and depth == 0:
            names.append(current)
            current = ""
        else:
            current += letter
    names.append(current)
    found = (re.match(r"\s*(\w+)\s*(?::|=|$)", part) for part in names)
    return [match.group(1) for match in found if match]


@pytest.mark.parametrize("module", [planform, planform.exchange.shapely_exchange])
def test_examples_of_modules_run(module: types.ModuleType) -> None:
    failed, _ = doctest.testmod(module)
    assert failed == 0


@pytest.fixture(autouse=True)
def _folders_of_examples(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Examples make folders and leave them; here they go with the test's own."""
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


STATION = """>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
"""
"""How examples begin that need the demo: here it is written and read once for all of them."""


def test_every_name_has_an_example() -> None:
    """Classes and functions: in their own docstring."""
    without = [name for name in NAMES if "." not in name and ">>>" not in doc_of(name)]
    assert without == []


def test_examples_run(tmp_path: Path) -> None:
    runner, parser, count, with_station = doctest.DocTestRunner(), doctest.DocTestParser(), 0, 0
    station: planform.Model | None = None
    for name in NAMES:
        text, known = doc_of(name), {}
        if STATION in text:
            if station is None:
                path = planform.write_demo_assembly(tmp_path / "station.step")
                station = planform.load(path)
            known = {"planform": planform, "station": station}
            text = text.replace(STATION, "")
            with_station += 1
        example = parser.get_doctest(text, known, name, None, 0)
        count += len(example.examples)
        runner.run(example)
    assert runner.failures == 0
    assert count > 600
    assert with_station > 30
