"""`evenheft plan` as a builder runs it, over an invented workbook."""

from __future__ import annotations

import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from openpyxl import Workbook

from evenheft.cli import main
from evenheft.mechanics.pairing.plan import outline, plan_set
from evenheft.mechanics.pairing.problem import Batch
from evenheft.shop.plan_sheets import read_batch
from pairing_shops import shop

HEADS = ("Club", "Head mass (g)", "Club length (cm)", "Head rise (cm)", "Bore to ground (cm)", "Grip (g)", "Tape (g)",
         "Epoxy (g)", "Swingweight target", "Swingweight tolerance", "Shaft no.", "Decided")  # fmt: skip
DOCS = Path(__file__).parents[2] / "docs" / "plan.md"


def book_of(batch: Batch, path: Path, *, laid: bool = False) -> Path:
    """Write a batch as a builder would lay it out, a title above the headings."""
    book = Workbook()
    heads = book.active
    heads.title = "Heads"
    heads.append(["Heads of an invented order"])
    heads.append(HEADS)
    for n, club in enumerate(batch.clubs):
        parts, target = club.parts, club.targets[0]
        beside = batch.shafts[n].label if laid else None
        heads.append([club.label, parts.head_mass, parts.club_length, parts.head_rise, parts.bore_to_ground,
                      parts.grip_mass, parts.tape_mass, parts.epoxy_mass, "D2", target.tolerance, beside])  # fmt: skip
    shafts = book.create_sheet("Shafts")
    shafts.append(["Number", "Model", "Mass (g)", "Length (in)", "Balance from butt (cm)", "Set aside for"])
    for shaft in batch.shafts:
        shafts.append([shaft.label, "invented", shaft.mass, shaft.length / 2.54, shaft.balance, None])
    weights = book.create_sheet("Weights")
    weights.append(["Size (g)", "Where", "Count"])
    for weight in batch.weights:
        weights.append([weight.mass, weight.place, weight.count])
    book.save(path)
    return path


def run(*given: object) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["plan", *map(str, given)])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.output
    return done.exit_code, done.output


def test_it_reads_what_was_laid_out_and_prints_the_proven_plan(tmp_path: Path) -> None:
    batch = shop(clubs=6, shafts=9, sizes=8, seed=3)
    path = book_of(batch, tmp_path / "order.xlsx", laid=True)
    before = path.read_bytes()
    read = read_batch(path)
    plan = plan_set(read)
    this, same = outline(plan.clubs), outline(plan_set(batch).clubs)
    assert (this.inside, this.added) == (same.inside, same.added)
    assert this.worst == pytest.approx(same.worst, abs=1e-6)
    code, text = run(path)
    assert code == 0
    for club in plan.clubs:
        assert re.search(rf"{club.club}.*\b{club.shaft}\b.*\bin\b", text)
    assert f"This plan: 6 of 6 clubs in, worst deviation {this.worst:.2f} of its tolerance, {this.added:g} g" in text
    assert "The hand rule: " in text and "As it stands: " in text and "Proven: " in text
    assert path.read_bytes() == before


def test_a_club_that_stays_out_says_why_and_what_would_bring_it_in(tmp_path: Path) -> None:
    batch = shop(clubs=5, shafts=6, sizes=1, seed=4, count=1, tolerance=0.3)
    code, text = run(book_of(batch, tmp_path / "order.xlsx"))
    assert code == 3
    assert re.search(
        r"club \d stays out: swingweight is \d\.\d\d points too (low|high), 0.3 points are accepted\.", text
    )
    assert "Would bring it in: " in text


def test_shafts_and_weights_may_come_from_another_workbook(tmp_path: Path) -> None:
    batch = shop(clubs=4, shafts=10, sizes=6, seed=5)
    path, other = book_of(batch, tmp_path / "order.xlsx"), book_of(batch, tmp_path / "shop.xlsx")
    code, text = run(path, "--shafts-from", other, "--shafts", 3)
    assert code == 0
    kept = re.search(r"Keep for a repeat: (.*)\.", text)
    assert kept is not None and len(kept[1].split(", ")) == 3


def test_fewer_shafts_left_over_than_were_to_be_kept_is_said(tmp_path: Path) -> None:
    batch = shop(clubs=4, shafts=6, sizes=6, seed=5)
    code, text = run(book_of(batch, tmp_path / "order.xlsx"), "--shafts", 3)
    assert code == 0
    assert re.search(r"^Keep for a repeat: S\d, S\d \(of those left over only 2 would do\)\.$", text, re.MULTILINE)


def test_without_stock_the_shafts_are_planned_and_it_is_said(tmp_path: Path) -> None:
    batch = shop(clubs=4, shafts=6, sizes=0, seed=5)
    code, text = run(book_of(batch, tmp_path / "order.xlsx"))
    assert code in (0, 3)
    assert "No stock weight is listed: this is what the shafts alone can do." in text
    assert "This plan: " in text and "Proven: " in text


def test_fewer_shafts_than_heads_gives_the_best_of_what_can_be_built(tmp_path: Path) -> None:
    batch = shop(clubs=4, shafts=2, sizes=6, seed=5)
    code, text = run(book_of(batch, tmp_path / "order.xlsx"))
    assert code == 3
    assert len(re.findall(r"stays out: no shaft is left for it\. Would bring it in: a shaft of at least", text)) == 2
    assert "This plan: 2 of 4 clubs in" in text


