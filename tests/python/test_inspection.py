"""Rules, findings, rule files, the command's exit status; no false alarms on straight plates."""

from __future__ import annotations

import json
import math
from pathlib import Path

import planform as pf
import pytest
from planform import _planform
from planform.batch import Settings
from planform.cli import main
from planform.cli.inspect_inputs import load_inputs
from random_outlines import circle, polygon
from test_narrow_places import slot

INCH = 25.4
PLATE = polygon([(-50, -30), (50, -30), (50, 30), (-50, 30)])


def plate(*holes: pf.Contour, scale: float = 1.0, turn: float = 0.0) -> pf.ProfileSet:
    cosine, sine = scale * math.cos(turn), scale * math.sin(turn)
    matrix = [[cosine, -sine, 0], [sine, cosine, 0], [0, 0, 1]]
    contours = [
        pf.Contour([curve.transformed(matrix) for curve in contour.curves])
        for contour in (PLATE, *holes)
    ]
    return pf.ProfileSet([pf.Profile(contours[0], contours[1:])])


def rules_found(profiles: pf.ProfileSet, **options: object) -> list[str]:
    return [finding.rule for finding in pf.inspect(profiles, **options)]  # type: ignore[arg-type]


@pytest.mark.parametrize("turn", [0.0, 0.7, math.pi / 2])
@pytest.mark.parametrize("unit", [1.0, INCH])
@pytest.mark.parametrize("shape", ["hole", "slot", "web", "edge"])
def test_half_a_thickness_is_the_limit(shape: str, unit: float, turn: float) -> None:
    # 3 mm (or inch) thick: 1.49 is flagged, 1.51 and 1.5 itself are not.
    def found(width: float) -> list[str]:
        holes = {
            "hole": [circle((3, 4), width / 2)],
            "slot": [slot(6, width / 2)],
            "web": [circle((-5, 0), 5), circle((5 + width, 0), 5)],
            "edge": [circle((44 - width, 0), 6)],
        }[shape]
        return rules_found(plate(*holes, scale=unit, turn=turn), thickness=3 * unit)

    expected = "inner_width" if shape in ("hole", "slot") else "web"
    assert expected in found(1.49)
    assert expected not in found(1.5)
    assert expected not in found(1.51)
    assert set(found(1.51)) <= {"gauge", "drop_out"}  # what else is said of a plate in inches


def test_findings_say_what_where_and_how_much() -> None:
    findings = pf.inspect(plate(circle((3, 4), 0.745), circle((20, 0), 5)), 3.0)
    assert len(findings) == 1
    finding = findings[0]
    assert (finding.rule, finding.severity, finding.unit) == ("inner_width", "error", "mm")
    assert finding.measured == pytest.approx(1.49, abs=1e-9)
    assert finding.limit == 1.5
    assert finding.place == pytest.approx((3, 4))
    assert (finding.profile, finding.contour) == (0, 1)
    assert "1.49 mm" in finding.text
    assert "1.5 mm" in finding.text


def test_contours() -> None:
    square = polygon([(0, 0), (0, 8), (8, 8), (8, 0)])
    corners = pf.inspect(plate(square), 2.0)
    assert [f.rule for f in corners] == ["sharp_corner"]
    assert corners[0].measured == pytest.approx(90.0)
    assert len(corners[0].points) == 4
    assert rules_found(plate(circle((0, 0), 0.09)), rules=only("small_arc")) == ["small_arc"]
    assert rules_found(plate(circle((0, 0), 0.11)), rules=only("small_arc")) == []
    short = polygon([(0, 0), (0, 8), (0.04, 8.0), (8, 8), (8, 0)])
    assert rules_found(plate(short), rules=only("short_segment")) == ["short_segment"]
    # A circle of 0.3 mm is 0.94 mm long.
    little = plate(circle((0, 0), 0.15))
    assert rules_found(little, thickness=1.0, rules=only("short_contour")) == ["short_contour"]
    assert rules_found(little, thickness=0.9, rules=only("short_contour")) == []
    count = 60
    round_corners = polygon(
        [
            (9 * math.cos(-k * 2 * math.pi / count), 9 * math.sin(-k * 2 * math.pi / count))
            for k in range(count)
        ]
    )
    few = only("many_points").with_limit("many_points", 59)
    found = pf.inspect(plate(round_corners), rules=few)
    assert [(f.rule, f.measured, f.limit) for f in found] == [("many_points", 60.0, 59.0)]


def only(*names: str) -> pf.RuleSet:
    rules = pf.RuleSet()
    for rule in rules:
        rules = rules.with_enabled(rule.name, rule.name in names)
    return rules


