"""Every benchmark in turn, and one table of their ratios beside what was wanted of each.

    python tests/benchmarks/all.py [NAME ...]

NAME is a benchmark's, such as `calc`; all of them when left out. Prints the table in Markdown, as docs/performance.md
holds it from a run that was recorded. A ratio compares two things that ran on the same machine in the same minutes, so
it may be read on another machine; a time may not. Each takes a core for minutes, none more than half an hour: let
nothing else run. `windows` needs Wine (`bash tests/windows/run` makes it); what cannot run here, or does not end, is
told in its row.
"""

from __future__ import annotations

import os
import platform
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
TESTS = HERE.parent
PATIENCE = 1800.0
"""How long a benchmark may take: what it has printed by then is kept, and the next one runs [s]."""
PACKAGES = ("formualizer", "openpyxl", "numpy", "scipy", "xlwings")


@dataclass(frozen=True)
class Ratio:
    """One ratio that a benchmark prints, and what was wanted of it."""

    of: str
    """The benchmark's name."""
    what: str
    against: str
    pattern: str
    """Finds the ratio in what the benchmark prints."""
    most: float | None = None
    least: float | None = None
    why: str = ""
    """Where it has been seen to miss: the reason."""

    @property
    def wanted(self) -> str:
        """What was wanted, in words; a dash where it is only told."""
        if self.most is not None:
            return f"at most {self.most:g}"
        return "-" if self.least is None else f"at least {self.least:g}"

    def met(self, found: float) -> bool:
        """Whether a ratio is as wanted."""
        return (self.most is None or found <= self.most) and (self.least is None or found >= self.least)


def _of_formulas(name: str, note: str = "") -> Ratio:
    shown = name + note
    return Ratio("formulas", f"20,000 formulas of {shown} in cells", "one formula over 20,000 rows",
                 rf"{name}{note}: ranges\W.*?ms\W+\d+ ms\W+([\d.]+)\W", least=5)  # fmt: skip


RATIOS = (
    *(_of_formulas(f"HEFT_{name}") for name in ("MOMENT", "POINTS", "SWINGWEIGHT", "INERTIA", "VERDICT")),
    _of_formulas("HEFT_POINTS", ", 1 in 100 blank"),
    Ratio("formulas", "`evenheft --version`", "`import click`", r"--version\W.*?ms\W+\d+ ms\W+([\d.]+)\W", most=2),
    Ratio("formulas", "`evenheft check` of 18 clubs", "`import openpyxl, formualizer`",
          r"evenheft check.*?ms\W+\d+ ms\W+([\d.]+)\W", most=3,
          why="an order has grown to over 3,500 formulas of ours, blank rows included, each of which is worked out"),
    Ratio("club_rows", "one HEFT_CLUB over 2,000 rows, per row", "a single-cell call",
          r"^one call, 2,000 rows.*?1/([\d.]+)", least=20),
    Ratio("club_rows", "2,000 rows at once", "200 rows at once", r"2,000 rows against 200: ([\d.]+)", most=12),
    Ratio("calc", "20,000 cells of HEFT_POINTS in LibreOffice", "an add-in function that returns its first argument",
          r"first argument: ([\d.]+) \(", most=1.5),
    Ratio("calc", "one array formula over 20,000 rows in LibreOffice", "a native formula in each row",
          r"native column: ([\d.]+) \(", most=3,
          why="LibreOffice turns 40,000 cells into objects of Python one row at a time, which an add-in cannot change"),
    Ratio("calc", "the demo order opened and recomputed in LibreOffice", "the same workbook with values only",
          r"values only: ([\d.]+) \(", most=1.2,
          why="reading the formulas takes as long as computing them; an order holds over 3,500 of ours"),
    Ratio("excel", "2,000 single calls, by xlwings' server without COM", "one call over 2,000 rows",
          r"single calls : range call\s+([\d.]+)x", least=10,
          why="answering 2,000 rows takes the most of the one call: what each call costs besides is small"),
    Ratio("excel", "cold import of what Excel is served by", "cold import of xlwings",
          r"served module : xlwings\s+([\d.]+)x", most=2),
    Ratio("windows", "a call on cells, on a Windows Python", "the same call on numbers",
          r"cells : numbers\s+([\d.]+)x", most=1.3),
    Ratio("windows", "all calls of the demo order", "as many calls of HEFT_VERSION",
          r"demo order : HEFT_VERSION\s+([\d.]+)x", most=1.5),
    Ratio("windows", "the first answer from the start of Python", '`python -c "import xlwings"`',
          r"first answer : import\s+([\d.]+)x", most=2),
    Ratio("adopt", "adopting a table of 50,000 rows", "openpyxl loads and saves the workbook",
          r"50000.*?\s([\d.]+)$", most=3),
    Ratio("safe_hand", "writing one cell into a workbook of 20 MB", "copying that workbook part by part",
          r"writing one cell\s+[\d.]+ ms\s+([\d.]+)", most=1.5),
    Ratio("safe_hand", "peak memory while writing one cell", "the largest sheet", r"peak memory.*?, ([\d.]+) of it",
          most=3),
    *(Ratio("shop_book", f"{what} a book of 2,000 orders", "openpyxl loads the book", rf"{shown}\s+([\d.]+) x", most=3)
      for what, shown in (("starting an order from", "start an order from it"),
                            ("repeating an order of", "repeat an order from it"),
                            ("keeping an order in", "keep an order"), ("keeping it again in", "keep it again"),
                            ("forgetting it in", "forget it"))),
    Ratio("shop_book", "that book opened and recomputed in LibreOffice", "the same workbook with values only",
          r"book / values only: ([\d.]+) \(", most=3),
    Ratio("pairing", "a proven plan of 14 clubs, 30 shafts, 10 sizes", "the 12 nearest combinations of each pair only",
          r"^14 x 30 x 10.*?\| ([\d.]+) \|", most=5),
    Ratio("pairing", "the same with one of each size, so that they run short", "the 12 nearest combinations",
          r"^14 x 30 scarce.*?\| ([\d.]+) \|"),
    Ratio("pairing", "28 clubs, 60 shafts", "14 clubs, 30 shafts", r"^28 x 60.*\| ([\d.]+) times the size before"),
    Ratio("pairing", "56 clubs, 120 shafts", "28 clubs, 60 shafts", r"^56 x 120.*\| ([\d.]+) times the size before"),
    Ratio("pairing", "trying every plan there is, 6 clubs of 8 shafts", "the proven plan", r"^6 x 8.*ratio (\d+)"),
)  # fmt: skip


