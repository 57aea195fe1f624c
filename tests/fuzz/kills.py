"""Commands killed at any moment: each file is the whole old or the whole new one, and no command tells a half.

    python tests/fuzz/kills.py 300

prints for each command how many runs were killed while they ran, and what they left.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "udfs"))

from fuzz.commands import load, run, started
from fuzz.workbooks import Sources, damage_of, sources

Writing = dict[str, tuple[list[str], list[str], str]]
WRITING: Writing = {
    "adopt": (["adopt", "two.xlsx", "--write", "new.xlsx"], ["two.xlsx"], "new.xlsx"),
    "check --save": (["check", "order.xlsx", "--save", "--backup"], ["order.xlsx"], "order.xlsx"),
    "receive": (["receive", "order.xlsx", "heads.xlsx", "-o", "new.xlsx"], ["order.xlsx", "heads.xlsx"], "new.xlsx"),
    "shop keep": (["shop", "keep", "order.xlsx", "--backup"], ["order.xlsx", "empty-shop.xlsx"], "evenheft-shop.xlsx"),
    "shop forget": (["shop", "forget", "DEMO-1", "--backup"], ["kept.xlsx"], "evenheft-shop.xlsx"),
    "share --for supplier": (
        ["share", "order.xlsx", "--for", "supplier", "-o", "new.xlsx"], ["order.xlsx"], "new.xlsx",
    ),
    "share --plain": (["share", "order.xlsx", "--plain", "-o", "new.xlsx"], ["order.xlsx"], "new.xlsx"),
    "share --plain --clean": (
        ["share", "order.xlsx", "--plain", "--clean", "-o", "new.xlsx"], ["order.xlsx"], "new.xlsx",
    ),
    "excel embed": (["excel", "embed", "order.xlsx", "--to", "new.xlsm"], ["order.xlsx"], "new.xlsm"),
    "demo": (["demo", "new folder"], [], "new folder/demo-order.xlsx"),
}  # fmt: skip
"""What is typed, beside which files, and what it writes."""


@dataclass
class KillsTried:
    """What many kills have shown."""

    kills: Counter[str] = field(default_factory=Counter)
    """How many hit a running command."""
    finished: Counter[str] = field(default_factory=Counter)
    left: Counter[str] = field(default_factory=Counter)
    """How many left the old state, and how many the new one."""
    failures: list[str] = field(default_factory=list)


def files_of(command: str, made: Sources, folder: Path, writing: Writing | None = None) -> dict[str, bytes]:
    _, names, _ = (writing or WRITING)[command]
    own = dict.fromkeys(("kept.xlsx", "empty-shop.xlsx"), "evenheft-shop.xlsx")
    before = {own.get(name, name): made[name] for name in names}
    folder.mkdir(parents=True)
    for name, content in before.items():
        (folder / name).write_bytes(content)
    return before


def usual_seconds(command: str, made: Sources, folder: Path) -> tuple[float, bytes]:
    """Run a command once to its end: how long it takes by the clock, and what it writes."""
    files_of(command, made, folder)
    begun = time.monotonic()
    ran = run(WRITING[command][0], folder)
    taken = time.monotonic() - begun
    assert ran.code in (0, 3), f"{command}: {ran.err}"
    return taken, (folder / WRITING[command][2]).read_bytes()


def killed(command: str, made: Sources, folder: Path, wait: float, whole: bytes) -> tuple[bool, str, str]:
    """Kill a command after a while: whether it still ran, what it left, and what is wrong with that."""
    words, _, written = WRITING[command]
    before = files_of(command, made, folder)
    child = started(words, folder)
    time.sleep(wait)
    os.kill(child, signal.SIGKILL)
    still_ran = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) < 0
    now = folder / written
    old = before.get(written)
    content = now.read_bytes() if now.exists() else None
    left = "old" if content == old else "new"
    for path in folder.rglob("*"):
        if path.is_dir() or path == now or path.name.startswith("."):
            continue  # what begins with a dot is the half-written file, told by the doctor
        if path.suffix == ".bak" and path.read_bytes() == before.get(path.name.removesuffix(".bak")):
            continue
        if path.read_bytes() != before.get(path.name):
            return still_ran, left, f"changes or leaves {path.name}"
    if left == "new" and (content is None or damage_of(content) or len(content) != len(whole)):
        return still_ran, left, f"leaves a half {written}"
    again = run(words, folder)  # the next run finds nothing in its way, or says that it is done
    if again.code not in (0, 2, 3) or (left == "old" and again.code == 2):
        return still_ran, left, f"the next run ends with {again.code}: {again.err[-200:]}"
    return still_ran, left, ""


def run_many(count: int, *, office: bool = False) -> KillsTried:
    load()
    base = Path(tempfile.mkdtemp(prefix="evenheft-kills-"))
    made = sources(base / "sources", office=office)
    outcome = KillsTried()
    usual = {}
    names = list(WRITING)[:count]
    for command in names:
        usual[command] = usual_seconds(command, made, base / f"whole {command}")
    chance = random.Random(20261125)
    for number in range(count):
        command = names[number % len(names)]
        seconds, whole = usual[command]
        still_ran, left, wrong = killed(command, made, base / f"run-{number}", chance.uniform(0, 1.2 * seconds), whole)
        outcome.kills[command] += still_ran
        outcome.finished[command] += not still_ran
        outcome.left[left] += 1
        if wrong:
            outcome.failures.append(f"{number} ({command}): {wrong}")
            print(outcome.failures[-1], flush=True)
        else:
            shutil.rmtree(base / f"run-{number}")
    if not outcome.failures:
        shutil.rmtree(base)
    return outcome


def main(tell: Callable[[str], None] = print) -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("count", type=int, nargs="?", default=30)
    done = run_many(asked.parse_args().count)
    for command in [command for command in WRITING if done.kills[command] + done.finished[command]]:
        tell(f"{command}: {done.kills[command]} killed while it ran, {done.finished[command]} had ended")
    total = sum(done.kills.values()) + sum(done.finished.values())
    tell(f"{total} kills: {done.left['old']} left the old, {done.left['new']} the new; {len(done.failures)} failures")
    sys.exit(bool(done.failures))


if __name__ == "__main__":
    main()
