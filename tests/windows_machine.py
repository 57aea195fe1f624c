"""A Windows user's folders in a temporary folder, for the tests of the installer and of doctor."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from pathlib import Path

import xlwings

from evenheft.hosts.excel.windows.machine import Machine, machine_of


class StandInRegistry:
    """The values of registry keys, as a test tells them."""

    def __init__(self, **keys: Mapping[str, object]) -> None:
        self._keys = {key.replace("__", "\\"): values for key, values in keys.items()}

    def values(self, key: str) -> Mapping[str, object]:
        prefix = "Software\\Microsoft\\Office\\16.0\\Excel\\"
        return self._keys.get(key.removeprefix(prefix), {}) if key.startswith(prefix) else {}


def machine_in(folder: Path) -> Machine:
    """A machine with Excel and a Python with xlwings, and nothing of Evenheft yet."""
    profile = folder / "Users" / "Käthe"
    python = profile / "heft" / "Scripts" / "python.exe"
    python.parent.mkdir(parents=True)
    python.write_bytes(b"MZ")
    (profile / "heft" / f"xlwings64-{xlwings.__version__}.dll").write_bytes(b"MZ")
    roaming = profile / "AppData" / "Roaming"
    (roaming / "Microsoft" / "Excel").mkdir(parents=True)
    environment = {
        "USERPROFILE": str(profile),
        "APPDATA": str(roaming),
        "LOCALAPPDATA": str(profile / "AppData" / "Local"),
        "PROGRAMFILES": str(folder / "Program Files"),
        "PROGRAMW6432": str(folder / "Program Files"),
        "ONEDRIVE": str(profile / "OneDrive"),
    }
    return dataclasses.replace(machine_of(environment, python), registry=StandInRegistry(), encoding="cp1252")
