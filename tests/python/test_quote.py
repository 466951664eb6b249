"""Times and costs against closed forms; drawings of plans read back by ezdxf; the pages in Chromium."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import planform as pf
import pytest
from ezdxf import recover
from job_files import MACHINE, roof, tray, write_job
from planform.jobs.run import run_job
from planform.planning.drawing import plan_dxf, plan_svg, strokes_of
from planform.planning.machine import Machine, Rates
from planform.planning.quote import Quote
from planform.planning.sheet_plan import PlanSettings, SheetPlan, plan_sheet
from planform.sheets.values import Piece, Placement, Sheet, Stock


@pytest.fixture(scope="module")
def machine(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    """The machine of the test job."""
    path = tmp_path_factory.mktemp("machine") / "machine.toml"
    path.write_text(MACHINE)
    return Machine.read(path)


def sheet(count: int = 1, price: float | None = 8.0) -> Sheet:
    """Two trays, one turned, and a roof."""
    stock = Stock.rectangle(300, 200, material="larch", thickness=4.0, price=price)
    pieces = [Piece("tray", tray(), 2, "larch", 4.0), Piece("roof", roof(), 1, "larch", 4.0)]
    placements = (
        Placement(pieces[0], 10, 10),
        Placement(pieces[0], 120, 10, math.pi / 2),
        Placement(pieces[1], 200, 100),
    )
    return Sheet(stock, placements, "larch", 4.0, count)


def planned(machine: Machine, **settings: Any) -> SheetPlan:
    """The sheet's plan."""
    return plan_sheet(sheet(), machine, PlanSettings(**settings), name="sheet 1")


def test_sums_equal_their_parts(machine: Machine) -> None:
    plans = [
        plan_sheet(sheet(3), machine, name="sheet 1"),
        plan_sheet(sheet(1), machine, PlanSettings(hold=0.5), name="sheet 2"),
    ]
    quote = Quote.of(plans, machine)
    for name in ("cut_length", "mark_length", "cutting_time", "pierce_time", "travel_time"):
        whole = getattr(quote.effort, name)
        assert whole > 0
        for lines in (quote.pieces, quote.sheets):
            assert math.fsum(getattr(line.effort, name) for line in lines) == pytest.approx(
                whole, rel=1e-12
            )
    assert sum(line.quantity for line in quote.pieces) == quote.effort.pieces == 12
    assert quote.effort.sheets == 4
    for lines in (quote.pieces, quote.sheets):
        assert math.fsum(line.price for line in lines) == pytest.approx(quote.price, rel=1e-12)
    assert quote.price == pytest.approx(math.fsum(quote.costs.values()), rel=1e-15)
    # The rates by hand.
    assert quote.costs["machine"] == pytest.approx(60 * quote.effort.seconds / 3600)
    assert quote.costs["pierces"] == pytest.approx(0.02 * quote.effort.pierces)
    assert quote.costs["metres"] == pytest.approx(0.3 * quote.effort.cut_length / 1000)
    assert quote.costs["sheets"] == pytest.approx(2.0 * 4)
    assert quote.costs["handling"] == pytest.approx(0.5 * 12)
    assert quote.costs["stock"] == pytest.approx(8.0 * 4)
    assert quote.missing == ()


def test_a_disc_by_hand(machine: Machine) -> None:
    """One disc without acceleration: entry and circumference at 20 mm/s, a pierce, the way from home at 200
    mm/s."""
    plain = replace(machine, acceleration=None)
    disc = pf.ProfileSet([pf.Profile(pf.Contour([pf.Arc((0, 0), 10)]))])
    placed = Placement(Piece("disc", disc, 1, "larch", 4.0), 50, 50)
    one = Sheet(Stock.rectangle(100, 100, price=1.0), (placed,), "larch", 4.0)
    quote = Quote.of([plan_sheet(one, plain)], plain)
    assert quote.effort.cut_length == pytest.approx(2 + 20 * math.pi, rel=1e-12)
    assert quote.effort.cutting_time == pytest.approx((2 + 20 * math.pi) / 20, rel=1e-12)
    assert quote.effort.pierce_time == pytest.approx(0.4)
    # The middle of the circle is half round from its start: the pierce lies at (38, 50).
    assert quote.effort.travel_time == pytest.approx(math.hypot(38, 50) / 200, rel=1e-12)


