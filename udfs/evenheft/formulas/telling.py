"""Formulas: what a sheet says of a club in words: its window, what is flagged, which messages stand in a table."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain

from evenheft.formulas.answers import label_or_message
from evenheft.formulas.arguments import level
from evenheft.formulas.kinds import Cells, Number
from evenheft.formulas.registry import Answer, Argument, formula, what_of
from evenheft.formulas.wording import PASSED_ON, is_blank, show
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.values import CellError, CellRows

CATEGORY = "Judging"
ALL_IN = "all in"
MOST_LETTERS = 250
"""The longest line that a formula may answer with: Excel refuses texts of more than 255 from a function."""
IN = "in"


@dataclass(frozen=True, slots=True)
class Judged:
    """One quantity of a club as a verdict was given on it."""

    name: str
    has_target: bool
    verdict: str
    """"in", "low", "high", "re-measure", a message that begins "! ", or "" where it is not measured."""

    @property
    def message(self) -> str:
        """Return the message in place of a verdict, without its mark, or ""."""
        return self.verdict.removeprefix(PASSED_ON) if self.verdict.startswith(PASSED_ON) else ""


def leave_out_repeats(judged: Iterable[Judged]) -> list[Judged]:
    """Leave out what would be told again: a slip in mass or balance spoils several quantities at once.

    A message is told of the first quantity that has it; and one of a quantity without a target is not told beside
    another.
    """
    kept: list[Judged] = []
    messages: set[str] = set()
    for one in judged:
        if one.message and (one.message in messages or (messages and not one.has_target)):
            continue
        if one.message:
            messages.add(one.message)
        kept.append(one)
    return kept


def shortened(line: str, room: int = MOST_LETTERS) -> str:
    """Cut a line at the longest that every host shows, or at less [characters]."""
    return line if len(line) <= room else f"{line[: room - 4].rstrip(' ,;')} ..."


FLAGS = (Answer("line", "text"), Answer("out", "text"), Answer("open", "text"))


@formula(
    "HEFT_FLAGS",
    category=CATEGORY,
    help='One line on a club from its verdicts: what is out or to be measured again, or "all in", and what has a '
    "target and is not measured yet. A slip that spoils several quantities is told once.",
    arguments=(
        Argument("quantities", "Range with the names of the quantities.", Cells("names"), takes="table"),
        Argument("targets", "Range of equal shape with their targets; blank where a quantity is not judged.",
                 Cells("range"), takes="table", quiet=False),
        Argument("verdicts", "Range of equal shape with what HEFT_VERDICT says of each.", Cells("range"),
                 takes="table", quiet=False),
        what_of(FLAGS),
        Argument("others", "Range with further lines to tell first, such as a group that is not known; blanks are left "
                 "out.", Cells("range"), None, takes="table"),
        Argument("room", "How many letters there is room for, 20 to 255: a longer line is told by verdict, then by how "
                 "many have it. 255 when left out.", Number(20, MOST_LETTERS, whole=True),
                 float(MOST_LETTERS)),
    ),
    answers=FLAGS,
    source="Definition.",
    examples=(
        ('=HEFT_FLAGS({"Swingweight","Lie"}, {"D2",62}, {"low","in"}, "line")', "swingweight low"),
        ('=HEFT_FLAGS({"Swingweight","Lie"}, {"D2",62}, {"in",""}, "line")', "all in; not measured yet: lie"),
        ('=HEFT_FLAGS({"Swingweight","Lie"}, {"D2",62}, {"low","low"}, "line", , 22)', "swingweight, lie low"),
    ),
)  # fmt: skip
def flags(
    quantities: CellRows, targets: CellRows, verdicts: CellRows, others: CellRows | None, room: float
) -> tuple[str, ...]:
    """Return the line, what is out, what is not measured yet [-]."""
    names, goals, words = (list(chain.from_iterable(rows)) for rows in (quantities, targets, verdicts))
    if not len(names) == len(goals) == len(words):
        raise Refused("targets and verdicts must be as many as quantities")
    judged = [
        Judged(cell_text(n).lower(), not is_blank(g), cell_text(w)) for n, g, w in zip(names, goals, words, strict=True)
    ]
    kept = leave_out_repeats(judged)
    first = [cell_text(line).removeprefix(PASSED_ON) for row in others or () for line in row if not is_blank(line)]
    waiting = [one.name for one in judged if one.has_target and not one.verdict]
    still = f"not measured yet: {', '.join(waiting)}" if waiting else ""
    all_in = ALL_IN if any(one.verdict == IN for one in judged) else ""
    out = [*first, *_one_by_one(kept)]
    heads = [line.partition(": ")[0] for line in first]
    # Of what is longer than a cell can answer, what is short is told first: only the last message is cut.
    ways = [out, [*_by_verdict(kept), *first]]
    if room < MOST_LETTERS:
        ways.append([*heads, *_by_verdict(kept)])
        if not any(one.message for one in kept):  # of a message its beginning says more
            ways.append([*heads, *_counted(kept)])
    lines = [_line(way, all_in, still) for way in ways]
    line = next((line for line in lines if len(line) <= room), lines[-1])
    whole = next((line for line in map("; ".join, ways[:2]) if len(line) <= MOST_LETTERS), "; ".join(ways[1]))
    return shortened(line, int(room)), shortened(whole), shortened(still)


def _line(out: list[str], all_in: str, still: str) -> str:
    """Join what is out, or that all is in, and what is not measured yet."""
    said = "; ".join(out) or all_in
    return "; ".join(filter(None, (said, still))) if said else ""


def _one_by_one(judged: list[Judged]) -> list[str]:
    """Say of each quantity what is wrong with it."""
    return [
        f"{one.name}: {one.message}" if one.message else f"{one.name} {one.verdict}"
        for one in judged
        if one.message or one.verdict not in ("", IN)
    ]


def _by_verdict(judged: list[Judged]) -> list[str]:
    """Say each verdict once, behind the quantities that have it."""
    messages = [f"{one.name}: {one.message}" for one in judged if one.message]
    return messages + [f"{', '.join(names)} {verdict}" for verdict, names in _names_by_verdict(judged).items()]


def _counted(judged: list[Judged]) -> list[str]:
    """Say how many quantities have each verdict."""
    return [f"{len(names)} {verdict}" for verdict, names in _names_by_verdict(judged).items()]


def _names_by_verdict(judged: list[Judged]) -> dict[str, list[str]]:
    names: dict[str, list[str]] = {}
    for one in judged:
        if not one.message and one.verdict not in ("", IN):
            names.setdefault(one.verdict, []).append(one.name)
    return names


def cell_text(cell: object) -> str:
    """Write what a cell shows [-]."""
    if isinstance(cell, CellError):
        return f"{PASSED_ON}the cell shows {cell.code}"
    return "" if is_blank(cell) else cell if isinstance(cell, str) else show(cell)


SHOWN = Argument(
    "digits",
    "How many decimals are shown, 0 to 4; -1 writes a swingweight's label such as D2.3. 1 when left out.",
    Number(-1, 4, whole=True),
    1.0,
)


def _shown(value: float, digits: float) -> str:
    """Write a number as a sheet shows it; a label ends at G9.9, and points are shown beyond."""
    if digits >= 0:
        places = int(digits)
        return f"{round(value, places) + 0.0:.{places}f}"  # + 0.0 turns a -0.0 into 0.0
    label = label_or_message(value)
    return f"{value:.1f} points" if label.startswith(PASSED_ON) else label


@formula(
    "HEFT_WINDOW",
    category=CATEGORY,
    help='What a club must hit, in words: "D1.5 to D2.5" for a target of D2 and a tolerance of 0.5.',
    arguments=(
        level("target", 'What is wanted, in any unit, or a swingweight label such as "D2".'),
        Argument("tolerance", "The deviation that is still accepted, in the same unit.", Number(0, 1e6)),
        SHOWN,
    ),
    answers=(Answer("window", "text"),),
    source="Definition.",
    examples=(('=HEFT_WINDOW("D2", 0.5, -1)', "D1.5 to D2.5"), ("=HEFT_WINDOW(2680, 40, 0)", "2640 to 2720")),
)
def window(target: float, tolerance: float, digits: float) -> str:
    """Return the lowest and highest accepted value [the target's unit], as text."""
    return f"{_shown(target - tolerance, digits)} to {_shown(target + tolerance, digits)}"


@formula(
    "HEFT_SHOWN",
    category=CATEGORY,
    help='A value as a sheet shows it, with its doubt where it is known: "D2.1 ± 0.4".',
    arguments=(
        level("value", "The number, in any unit, or a swingweight label."),
        Argument("doubt", "Its doubt in the same unit; not told when left out or 0.", Number(0, 1e6), 0.0),
        SHOWN,
    ),
    answers=(Answer("text", "text"),),
    source="Definition.",
    examples=(("=HEFT_SHOWN(32.1, 0.4, -1)", "D2.1 ± 0.4"), ("=HEFT_SHOWN(2684.2, 14, 0)", "2684 ± 14")),
)
def shown(value: float, doubt: float, digits: float) -> str:
    """Write a value and its doubt [any unit]."""
    half = f"{doubt:.{max(1, int(digits)) if digits < 0 or digits >= 1 else 0}f}"
    if doubt > 0 and float(half) == 0:  # no instrument is exact: the last place that is shown
        half = f"{half[:-1]}1"
    return _shown(value, digits) + (f" ± {half}" if doubt > 0 else "")


@formula(
    "HEFT_MESSAGES",
    category="Tools",
    help="The first message of a table in full, behind the name of its row, and in how many more rows one stands. "
    "Blank where all is well.",
    arguments=(
        Argument("names", "Column with each row's name, e.g. the clubs.", Cells("column"), takes="table", quiet=False),
        Argument("cells", "Cells of equal height that formulas may have answered with a message.", Cells("range"),
                 takes="table", quiet=False),
    ),
    answers=(Answer("line", "text"),),
    source="Definition.",
    examples=(
        ('=HEFT_MESSAGES({"7-iron";"8-iron"}, {"D2.1";"! head mass lacks"})', "8-iron: head mass lacks"),
        ('=HEFT_MESSAGES({"7-iron";"8-iron"}, {"D2.1";"D2.0"})', ""),
    ),
)  # fmt: skip
def messages(names: CellRows, cells: CellRows) -> str:
    """Tell the first message of a table and how many rows have one [-], or ""."""
    if len(names) != len(cells):
        raise Refused("cells must be as high as names")
    found = []
    for (name, *_), row in zip(names, cells, strict=True):
        said = next((text for text in map(cell_text, row) if text.startswith(PASSED_ON)), "")
        if said:
            found.append(f"{cell_text(name) or 'a row without a name'}: {said.removeprefix(PASSED_ON)}")
    if not found:
        return ""
    others = len(found) - 1
    more = f" (and {others} more {'row' if others == 1 else 'rows'})" if others else ""
    return shortened(found[0])[: MOST_LETTERS - len(more)] + more
