"""docs/performance.md tells of each recorded ratio what its benchmark wants, and shows in bold whatever misses it."""

from __future__ import annotations

import importlib.util
import re
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
TEXT = (HERE.parent / "docs" / "performance.md").read_text(encoding="utf-8")
_spec = importlib.util.spec_from_file_location("all_benchmarks", HERE / "benchmarks" / "all.py")
assert _spec is not None
assert _spec.loader is not None
benchmarks = importlib.util.module_from_spec(_spec)
sys.modules["all_benchmarks"] = benchmarks  # where its dataclass looks itself up
_spec.loader.exec_module(benchmarks)
OfBenchmark = benchmarks.Printed
RATIOS = {ratio.what: ratio for ratio in benchmarks.RATIOS}
RECORDED = re.findall(r"^\| ([^|]+) \| ([^|]+) \| (at [^|]+|-) \| ([^|]+) \|(?: `\w+` \|)?$", TEXT, re.MULTILINE)


@pytest.mark.parametrize(("what", "against", "wanted", "found"), RECORDED, ids=lambda value: value[:40])
def test_each_recorded_ratio_is_told_as_it_is_wanted(what: str, against: str, wanted: str, found: str) -> None:
    ratio = RATIOS[what]
    assert (against, wanted) == (ratio.against, ratio.wanted)
    numbers = [float(number) for number in re.findall(r"[\d.]+", found.partition(":")[0])]
    assert found.startswith("**") == (not all(map(ratio.met, numbers)))
    if found.startswith("**"):
        assert found.endswith(ratio.why)


def test_ratios_were_recorded() -> None:
    assert len(RECORDED) >= 4


def test_each_benchmark_s_ratios_are_asked_for() -> None:
    names = {path.stem for path in (HERE / "benchmarks").glob("*.py")} - {"all"}
    assert {ratio.of for ratio in benchmarks.RATIOS} == names
    for ratio in benchmarks.RATIOS:
        re.compile(ratio.pattern)


def test_a_miss_is_shown_in_bold_with_its_reason() -> None:
    ratio = next(ratio for ratio in benchmarks.RATIOS if ratio.of == "calc" and ratio.most == 3)
    assert "**3.40**: LibreOffice turns" in benchmarks.row(
        ratio, OfBenchmark("  HEFT / native column: 3.40 (at most 3)   MORE")
    )
    assert "| 2.90 |" in benchmarks.row(ratio, OfBenchmark("  HEFT / native column: 2.90 (at most 3) "))
    assert "not run here" in benchmarks.row(ratio, OfBenchmark("", "not run here"))
    assert "not printed" in benchmarks.row(ratio, OfBenchmark("something else"))


def test_a_benchmark_that_does_not_end_is_cut_off_and_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(benchmarks, "line_of", lambda _: [sys.executable, "-c", "import time; time.sleep(3600)"])
    assert benchmarks.printed_by("calc", patience=0.6) == OfBenchmark("", "not ended in 0.01 min")


def test_a_benchmark_that_fails_keeps_what_it_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    line = [sys.executable, "-c", "print('so far'); raise SystemExit(3)"]
    monkeypatch.setattr(benchmarks, "line_of", lambda _: line)
    assert benchmarks.printed_by("calc") == OfBenchmark("so far\n", "not run here")


FOUND = {what: found.partition(":")[0].strip("*") for what, _, _, found in RECORDED}


@pytest.mark.parametrize(
    ("page", "line", "what"),
    [
        ("calc.md", r"returns its first argument \|[^|]*\| \**([\d.]+)", "20,000 cells of HEFT_POINTS in LibreOffice"),
        ("calc.md", r"a native formula in each row \|[^|]*\| \**([\d.]+)",
         "one array formula over 20,000 rows in LibreOffice"),
        ("calc.md", r"the same workbook with values only \|[^|]*\| \**([\d.]+)",
         "the demo order opened and recomputed in LibreOffice"),
        ("excel.md", r"two cells take ([\d.]+) times", "a call on cells, on a Windows Python"),
        ("excel.md", r"calls of the demo order take ([\d.]+) times", "all calls of the demo order"),
        ("excel.md", r"its first answer ([\d.]+) times", "the first answer from the start of Python"),
    ],
)  # fmt: skip
def test_another_page_tells_the_ratio_that_was_recorded(page: str, line: str, what: str) -> None:
    text = (HERE.parent / "docs" / page).read_text(encoding="utf-8")
    assert re.findall(line, text) == [FOUND[what]]
