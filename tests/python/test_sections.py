"""Stacks of sections from Python."""

import itertools
from pathlib import Path

import planform
import pytest


@pytest.fixture(scope="module")
def model(tmp_path_factory: pytest.TempPathFactory) -> planform.Model:
    path: Path = tmp_path_factory.mktemp("sections") / "station.step"
    return planform.load(planform.write_demo_assembly(path))


def test_each_section_of_a_stack_is_that_of_section(model: planform.Model) -> None:
    datum = planform.Datum.xy()
    offsets = [5.0, 10.0, 20.0]
    stack = list(planform.sections(model, datum, offsets))
    assert [cut.digest for cut in stack] == [
        planform.section(model, datum, offset).digest for offset in offsets
    ]
    assert sum(cut.area for cut in stack) > 0.0


def test_sections_come_one_at_a_time(model: planform.Model) -> None:
    endless = planform.sections(model, planform.Datum.xy(), itertools.count(5.0))
    assert [cut.datum.origin[2] for cut in itertools.islice(endless, 3)] == [5.0, 6.0, 7.0]


def test_extent_holds_the_solid(model: planform.Model) -> None:
    solid = model.solids[0]
    low, high = planform.SectionStack(solid, planform.Datum.xy()).extent
    assert low <= solid.bounds[0][2] + 1e-6
    assert high >= solid.bounds[1][2] - 1e-6


def test_the_side_decides_in_a_face(model: planform.Model) -> None:
    solid = model.solids[0]
    datum = planform.auto_datum(solid)
    # The part lies on the datum: all material is above it.
    assert planform.section(solid, datum, side="below").area == 0.0
    assert planform.section(solid, datum, side="above").area > 0.0
    with pytest.raises(planform.GeometryError, match="'below', 'above'"):
        planform.section(solid, datum, side="under")  # type: ignore[arg-type]
