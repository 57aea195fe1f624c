"""Numpy and scipy for the Python inside a LibreOffice that has neither, taken along in the extension.

HEFT_PLAN needs both, and HEFT_CLUB reads long tables faster with numpy. LibreOffice for Windows and macOS brings a
Python of its own, into which nothing else gets installed; so the wheels must be for that platform and that Python,
whatever machine builds.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import zipfile
from pathlib import Path, PurePosixPath

from evenheft.ooxml.errors import Refused

PACKAGES = ("numpy", "scipy")
PLATFORMS = {
    "windows": ("win_amd64",),
    "macos-arm": ("macosx_14_0_arm64", "macosx_12_0_arm64", "macosx_11_0_arm64"),
    "macos-intel": ("macosx_14_0_x86_64", "macosx_12_0_x86_64", "macosx_10_13_x86_64", "macosx_10_9_x86_64"),
    "linux": ("manylinux_2_28_x86_64", "manylinux_2_27_x86_64", "manylinux_2_17_x86_64", "manylinux2014_x86_64"),
}
"""The kinds of machine by the name a builder types, each with the tags that its wheels carry."""


class VendorError(Refused):
    """The wheels cannot be had; the text is one line for a builder."""


def wheels(target: str) -> dict[str, bytes]:
    """Collect the files to add to the extension for a target.

    Args:
        target: a platform and the version of LibreOffice's Python, e.g. "windows-3.12" [-].

    Raises:
        VendorError: no such target, or no wheels to be had.
    """
    platform, _, version = target.rpartition("-")
    if platform not in PLATFORMS or not version.startswith("3.") or not version[2:].isdecimal():
        names = ", ".join(f"{name}-3.12" for name in PLATFORMS)
        raise VendorError(f"{target} is no target: name a machine and the version of LibreOffice's Python, as {names}")
    with tempfile.TemporaryDirectory(prefix="evenheft-") as folder:
        _download(Path(folder), PLATFORMS[platform], version)
        return {name: data for wheel in sorted(Path(folder).glob("*.whl")) for name, data in _files(wheel)}


def _download(folder: Path, tags: tuple[str, ...], version: str) -> None:
    line = [
        sys.executable, "-m", "pip", "--disable-pip-version-check", "download", "--quiet", "--no-deps",
        "--only-binary=:all:", "--implementation", "cp", "--python-version", version,
        "--abi", f"cp{version.replace('.', '')}", *(f"--platform={tag}" for tag in tags), "--dest", str(folder),
        *PACKAGES,
    ]  # fmt: skip
    done = subprocess.run(line, capture_output=True, text=True, check=False)
    if done.returncode:
        errors = [text for text in done.stderr.splitlines() if text.startswith("ERROR")]
        raise VendorError(f"the wheels cannot be had: {errors[-1][7:] if errors else 'pip did not say why'}")


def _files(wheel: Path) -> list[tuple[str, bytes]]:
    """Read the wheel's files by their path in the extension, without its own tests."""
    with zipfile.ZipFile(wheel) as package:
        return [
            (f"pythonpath/{name}", package.read(name))
            for name in package.namelist()
            if not name.endswith("/") and "tests" not in PurePosixPath(name).parts
        ]
