"""The long run, third part: which bodies of the electronic parts are plates, why the rest are none. None of
them is: they are moulded, bent, or carry pins and leads. That was judged by eye on twenty pictures
(plate_pictures.py makes them, DEVELOPERS.md lists them); the rest are of the same families. Run it by
``.ci/long``."""

from __future__ import annotations

from pathlib import Path

import planform
import pytest
from long_packages import FILES


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_no_body_of_an_electronic_part_is_a_plate(
    path: Path, real_file_results: dict[str, list[str]]
) -> None:
    try:
        model = planform.load(path)
    except planform.LoadError as error:
        assert error.kind == "no_solid"
        real_file_results.setdefault("no closed body", []).append(path.name)
        return
    found = planform.plates(model)
    for other in found.others:
        for solid in other.solids:
            label = f"{path.name}, solid {solid + 1}: {other.text}"
            real_file_results.setdefault(f"no plate, {other.word}", []).append(label)
    assert sum(len(other.solids) for other in found.others) == len(model.solids), found.plates
    assert [plate.name for plate in found.plates] == []
    assert all(other.word != "not measured" for other in found.others)
