"""What commands say: once, in the right number, with the options as they are typed."""

from __future__ import annotations

import typing
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from batch_models import Here, plate
from planform import resting
from planform.batch.settings import Settings
from planform.cli import main
from planform.naming import counted, name_fits
from planform.planning.machine import CutFigures
from planform.planning.sheet_plan import PlanSettings
from planform.words import WORDS


def test_counted() -> None:
    assert [counted(n, "plate") for n in (0, 1, 2)] == ["0 plates", "1 plate", "2 plates"]
    assert counted(1, "entity", "entities") == "1 entity"
    assert counted(3, "entity", "entities") == "3 entities"


@pytest.mark.parametrize(
    ("pattern", "name", "part", "whole"),
    [
        ("roof", "Roof panel", True, False),
        ("ROOF PANEL", "roof panel", True, True),
        ("roof*", "Roof panel", True, True),
        ("*panel", "Roof panel", True, True),
        ("panel*", "Roof panel", False, False),
        ("r??f panel", "roof panel", True, True),
        ("[a]", "x[a]y", True, False),
        ("[a]*", "[a]y", True, True),
        ("[a]*", "ay", False, False),
        ("r\u00fcck", "Ru\u0308ckwand", True, False),
        ("", "anything", True, False),
    ],
)
def test_names_that_fit(pattern: str, name: str, part: bool, whole: bool) -> None:
    assert name_fits(pattern, name) == part
    assert name_fits(pattern, name, whole=True) == whole


LITERALS: dict[object, dict[str, str]] = {
    Settings: {"at": "at", "marks": "marks", "merge": "merge", "unit": "unit", "curves": "curves",
               "heal": "heal", "verify": "verify"},
    planform.Allowances: {"fit_on": "fit_on", "relief_style": "relief_style"},
    planform.Finishing: {"bridge_hold": "hold"},
    planform.sections: {"merge": "merge", "side": "side"},
    resting.found: {"severity": "severity"},
    PlanSettings: {"order": "order", "start": "start"},
    CutFigures: {"entry_shape": "entry_shape"},
}  # fmt: skip
"""Where Python writes words in its own types: the parameter, and what the compiled part calls them."""


def test_types_in_python_have_the_words_of_the_compiled_part() -> None:
    for owner, names in LITERALS.items():
        hints = typing.get_type_hints(owner)
        for name, word in names.items():
            assert set(typing.get_args(hints[name])) == set(WORDS[word]), (owner, name)


def test_types_in_stubs_have_all_words() -> None:
    text = (Path(planform.__file__).parent / "_planform.pyi").read_text()
    assert len(WORDS) >= 33 and len(WORDS["not_flat"]) == 11
    for name, words in WORDS.items():
        assert len(set(words)) == len(words) >= 2, name
        literal = f"typing.Literal[{', '.join(map(repr, words))}]"
        assert literal in text, name


def test_one_of_each_is_said_in_the_singular(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = str(plate(tmp_path / "a.step", 80))
    assert main(["flatten", source, "--out", str(tmp_path / "cut")]) == 0
    assert "1 drawing of 1 solid in " in capsys.readouterr().out
    assert main(["plates", source, "--out", str(tmp_path / "plates")]) == 0
    assert "1 plate, 1 piece to cut, 0 solids that are no plates, in" in capsys.readouterr().out
    assert main(["show", source]) == 0
    assert "1 solid, 1 distinct shape;" in capsys.readouterr().out


def test_an_error_names_a_path_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "in" / "broken.step"
    broken.parent.mkdir()
    broken.write_text("ISO-10303-21;\nHEADER;\n")
    summary = planform.flatten_all(tmp_path / "in", tmp_path / "out", executor=Here())
    (line,) = summary.errors
    assert line.count("broken.step") == 1
    for arguments in (["flatten", str(broken), "--out", str(tmp_path / "cut")], ["show", str(broken)],
                      ["inspect", str(broken)],
                      ["plates", str(broken), "--out", str(tmp_path / "cut")]):  # fmt: skip
        assert main(arguments) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert line.count("broken.step") == 1, line
    rules = tmp_path / "materials.toml"
    rules.write_text("[[rule]]\nname = 'x'\n")
    source = str(plate(tmp_path / "a.step", 80))
    assert main(["plates", source, "--out", str(tmp_path / "cut"), "--materials", str(rules)]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.count("materials.toml") == line.count("material rules") == 1


def test_why_a_model_is_done_again_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plate(tmp_path / "in" / "a.step", 80)
    call = ["batch", str(tmp_path / "in"), "--out", str(tmp_path / "out"), "--workers", "1"]
    planform.flatten_all(tmp_path / "in", tmp_path / "out", executor=Here())

    def pending(*more: str) -> str:
        main([*call, "--check", *more])
        return capsys.readouterr().out.splitlines()[0]

    assert pending() == "0 of 1 model to do"
    assert pending("--redo") == "again: a.step (asked for)"
    assert (
        pending("--unit", "inch") == "changed: a.step (the options or planform itself have changed)"
    )
    (tmp_path / "out" / "a" / "a.dxf").write_text("touched")
    assert pending() == "again: a.step (a.dxf has been changed)"
    (tmp_path / "out" / "a" / "a.dxf").unlink()
    assert pending() == "again: a.step (a.dxf is missing)"
    plate(tmp_path / "in" / "a.step", 90)
    assert pending() == "changed: a.step (the model has changed)"
    assert main([*call, "--report"]) == 0
    assert "changed: a.step (the model has changed)" in capsys.readouterr().out
    assert "changed: the model has changed" in (tmp_path / "out" / "report.html").read_text()


def test_instances_keep_their_names_in_lists(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    gable = kernel.box(60, 40, 3)
    parts = [("gable left", gable), ("gable right", kernel.moved(gable, 90, 0))]
    source = str(kernel.write_step(parts, tmp_path / "a.step"))
    assert main(["plates", source, "--out", str(tmp_path / "plates")]) == 0
    assert "gable left; gable right" in capsys.readouterr().out
    assert main(["flatten", source, "--out", str(tmp_path / "cut"), "--report"]) == 0
    said = capsys.readouterr().out + (tmp_path / "cut" / "report.html").read_text()
    assert "gable left" in said and "gable right" in said


def test_rules_that_had_nothing_to_look_at_are_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = str(plate(tmp_path / "a.step", 80))
    rules = tmp_path / "rules.toml"
    rules.write_text(
        '[open_end]\nseverity = "warning"\n[sheet]\nseverity = "note"\n[web]\nlimit = 0.4\n'
    )
    assert main(["inspect", source, "--rules", str(rules)]) == 0
    said = capsys.readouterr().err
    assert "rule open_end had nothing to look at: no drawing was inspected" in said
    assert "rule sheet had nothing to look at: --sheet gives the size" in said
    assert "rule web" not in said


def test_inch_is_read_by_its_short_word_too(tmp_path: Path) -> None:
    source = str(plate(tmp_path / "a.step", 80))
    for word in ("in", "inch"):
        out = tmp_path / word
        arguments = ["flatten", source, "--out", str(out), "--formats", "json", "--read-unit", word]
        assert main(arguments) == 0
        low, high = planform.ProfileSet.from_json(out / "a.json").bounds
        assert high[0] - low[0] == pytest.approx(80 * 25.4)
