"""JSON: lossless, strict, and by an independent parser what the schema says."""

from __future__ import annotations

import json
import math
import pickle
from pathlib import Path

import pytest
from planform import Arc, Contour, Datum, GeometryError, LoadError, Profile, ProfileSet, Provenance
from sample_sets import half_ellipse, parabola, plate, rational_disc


def all_kinds() -> ProfileSet:
    """Every kind of curve, numbers without short decimal form, provenance, notes."""
    traced = Contour([Arc((1 / 3, -0.0), math.pi)], [Provenance("fold", 2, 17)])
    return ProfileSet(
        [
            Profile(traced, name='a"\\\n'),
            # The disc lies on the edge: kinds of curve count here, not the shape.
            Profile(half_ellipse(20, 8, 0.7), [rational_disc(1e-3)], parent=0, validate=False),
        ],
        datum=Datum((0.1, 1e-17, -1e12), (1, -2, 3), (0.3, 0.2, 0.7)),
        tolerance=1 / 300,
        name="nest \N{BIRD}",
        notes=["one", "two"],
    )


def test_round_trip_keeps_every_bit() -> None:
    text = all_kinds().to_json()
    read = ProfileSet.from_json(text, validate=False)
    assert read.to_json() == text
    assert read == all_kinds()
    assert read.area == all_kinds().area
    assert read.notes == ("one", "two")
    assert read.name == "nest \N{BIRD}"
    assert read.datum.normal.tolist() == all_kinds().datum.normal.tolist()
    provenance = read.profiles[0].outer.provenance[0]
    assert (provenance.kind, provenance.solid, provenance.entity) == ("fold", 2, 17)
    assert math.copysign(1, read.profiles[0].outer.curves[0].center[1]) == -1


def test_schema_as_another_parser_sees_it() -> None:
    document = json.loads(all_kinds().to_json())
    assert document["planform"] == 1
    assert document["unit"] == "mm"
    assert document["tolerance"] == 1 / 300
    assert set(document["datum"]) == {"origin", "normal", "x"}
    first, second = document["profiles"]
    assert first["parent"] is None
    assert second["parent"] == 0
    assert first["outer"]["curves"] == [
        {
            "type": "arc",
            "center": [1 / 3, 0.0],
            "radius": math.pi,
            "start_angle": 0,
            "sweep": 2 * math.pi,
        }
    ]
    assert first["outer"]["provenance"] == [["fold", 2, 17]]
    assert [curve["type"] for curve in second["outer"]["curves"]] == ["elliptical_arc", "line"]
    spline = second["holes"][0]["curves"][0]
    assert spline["degree"] == 2
    assert len(spline["knots"]) == len(spline["poles"]) + 3
    assert len(spline["weights"]) == len(spline["poles"])


def test_a_document_may_be_laid_out_anew() -> None:
    assert ProfileSet.from_json(json.dumps(json.loads(plate().to_json()))) == plate()
    assert ProfileSet.from_json("\n  " + plate().to_json()) == plate()


def test_files(tmp_path: Path) -> None:
    path = plate().to_json(tmp_path / "plate.json")
    assert ProfileSet.from_json(path) == plate()
    assert ProfileSet.from_json(str(path)) == plate()
    with pytest.raises(LoadError, match="does not exist") as caught:
        ProfileSet.from_json(tmp_path / "missing.json")
    assert caught.value.kind == "file_missing"
    with pytest.raises(LoadError) as caught:
        ProfileSet.from_json(tmp_path)
    assert caught.value.kind == "file_unreadable"
    path.write_text("")
    with pytest.raises(LoadError) as caught:
        ProfileSet.from_json(path)
    assert caught.value.kind == "file_empty"
    path.write_text('{"planform": 1}')
    with pytest.raises(GeometryError, match=r"plate\.json.*\"unit\" is missing"):
        ProfileSet.from_json(path)


def test_pickling_keeps_all_that_json_keeps() -> None:
    copy = pickle.loads(pickle.dumps(all_kinds()))
    assert copy.to_json() == all_kinds().to_json()
    datum = pickle.loads(pickle.dumps(all_kinds().datum))
    assert datum.x.tolist() == all_kinds().datum.x.tolist()
    assert datum.y.tolist() == all_kinds().datum.y.tolist()


def edited(path: str, value: object) -> str:
    """The plate's document with one value replaced."""
    document = json.loads(plate().to_json())
    target = document
    *steps, last = path.split("/")
    for step in steps:
        target = target[int(step) if step.isdigit() else step]
    target[int(last) if last.isdigit() else last] = value
    return json.dumps(document)


@pytest.mark.parametrize(
    ("path", "value", "place"),
    [
        ("unit", "inch", "$.unit"),
        ("planform", 2, "$.planform"),
        ("extra", 1, 'the key "extra" is unknown'),
        ("tolerance", -1, "tolerance"),
        ("tolerance", math.nan, "line"),
        ("datum/normal", [0, 0, 0], "$.datum"),
        ("profiles/0/holes/0/curves/0/radius", "25", "$.profiles[0].holes[0].curves[0].radius"),
        ("profiles/0/holes/0/curves/0/radius", math.inf, "line"),
        ("profiles/0/holes/0/curves/0/sweep", 7.0, "$.profiles[0].holes[0].curves[0]"),
        ("profiles/0/outer/curves/1/start", [1, 2], "$.profiles[0].outer"),
        ("profiles/0/outer/curves", [], "$.profiles[0].outer"),
        ("profiles/0/parent", 0, "$.profiles[0].parent"),
        ("profiles/0/parent", 1, "parent"),
        ("marks/0/name", None, "$.marks[0].name"),
        ("notes", "none", "$.notes"),
    ],
)
def test_what_does_not_follow_the_schema_is_refused(path: str, value: object, place: str) -> None:
    with pytest.raises(GeometryError) as caught:
        ProfileSet.from_json(edited(path, value))
    assert caught.value.kind == "json_invalid"
    assert place in str(caught.value)


def test_deep_nesting_is_refused() -> None:
    with pytest.raises(GeometryError, match="nests deeper"):
        ProfileSet.from_json('{"a":' * 100_000)


def test_splines_keep_their_poles() -> None:
    profiles = ProfileSet([Profile(parabola(30, 9))])
    read = ProfileSet.from_json(profiles.to_json())
    before, after = profiles.profiles[0].outer.curves[0], read.profiles[0].outer.curves[0]
    assert after.poles.tolist() == before.poles.tolist()
    assert after.weights.shape == (0,)
