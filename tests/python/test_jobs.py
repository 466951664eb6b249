"""Job files: what is done again after a change."""

from __future__ import annotations

import json
import os
import re
import threading
from collections.abc import Callable
from pathlib import Path

import planform as pf
import pytest
from job_files import JOB, tray, write_job
from planform.cli.command import main
from planform.jobs.job_file import read_job
from planform.jobs.run import JobSummary, run_job

SOURCES = {"source 1: tray.json", "source 2: roof.json"}
MADE = {"flatten", "inspect", "fits", "layout", "sheets", "plan", "quote", "page"}


def done(summary: JobSummary) -> set[str]:
    """The steps that were done now; none may have failed."""
    assert summary.errors == []
    return {step.name for step in summary.steps if step.action == "done"}


def stamps(folder: Path) -> dict[str, int]:
    """When each file was written."""
    return {
        path.relative_to(folder).as_posix(): path.stat().st_mtime_ns
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith(".")
    }


@pytest.fixture(scope="module")
def finished(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a job that was done once, in ``out``."""
    folder = tmp_path_factory.mktemp("job")
    job = write_job(folder)
    assert done(run_job(job, folder / "out")) == SOURCES | MADE
    return folder


def replaced(name: str, old: str, new: str) -> Callable[[Path], None]:
    """Changes a text in a file of the job."""

    def change(folder: Path) -> None:
        path = folder / name
        text = path.read_text()
        assert old in text
        path.write_text(text.replace(old, new, 1))

    return change


def other_tray(folder: Path) -> None:
    """Another outline in a drawing."""
    tray(64.0).to_json(folder / "tray.json")


def gone_file(folder: Path) -> None:
    """A result that somebody removed."""
    (folder / "out" / "quote.csv").unlink()


PIECES = MADE
LAYOUT = MADE - {"flatten", "inspect", "fits"}
CHANGES: list[tuple[str, Callable[[Path], object], set[str]]] = [
    ("nothing", lambda folder: None, set()),
    ("a drawing", other_tray, {"source 1: tray.json"} | PIECES),
    ("a rate", replaced("machine.toml", "hour = 60", "hour = 70"), {"quote", "page"}),
    ("a speed", replaced("machine.toml", '"1.2 m/min"', '"1.1 m/min"'), {"plan", "quote", "page"}),
    (
        "the kerf",
        replaced("machine.toml", "kerf = 0.2", "kerf = 0.3"),
        SOURCES | PIECES - {"inspect"},
    ),
    (
        "the order",
        replaced("job.toml", "[layout]", '[cuts]\norder = "along"\n[layout]'),
        {"plan", "quote", "page"},
    ),
    (
        "the gap",
        replaced("job.toml", "time = 1", "time = 1\ngap = 9"),
        LAYOUT,
    ),
    (
        "a price",
        replaced("stock.toml", "price = 8", "price = 9"),
        LAYOUT,
    ),
    (
        "a quantity",
        replaced("job.toml", "quantity = 3", "quantity = 4"),
        LAYOUT,
    ),
    (
        "a layer",
        lambda folder: (folder / "machine.toml").write_text(
            (folder / "machine.toml").read_text() + '[layers.outer]\nname = "BEAM"\n'
        ),
        MADE - {"inspect", "fits", "layout"},
    ),
    (
        "the unit",
        replaced("job.toml", "[layout]", '[options]\nunit = "inch"\n[layout]'),
        MADE - {"inspect", "fits", "layout"},
    ),
    ("the source of figures", replaced("machine.toml", "for a test", "again"), {"quote", "page"}),
    ("a file that is gone", gone_file, {"quote"}),
]


@pytest.mark.parametrize(("what", "change", "expected"), CHANGES, ids=[one[0] for one in CHANGES])
def test_a_change_redoes_what_depends_on_it_and_nothing_else(
    what: str, change: Callable[[Path], None], expected: set[str], finished: Path, tmp_path: Path
) -> None:
    import shutil

    folder = tmp_path / "job"
    shutil.copytree(finished, folder)
    before = stamps(folder / "out")
    change(folder)
    asked = run_job(folder / "job.toml", folder / "out", check=True)
    summary = run_job(folder / "job.toml", folder / "out")
    assert done(summary) == expected
    assert asked.errors == []
    pending = {step.name for step in asked.pending}
    # What is in a source is not known before it is read: then all that may depend on it is pending.
    assert pending >= expected if pending & SOURCES else pending == expected
    redone = {file for step in summary.steps if step.action == "done" for file in step.files}
    after = stamps(folder / "out")
    untouched = {file for file in before if file not in redone}
    assert untouched or len(expected) == len(SOURCES | MADE)
    for file in untouched:
        assert after.get(file) == before[file], file
    assert done(run_job(folder / "job.toml", folder / "out")) == set()


def test_a_layout_that_was_left_behind_is_not_drawn(tmp_path: Path) -> None:
    job = write_job(tmp_path)
    assert done(run_job(job, tmp_path / "out")) == SOURCES | MADE
    (tmp_path / "out" / ".job.json").unlink()  # nobody knows any more what the layout is of
    replaced("stock.toml", "size = ", "sise = ")(tmp_path)
    summary = run_job(job, tmp_path / "out")
    actions = {step.name: step.action for step in summary.steps}
    assert {name: actions[name] for name in ("layout", "sheets", "plan", "quote")} == dict.fromkeys(
        ("layout", "sheets", "plan", "quote"), "failed"
    )
    assert "page" not in actions
    assert any("sise" in error for error in summary.errors)


def test_the_same_job_gives_the_same_bytes(finished: Path, tmp_path: Path) -> None:
    job = write_job(tmp_path / "again")
    run_job(job, tmp_path / "again" / "out")
    for path in (finished / "out").rglob("*"):
        if path.is_file() and not path.name.startswith("."):
            other = tmp_path / "again" / "out" / path.relative_to(finished / "out")
            assert other.read_bytes() == path.read_bytes(), path.name


def test_relative_paths_are_those_of_the_job_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = write_job(tmp_path / "here")
    (tmp_path / "common.toml").write_text(
        'machine = "here/machine.toml"\n[layout]\nseed = 4\ngap = 7\n'
    )
    text = JOB.replace('machine = "machine.toml"\n', 'include = "../common.toml"\n').replace(
        "plain = true", "plain = true\ngap = 8"
    )
    job.write_text(text)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    read = read_job(Path(os.path.relpath(job)))
    assert (read.seed, read.gap) == (4, 8.0), "what a file says itself goes before what it includes"
    assert [path.name for path in read.files] == ["common.toml", "job.toml"]
    assert read.machine is not None and read.machine.is_file()


def test_every_command_takes_a_job_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from planform.jobs.demo import write_demo_job

    job = write_demo_job(tmp_path)
    job.write_text(job.read_text().replace("fit = 0.05", "fit = 0.05\nkerf = 0.4"))
    assert main(["show", str(job)]) == 0
    assert "tray floor" in capsys.readouterr().out
    assert main(["flatten", str(job), "--out", str(tmp_path / "cut"), "--formats", "json"]) == 0
    assert pf.Allowance.from_json(tmp_path / "cut" / "tray_floor.json").kerf == 0.4
    out = ["--out", str(tmp_path / "plates")]
    assert main(["plates", str(job), *out, "--kerf", "0.1"]) == 0
    assert (tmp_path / "plates" / "cut_list.csv").exists()
    assert main(["inspect", str(job), "--fail-on", "never"]) == 0
    capsys.readouterr()
    write_job(tmp_path / "small")
    small = str(tmp_path / "small" / "job.toml")
    assert main(["sheets", small, "--out", str(tmp_path / "sheets"), "--plain"]) == 0
    assert "4 pieces on 1 sheet" in capsys.readouterr().out
    job_file = tmp_path / "small" / "job.toml"
    job_file.write_text(job_file.read_text().replace("plain = true", "plain = true\ngap = 9"))
    machine = tmp_path / "small" / "machine.toml"
    machine.write_text(machine.read_text() + '[layers.outer]\nname = "BEAM"\n')
    assert main(["sheets", small, "--out", str(tmp_path / "sheets"), "--margin", "4"]) == 0
    layout = pf.read_layout(tmp_path / "sheets" / "sheets.json")
    assert (layout.gap, layout.margin) == (9.0, 4.0), "what the command line says goes before"
    assert "BEAM" in (tmp_path / "sheets" / "sheet_01_4mm_larch.dxf").read_text()
    assert main(["machine", small]) == 0
    assert "test beam" in capsys.readouterr().out
    assert main(["flatten", small, "--out", str(tmp_path / "none")]) == 2
    assert "names no model" in capsys.readouterr().err


def test_batch_knows_a_job_as_a_source(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = write_job(tmp_path)
    arguments = ["batch", str(job), "--out", str(tmp_path / "out")]
    assert main([*arguments, "--check"]) == 1
    assert main(arguments) == 0
    assert (tmp_path / "out" / "trays" / "job.html").exists()
    assert main([*arguments, "--check"]) == 0
    other_tray(tmp_path)
    assert main([*arguments, "--check"]) == 1
    capsys.readouterr()
    assert main(arguments) == 0
    assert re.search(r"source 1: tray.json +done", capsys.readouterr().out)


def test_a_job_is_made_again_when_a_file_of_it_is_saved(tmp_path: Path) -> None:
    from planform.jobs.watching import files_of_job, saved_jobs

    job, other = write_job(tmp_path / "a"), write_job(tmp_path / "b")
    assert {path.name for path in files_of_job(job)} == {
        "job.toml",
        "tray.json",
        "roof.json",
        "machine.toml",
        "stock.toml",
    }
    stop = threading.Event()
    found = saved_jobs([job, other], stop)

    def save() -> None:
        other_tray(tmp_path / "b")

    timer = threading.Timer(0.6, save)
    timer.start()
    assert next(found) == [other]
    # What was saved while the caller was busy is found too; a job that is broken is looked at itself.
    job.write_text("nonsense")
    assert next(found) == [job]
    write_job(tmp_path / "a")
    assert next(found) == [job]
    threading.Timer(0.5, stop.set).start()
    assert list(found) == []


def test_what_is_missing_in_a_job_is_said_on_its_pages(tmp_path: Path) -> None:
    """A piece larger than the stock, and a drawing without an outline: the rest is planned, both are
    named."""
    job = write_job(tmp_path)
    tray(900.0).to_json(tmp_path / "roof.json")
    (tmp_path / "sign.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
        '<path d="M0 0L5 5"/></svg>'
    )
    job.write_text(
        job.read_text() + '[[drawing]]\nfile = "sign.svg"\nthickness = 4\nmaterial = "larch"\n'
    )
    summary = run_job(job, tmp_path / "out")
    assert any("sign.svg" in error for error in summary.errors)
    assert any("1 not placed" in error for error in summary.errors)
    assert summary.quote is not None and summary.quote.effort.pieces == 3
    for name in ("job.html", "quote.html"):
        page = (tmp_path / "out" / name).read_text()
        assert "not placed" in page and "sign.svg" in page
    # What failed is tried again, also when nothing changed.
    again = run_job(job, tmp_path / "out")
    assert {step.name for step in again.steps if step.action == "failed"} == {
        "source 3: sign.svg",
        "layout",
    }


def test_findings_of_outlines_and_notes_stand_on_the_page(tmp_path: Path) -> None:
    job = write_job(tmp_path)
    edge = tray().profiles[0].outer
    holes = [pf.Contour([pf.Arc((x, 15), 4)]) for x in (20, 28.5)]
    pf.ProfileSet([pf.Profile(edge, holes, "tray")], name="tray").to_json(tmp_path / "tray.json")
    job.write_text(job.read_text() + '[[piece]]\nname = "perch"\nspares = 1\n')
    run_job(job, tmp_path / "out")
    page = (tmp_path / "out" / "job.html").read_text()
    assert "Findings of the outlines" in page and "web" in page
    assert "there is no piece &#39;perch&#39;" in page


def test_a_changed_model_redoes_what_depends_on_it(tmp_path: Path) -> None:
    import kernel_models as kernel

    job = write_job(tmp_path)
    kernel.write_step([("shelf", kernel.box(80, 40, 4))], tmp_path / "shelf.step")
    job.write_text(
        job.read_text() + '[[model]]\nfile = "shelf.step"\nmaterial = "larch"\nquantity = 2\n'
    )
    model = "source 1: shelf.step"
    others = {"source 2: tray.json", "source 3: roof.json"}
    assert done(run_job(job, tmp_path / "out")) == {model} | others | MADE
    assert done(run_job(job, tmp_path / "out")) == set()
    kernel.write_step([("shelf", kernel.box(90, 40, 4))], tmp_path / "shelf.step")
    assert done(run_job(job, tmp_path / "out")) == {model} | PIECES


def test_head_of_a_quote_and_fits(tmp_path: Path) -> None:
    job = write_job(tmp_path)
    job.write_text(
        job.read_text()
        + '[quote]\ncustomer = "a <garden>"\nnumber = "7"\nremarks = ["flat", "dry"]\n'
        + "[allowances]\nfit = 0.1\n"
    )
    assert done(run_job(job, tmp_path / "out")) == SOURCES | MADE
    page = (tmp_path / "out" / "quote.html").read_text()
    assert "a &lt;garden&gt;" in page and "<garden>" not in page
    data = json.loads((tmp_path / "out" / "quote.json").read_text())
    assert data["head"]["number"] == "7" and data["head"]["remarks"] == ["flat", "dry"]
    fits = json.loads((tmp_path / "out" / "fits.json").read_text())
    # Drawings say nothing of joints: the fit is on the curves of inner contours, 1 + 4 and 4.
    assert [(one["name"], one["joints"], len(one["curves"])) for one in fits["pieces"]] == [
        ("tray", None, 5),
        ("roof", None, 4),
    ]
    assert {curve[3] for one in fits["pieces"] for curve in one["curves"]} == {0.1}
    assert "Where parts meet" in (tmp_path / "out" / "job.html").read_text()
    job.write_text(job.read_text().replace('"7"', '"8"'))
    assert done(run_job(job, tmp_path / "out")) == {"quote", "page"}


def test_curves_to_avoid_are_the_same_on_a_piece_that_is_turned_over() -> None:
    from planform.jobs.sources import JobPiece
    from planform.jobs.wanted import avoided
    from planform.sheets.values import Piece, Placement

    outline = tray()
    piece = JobPiece("tray", "larch", 4.0, 1, outline, outline, avoid=((0, 0, 1), (0, 2, 3)))
    placed = Placement(Piece("tray", outline), 70, 5, 0.3, mirrored=True)
    matrix = [list(row) for row in placed.matrix]
    for address, moved in zip(piece.avoid, avoided(placed, piece), strict=True):
        before, after = (
            (s.profiles[p].outer if c == 0 else s.profiles[p].holes[c - 1]).curves[k]
            for s, (p, c, k) in ((outline, address), (placed.outline, moved))
        )
        ends = {tuple(round(float(x), 6) for x in end) for end in (after.start, after.end)}
        image = before.transformed(matrix)
        assert ends == {tuple(round(float(x), 6) for x in end) for end in (image.start, image.end)}


def test_a_broken_job_holds_up_no_other(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from planform.cli.batch_command import folders_of_jobs, keep_making

    job, other = write_job(tmp_path / "a"), write_job(tmp_path / "b")
    folders = folders_of_jobs([job, other], tmp_path / "out")
    job.write_text("broken = [")
    assert keep_making(folders, iter([[job, other]])) == 0
    assert "a/job.toml" in capsys.readouterr().err
    assert (folders[other] / "job.html").exists()


def test_what_a_run_kept_and_cannot_read_is_made_again(tmp_path: Path) -> None:
    job, out = write_job(tmp_path), tmp_path / "out"
    assert main(["job", str(job), "--out", str(out)]) == 0
    (out / "sources" / "source_1.json").write_text("{}")
    drawn = sorted(path.name for path in (out / "outlines").iterdir())
    assert main(["job", str(job), "--out", str(out)]) == 0
    assert sorted(path.name for path in (out / "outlines").iterdir()) == drawn != []


def test_outlines_of_stock_in_other_folders_are_known(tmp_path: Path) -> None:
    from planform.jobs.dependencies import stock_digests

    (tmp_path / "edges").mkdir()
    (tmp_path / "edges" / "rest.json").write_text("{}")
    stock = tmp_path / "stock.toml"
    stock.write_text('[[sheet]]\noutline = "edges/rest.json"\nkeep_clear = ["nowhere.dxf"]\n')
    assert list(stock_digests(stock)) == ["stock.toml", "edges/rest.json"]
