"""LibreOffice for the tests: the add-in in a throw-away profile, and a workbook that tests type into and read from.

LibreOffice runs as an ordinary user (unopkg refuses root), its Python runs calc_driver.py (pytest's has no UNO), and
the two speak lines of JSON.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import tempfile
import uuid
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from evenheft.hosts.calc.office import Office, OfficeError, find
from evenheft.ooxml.values import CellError

SYSTEM_PYTHON = "/usr/bin/python3"
DRIVER = Path(__file__).with_name("calc_driver.py")


WITHOUT = "EVENHEFT_WITHOUT_OFFICE"
"""The variable by which `tests/run` has the other Pythons' tests do without LibreOffice, CI's as well."""


class MissingError(Exception):
    """No LibreOffice that is new enough, with UNO for Python, is on this machine, or none shall be used."""


def ordinary_user(home: Path) -> list[str]:
    """What to put before a command so that it runs as an ordinary user at home in a folder.

    It runs in that folder too: where root runs the tests, the ordinary user may be unable to enter root's.
    """
    if os.geteuid() != 0:
        return ["env", f"HOME={home}"]
    import pwd  # not on Windows, where there is no such user

    shutil.chown(home, "nobody", pwd.getpwnam("nobody").pw_gid)
    user = ["setpriv", "--reuid=nobody", f"--regid={home.stat().st_gid}", "--clear-groups"]
    return [*user, "env", f"--chdir={home}", f"HOME={home}"]


@cache
def office_has_scipy() -> bool:
    """Whether LibreOffice's Python has scipy; where not, HEFT_PLAN says so (test_vendor.py takes scipy along)."""
    return not subprocess.run([SYSTEM_PYTHON, "-c", "import scipy"], capture_output=True, check=False).returncode


@dataclass(frozen=True)
class UserOffice(Office):
    """A LibreOffice that is used by the ordinary user."""

    run_as: Sequence[str] = ()

    def _finished(self, line: Sequence[str], *, tolerate: bool) -> str:
        return super()._finished([*self.run_as, *line], tolerate=tolerate)


def needed_office() -> Office:
    """The machine's LibreOffice, or MissingError."""
    if os.environ.get(WITHOUT):
        raise MissingError(f"{WITHOUT} is set")
    try:
        office = find()
    except OfficeError as error:
        raise MissingError(str(error)) from None
    if not office.recent_enough or not office.runs_python:
        raise MissingError(f"LibreOffice {office.version} in {office.program} is too old or has no Python")
    probe = subprocess.run([SYSTEM_PYTHON, "-c", "import uno"], capture_output=True, check=False)
    if probe.returncode:
        raise MissingError(f"{SYSTEM_PYTHON} cannot import uno")
    return office


