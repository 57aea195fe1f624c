"""Every command over workbooks changed at random: by hand as many as wanted, a few of them in the tests.

    python tests/fuzz/workbooks.py 10000            # in all, as many to each command
    python tests/fuzz/workbooks.py 1 --from 4711    # one run again, by its number

prints how many runs each command had and how they ended. A run fails that breaks, hangs, takes more than 10 s of work,
prints what a terminal would obey, refuses in more than one line, leaves a half-written file or touches what it reads.
"""

from __future__ import annotations

import argparse
import random
import shutil
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

import openpyxl

from cli.test_plan import book_of
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.package import CheckedPackage
from evenheft.order.supplier.book import AT, FIRST, HEADS_SHEET
from fuzz.commands import Ran, load, run
from fuzz.mutations import mutated
from other_programs import soffice_convert, xlsxwriter_made
from pairing_shops import shop
from shop_sheets import openpyxl_shop, xlsxwriter_shop

MOST_SECONDS = 10.0
"""Of a run's own work [s]."""
COUNT_EVERY = 250
"""Runs after which a long trial tells how far it is, so that one that is cut short still counts."""
Sources = dict[str, bytes]


@dataclass(frozen=True)
class Trial:
    """What is typed, beside which files, of which one is changed."""

    words: list[str]
    files: list[str]
    """Sources, copied under their own names."""
    victim: str
    writes: tuple[str, ...] = ()
    """Files that the command may change, besides new ones."""


def _check(chance: random.Random) -> Trial:
    how = chance.choice(([], ["--json"], ["--save"], ["--save", "--backup"]))
    return Trial(
        ["check", "order.xlsx", *how], ["order.xlsx"], "order.xlsx", ("order.xlsx",) if how[:1] == ["--save"] else ()
    )


def _share_heads(_: random.Random) -> Trial:
    return Trial(["share", "order.xlsx", "--for", "supplier"], ["order.xlsx"], "order.xlsx")


def _share_plain(_: random.Random) -> Trial:
    return Trial(["share", "order.xlsx", "--plain"], ["order.xlsx"], "order.xlsx")


def _share_clean(_: random.Random) -> Trial:
    return Trial(["share", "order.xlsx", "--plain", "--clean"], ["order.xlsx"], "order.xlsx")


def _doctor(chance: random.Random) -> Trial:
    name = chance.choice(("order.xlsx", "shop.xlsm", "heads.xlsx", "evenheft-shop.xlsx"))
    return Trial(["doctor", name], [name], name)


def _receive(chance: random.Random) -> Trial:
    answer = chance.choice(("heads.xlsx", "heads.xlsx", "heads.xlsx", "heads.ods", "heads.xls", "heads.csv"))
    victim = chance.choice((answer, answer, answer, "order.xlsx"))
    return Trial(["receive", "order.xlsx", answer, *chance.choice(([], ["--show"]))], ["order.xlsx", answer], victim)


def _adopt(chance: random.Random) -> Trial:
    name = chance.choice(("shop.xlsm", "two.xlsx", "adopted.xlsm"))
    sheet = [] if name == "two.xlsx" else ["--sheet", "Irons"]
    copy = ["--write", f"copy{Path(name).suffix}"]
    how = chance.choice(([], ["--all"], copy, [*copy, "--target", "D2", "--tolerance", "1"], ["--remove", *copy]))
    return Trial(["adopt", name, *sheet, *how], [name], name)


def _plan(_: random.Random) -> Trial:
    return Trial(["plan", "plan.xlsx", "--seconds", "3"], ["plan.xlsx"], "plan.xlsx")


def _keep(chance: random.Random) -> Trial:
    book = "evenheft-shop.xlsx"
    victim = chance.choice(("order.xlsx", book))
    return Trial(["shop", "keep", "order.xlsx"], ["order.xlsx", book], victim, (book,))


def _forget(_: random.Random) -> Trial:
    book = "evenheft-shop.xlsx"
    return Trial(["shop", "forget", "DEMO-1"], [book], book, (book,))


def _embed(chance: random.Random) -> Trial:
    name = chance.choice(("order.xlsx", "shop.xlsm", "two.xlsx"))
    return Trial(["excel", "embed", name], [name], name)


def _relink(chance: random.Random) -> Trial:
    name = chance.choice(("order.xlsx", "made.xlsm"))
    return Trial(["excel", "relink", name], [name], name)


COMMANDS: dict[str, Callable[[random.Random], Trial]] = {
    "check": _check, "share --for supplier": _share_heads, "share --plain": _share_plain, "share --clean": _share_clean,
    "receive": _receive, "adopt": _adopt, "plan": _plan, "shop keep": _keep, "shop forget": _forget,
    "excel embed": _embed, "excel relink": _relink, "doctor": _doctor,
}  # fmt: skip


