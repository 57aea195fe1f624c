"""LibreOffice on this machine: where it is, and what is done to it to install, remove and prove the add-in."""

from __future__ import annotations

import csv
import os
import re
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from evenheft.hosts.calc import EXTENSION, OLDEST_OFFICE, OLDEST_OFFICE_FOR_ODS, SERVICE
from evenheft.hosts.calc.newer import where_newer
from evenheft.ooxml.errors import Refused

_PATIENCE = 180
"""How long LibreOffice may take for one errand, first starts on slow machines included [s]."""

PATIENCE_WHILE_OPEN = 20
"""How long it may take while it is open, when it often waits for itself and never answers [s]."""

UNTOLD = "0"
"""The version of a LibreOffice whose files do not tell it: older than any."""

PROOF = (("=HEFT_SELFTEST()", "ok, evenheft"), ("=HEFT_MOMENT(430,75.56)", "17200"))
"""Formulas that the add-in is proven by, and how their answers begin."""


class OfficeError(Refused):
    """LibreOffice is missing or refused something; the text is one line for a builder."""


@dataclass(frozen=True, slots=True)
class Office:
    """One LibreOffice, and the profile (a person's settings and extensions) that it is used with."""

    program: Path
    """The folder that holds soffice and unopkg."""
    version: str
    """Its version as far as its own files tell it, e.g. "25.2"."""
    profile: Path | None = None
    """Another profile than the person's own."""

    @property
    def recent_enough(self) -> bool:
        """Whether workbooks keep the add-in's formulas in this version."""
        return _numbers(self.version) >= _numbers(OLDEST_OFFICE)

    @property
    def keeps_ods(self) -> bool:
        """Whether .ods files keep the add-in's formulas in this version, as .xlsx files may not."""
        return _numbers(self.version) >= _numbers(OLDEST_OFFICE_FOR_ODS)

    @property
    def shortcoming(self) -> tuple[str, str]:
        """What does not work in a LibreOffice that is not recent enough, and what to do about it."""
        if self.version == UNTOLD:
            return "this LibreOffice does not tell its version", where_newer()
        if not self.keeps_ods:
            return f"LibreOffice {self.version} is too old for Evenheft's formulas", where_newer()
        return (
            f"LibreOffice {self.version} is too old for .xlsx files, the order workbook too: it shows #NAME? in them",
            f"{where_newer()}; "
            f"for .ods files alone {OLDEST_OFFICE_FOR_ODS} or newer will do: evenheft calc install --ods-only",
        )

    @property
    def runs_python(self) -> bool:
        """Whether this LibreOffice can run components in Python, which Debian and others package apart."""
        return any(_is_there(folder / "pythonloader.py") for folder in (self.program, *_resources(self.program)))

    @property
    def _profile_option(self) -> list[str]:
        return [] if self.profile is None else [f"-env:UserInstallation={self.profile.resolve().as_uri()}"]

    def command(self, name: str, *arguments: str) -> list[str]:
        """Make the command line of one of LibreOffice's programs, used with this profile."""
        return [str(_executable(self.program, name)), *self._profile_option, *arguments]

    def python_version(self) -> str | None:
        """Ask for the version of the Python that this LibreOffice runs, or None where that cannot be told."""
        for candidate in _pythons(self.program):
            try:
                asked = subprocess.run([candidate, "--version"], capture_output=True, text=True, timeout=30, check=True)
            except (OSError, subprocess.SubprocessError):
                continue
            found = re.search(r"\d+\.\d+\.\d+", asked.stdout + asked.stderr)
            if found:
                return found[0]
        return None

    def installed_version(self, *, shared: bool | None = None) -> str | None:
        """Ask for the version of the add-in that is installed, or None.

        Args:
            shared: whether to look for one for everybody or for one's own; both when left out [-].
        """
        for layer in (False, True) if shared is None else (shared,):
            listed = self._unopkg("list", *(["--shared"] if layer else []), EXTENSION, tolerate=True)
            found = re.search(rf"^Identifier: {re.escape(EXTENSION)}\s+Version: (\S+)", listed, re.MULTILINE)
            if found:
                return found[1]
        return None

    def install(self, extension: Path, *, shared: bool = False) -> None:
        """Install the add-in for the person, or for all of the machine; an older one is replaced."""
        words = ("add", "--force", "--suppress-license", *(["--shared"] if shared else []), str(extension))
        try:
            self._unopkg(*words)
        except OfficeError:
            # A profile that still remembers an add-in for everybody, taken out meanwhile, forgets it at the first try.
            self._unopkg(*words)

    def remove(self, *, shared: bool = False) -> None:
        """Take the add-in out again."""
        self._unopkg("remove", *(["--shared"] if shared else []), EXTENSION)

    def prove(self, *, ods_only: bool = False) -> str:
        """Compute formulas with known answers in Calc itself, from an .xlsx file.

        Args:
            ods_only: from an OpenDocument file instead, which older versions read too [-].

        Returns:
            What the selftest says, e.g. "ok, evenheft 0.1.0 on LibreOffice Calc".

        Raises:
            OfficeError: Calc could not be run, or an answer is wrong.
        """
        with tempfile.TemporaryDirectory(prefix="evenheft-") as folder:
            asked = _open_document(Path(folder)) if ods_only else _workbook(Path(folder))
            self.convert(asked, "csv", Path(folder))
            answered = asked.with_suffix(".csv")
            if not answered.exists():
                raise OfficeError(
                    "LibreOffice did not compute: if it is open, close all its windows and try again; "
                    "otherwise start it once by hand"
                )
            with answered.open(newline="", encoding="utf-8", errors="replace") as lines:
                answers = [line[0] if line else "" for line in csv.reader(lines)]
        for (formula, begin), answer in zip(PROOF, answers, strict=False):
            if not answer.startswith(begin):
                raise OfficeError(f"Calc answers {formula} with {answer or 'nothing'}")
        return answers[0]

    def convert(self, source: Path, kind: str, folder: Path) -> None:
        """Convert a document into another format, as a file of the same name in a folder; none where it cannot.

        Args:
            source: the document [-].
            kind: the new ending, and where LibreOffice needs it the format's name after a colon [-].
            folder: where the new file is put [-].

        Raises:
            OfficeError: LibreOffice could not be run.
        """
        self._run(
            "soffice",
            "--headless",
            "--norestore",
            "--nologo",
            "--convert-to",
            kind,
            "--outdir",
            str(folder),
            str(source),
        )

    def _unopkg(self, *arguments: str, tolerate: bool = False) -> str:
        # unopkg wants its own command first and the profile after it.
        verb, *rest = arguments
        line = [str(_executable(self.program, "unopkg")), verb, *self._profile_option, *rest]
        return self._finished(line, tolerate=tolerate)

    def _run(self, name: str, *arguments: str) -> str:
        return self._finished(self.command(name, *arguments), tolerate=False)

    def _finished(self, line: Sequence[str], *, tolerate: bool) -> str:
        patience = PATIENCE_WHILE_OPEN if self.looks_open else _PATIENCE
        try:
            process = subprocess.Popen(
                line, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                errors="replace", start_new_session=True,
            )  # fmt: skip
        except OSError as error:
            raise OfficeError(f"{line[0]} cannot be started: {error.strerror}") from None
        try:
            said, _ = process.communicate(timeout=patience)
        except subprocess.TimeoutExpired:
            _end_with_children(process)
            raise OfficeError(
                "LibreOffice is open: close all its windows and try again"
                if self.looks_open
                else f"LibreOffice did not finish in {patience} s: start LibreOffice once by hand, and try again"
            ) from None
        if process.returncode and not tolerate:
            raise OfficeError(_refusal(line, said))
        return said

    @property
    def looks_open(self) -> bool:
        """Whether this LibreOffice runs with this profile, or ended without tidying up."""
        return _is_there(_own_profile(self.profile) / ".lock")


