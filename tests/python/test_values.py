"""Values behave as values: whatever class is public pickles, copies, compares, hashes and shows itself.

Every class in ``planform.__all__`` is tried; a new one fails here until it has its example in
``public_values.py``."""

from __future__ import annotations

import concurrent.futures
import copy
import functools
import multiprocessing
import pickle
from pathlib import Path
from typing import Any

import numpy as np
import planform
import public_values
import pytest

CLASSES = sorted(name for name in planform.__all__ if isinstance(getattr(planform, name), type))

# Compared by identity, each with its reason.
ITSELF_ALONE = {
    "NotPlaced": "names the piece itself",
    "Piece": "two equal pieces of a job are two pieces",
    "Placement": "places the piece itself",
    "Stock": "two equal sheets of a stock are two sheets",
    **dict.fromkeys(
        [name for name in CLASSES if issubclass(getattr(planform, name), BaseException)],
        "an exception, as all of Python's",
    ),
}
# Deliberately without a hash, each with its reason.
UNHASHABLE: dict[str, str] = {}


@pytest.fixture(scope="module")
def values(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return public_values.examples(tmp_path_factory.mktemp("values"))


def test_every_public_class_has_an_example(values: dict[str, Any]) -> None:
    assert len(CLASSES) > 80
    assert set(values) == set(CLASSES)
    for name, value in values.items():
        assert type(value) is getattr(planform, name)


@pytest.mark.parametrize("name", CLASSES)
def test_value(name: str, values: dict[str, Any]) -> None:
    value = values[name]
    for protocol in (2, pickle.HIGHEST_PROTOCOL):
        again = pickle.loads(pickle.dumps(value, protocol))
        assert type(again) is type(value)
        assert_alike(again, value)
        assert_same_attributes(again, value)
    assert_alike(copy.copy(value), value)
    assert_alike(copy.deepcopy(value), value)
    assert value == value
    assert value != object()
    text = repr(value)
    assert name in text or name == "LooseCurve", text
    assert "object at 0x" not in text
    assert "\n" not in text or len(text) > 200


def assert_alike(again: Any, value: Any) -> None:
    name = type(value).__name__
    if name in ITSELF_ALONE:
        assert str(again) == str(value)
        return
    assert again == value
    assert value == again
    if name in UNHASHABLE:
        with pytest.raises(TypeError, match="unhashable"):
            hash(value)
    else:
        assert hash(again) == hash(value)
        assert len({again, value}) == 1


def assert_same_attributes(again: Any, value: Any) -> None:
    """Also of what equality doesn't look at."""
    looked_at = 0
    for name in dir(type(value)):
        if name.startswith("_") or isinstance(value, BaseException):
            continue
        member = getattr(type(value), name, None)
        if not isinstance(member, property | functools.cached_property):
            continue
        looked_at += 1
        first, second = getattr(again, name), getattr(value, name)
        if isinstance(first, np.ndarray):
            np.testing.assert_array_equal(first, second, err_msg=name)
        elif isinstance(first, float):
            assert first == second or (np.isnan(first) and np.isnan(second)), name
        elif type(first).__name__ not in ITSELF_ALONE:
            assert repr(first) == repr(second), name
    # A rule set has its rules as items, not as attributes.
    compiled = type(value).__module__.endswith("_planform")
    assert looked_at or not compiled or isinstance(value, planform.RuleSet)


def test_different_values_differ(values: dict[str, Any]) -> None:
    line = planform.Line((0, 0), (1, 0))
    assert line != planform.Line((0, 0), (1, 1e-12))
    assert line != line.reversed()
    contour = values["Contour"]
    assert contour != contour.reversed()
    assert planform.Provenance("edge", 0, 1) != planform.Provenance("fold", 0, 1)
    first = values["Profile"]
    assert first != planform.Profile(first.outer, first.holes[:1], first.name)
    assert first != planform.Profile(first.outer, first.holes, "other")
    mark = values["Mark"]
    assert mark != planform.Mark(mark.contour, mark.name, mark.depth + 1)
    assert planform.Datum.xy() != planform.Datum.xz()
    rules = planform.RuleSet()
    assert rules == planform.RuleSet()
    assert rules != rules.with_limit("web", 1.75)
    assert planform.Line((0, 0), (1, 0)) == planform.Line((-0.0, 0), (1, 0))
    assert hash(planform.Line((0, 0), (1, 0))) == hash(planform.Line((-0.0, 0), (1, 0)))


def test_caches_know_equal_datums() -> None:
    calls = []

    @functools.lru_cache
    def width(datum: planform.Datum) -> int:
        calls.append(datum)
        return len(calls)

    assert [width(planform.Datum.xz()) for _ in range(3)] == [1, 1, 1]
    assert width(planform.Datum.yz()) == 2
    assert width(planform.Datum((0, 0, 0), (0, -1, 0), (1, 0, 0))) == 1


def test_solids_compare_by_what_they_are(tmp_path: Path) -> None:
    path = planform.write_demo_assembly(tmp_path / "station.step")
    first, second = planform.load(path), planform.load(path)
    assert first == second
    assert first.solids == second.solids
    names = {solid: number for number, solid in enumerate(first)}
    assert len(names) == len(first)
    assert [names[solid] for solid in second] == list(range(len(first)))
    # Two instances of one shape are two solids.
    instances = [s for s in first if s.shape_index == first[0].shape_index]
    assert all(a != b for i, a in enumerate(instances) for b in instances[:i])


def test_sets_keep_all_that_is_theirs(values: dict[str, Any]) -> None:
    outline = values["ProfileSet"]
    again = pickle.loads(pickle.dumps(outline))
    assert again.to_json() == outline.to_json()
    assert again.data == outline.data == {"order": 17, "wood": ["oak", "larch"], "oiled": True}
    assert again.to_dxf() == outline.to_dxf()
    plate = values["Plate"].outline
    assert plate.proof.laws
    assert pickle.loads(pickle.dumps(plate)).proof == plate.proof


def damaged(state: Any, generator: np.random.Generator) -> Any:
    """The state with one number, byte or item of it changed."""
    if isinstance(state, tuple) and state:
        place = int(generator.integers(len(state)))
        if generator.random() < 0.1:
            return state[:place] + state[place + 1 :]
        return (*state[:place], damaged(state[place], generator), *state[place + 1 :])
    if isinstance(state, bytes) and state:
        place = int(generator.integers(len(state)))
        flipped = state[place] ^ (1 << int(generator.integers(8)))
        return state[:place] + bytes([flipped]) + state[place + 1 :]
    if isinstance(state, bool):
        return not state
    if isinstance(state, int):
        return state ^ (1 << int(generator.integers(16)))
    if isinstance(state, float):
        return float(np.nextafter(state, np.inf)) if state == state else 0.0
    return 7


@pytest.mark.parametrize(
    "name", [name for name in CLASSES if getattr(planform, name).__module__.endswith("_planform")]
)
def test_damaged_pickles_are_refused(name: str, values: dict[str, Any]) -> None:
    """Of what is compiled: no crash, no value with a number changed, no error of the binding."""
    value = values[name]
    function, arguments, state = value.__reduce_ex__(2)[:3]
    generator = np.random.default_rng(len(name))
    whole = function(*arguments)
    whole.__setstate__(state)
    assert_alike(whole, value)
    changes = [damaged(state, generator) for _ in range(40)]
    changes = [change for change in changes if change != state]
    assert len(changes) > 30
    for change in [*changes, (), (state[0],), state[0], None]:
        empty = function(*arguments)
        with pytest.raises(planform.Error) as caught:
            empty.__setstate__(change)
        assert "\n" not in str(caught.value)
        if isinstance(change, tuple):
            assert caught.value.kind == "file_damaged", change
            assert name in str(caught.value)


def test_values_travel_to_spawned_processes(values: dict[str, Any]) -> None:
    there = list(values.values())
    context = multiprocessing.get_context("spawn")
    with concurrent.futures.ProcessPoolExecutor(1, mp_context=context) as pool:
        back = pool.submit(public_values.same, there).result(timeout=120)
        volume = pool.submit(public_values.volume, values["Solid"]).result(timeout=120)
        outline = pool.submit(planform.silhouette, values["Solid"], "xy").result(timeout=120)
        inspected = pool.submit(planform.inspect, outline, 3.0).result(timeout=120)
    for sent, returned in zip(there, back, strict=True):
        assert_alike(returned, sent)
    assert volume == values["Solid"].volume
    assert outline == planform.silhouette(values["Solid"], "xy")
    assert inspected == planform.inspect(outline, 3.0)


def test_values_travel_to_dask_workers(values: dict[str, Any]) -> None:
    distributed = pytest.importorskip("distributed")
    solids = list(values["Model"])[:4]
    with (
        distributed.LocalCluster(
            n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None
        ) as cluster,
        distributed.Client(cluster) as client,
    ):
        volumes = client.gather(client.map(public_values.volume, solids))
        (back,) = client.submit(public_values.same, [values["Model"]]).result(timeout=120)
    assert volumes == [solid.volume for solid in solids]
    assert back == values["Model"]


def test_a_stack_of_solids_of_two_models_keeps_each() -> None:
    """Solids of several models may have the same index of a shape."""
    import kernel_models as kernel

    box, rod = (
        planform.from_ocp(body).solids[0]
        for body in (kernel.box(30, 20, 10), kernel.cylinder(4, 10))
    )
    datum = planform.Datum((0, 0, 5), (0, 0, 1))
    for pair in ([box], [rod], [box, rod], [rod, box]):
        stack = planform.SectionStack(pair, datum)
        again = pickle.loads(pickle.dumps(stack))
        assert again.at(0).area == pytest.approx(stack.at(0).area, abs=1e-9)