def line_of(name: str) -> list[str]:
    """The command that runs a benchmark."""
    if name == "windows":
        return ["bash", str(TESTS / "windows" / "run"), "python", "tests/benchmarks/windows.py"]
    return [sys.executable, str(HERE / f"{name}.py")]


@dataclass(frozen=True)
class Printed:
    """What a benchmark printed, and how it ended."""

    text: str
    ended: str = ""
    """Why it printed no more; "" where it came to its end."""


def printed_by(name: str, patience: float = PATIENCE) -> Printed:
    """Run a benchmark for as long as it may take, and keep what it printed until then."""
    paths = os.pathsep.join([str(TESTS.parent / "udfs"), str(TESTS)])
    own = os.environ | {"PYTHONPATH": paths, "COLUMNS": "160", "PYTHONUNBUFFERED": "1"}
    running = subprocess.Popen(line_of(name), stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                               cwd=TESTS.parent, env=own, start_new_session=True)  # fmt: skip
    try:
        text, wrong = running.communicate(timeout=patience)
        ended = "" if running.returncode == 0 else "not run here"
    except subprocess.TimeoutExpired:
        os.killpg(running.pid, signal.SIGTERM)  # what it started, LibreOffice or Wine, ends with it
        try:
            text, wrong = running.communicate(timeout=60)
        except subprocess.TimeoutExpired:
            os.killpg(running.pid, signal.SIGKILL)
            text, wrong = running.communicate()
        ended = f"not ended in {patience / 60:g} min"
    sys.stderr.write(text + wrong[-2000:])
    return Printed(text, ended)


def row(ratio: Ratio, printed: Printed) -> str:
    """A row of the table: what, against what, wanted, found; in bold with the reason where it is missed."""
    found = re.search(ratio.pattern, printed.text, re.MULTILINE)
    if found is None:
        shown = printed.ended or "not printed"
    elif ratio.met(float(found[1])):
        shown = found[1]
    else:
        shown = f"**{found[1]}**: {ratio.why or 'no reason is known yet'}"
    return f"| {ratio.what} | {ratio.against} | {ratio.wanted} | {shown} | `{ratio.of}` |"


def machine() -> str:
    """Name what it ran on, in a line."""
    processor = re.search(r"^model name\s*: (.*)$", _text("/proc/cpuinfo"), re.MULTILINE)
    system = re.search(r'^PRETTY_NAME="(.*)"$', _text("/etc/os-release"), re.MULTILINE)
    office = _office()
    parts = (
        f"{os.cpu_count()} cores" + (f" ({processor[1]})" if processor else ""),
        system[1] if system else platform.platform(),
        f"Python {platform.python_version()}",
        *([f"LibreOffice {office}"] if office else []),
        *(f"{name} {version(name)}" for name in PACKAGES if _there(name)),
    )
    return ", ".join(parts)


def _text(path: str) -> str:
    return Path(path).read_text(encoding="utf-8") if Path(path).exists() else ""


def _office() -> str:
    from evenheft.hosts.calc.office import OfficeError, find

    try:
        return find().version
    except OfficeError:
        return ""


def _there(name: str) -> bool:
    from importlib.metadata import PackageNotFoundError

    try:
        version(name)
    except PackageNotFoundError:
        return False
    return True


def table(names: list[str]) -> Iterator[str]:
    """Run benchmarks and give the table's lines as they come."""
    yield "| what | against | wanted | found | benchmark |"
    yield "|---|---|---|---|---|"
    for name in names:
        printed = printed_by(name)
        yield from (row(ratio, printed) for ratio in RATIOS if ratio.of == name)


if __name__ == "__main__":
    sys.path.insert(0, str(TESTS.parent / "udfs"))
    print(f"{machine()}\n", flush=True)
    for line in table(sys.argv[1:] or list(dict.fromkeys(ratio.of for ratio in RATIOS))):
        print(line, flush=True)
