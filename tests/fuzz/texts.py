"""Formula texts put together at random, each given to `evenheft eval`: an answer or one line, and no more than 10 s.

    python tests/fuzz/texts.py 10000

prints how many were answered and how many refused, and the most work that one took.
"""

from __future__ import annotations

import argparse
import random
import shutil
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from evenheft.formulas import REGISTRY
from fuzz.commands import load, run
from parity_cases import GOOD

MOST_SECONDS = 10.0
"""Of the work for one text [s]."""
NAMES = (
    *REGISTRY,
    "SUM",
    "IF",
    "INDEX",
    "SEQUENCE",
    "REPT",
    "LET",
    "LAMBDA",
    "OFFSET",
    "INDIRECT",
    "TEXT",
    "HEFT_NONE",
)
PIECES = (
    "(", ")", ",", ";", "+", "-", "*", "/", "^", "&", "=", "<>", "%", " ", "\n", '"', '""', '"D2"', '"75.3 cm"', "1",
    "395", "75.3", "1E400", "1e308", "-0", "A1", "A:XFD", "A1:B3", "Sheet1!A1", "[1]!", "[1]Sheet1!A1", "{1,2;3,4}",
    "{1;2}", "TRUE", "#N/A", "#REF!", "@", "#", "'", "!", "cmd|'/c calc'!A0", "é", "\x1b[2J", "\u202e", "7-iron", "x",
    'REPT("a",32767)', "SEQUENCE(5000)", "SEQUENCE(1000,1000)",
)  # fmt: skip


@dataclass
class TextsTried:
    """What many texts have shown."""

    ends: Counter[int] = field(default_factory=Counter)
    failures: list[str] = field(default_factory=list)
    slowest: float = 0.0
    """The most work for one text [s]."""
    slowest_text: str = ""


def as_typed(value: object) -> str:
    """Write an argument as it is typed into a formula."""
    if isinstance(value, tuple):
        return "{" + ";".join(",".join(map(as_typed, row)) for row in value) + "}"
    return '""' if value is None else f'"{value}"' if isinstance(value, str) else str(value)


def text(chance: random.Random) -> str:
    """A call as a person would type it, half of the time with a slip or two; or pieces in any order."""
    how = chance.random()
    if how < 0.7:
        name = chance.choice(NAMES)
        good = [as_typed(value) for value in GOOD.get(name, ())] or [chance.choice(PIECES) for _ in range(3)]
        arguments = ",".join(chance.choice(PIECES) if chance.random() < 0.1 else one for one in good)
        typed = f"={name}({arguments})"
        for _ in range(chance.choice((0, 0, 1, 2))):
            at = chance.randrange(len(typed))
            typed = typed[:at] + chance.choice(PIECES) + typed[at + chance.randrange(2) :]
        return typed
    if how < 0.95:
        return "".join(chance.choice((*PIECES, *(f"{n}(" for n in NAMES))) for _ in range(chance.randrange(1, 30)))
    return chance.choice(PIECES) * chance.choice((300, 4000, 9000))


def run_many(count: int, seed: int, *, most_seconds: float) -> TextsTried:
    load()
    base = Path(tempfile.mkdtemp(prefix="evenheft-texts-"))
    folder = base / "run"
    folder.mkdir()
    chance = random.Random(seed)
    outcome = TextsTried()
    for _ in range(count):
        typed = text(chance).replace("\0", "")
        ran = run(["eval", "--", typed], folder)
        outcome.ends[ran.code] += 1
        if found := ran.wrong(most_seconds):
            outcome.failures.append(f"{typed[:200]!r}: {found}")
            print(outcome.failures[-1], flush=True)
        if ran.seconds > outcome.slowest:
            outcome.slowest, outcome.slowest_text = ran.seconds, typed[:80]
    shutil.rmtree(base)
    return outcome


def main() -> None:
    reader = argparse.ArgumentParser()
    reader.add_argument("count", type=int, nargs="?", default=200)
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--untimed", action="store_true", help="judge no text by how long it takes")
    asked = reader.parse_args()
    done = run_many(asked.count, asked.seed, most_seconds=0 if asked.untimed else MOST_SECONDS)
    ends = f"{done.ends[0]} answered, {done.ends[2]} refused"
    print(f"{sum(done.ends.values())} texts, {ends}, {len(done.failures)} failures")
    if not asked.untimed:
        print(f"the most work took {done.slowest:.1f} s: {done.slowest_text!r}")
    sys.exit(bool(done.failures))


if __name__ == "__main__":
    main()