def test_what_is_not_known_is_left_out_and_said(machine: Machine) -> None:
    bare = replace(machine, rates=Rates(currency="EUR", pierce=0.1))
    quote = Quote.of([plan_sheet(sheet(price=None), bare)], bare)
    assert list(quote.costs) == ["pierces"]
    assert len(quote.missing) == 5
    assert any("material" in line for line in quote.missing)
    slow = replace(machine, travel_speed=None)
    no_times = Quote.of([plan_sheet(sheet(), slow)], slow)
    assert not no_times.has_times and "machine" not in no_times.costs
    assert any("travel speed" in line for line in no_times.missing)


def test_quote_as_csv_and_json(machine: Machine) -> None:
    quote = Quote.of([planned(machine)], machine)
    rows = list(csv.DictReader(io.StringIO(quote.csv_text())))
    assert [row["kind"] for row in rows] == ["piece", "piece", "sheet", "job"]
    assert float(rows[-1]["price"]) == pytest.approx(quote.price, abs=1e-4)
    assert sum(float(row["price"]) for row in rows[:2]) == pytest.approx(quote.price, abs=1e-3)
    data = json.loads(json.dumps(quote.to_data(), allow_nan=False))
    assert data["planform_quote"] == 1
    assert data["job"]["price"] == quote.price
    assert data["source_of_figures"] == "invented for a test"


ROLE_LAYERS = {"outer": "CUT_OUTER", "hole": "CUT_INNER", "mark": "MARK"}


@pytest.mark.parametrize("unit", ["mm", "inch"])
@pytest.mark.parametrize("hold", [0.0, 0.5])
def test_drawings_read_back_by_ezdxf(
    machine: Machine, unit: Any, hold: float, tmp_path: Path
) -> None:
    plan = plan_sheet(sheet(), machine, PlanSettings(hold=hold), name="sheet 1")
    text = plan_dxf(
        plan,
        unit=unit,
        layers={"entry": {"name": "WAY IN", "color": "#ff00ff"}, "mark": {"color": 3}},
    )
    (tmp_path / "cuts.dxf").write_text(text)
    document, audit = recover.readfile(tmp_path / "cuts.dxf")
    assert not audit.errors and not audit.fixes
    scale = 25.4 if unit == "inch" else 1.0
    assert document.layers.get("WAY IN").dxf.color == 6
    assert document.layers.get("MARK").dxf.color == 3
    entities = [one for one in document.modelspace() if one.dxf.layer != "SHEET"]
    # In the order of the plan, each from where it is cut first.
    expected: list[tuple[str, Any]] = []
    for cut in plan.plan.cuts:
        if cut.entry:
            expected.append(("WAY IN", cut.pierce))
        expected += [(ROLE_LAYERS[cut.role], stretch[0].start) for stretch in cut.stretches]
        expected += [("WAY IN", extra[0].start) for extra in (cut.over_cut, cut.exit) if extra]
    assert len(entities) == len(expected)
    for entity, (layer, start) in zip(entities, expected, strict=True):
        assert entity.dxf.layer == layer
        first = next(iter(entity.vertices()))
        assert (scale * first[0], scale * first[1]) == pytest.approx(tuple(start), abs=1e-9)
    if hold:
        held = [one for one in entities if one.dxf.layer == "CUT_OUTER"]
        assert len(held) == 3 * 3 and not any(one.closed for one in held)
        return
    # With entries removed, the outlines are those of the layout: area by Green's theorem on the bulges.
    areas = sorted(abs(area_of(one)) * scale**2 for one in entities if one.dxf.layer != "WAY IN")
    contours = [
        contour
        for placed in plan.sheet.placements
        for profile in placed.outline.profiles
        for contour in (profile.outer, *profile.holes)
    ]
    contours += [mark.contour for placed in plan.sheet.placements for mark in placed.outline.marks]
    assert areas == pytest.approx(sorted(abs(contour.area) for contour in contours), rel=1e-9)