def sources(folder: Path, *, office: bool) -> Sources:
    """Make the workbooks that are changed; commands of their own compute them, so that this process stays unused."""

    def must(*words: str) -> None:
        ran = run(list(words), folder)
        assert ran.code in (0, 3), f"{words}: {ran.err}"

    folder.mkdir()
    must("demo", ".")
    (folder / "demo-order.xlsx").rename(folder / "order.xlsx")
    must("share", "order.xlsx", "--for", "supplier", "-o", "heads.xlsx")
    book = openpyxl.load_workbook(folder / "heads.xlsx")
    for row in range(FIRST, book[HEADS_SHEET].max_row + 1):
        book[HEADS_SHEET].cell(row, AT["actual"]).value = 250.2
    book.save(folder / "heads.xlsx")
    _in_other_formats(folder, office=office)
    must("shop", "new")
    (folder / "empty-shop.xlsx").write_bytes((folder / "evenheft-shop.xlsx").read_bytes())
    must("shop", "keep", "order.xlsx")
    xlsxwriter_shop(folder).rename(folder / "shop.xlsm")
    openpyxl_shop(folder).rename(folder / "two.xlsx")
    xlsxwriter_made(folder).rename(folder / "made.xlsm")
    (folder / "kept.xlsx").write_bytes((folder / "evenheft-shop.xlsx").read_bytes())
    must("adopt", "shop.xlsm", "--sheet", "Irons", "--target", "D2", "--tolerance", "1", "--write", "adopted.xlsm")
    book_of(shop(clubs=4, shafts=6, sizes=5, seed=3), folder / "plan.xlsx")
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def _in_other_formats(folder: Path, *, office: bool) -> None:
    """Write the supplier's answer as .csv, .ods and .xls; of the last two, what a stranger could as well have sent."""
    rows = openpyxl.load_workbook(folder / "heads.xlsx")[HEADS_SHEET].iter_rows(values_only=True)
    text = "\n".join(",".join("" if cell is None else f'"{cell}"' for cell in row) for row in rows)
    (folder / "heads.csv").write_text(text, encoding="utf-8")
    for ending in ("ods", "xls"):
        if office:
            soffice_convert(folder / "heads.xlsx", ending, folder).rename(folder / f"heads.{ending}")
        else:  # only files that are no workbooks of that kind
            shutil.copy(folder / "heads.csv", folder / f"heads.{ending}")


def tried(number: int, command: str, made: Sources, base: Path, most_seconds: float) -> tuple[Ran, str]:
    """Make one run, and say what is wrong with it, or nothing."""
    chance = random.Random(number)
    trial = COMMANDS[command](chance)
    folder = base / f"run-{number}"
    folder.mkdir()
    before = {name: made[name] for name in trial.files}
    before[trial.victim] = mutated(made[trial.victim], chance)
    for name, content in before.items():
        (folder / name).write_bytes(content)
    ran = run(trial.words, folder)
    found = ran.wrong(most_seconds) or _wrong_files(folder, before, trial.writes)
    if not found:
        shutil.rmtree(folder)
    return ran, found


def _wrong_files(folder: Path, before: Sources, writes: tuple[str, ...]) -> str:
    for path in folder.iterdir():
        if path.name.endswith(".lock"):
            continue
        old = before.get(path.name)
        if old is not None and path.read_bytes() == old:
            continue
        if old is not None and path.name not in writes:
            return f"changes {path.name}"
        if path.name.startswith("."):
            return f"leaves {path.name}"
        if path.suffix == ".bak":
            if path.read_bytes() not in before.values():
                return f"keeps in {path.name} what was not there"
            continue
        # A part that a command does not read goes into its copy as it was, be it damaged.
        if (reason := _damage(path)) and not any(damage_of(content) for content in before.values()):
            return f"writes {path.name}, which cannot be opened: {reason}"
    return ""


def _damage(path: Path) -> str:
    return damage_of(path.read_bytes())


def damage_of(workbook: bytes) -> str:
    try:
        with CheckedPackage(workbook, name="it"):
            return ""
    except Refused as reason:
        return str(reason)


@dataclass
class WorkbooksTried:
    """What many runs have shown."""

    runs: Counter[str] = field(default_factory=Counter)
    ends: dict[str, Counter[int]] = field(default_factory=lambda: defaultdict(Counter))
    failures: list[str] = field(default_factory=list)
    slowest: float = 0.0
    """The longest run's own work [s]."""
    slowest_number: int = 0


def run_many(
    count: int, first: int, *, most_seconds: float = MOST_SECONDS, only: str = "", office: bool = False
) -> WorkbooksTried:
    load()
    base = Path(tempfile.mkdtemp(prefix="evenheft-fuzz-"))
    made = sources(base / "sources", office=office)
    outcome = WorkbooksTried()
    names = list(COMMANDS)
    for number in range(first, first + count):
        command = only or names[number % len(names)]
        ran, found = tried(number, command, made, base, most_seconds)
        outcome.runs[command] += 1
        outcome.ends[command][ran.code] += 1
        if found:
            outcome.failures.append(f"{number} ({command}): {found}")
            print(outcome.failures[-1], flush=True)
        if ran.seconds > outcome.slowest:
            outcome.slowest, outcome.slowest_number = ran.seconds, number
        if (number - first + 1) % COUNT_EVERY == 0:
            print(f"up to run {number}: {len(outcome.failures)} failures", file=sys.stderr, flush=True)
    if not outcome.failures:
        shutil.rmtree(base)
    return outcome


def main() -> None:
    reader = argparse.ArgumentParser()
    reader.add_argument("count", type=int, nargs="?", default=100)
    reader.add_argument("--from", dest="first", type=int, default=1)
    reader.add_argument("--only", default="", choices=["", *COMMANDS])
    reader.add_argument("--untimed", action="store_true", help="judge no run by how long it takes")
    reader.add_argument("--office", action="store_true", help="let LibreOffice write the answers in .ods and .xls")
    asked = reader.parse_args()
    limit = 0 if asked.untimed else MOST_SECONDS
    done = run_many(asked.count, asked.first, most_seconds=limit, only=asked.only, office=asked.office)
    for command, count in done.runs.items():
        ends = ", ".join(f"{number} with {code}" for code, number in sorted(done.ends[command].items()))
        print(f"{command}: {count} runs, {ends}")
    print(f"{sum(done.runs.values())} runs, {len(done.failures)} failures")
    if not asked.untimed:
        print(f"the most work took {done.slowest:.1f} s: run {done.slowest_number}")
    sys.exit(bool(done.failures))


if __name__ == "__main__":
    main()
