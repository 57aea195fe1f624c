"""Calls in which a cell holds as long a text as a cell can: in every argument of every formula, and in all of them.

    python tests/fuzz/long_texts.py

prints how many calls were made, how many failed, and the most work that one took. Nothing is drawn by lot.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from evenheft.formulas import REGISTRY, Formula
from evenheft.formulas.serving import server
from fuzz.calls import LONGEST, CallsTried
from parity_cases import GOOD

MOST_SECONDS = 1.0
"""Of the work for one call [s]."""
PIECES = (
    "a", "A", "é", "½", "5²", "٣", "中", "\U0001f3cc", "9", "1 ", "1/", "1/2 ", "1.", ",", ".", ";", "75,3 ", "75.3; ",
    "75.3 cm ", "1e5", "-", "+", "(", ")", "()", "[", "]", "(g) ", "'", '"', "3' ", "in ", "D", "D2 ", "tape, ",
    "tape and ", "Head mass (g) ", "Shaft wt. [g]", "Balance from butt ", "weight ", "7-iron ", "none", "! ", "!", "#",
    "= ", "\\", "%", "\t", "\n", "\r\n", "\xa0", "\u200b", "\x9b2J", "\u202e", "\x00", "\ud800", "ß", "İ", "ﬁ", "x",
)  # fmt: skip
"""What a long text repeats."""
ENDS = ("", "x")
"""What comes after blanks that fill a cell, where a pattern may try every one of them."""
_CELLS = 3
"""So many cells of a range hold the text in turn."""


def texts(length: int) -> Iterator[str]:
    """Texts of a length [characters]."""
    for piece in PIECES:
        yield (piece * (length // len(piece) + 1))[:length]
    for start in ("", "1", "75.3", "D 1", "a", "("):
        for end in ENDS:
            yield start + " " * (length - len(start) - len(end)) + end


def places(formula: Formula) -> Iterator[tuple[str, list[object]]]:
    """Arguments that are good but for the cells that hold `TEXT`: one argument, a cell of its range, all of them."""
    good: list[object] = list(GOOD[formula.name])
    good += [None] * (len(formula.arguments) - len(good))
    for at, argument in enumerate(formula.arguments):
        yield argument.name, [*good[:at], TEXT, *good[at + 1 :]]
        value = good[at]
        if isinstance(value, tuple):
            where = [(row, column) for row in range(len(value)) for column in range(len(value[row]))]
            for place in where[:_CELLS] + where[-1:]:
                rows = [
                    [TEXT if (r, c) == place else cell for c, cell in enumerate(row)] for r, row in enumerate(value)
                ]
                yield f"{argument.name}, a cell", [*good[:at], rows, *good[at + 1 :]]
            yield f"{argument.name}, every cell", [*good[:at], [[TEXT] * len(row) for row in value], *good[at + 1 :]]
    yield "all", [TEXT] * len(formula.arguments)
    yield "all, a range each", [[[TEXT], [TEXT]]] * len(formula.arguments)


class _Text:
    """Stands where a text is put."""


TEXT = _Text()


def filled(given: object, text: str) -> object:
    """Put a text where `TEXT` stands."""
    if isinstance(given, list | tuple):
        return [filled(one, text) for one in given]
    return text if given is TEXT else given


def run(length: int = LONGEST, *, most_seconds: float = MOST_SECONDS) -> CallsTried:
    """Call every formula with every text in every place.

    Args:
        length: of the texts [characters].
        most_seconds: the limit of a call's own work, none where 0 [s].
    """
    tried = CallsTried()
    for formula in REGISTRY.values():
        serve = server(formula, "fuzz")
        for where, given in places(formula):
            for text in texts(length):
                arguments = [filled(one, text) for one in given]
                tried.call(serve, arguments, f"{formula.name}, {where}, {text[:12]!r}", most_seconds)
    return tried


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--length", type=int, default=LONGEST, help="of the texts, in characters")
    asked.add_argument("--untimed", action="store_true", help="judge no call by how long it takes")
    given = asked.parse_args()
    done = run(given.length, most_seconds=0 if given.untimed else MOST_SECONDS)
    print(f"{done.calls} calls of {len(REGISTRY)} formulas, {len(done.failures)} failures")
    print(f"the most work took {done.slowest:.2f} s: {done.slowest_name}")
    print("\n".join(done.failures[:40]))
    sys.exit(bool(done.failures))


if __name__ == "__main__":
    main()
