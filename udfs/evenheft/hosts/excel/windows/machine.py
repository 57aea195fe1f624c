"""Where Excel and Python live on a Windows machine: the folders and settings that installing and doctor look at."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PureWindowsPath
from typing import Protocol

from evenheft.hosts.excel import ADD_IN, CONFIGURATION
from evenheft.ooxml.errors import Refused

OFFICE_VERSIONS = ("16.0", "15.0")
"""Office's own version numbers: 16.0 is every Excel since 2016, and Microsoft 365."""


class Registry(Protocol):
    """The user's part of the Windows registry, for reading."""

    def values(self, key: str) -> Mapping[str, object]:
        """Read the values of a key under HKEY_CURRENT_USER by their names; none where there is no such key."""


class WindowsRegistry:
    """The registry of this machine."""

    def values(self, key: str) -> Mapping[str, object]:
        """See `Registry.values`."""
        found: dict[str, object] = {}
        if sys.platform == "win32":
            import winreg

            try:
                with winreg.OpenKey(winreg.HKEY_CURRENT_USER, key) as opened:
                    for number in range(winreg.QueryInfoKey(opened)[1]):
                        name, value, _ = winreg.EnumValue(opened, number)
                        found[name] = value
            except OSError:
                return {}
        return found


@dataclass(frozen=True)
class Machine:
    """A Windows user's folders, the Python that answers Excel, and the registry."""

    app_data: Path
    """%APPDATA%."""
    local_app_data: Path
    """%LOCALAPPDATA%."""
    profile: Path
    """%USERPROFILE%."""
    interpreter: Path
    """The python.exe that runs Evenheft."""
    program_files: tuple[Path, ...] = ()
    one_drives: tuple[Path, ...] = ()
    """The folders that OneDrive keeps in step with the cloud."""
    registry: Registry = field(default_factory=WindowsRegistry)
    encoding: str = "mbcs"
    """The machine's own code page, in which VBA reads text files and names libraries."""
    bits: int = 64
    """Of the Windows that Excel runs on; it decides which library is looked for first."""

    @property
    def start_folder(self) -> Path:
        """The folder whose workbooks Excel opens at every start, and trusts."""
        return self.app_data / "Microsoft" / "Excel" / "XLSTART"

    @property
    def add_in(self) -> Path:
        """Where the add-in is put."""
        return self.start_folder / ADD_IN

    @property
    def settings_file(self) -> Path:
        """The user's settings, which xlwings' VBA reads where a workbook does not name an interpreter itself."""
        return self.profile / f".{CONFIGURATION}" / f"{CONFIGURATION}.conf"

    def library(self, version: str) -> Path | None:
        """Find the library of xlwings that Excel loads, where xlwings' VBA will find it, or None.

        Args:
            version: xlwings' version, e.g. "0.37.8" [-].
        """
        for folder in (self.interpreter.parent, self.interpreter.parent.parent):
            path = folder / f"xlwings{self.bits}-{version}.dll"
            if path.is_file():
                return path
        return None

    def other_libraries(self) -> list[str]:
        """List the names of the xlwings libraries of any version beside the interpreter."""
        folders = (self.interpreter.parent, self.interpreter.parent.parent)
        return sorted({path.name for folder in folders for path in folder.glob(f"xlwings{self.bits}-*.dll")})

    def has_store_python(self) -> bool:
        """Whether this Python came from the Microsoft Store, whose folders Excel may not reach."""
        parts = {part.lower() for part in self.interpreter.parts}
        return "windowsapps" in parts or any(part.startswith("pythonsoftwarefoundation.") for part in parts)

    def has_store_office(self) -> bool:
        """Whether Office came from the Microsoft Store, which keeps its folders and settings in a box of its own."""
        packages = self.local_app_data / "Packages"
        return any((packages / name).is_dir() for name in ("Microsoft.Office.Desktop_8wekyb3d8bbwe",))

    def has_office(self) -> bool:
        """Whether any sign of Excel is found."""
        return (
            (self.app_data / "Microsoft" / "Excel").is_dir()
            or self.has_store_office()
            or any(folder.is_dir() for folder in self._office_folders())
        )

    def in_one_drive(self, path: Path) -> bool:
        """Whether OneDrive keeps this path, and may take its file off the disk."""
        return any(path.is_relative_to(folder) for folder in self.one_drives)

    def add_ins(self) -> list[Path]:
        """Every Evenheft add-in that Excel may load, ours in its start folder first."""
        folders = (
            self.start_folder,
            self.app_data / "Microsoft" / "AddIns",
            *self._alternate_start_folders(),
            *(folder / "XLSTART" for folder in self._office_folders()),
        )
        found = [path for folder in folders for path in sorted(folder.glob("[eE]venheft*.xlam"))]
        found += [path for path in self._loaded_by_options() if path.is_file()]
        return list(dict.fromkeys(found))

    def excel_values(self, key: str) -> Iterator[Mapping[str, object]]:
        """Yield the values of a key of Excel's in the registry, for each version of Office."""
        for version in OFFICE_VERSIONS:
            yield self.registry.values(rf"Software\Microsoft\Office\{version}\Excel\{key}")

    def _office_folders(self) -> Iterator[Path]:
        for base in self.program_files:
            for office in (base / "Microsoft Office" / "root", base / "Microsoft Office"):
                yield from (office / name for name in ("Office16", "Office15"))

    def _alternate_start_folders(self) -> Iterator[Path]:
        for values in self.excel_values("Options"):
            if isinstance(folder := values.get("AltStartup"), str) and folder:
                yield Path(folder)

    def _loaded_by_options(self) -> Iterator[Path]:
        """Yield the add-ins ticked in Excel's own list: OPEN, OPEN1 ... hold their paths, in quotes after switches."""
        for values in self.excel_values("Options"):
            for name, value in values.items():
                if name.upper().startswith("OPEN") and isinstance(value, str):
                    quoted = re.search(r'"([^"]+)"', value)
                    path = quoted[1] if quoted else value
                    if PureWindowsPath(path).name.lower().startswith("evenheft"):
                        yield Path(path)


class NotWindows(Refused):
    """This is no Windows machine; the text tells what is possible instead."""


def this_machine() -> Machine:
    """Describe this Windows machine.

    Raises:
        NotWindows: it is another system.
    """
    if sys.platform != "win32":
        raise NotWindows(
            "Excel runs Evenheft's formulas on Windows only. Here evenheft excel build makes the add-in and the order "
            "workbook for a Windows machine, evenheft calc serves LibreOffice, and evenheft check needs neither"
        )
    return machine_of(os.environ, Path(sys.executable))


def machine_of(environment: Mapping[str, str], interpreter: Path) -> Machine:
    """Describe the machine that Windows' environment variables tell of.

    Args:
        environment: the variables by their names in capitals [-].
        interpreter: the python.exe that runs Evenheft [-].
    """

    def folders(*names: str) -> tuple[Path, ...]:
        return tuple(dict.fromkeys(Path(environment[name]) for name in names if environment.get(name)))

    profile = Path(environment.get("USERPROFILE") or Path.home())
    return Machine(
        app_data=Path(environment.get("APPDATA") or profile / "AppData" / "Roaming"),
        local_app_data=Path(environment.get("LOCALAPPDATA") or profile / "AppData" / "Local"),
        profile=profile,
        interpreter=interpreter,
        program_files=folders("PROGRAMFILES", "PROGRAMFILES(X86)", "PROGRAMW6432"),
        one_drives=folders("ONEDRIVE", "ONEDRIVECONSUMER", "ONEDRIVECOMMERCIAL"),
    )