def test_loose_pieces() -> None:
    def ring(name: str, parent: int = -1, radius: float = 10.0) -> pf.Profile:
        return pf.Profile(circle((0, 0), radius), [circle((0, 0), radius - 2)], name, parent)

    loose = pf.ProfileSet([ring("plate"), ring("plate", 0, 7.0)])
    assert rules_found(loose) == ["island"]
    nested = pf.ProfileSet([ring("plate"), ring("lid", 0, 7.0)])
    assert rules_found(nested) == ["part_in_hole"]
    big = pf.ProfileSet([pf.Profile(circle((0, 0), 200), [circle((0, 0), 101)])])
    found = pf.inspect(big, rules=only("drop_out"))
    assert [(f.rule, f.measured) for f in found] == [("drop_out", pytest.approx(202.0))]


def test_touching_in_a_point() -> None:
    def square(x: float, y: float) -> pf.Contour:
        return polygon([(x, y), (x + 10, y), (x + 10, y + 10), (x, y + 10)])

    corner = pf.ProfileSet([pf.Profile(square(0, 0)), pf.Profile(square(10, 10))])
    found = pf.inspect(corner)
    assert [f.rule for f in found] == ["point_touch"]
    assert found[0].place == pytest.approx((10, 10))
    # Two discs that touch; a hole that touches the edge; apart by 0.1 mm nothing touches.
    discs = pf.ProfileSet([pf.Profile(circle((0, 0), 5)), pf.Profile(circle((10, 0), 5))])
    assert rules_found(discs) == ["point_touch"]
    assert rules_found(plate(circle((40, 0), 10))) == ["point_touch"]
    assert rules_found(plate(circle((39.9, 0), 10))) == []


def test_sheet() -> None:
    assert rules_found(plate(), sheet=(100, 60)) == []
    assert rules_found(plate(), sheet=(60, 100)) == []  # turned
    found = pf.inspect(plate(), sheet=pf.Sheet(105, 65, margin=3))
    assert [(f.rule, f.measured, f.limit) for f in found] == [("sheet", 100.0, 99.0)]
    assert rules_found(plate(), sheet=pf.Sheet(106, 66, margin=3)) == []
    with pytest.raises(pf.GeometryError):
        pf.inspect(plate(), sheet=(0, 10))


@pytest.mark.parametrize(
    ("thickness", "factor"),
    [
        (3.0, None),
        (1.5875, None),  # 1/16 inch
        (1.5189, None),  # 0.0598 inch, gauge 16
        (0.125, INCH),  # 1/8 inch read as mm
        (0.0598, INCH),
        (3.0 * INCH * 25.4, 1 / INCH),  # 76.2 mm read as inches
        (2.37, None),  # neither
    ],
)
def test_gauges(thickness: float, factor: float | None) -> None:
    found = pf.inspect(plate(), thickness, rules=only("gauge"))
    if factor is None:
        assert list(found) == []
    else:
        assert [f.rule for f in found] == ["gauge"]
        assert found[0].limit / found[0].measured == pytest.approx(factor)  # type: ignore[operator]


def test_sizes_in_the_other_unit() -> None:
    found = pf.inspect(plate(scale=1 / INCH))
    assert [f.rule for f in found] == ["smallest_size"]
    assert "3.937 x 2.3622 mm" in found[0].text
    assert rules_found(plate(scale=100.0)) == ["largest_size"]


def test_every_rule_can_be_changed() -> None:
    rules = pf.RuleSet()
    words = [rule.name for rule in rules]
    assert len(words) == len(set(words)) == len(rules)
    for rule in rules:
        assert rule.description.endswith(".")
        assert rule.source
        assert rules.with_severity(rule.name, "note")[rule.name].severity == "note"
        assert not rules.with_enabled(rule.name, False)[rule.name].enabled
        if rule.unit:
            assert rules.with_limit(rule.name, 7.0)[rule.name].limit == 7.0
        else:
            with pytest.raises(pf.GeometryError):
                rules.with_limit(rule.name, 7.0)
    assert rules.with_limit("web", 2.0, "mm")["web"].unit == "mm"
    with pytest.raises(pf.GeometryError, match="degrees"):
        rules.with_limit("sharp_corner", 2.0, "mm")
    with pytest.raises(pf.GeometryError, match="'web'"):
        rules.with_limit("webb", 2.0)  # type: ignore[arg-type]


