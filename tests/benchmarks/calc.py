"""What Evenheft costs in LibreOffice, each figure against something computed in the same LibreOffice.

Run by hand: python tests/benchmarks/calc.py
Prints the best of many rounds, since a busy machine only ever adds, and the ratios that matter. Each round changes
every input first, and what was computed is compared with what the new inputs ask for: a cell that was not dirty cannot
pass for a fast one.
"""

from __future__ import annotations

import dataclasses
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from calc_office import Calc, OpenBook, running
from evenheft.formulas import REGISTRY, call
from evenheft.formulas.registry import Formula
from evenheft.hosts.calc import extension as package
from evenheft.hosts.calc.contents import COMPONENT, TEXTS, TYPES, function_texts, manifest
from evenheft.hosts.calc.typelib import type_library
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes

ROWS = 20_000
ROUNDS = 15
SERVICE, INTERFACE = "bench.Bench", "bench.XBench"
FIRST = dataclasses.replace(REGISTRY["HEFT_POINTS"], name="BENCH_FIRST")
"""An add-in function with the arguments of HEFT_POINTS that returns the first of them."""

COMPONENT_SOURCE = f"""
import uno, unohelper
try:
    BASES = (uno.getClass("{INTERFACE}"),)
except Exception:
    BASES = ()
class Bench(unohelper.Base, *BASES, uno.getClass("com.sun.star.lang.XServiceName")):
    def getServiceName(self):
        return "{SERVICE}"
    def BENCH_FIRST(self, mass, balance, units, fulcrum):
        return mass
def made(context):
    return Bench()
g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(made, "{SERVICE}", ("{SERVICE}", "com.sun.star.sheet.AddIn"))
"""

NATIVE = "=(A1*(B1-35.56)/(28.349523125*2.54)-161)/1.75"


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        ours, bench, demo = folder / "evenheft.oxt", folder / "bench.oxt", folder / "demo.xlsx"
        package.write(ours)
        write_bench(bench, FIRST)
        demo.write_bytes(save_bytes(build_demo()))
        with running(ours, bench) as calc:
            compare_cells(calc)
            compare_range(calc)
            compare_order(calc, demo)


def write_bench(path: Path, *functions: Formula) -> None:
    """The extension with the function that everything is measured against."""
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("META-INF/manifest.xml", manifest())
        file.writestr(TYPES, type_library(functions, interface=INTERFACE))
        file.writestr(TEXTS, function_texts(functions, SERVICE))
        file.writestr(COMPONENT, COMPONENT_SOURCE)
        file.writestr("description.xml", DESCRIPTION)


DESCRIPTION = """<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006"><identifier value="bench"/>
<version value="1"/></description>
"""


class TimedColumn:
    """A workbook with 20,000 rows of inputs and one column computed from them."""

    def __init__(
        self, calc: Calc, enter: Callable[[OpenBook], None], expected: Callable[[float, float], float]
    ) -> None:
        self.book = calc.open()
        self.book.automatic(False)
        self.expected, self.round, self.times = expected, 0, []
        self.change()
        enter(self.book)
        self.book.calculate()

    times: list[float]

    def change(self) -> None:
        """Change every input."""
        self.round += 1
        self.inputs = [[400.0 + (i % 50) + self.round / 8, 75.0 + (i % 30) / 10] for i in range(ROWS)]
        self.book.put("Sheet1", f"A1:B{ROWS}", self.inputs)

    def measure(self) -> None:
        """One round: change, recompute against the clock, and look that all of it was recomputed."""
        self.change()
        self.inputs[0][0] += 0.25
        self.times.append(self.book.recompute("Sheet1", f"D1:D{ROWS}", "A1", self.inputs[0][0]))
        found = self.book.read("Sheet1", f"D1:D{ROWS}")
        for (mass, balance), (value,) in zip(self.inputs, found, strict=True):
            wanted = self.expected(mass, balance)
            if abs(value - wanted) > 1e-9 * abs(wanted):
                raise SystemExit(f"not recomputed: {value} where {wanted} is due")


