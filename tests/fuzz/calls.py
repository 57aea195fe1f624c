"""Formula calls with anything that a cell can hold: by hand as many as wanted, a few of them in the tests.

    python tests/fuzz/calls.py 300000 --seed 22

prints how many calls were made over all formulas, how many failed, and the most work that one took.
"""

from __future__ import annotations

import argparse
import math
import random
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from evenheft.formulas import REGISTRY, Formula
from evenheft.formulas.serving import server
from evenheft.ooxml.text import LONGEST_LINE
from evenheft.ooxml.values import CellError

LONGEST = 32_767
"""Characters that a cell can hold."""
TEXTS = (
    "", " ", "D2", "75,3 cm", "44 1/2 in", "! a message", "! \x1b[2J\n" + "m" * 400, "Head (g)", "none", "#N/A",
    "a" * LONGEST, "(" * LONGEST, "1 " * (LONGEST // 2), "1/" * (LONGEST // 2), "9" * LONGEST, "," * LONGEST,
    "D 1" + " " * (LONGEST - 4) + "x", "\x9b2J\u202e", "７５", "iron", "g cm", "mass", "\ud800", "'" * LONGEST,
    "tape," * (LONGEST // 5), "75.3 " * (LONGEST // 5), "[" * LONGEST, "1" + " " * (LONGEST - 2) + "x",
)  # fmt: skip
NUMBERS = (0, 0.0, -0.0, 1, -1, 395.0, 75.3, 1e308, -1e308, 5e-324, 1e15, 0.1, 29.6, 2, 3, math.pi, 44197)
OTHERS = (None, True, False, CellError("#N/A"), CellError("#DIV/0!\x9b\u202e\n"), math.inf, math.nan, 10**400)


@dataclass
class CallsTried:
    """What a run has shown."""

    calls: int = 0
    failures: list[str] = field(default_factory=list)
    slowest: float = 0.0
    """The most work for one call [s]."""
    slowest_name: str = ""

    def call(
        self, serve: Callable[..., object], given: Sequence[object], called: str, most_seconds: float = 0.0
    ) -> None:
        """Make one call and keep what it has shown.

        Args:
            serve: the formula as a host calls it [-].
            given: its arguments [-].
            called: what the call is told by [-].
            most_seconds: the limit of the call's own work, none where 0 [s].
        """
        begun = time.process_time()  # its own work, whatever else the machine does
        try:
            found = wrong(serve(*given))
        except BaseException as error:  # the very thing that must not happen
            found = f"raises {type(error).__name__}: {error}"
        taken = time.process_time() - begun
        if most_seconds and taken > most_seconds and not found:
            found = f"takes {taken:.1f} s"
        self.calls += 1
        if found:
            self.failures.append(f"{called}: {found}")
        if taken > self.slowest:
            self.slowest, self.slowest_name = taken, called


def cell(chance: random.Random) -> object:
    return chance.choice(chance.choice((TEXTS, NUMBERS, NUMBERS, OTHERS)))


def argument(chance: random.Random) -> object:
    if chance.random() < 0.8:
        return cell(chance)
    rows, columns = chance.choice(((1, 1), (3, 1), (1, 4), (2, 2), (0, 0), (5, 3)))
    return [[cell(chance) for _ in range(columns)] for _ in range(rows)]


def wrong(answer: object) -> str:
    """Say what an answer is that no cell may show, or nothing."""
    if isinstance(answer, tuple):
        return next((found for row in answer for one in row if (found := wrong(one))), "")
    if isinstance(answer, str):
        if "failed inside" in answer:
            return answer
        if not (answer.isprintable() and len(answer) <= LONGEST_LINE):
            return f"a text of {len(answer)} characters: {answer[:80]!r}"
        return ""
    return "" if isinstance(answer, int | float) and math.isfinite(answer) else f"answers {answer!r}"


def calls(count: int, seed: int) -> Iterator[tuple[Formula, list[object]]]:
    chance = random.Random(seed)
    formulas = list(REGISTRY.values())
    for number in range(count):
        formula = formulas[number % len(formulas)]
        most = len(formula.arguments)
        yield formula, [argument(chance) for _ in range(chance.randint(0, most + (chance.random() < 0.05)))]


def run(count: int, seed: int = 1) -> CallsTried:
    outcome = CallsTried()
    served = {name: server(formula, "fuzz") for name, formula in REGISTRY.items()}
    for formula, given in calls(count, seed):
        outcome.call(served[formula.name], given, f"{formula.name}{given!r:.200}")
    return outcome


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("count", type=int, nargs="?", default=3000)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    done = run(given.count, given.seed)
    print(f"{done.calls} calls of {len(REGISTRY)} formulas, {len(done.failures)} failures")
    print(f"the most work took {done.slowest:.2f} s: {done.slowest_name}")
    print("\n".join(done.failures[:20]))
    sys.exit(bool(done.failures))


if __name__ == "__main__":
    main()