def test_rule_files(tmp_path: Path) -> None:
    (tmp_path / "rules.toml").write_text(
        '[web]\nlimit = 2\nunit = "mm"\nseverity = "warning"\n[sharp_corner]\nenabled = false\n'
    )
    rules = pf.read_rules(tmp_path / "rules.toml")
    assert (rules["web"].limit, rules["web"].unit, rules["web"].severity) == (2.0, "mm", "warning")
    assert not rules["sharp_corner"].enabled
    assert rules["neck"].limit == pf.RuleSet()["neck"].limit
    (tmp_path / "rules.json").write_text(json.dumps({"neck": {"limit": 0.75}}))
    assert pf.read_rules(tmp_path / "rules.json")["neck"].limit == 0.75
    # The whole default set, written and read, is the default set.
    (tmp_path / "all.toml").write_text(pf.rules_toml())
    again = pf.read_rules(tmp_path / "all.toml")
    assert [repr(rule) for rule in again] == [repr(rule) for rule in pf.RuleSet()]


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.toml", "[webs]\nlimit = 1", "inner_width, web, neck"),
        ("a.toml", "[web]\nlimits = 1", "enabled, severity, limit, unit"),
        ("a.toml", '[web]\nseverity = "bad"', "'note', 'warning', 'error'"),
        ("a.toml", "[web]\nlimit = -1", "negative"),
        ("a.toml", '[web]\nlimit = "wide"', "is no length"),
        ("a.toml", "[web]\nenabled = 1", "true or false"),
        ("a.toml", "web = 3", "table"),
        ("a.toml", "[web\n", "a.toml"),
        ("a.json", "[1]", "one table a rule"),
        ("a.json", '{"sheet": {"limit": 3}}', "has no limit"),
        ("a.yaml", "web: 3", ".toml and .json"),
    ],
)
def test_rule_files_that_make_no_sense(tmp_path: Path, name: str, content: str, said: str) -> None:
    (tmp_path / name).write_text(content)
    with pytest.raises(pf.LoadError) as caught:
        pf.read_rules(tmp_path / name)
    assert said in str(caught.value)
    assert name in str(caught.value)


def test_the_same_input_gives_the_same_findings() -> None:
    holes = [circle((x, y), 1.0) for x in range(-40, 41, 5) for y in range(-20, 21, 5)]
    once, again = (pf.inspect(plate(*holes), 10.0) for _ in range(2))
    assert len(once) > 300
    assert [repr(f) for f in once] == [repr(f) for f in again]
    severities = [f.severity for f in once]
    assert severities == sorted(severities, key=["error", "warning", "note"].index)
    # All holes, and all webs between neighbours: 17 x 9 holes, 16 x 9 + 17 x 8 webs of 3 mm.
    assert sum(f.rule == "inner_width" for f in once) == 17 * 9
    assert sum(f.rule == "web" and abs(f.measured - 3) < 1e-9 for f in once) == 16 * 9 + 17 * 8  # type: ignore[operator]


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return pf.write_demo_assembly(tmp_path_factory.mktemp("station") / "station.step")


def test_no_false_alarms_on_the_demo(station: Path) -> None:
    inspected = list(load_inputs([station], Settings()))
    assert len(inspected) >= 8
    for source in inspected:
        assert source.profiles is not None, source.error
        assert source.thickness is not None
        found = pf.inspect(source.profiles, source.thickness, features=source.features)
        assert [
            f for f in found.at_least("warning") if f.rule not in ("island", "straight_cut")
        ] == []


def test_command(station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = [tmp_path / name for name in ("found.json", "page.html", "picture.svg")]
    call = ["inspect", str(station), "--json", str(files[0]), "--html", str(files[1])]
    assert main([*call, "--picture", str(files[2]), "--fail-on", "never", "--density", "7.85"]) == 0
    data = json.loads(files[0].read_text())
    assert len(data["drawings"]) == len(list(tmp_path.glob("picture-*.svg")))
    page = files[1].read_text()
    assert "Mass" in page
    assert "<script" not in page
    assert "in)" in capsys.readouterr().out  # inches beside mm
    (tmp_path / "strict.toml").write_text("[web]\nlimit = 50\n[inner_width]\nlimit = 50\n")
    strict = ["inspect", str(station), "--rules", str(tmp_path / "strict.toml")]
    assert main(strict) == 1
    assert main([*strict, "--fail-on", "never"]) == 0
    assert main(["inspect", str(tmp_path / "missing.step")]) == 2
    assert main(["inspect", str(station), "--rules", str(tmp_path / "none.toml")]) == 2
    assert main(["inspect", str(station), "--thickness", "-1"]) == 2
    assert main(["inspect", "--list-rules"]) == 0
    listed = capsys.readouterr().out
    assert all(rule.name in listed for rule in pf.RuleSet())


def test_words_of_python_are_those_of_the_library() -> None:
    # The stubs' list of rules and the library's: each word of one is known to the other.
    rules = pf.RuleSet()
    for rule in rules:
        finding = _planform.Finding(rule.name, "note", (0.0, 0.0), "text")
        assert finding.rule == rule.name