def _workbook(folder: Path) -> Path:
    """Write the proof's formulas as programs other than Calc write them."""
    import openpyxl

    book = openpyxl.Workbook()
    for row, (formula, _) in enumerate(PROOF, start=1):
        book.worksheets[0].cell(row, 1).value = formula
    path = folder / "proof.xlsx"
    book.save(path)
    return path


def _open_document(folder: Path) -> Path:
    """Write the proof's formulas as Calc itself keeps them, under the add-in's own name."""
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"' for name in ("office", "table")
    )
    rows = "".join(
        f'<table:table-row><table:table-cell table:formula="of:={SERVICE.upper()}.{formula[1:].replace(",", ";")}"/>'
        "</table:table-row>"
        for formula, _ in PROOF
    )
    path = folder / "proof.fods"
    path.write_text(
        f'<?xml version="1.0"?><office:document {spaces} xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" '
        'office:version="1.3" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body>'
        f'<office:spreadsheet><table:table table:name="Proof">{rows}</table:table></office:spreadsheet>'
        "</office:body></office:document>",
        encoding="utf-8",
    )
    return path


def find(program: Path | None = None, profile: Path | None = None) -> Office:
    """Find the LibreOffice to use: the one in a folder, else the newest that is found.

    Raises:
        OfficeError: there is none.
    """
    if program is not None:
        folders = [folder for folder in (program, program / "program", program / "Contents/MacOS") if _complete(folder)]
        if not folders:
            raise OfficeError(f"there is no LibreOffice in {program}: name the folder that holds soffice and unopkg")
        return Office(folders[0], _version(folders[0]), profile)
    offices = find_all(profile)
    if not offices:
        raise OfficeError(f"no LibreOffice found: {where_newer()}, or name its folder with --office FOLDER")
    return offices[0]