def area_of(polyline: Any) -> float:
    """Of a closed LWPOLYLINE: shoelace, and for each bulge b over a chord c the segment of the circle with
    the angle 4 atan b (elementary geometry)."""
    points = list(polyline.get_points("xyb"))
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(points, points[1:] + points[:1], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.dist((x0, y0), (x1, y1)) / (2 * math.sin(abs(angle) / 2))
            total += math.copysign(radius**2 / 2 * (abs(angle) - math.sin(abs(angle))), bulge)
    return total


def test_svg_of_a_plan_in_the_order_of_cutting(machine: Machine) -> None:
    from xml.etree import ElementTree

    plan = planned(machine)
    root = ElementTree.fromstring(plan_svg(plan))
    assert root.attrib["width"] == "300.0mm"
    classes = [one.attrib["class"] for one in root if one.tag.endswith("path")]
    names = {
        "sheet": "SHEET",
        "entry": "ENTRY",
        "outer": "CUT_OUTER",
        "inner": "CUT_INNER",
        "mark": "MARK",
    }
    assert classes == [names[stroke.role] for stroke in strokes_of(plan)]


def test_pages_in_chromium(tmp_path: Path) -> None:
    from browser import Browser

    job = write_job(tmp_path)
    odd = tray().with_name('</script><script>alert(1)</script> & "x"')
    odd.to_json(tmp_path / "roof.json")
    job.write_text(job.read_text().replace("quantity = 3", "quantity = 1"))
    summary = run_job(job, tmp_path / "out")
    assert summary.errors == []
    with Browser() as browser:
        browser.open(tmp_path / "out" / "job.html")
        assert browser.complaints() == []
        assert len(browser.requests()) == 1
        count = browser.evaluate("Number(document.querySelector('.follow input').max)")
        assert count == len(
            json.loads((tmp_path / "out" / "plan.json").read_text())["sheets"][0]["cuts"]
        )

        def move(to: int) -> None:
            browser.evaluate(
                "{const s = document.querySelector('.follow input'); "
                f"s.value = {to}; s.dispatchEvent(new Event('input'));}}"
            )

        move(3)
        pale = "document.querySelectorAll('g.later').length"
        assert browser.evaluate(pale) == count - 3
        assert browser.evaluate("document.querySelector('.follow output').value").startswith(
            "cut 3 of"
        )
        assert browser.evaluate("document.querySelectorAll('text.number').length") == count
        # In print there is no slider, and nothing is pale.
        browser.call("Emulation.setEmulatedMedia", media="print")
        style = "getComputedStyle(document.querySelector('{}')).{}"
        assert browser.evaluate(style.format(".follow", "display")) == "none"
        assert browser.evaluate(style.format("g.later", "opacity")) == "1"
        assert browser.evaluate("document.documentElement.scrollWidth <= innerWidth") is True
        text = browser.evaluate("document.body.innerText")
        assert "no machine code" in text and "Before you cut" in text
        browser.open(tmp_path / "out" / "quote.html")
        assert browser.complaints() == []


def test_the_demo_as_a_job(tmp_path: Path) -> None:
    from planform.cli.command import main
    from planform.jobs.demo import write_demo_job

    job = write_demo_job(tmp_path)
    assert main(["machine", str(tmp_path / "machine.toml"), "--check"]) == 0
    assert main(["job", str(job), "--out", str(tmp_path / "out"), "--time", "1"]) == 0
    data = json.loads((tmp_path / "out" / "quote.json").read_text())
    assert data["job"]["pieces"] == 23
    assert "invented" in data["source_of_figures"]
    assert data["missing"] == []
    assert data["job"]["price"] == pytest.approx(
        sum(line["price"] for line in data["sheets"]), rel=1e-12
    )
    plan = json.loads((tmp_path / "out" / "plan.json").read_text())
    assert sum(len(one["cuts"]) for one in plan["sheets"]) > 80
    for name in (
        "job.html",
        "quote.html",
        "quote.csv",
        "sheets.html",
        "cuts_01.dxf",
        "cuts_01.svg",
    ):
        assert (tmp_path / "out" / name).stat().st_size > 0