class Calc:
    """A running LibreOffice with the add-in."""

    def __init__(self, folder: Path, *extensions: Path, before: Callable[[Path], None] | None = None) -> None:
        """Install extensions into a new profile in a folder, and start LibreOffice with it.

        Args:
            folder: where everything lies that this LibreOffice writes.
            extensions: what to install.
            before: what to do to the ordinary user's home first.
        """
        found = needed_office()
        folder.chmod(0o755)
        self.folder = folder
        self.home = folder / "home"
        self.home.mkdir()
        if before is not None:
            before(self.home)
        self.run_as = ordinary_user(self.home)
        self.office = UserOffice(found.program, found.version, self.home / "profile", self.run_as)
        for extension in extensions:
            # From here, not from where it lies: each pytest closes its folders to all but the one who runs it.
            copy = Path(shutil.copyfile(extension, folder / extension.name))
            copy.chmod(0o644)
            self.office.install(copy)
        pipe = f"evenheft-{uuid.uuid4().hex}"
        driver = folder / "driver.py"
        shutil.copy(DRIVER, driver)
        driver.chmod(0o644)
        start = self.office.command(
            "soffice", "--headless", "--norestore", "--nologo", f"--accept=pipe,name={pipe};urp"
        )
        self._log = (folder / "office.log").open("w")
        self._office_process = subprocess.Popen(
            [*self.run_as, *start], stdout=self._log, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL
        )
        self._driver = subprocess.Popen(
            [*self.run_as, SYSTEM_PYTHON, str(driver), pipe], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        try:
            self._answer()
        except BaseException:
            self.end()
            raise

    def ask(self, do: str, **arguments: object) -> Any:
        """One command of the driver."""
        assert self._driver.stdin is not None
        self._driver.stdin.write(json.dumps({"do": do, **arguments}) + "\n")
        self._driver.stdin.flush()
        return self._answer()

    def _answer(self) -> Any:
        assert self._driver.stdout is not None
        line = self._driver.stdout.readline()
        if not line:
            raise RuntimeError("LibreOffice ended, or never began; its words are in " + self._log.name)
        answer = json.loads(line)
        if "failed" in answer:
            raise RuntimeError(answer["failed"])
        return answer["ok"]

    def open(self, path: Path | None = None, *, as_template: bool = False) -> OpenBook:
        """A workbook: a new one, or a file's; a file is copied to where the ordinary user may read and write it."""
        if path is None:
            return OpenBook(self, self.ask("open"))
        copy = self.place(path.name)
        shutil.copyfile(path, copy)
        copy.chmod(0o666)  # what the ordinary user may not write, LibreOffice opens for reading only
        return OpenBook(self, self.ask("open", path=str(copy), as_template=as_template))

    def place(self, name: str) -> Path:
        """A new path at which the ordinary user may write a file of that name."""
        folder = Path(tempfile.mkdtemp(dir=self.home))
        if os.geteuid() == 0:
            shutil.chown(folder, "nobody")
        return folder / name

    def functions(self) -> dict[str, Any]:
        """The function wizard's texts of Evenheft's formulas."""
        described: dict[str, Any] = self.ask("functions", begin="HEFT_")
        return described

    def end(self) -> None:
        """Close everything; a LibreOffice that does not go by itself is ended."""
        with contextlib.suppress(Exception):
            self.ask("quit")
        for process in (self._driver, self._office_process):
            try:
                process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                process.terminate()
                process.wait(timeout=20)
        for stream in (self._driver.stdin, self._driver.stdout, self._log):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()


class OpenBook:
    """An open workbook; every place is a sheet's name and a cell or range such as "A1" or "A1:B20"."""

    def __init__(self, calc: Calc, number: int) -> None:
        self.calc, self._number = calc, number

    def _ask(self, do: str, **arguments: object) -> Any:
        return self.calc.ask(do, document=self._number, **arguments)

    def __enter__(self) -> OpenBook:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close without saving."""
        self._ask("close")

    def sheets(self) -> list[str]:
        """The sheets' names."""
        return list(self._ask("sheets"))

    def names(self) -> dict[str, str]:
        """What the workbook's defined names stand for."""
        return dict(self._ask("names"))

    def type(self, sheet: str, cell: str, text: str) -> None:
        """Type into a cell, as from the keyboard: in Calc's own grammar, with semicolons between arguments."""
        self._ask("type", sheet=sheet, cell=cell, text=text)

    def gesture(self, sheet: str, at: str, command: str, **arguments: object) -> None:
        """Choose cells and give a command of the menu, e.g. "Cut" or "DeleteRows"."""
        self._ask("gesture", sheet=sheet, at=at, command=command, arguments=arguments)

    def drag(self, sheet: str, at: str, to: str) -> None:
        """Drag cells to another place."""
        self._ask("drag", sheet=sheet, at=at, to=to)

    def unprotect(self, sheet: str) -> None:
        """Take a sheet's protection off, as the Guide says a person may."""
        self._ask("unprotect", sheet=sheet)

    def put(self, sheet: str, at: str, rows: Sequence[Sequence[object]]) -> None:
        """Fill a range: numbers, texts as they are, formulas, None for an empty cell."""
        self._ask("put", sheet=sheet, at=at, rows=rows)

    def put_array(self, sheet: str, at: str, formula: str) -> None:
        """Enter an array formula into a range."""
        self._ask("put_array", sheet=sheet, at=at, formula=formula)

    def fill_down(self, sheet: str, at: str, formula: str) -> None:
        """Enter a formula into a column's first cell and fill it down."""
        self._ask("fill_down", sheet=sheet, at=at, formula=formula)

    def values_only(self) -> None:
        """Replace every formula by what it computed."""
        self._ask("values_only")

    def clear(self, sheet: str, at: str) -> None:
        """Empty a range."""
        self._ask("clear", sheet=sheet, at=at)

    def read(self, sheet: str, at: str) -> list[list[Any]]:
        """What cells hold or compute: number, text, None or CellError, row by row."""
        rows = self._ask("read", sheet=sheet, at=at)
        return [[CellError(cell["error"]) if isinstance(cell, dict) else cell for cell in row] for row in rows]

    def value(self, sheet: str, cell: str) -> Any:
        """What one cell holds or computes."""
        return self.read(sheet, cell)[0][0]

    def shown(self, sheet: str, at: str) -> list[list[str]]:
        """What a person sees in the cells."""
        return [list(row) for row in self._ask("shown", sheet=sheet, at=at)]

    def formula(self, sheet: str, cell: str) -> str:
        """The formula of a cell as a person sees it in the input line."""
        return str(self._ask("formula", sheet=sheet, cell=cell))

    def formulas(self, contains: str = "") -> dict[tuple[str, str], str]:
        """Every cell whose formula holds a text, by its sheet and address."""
        return {(sheet, cell): formula for sheet, cell, formula in self._ask("formulas", contains=contains)}

    def protected(self, sheet: str, cell: str) -> bool:
        """Whether a person is kept from typing into a cell."""
        return bool(self._ask("protected", sheet=sheet, cell=cell))

    def calculate(self, *, everything: bool = False) -> float:
        """Recompute the dirty cells, or everything, and tell how long it took [s]."""
        return float(self._ask("calculate", everything=everything))

    def recompute(self, sheet: str, at: str, change: str, value: float) -> float:
        """Change one input more, recompute all that is dirty up to the first and last of a range; the time [s]."""
        return float(self._ask("recompute", sheet=sheet, at=at, change=change, value=value))

    def automatic(self, on: bool) -> None:
        """Whether a change recomputes at once."""
        self._ask("automatic", on=on)

    def save(self, name: str) -> Path:
        """Save a copy under a name, by whose ending the format is chosen (.xlsx, .ods, .pdf ...)."""
        path = self.calc.place(name)
        self._ask("save", path=str(path))
        return path

    def print_sheet(self, sheet: str) -> Path:
        """Print one sheet as it would come out on paper, into a .pdf file."""
        path = self.calc.place("sheet.pdf")
        self._ask("print_sheet", sheet=sheet, path=str(path))
        return path


@contextlib.contextmanager
def running(*extensions: Path, before: Callable[[Path], None] | None = None) -> Iterator[Calc]:
    """A LibreOffice with extensions in a profile that is thrown away afterwards."""
    with tempfile.TemporaryDirectory(prefix="evenheft-calc-", ignore_cleanup_errors=True) as folder:
        calc = Calc(Path(folder), *extensions, before=before)
        try:
            yield calc
        finally:
            calc.end()
