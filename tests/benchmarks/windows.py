"""How fast Excel is served on the real chain below it, as ratios against something measured in the same run.

    bash tests/windows/run python tests/benchmarks/windows.py

It runs on a Windows Python under Wine: the client in C starts Python through xlwings' library with the built VBA's own
command line and hands over what VBA would. Excel and VBA themselves are not in these figures.
"""

from __future__ import annotations

import compileall
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from itertools import islice
from pathlib import Path
from typing import Any

TESTS = Path(__file__).resolve().parents[1]
SOURCE = TESTS.parent / "udfs"
sys.path[:0] = [str(TESTS), str(SOURCE)]

from built_vba import commands, library, running  # noqa: E402
from evenheft.formulas import REGISTRY  # noqa: E402
from evenheft.formulas.registry import Formula  # noqa: E402
from evenheft.hosts import embedded  # noqa: E402
from evenheft.hosts.excel.windows.install import install  # noqa: E402
from evenheft.hosts.excel.windows.machine import machine_of  # noqa: E402
from evenheft.order.demo import build_demo  # noqa: E402
from windows_client import LEFT_OUT, carried_out, value  # noqa: E402

CALLS = 40
ROUNDS = 60
CELLS_TARGET = 1.3
ORDER_TARGET = 1.5
FIRST_TARGET = 2

WindowsCall = tuple[str, Sequence[object]]


def opening(folder: Path) -> tuple[str, str]:
    """The library that the installed add-in loads, and the command line by which its VBA asks for Python."""
    profile = folder / "user"
    roaming = profile / "AppData" / "Roaming"
    (roaming / "Microsoft" / "Excel").mkdir(parents=True)
    machine = machine_of({"USERPROFILE": str(profile), "APPDATA": str(roaming)}, Path(sys.executable))
    install(machine)
    excel = running(machine.add_in, profile)
    excel.run("HEFT_VERSION")
    return library(excel), commands(excel)[0]


def demo_calls(folder: Path) -> list[WindowsCall]:
    """Every call of a formula in the demo order with its arguments, in the order of a full recalculation."""
    found: list[WindowsCall] = []
    serving = embedded.server

    def recording(formula: Formula, host: str) -> Callable[..., Any]:
        serve = serving(formula, host)

        def answer(*given: object) -> object:
            found.append((formula.name, given))
            return serve(*given)

        return answer

    embedded.server = recording  # type: ignore[assignment]
    try:
        path = folder / "demo.xlsx"
        build_demo().save(path)
        found.clear()  # building computes it too
        embedded.Computed.open(path)
    finally:
        embedded.server = serving
    return found


def timed(calls: Iterable[WindowsCall], times: int = 1) -> list[str]:
    """The client's orders that carry out calls and print how long they took."""
    lines = []
    for formula, given in calls:
        left_out = len(REGISTRY[formula].arguments) - len(given)
        values = [value(_as_cells(argument)) for argument in given] + [value(LEFT_OUT)] * left_out
        lines += [f"repeat {times} {formula} {len(values)}", *(line for one in values for line in one)]
    return lines


def _as_cells(given: object) -> object:
    """Value2 of a range: of one cell its value."""
    if isinstance(given, list):
        given = tuple(map(tuple, given))
    if isinstance(given, tuple) and (len(given), len(given[0])) == (1, 1):
        return given[0][0]
    return given


def seconds_in(printed: Iterable[str]) -> list[float]:
    """The times that the client printed [s]."""
    return [float(line.split()[2]) for line in printed if line.startswith("HEFT_")]