def find_all(profile: Path | None = None) -> list[Office]:
    """Every LibreOffice on this machine, the newest first."""
    seen: dict[Path, Office] = {}
    for folder in _folders():
        if _complete(folder):
            seen.setdefault(folder.resolve(), Office(folder, _version(folder), profile))
    return sorted(seen.values(), key=lambda office: _numbers(office.version), reverse=True)


def _folders() -> Iterator[Path]:
    """Where LibreOffice is installed by its own installers and by distributions."""
    for folder in os.environ.get("PATH", "").split(os.pathsep):
        soffice = _executable(Path(folder), "soffice")
        if folder and _is_there(soffice):
            yield soffice.resolve().parent
    if sys.platform == "win32":
        for variable in ("ProgramFiles", "ProgramW6432", "ProgramFiles(x86)"):
            if root := os.environ.get(variable):
                yield from (found / "program" for found in sorted(Path(root).glob("LibreOffice*")))
    elif sys.platform == "darwin":
        for root in (Path("/Applications"), Path.home() / "Applications"):
            yield from (found / "Contents/MacOS" for found in sorted(root.glob("LibreOffice*.app")))
    else:
        for pattern in (
            "usr/lib/libreoffice", "usr/lib64/libreoffice", "usr/local/lib/libreoffice", "opt/libreoffice*",
            "snap/libreoffice/current/lib/libreoffice",
        ):  # fmt: skip
            yield from (found / "program" for found in sorted(Path("/").glob(pattern)))


def _is_there(path: Path) -> bool:
    """Whether a file exists, as far as this person may look."""
    try:
        return path.exists()
    except OSError:
        return False


def _own_profile(profile: Path | None) -> Path:
    """Choose the folder of a profile, the person's own where none is named."""
    if profile is not None:
        return profile
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", str(Path.home())), "LibreOffice", "4")
    if sys.platform == "darwin":
        return Path.home() / "Library/Application Support/LibreOffice/4"
    return Path(os.environ.get("XDG_CONFIG_HOME") or Path.home() / ".config", "libreoffice", "4")


def _end_with_children(process: subprocess.Popen[str]) -> None:
    """End a program of LibreOffice, which is a script around the real one on some systems."""
    if sys.platform == "win32":
        process.kill()
    else:
        os.killpg(process.pid, signal.SIGKILL)
    process.communicate()


def _executable(folder: Path, name: str) -> Path:
    """Name a program of LibreOffice; on Windows the one that speaks to the console."""
    if sys.platform == "win32":
        return folder / f"{name}.com"
    return folder / name


def _complete(folder: Path) -> bool:
    return all(_is_there(_executable(folder, name)) for name in ("soffice", "unopkg"))


def _resources(program: Path) -> tuple[Path, ...]:
    return (program.parent / "Resources",)  # macOS


def _pythons(program: Path) -> Iterator[str]:
    """Yield the Python that LibreOffice brings, else the system's, which Linux distributions build it with."""
    yield from map(str, (program / "python.exe", program / "python", program.parent / "Resources/python"))
    if sys.platform not in ("win32", "darwin"):
        yield "/usr/bin/python3"


def _version(program: Path) -> str:
    """Read the version from LibreOffice's own files, without starting it; UNTOLD where they do not tell."""
    for folder in (program, *_resources(program)):
        for name in ("bootstraprc", "bootstrap.ini"):
            try:
                found = re.search(r"^ProductKey=\D*([\d.]+)", (folder / name).read_text(errors="replace"), re.MULTILINE)
            except OSError:
                continue
            if found:
                return found[1]
    return UNTOLD


def _numbers(version: str) -> tuple[int, ...]:
    return tuple(map(int, re.findall(r"\d+", version)))


def _refusal(line: Sequence[str], said: str) -> str:
    """Tell what LibreOffice said, in one line, with what to do where that is known."""
    if re.search(r"\bas (administrator|root)\b", said):  # not the word alone: a folder's name may hold it
        return "LibreOffice does not take add-ins for the administrator alone: add --shared to install for everybody"
    if "lock" in said.lower() or "another instance" in said.lower() or "running" in said.lower():
        return "LibreOffice is open: close all its windows and try again"
    lines = [text for text in map(str.strip, said.splitlines()) if text and "javaldx" not in text]
    return f"{Path(line[0]).name} refused: {' '.join(lines)[-300:] or 'it did not say why'}"