def test_a_shop_book_gives_its_shafts_and_what_is_on_hand(tmp_path: Path) -> None:
    from openpyxl import load_workbook

    batch = shop(clubs=3, shafts=6, sizes=5, seed=7)
    path, stock = book_of(batch, tmp_path / "order.xlsx"), tmp_path / "shop.xlsx"
    assert CliRunner().invoke(main, ["shop", "new", str(stock)]).exit_code == 0
    book = load_workbook(stock)
    for row, shaft in enumerate(batch.shafts, start=6):
        cells = (shaft.label, "invented", shaft.mass, shaft.length, shaft.balance)
        for column, value in enumerate(cells, start=1):
            book["Shafts"].cell(row, column).value = value
    for row, weight in enumerate(batch.weights, start=6):
        for column, value in enumerate((weight.mass, weight.place, weight.count), start=1):
            book["Weights"].cell(row, column).value = value
    book["Shafts"]["G6"] = "somebody else"
    book.save(stock)
    read = read_batch(path, stock)
    assert read.weights == batch.weights
    assert read.reserved == {batch.shafts[0].label}
    assert [shaft.mass for shaft in read.shafts] == [shaft.mass for shaft in batch.shafts]


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "line"),
    [
        ("Heads", "B3", "", "club 1: the row lacks head mass"),
        ("Heads", "B3", "9.4 oz oz", "club 1: Head mass (g)"),
        ("Heads", "J3", "", "club 1: Swingweight tolerance must be given"),
        ("Heads", "J2", "Remark", "Heads: Swingweight target wants a column with its tolerance"),
        ("Heads", "A4", "club 1", "club club 1 is listed 2 times"),
        ("Heads", "L3", "club", "club 1 is said to be decided, but no shaft lies beside it"),
        ("Shafts", "A3", "S1", "shaft S1 is listed 2 times"),
        ("Shafts", "D2", 990, "shaft S1: Length (in) must be from"),
        ("Shafts", "C1", "Remark", "Shafts: a column must tell their mass"),
        ("Weights", "B2", "middle", "where must be head or butt, got middle"),
        ("Weights", "A3", 1, "the 1 g weight for the head is listed twice"),
    ],
)
def test_what_is_amiss_is_one_line(tmp_path: Path, sheet: str, cell: str, value: object, line: str) -> None:
    from openpyxl import load_workbook

    path = book_of(shop(clubs=2, shafts=3, sizes=2, seed=1), tmp_path / "order.xlsx")
    book = load_workbook(path)
    book[sheet][cell] = value or None
    book.save(path)
    code, text = run(path)
    assert code == 2
    assert line in text
    assert text.startswith("! ") and len(text.splitlines()) == 1


def test_a_sheet_that_is_missing_is_named(tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    Workbook().save(path)
    code, text = run(path)
    assert (code, text.count("\n")) == (2, 1)
    assert 'order.xlsx has no sheet "Heads"' in text


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent otherwise there")
def test_ctrl_c_says_what_was_found_and_leaves_the_files(tmp_path: Path) -> None:
    # Twice as many clubs as the stock has weights for, at either end: no machine proves a plan of it at once.
    batch = shop(clubs=56, shafts=120, sizes=10, seed=1, butt=(4.0, 6.0, 8.0, 10.0, 12.0), inertia=10.0)
    path = book_of(batch, tmp_path / "order.xlsx")
    before = path.read_bytes()
    # A shell starts what it runs in the background deaf to Ctrl-C, and these tests may run there: it listens again.
    hears = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)"
    line = [sys.executable, "-c", f"{hears}; from evenheft.cli import main; main()", "plan", str(path)]
    with subprocess.Popen(line, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stderr is not None
        progress = process.stderr.readline()
        time.sleep(0.2)
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=30)
    assert progress.endswith(" ...\n")
    assert process.returncode == 130
    assert re.search(r"! stopped; found so far: \d+ of 56 clubs in\. No file was changed\.", err)
    assert "Traceback" not in out + err
    assert path.read_bytes() == before


def test_the_page_shows_the_sheets_as_they_are_read(tmp_path: Path) -> None:
    # Its tables are typed into a workbook and planned; the plan that it shows is the one that comes out.
    page = DOCS.read_text(encoding="utf-8")
    book = Workbook()
    book.remove(book.active)
    for sheet in ("Heads", "Shafts", "Weights"):
        lines = re.search(rf"^### {sheet}\n\n((?:\|.*\n)+)", page, re.MULTILINE)
        assert lines is not None
        table = book.create_sheet(sheet)
        for line in [*lines[1].splitlines()[:1], *lines[1].splitlines()[2:]]:
            cells = [cell.strip() for cell in line.strip("|").split("|")]
            table.append([float(c) if re.fullmatch(r"[\d.]+", c) else c or None for c in cells])
    path = tmp_path / "order.xlsx"
    book.save(path)
    code, text = run(path)
    shown = re.search(r"```\n(This plan: .*?)```", page, re.DOTALL)
    assert shown is not None
    timeless = re.sub(r"\(\d+\.\d s\)", "(0.1 s)", text)
    assert shown[1] in timeless
    assert code == 0