def call_times(start: Sequence[str], folder: Path) -> tuple[float, float, float]:
    """Times of a call on numbers, on cells, and of HEFT_CLUB on four ranges [s]."""
    numbers: WindowsCall = ("HEFT_POINTS", (431, 75.3))
    cells: WindowsCall = ("HEFT_POINTS", (((431,),), ((75.3,),)))
    club: WindowsCall = (
        "HEFT_CLUB",
        (
            (("Head mass (g)", "Club length (cm)", "Shaft (g)", "Shaft (cm)", "Grip (g)", "Epoxy (g)"),),
            ((200, 114.3, 65, 117, 50, 3),),
            "swingweight",
            (("g cm",),),
            (("Bore to ground (cm)", 3.6), ("Grip cap (cm)", 0.4)),
        ),
    )
    lines = [line for _ in range(ROUNDS) for line in timed([numbers, cells, club], times=CALLS)]
    times = seconds_in(carried_out([*start, *timed([numbers, club]), *lines], folder))[2:]
    return min(times[0::3]) / CALLS, min(times[1::3]) / CALLS, min(times[2::3]) / CALLS


def order_times(start: Sequence[str], calls: Sequence[WindowsCall], folder: Path) -> tuple[float, float]:
    """Times of a full recalculation of the demo order, and of as many calls of HEFT_VERSION [s]."""
    plain: list[WindowsCall] = [("HEFT_VERSION", ())]
    # In turns, so that a busy moment meets both; the first of all only wakes Python up.
    lines = [line for _ in range(5) for line in timed([*calls, *(plain * len(calls))])]
    times = iter(seconds_in(carried_out([*start, *timed(plain), *lines], folder))[1:])
    sums = [sum(islice(times, len(calls))) for _ in range(10)]
    return min(sums[0::2]), min(sums[1::2])


def first_times(library: str, command: str, folder: Path, rounds: int = 7) -> tuple[float, float]:
    """Times from the start of Python to its first answer, and of a bare `import xlwings`, medians [s]."""
    answers, imports = [], []
    for number in range(rounds):  # in turns too; each Python by a command line of its own, as VBA starts it anew
        begun = time.perf_counter()
        subprocess.run([sys.executable, "-B", "-c", "import xlwings"], check=True, stdin=subprocess.DEVNULL)
        imports.append(time.perf_counter() - begun)
        anew = f"{command[:-1]} # {number + 1}{command[-1]}"
        started, *printed = carried_out(
            [f"library {library}", f"start {anew}", *timed([("HEFT_VERSION", ())]), "kill"], folder
        )
        answers.append(float(started.removeprefix("started ")) + seconds_in(printed)[0])
    return statistics.median(answers), statistics.median(imports)


def row(label: str, measured: str, wanted: str = "") -> None:
    print(f"{label:62}{measured:>12}{wanted:>12}", flush=True)


def main() -> None:
    """Print the table."""
    # As pip leaves it; -B in the command line keeps Python from doing so by itself.
    compileall.compile_dir(SOURCE, quiet=1)
    os.environ["PYTHONPATH"] = str(SOURCE)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        folder = Path(name)
        path, command = opening(folder)
        start = [f"library {path}", f"start {command}"]
        row("", "measured", "wanted")
        numbers, cells, club = call_times(start, folder)
        row("a call on two numbers", f"{numbers * 1e3:.2f} ms")
        row("the same on two cells", f"{cells * 1e3:.2f} ms")
        row("cells : numbers", f"{cells / numbers:.2f}x", f"<= {CELLS_TARGET}x")
        row("HEFT_CLUB on four ranges : two numbers", f"{club / numbers:.2f}x")
        calls = demo_calls(folder)
        order, plain = order_times(start, calls, folder)
        row(f"the demo order's {len(calls)} calls", f"{order:.2f} s")
        row(f"{len(calls)} calls of HEFT_VERSION", f"{plain:.2f} s")
        row("demo order : HEFT_VERSION", f"{order / plain:.2f}x", f"<= {ORDER_TARGET}x")
        first, imported = first_times(path, command, folder)
        row("from the start of Python to its first answer", f"{first:.2f} s")
        row('python -c "import xlwings"', f"{imported:.2f} s")
        row("first answer : import", f"{first / imported:.2f}x", f"<= {FIRST_TARGET}x")


if __name__ == "__main__":
    main()