def measured(columns: dict[str, TimedColumn]) -> dict[str, float]:
    """The best time of each column, the rounds of all of them interleaved."""
    for _ in range(ROUNDS):
        for column in columns.values():
            column.measure()
    for column in columns.values():
        column.book.close()
    return {name: min(column.times) for name, column in columns.items()}


def down(formula: str) -> Callable[[OpenBook], None]:
    """Fill a formula down column D."""
    return lambda book: book.fill_down("Sheet1", f"D1:D{ROWS}", formula)


def points(mass: float, balance: float) -> float:
    """What HEFT_POINTS is due to answer."""
    answer = call(REGISTRY["HEFT_POINTS"], [mass, balance])
    assert isinstance(answer, float)
    return answer


def compare_cells(calc: Calc) -> None:
    """20,000 cells of HEFT_POINTS against as many that return their first argument."""
    found = measured(
        {
            "native": TimedColumn(calc, down(NATIVE), points),
            "first argument": TimedColumn(calc, down("=BENCH_FIRST(A1;B1)"), lambda mass, _: mass),
            "HEFT_POINTS": TimedColumn(calc, down("=HEFT_POINTS(A1;B1)"), points),
        }
    )
    tell(f"{ROWS} cells", found)
    print_ratio(found["HEFT_POINTS"] / found["first argument"], 1.5, "HEFT_POINTS / add-in's first argument")


def compare_range(calc: Calc) -> None:
    """One array formula over 20,000 rows against a native formula in each."""
    entered = f"=HEFT_POINTS(A1:A{ROWS};B1:B{ROWS})"
    found = measured(
        {
            "native column": TimedColumn(calc, down(NATIVE), points),
            "native array": TimedColumn(
                calc,
                lambda book: book.put_array(
                    "Sheet1",
                    f"D1:D{ROWS}",
                    f"=(A1:A{ROWS}*(B1:B{ROWS}-35.56)/(28.349523125*2.54)-161)/1.75",
                ),
                points,
            ),
            "HEFT_POINTS array": TimedColumn(
                calc, lambda book: book.put_array("Sheet1", f"D1:D{ROWS}", entered), points
            ),
        }
    )
    tell(f"one formula over {ROWS} rows", found)
    print_ratio(found["HEFT_POINTS array"] / found["native column"], 3, "HEFT_POINTS array / native column")


def compare_order(calc: Calc, demo: Path) -> None:
    """The filled order opened and recomputed, against the same workbook with values only."""
    compare_with_values(calc, demo, "order", most=1.2, rounds=ROUNDS)


def compare_with_values(calc: Calc, path: Path, what: str, *, most: float, rounds: int) -> None:
    """Print how long a workbook is opened and recomputed, against the same workbook with values only."""
    with calc.open(path) as book:
        book.calculate(everything=True)
        cells = len(book.formulas("HEFT_"))
        with_formulas = book.save("formulas.xlsx")
        book.values_only()
        values = book.save("values.xlsx")
    times: dict[str, list[float]] = {}
    for _ in range(rounds):
        for name, saved in (("values only", values), (what, with_formulas)):
            begun = time.perf_counter()
            with calc.open(saved) as book:
                opened = time.perf_counter() - begun
                recomputed = book.calculate(everything=True)
            times.setdefault(name, []).append(opened + recomputed)
            times.setdefault(f"  {name}: opened", []).append(opened)
    found = {name: min(each) for name, each in times.items()}
    tell(f"the filled {what}, {cells} cells with formulas of ours, opened and recomputed", found)
    print_ratio(found[what] / found["values only"], most, f"{what} / values only")


def tell(title: str, found: dict[str, float]) -> None:
    """Print times."""
    print(f"\n{title}")
    for name, seconds in found.items():
        print(f"  {name:<20} {seconds * 1000:9.1f} ms")


def print_ratio(ratio: float, most: float, what: str) -> None:
    """Print a ratio and what it may be."""
    print(f"  {what}: {ratio:.2f} (at most {most}) {'' if ratio <= most else '  MORE'}")


if __name__ == "__main__":
    main()
