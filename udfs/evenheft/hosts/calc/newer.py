"""Where a LibreOffice that is new enough comes from, and its Python part, on the machine at hand."""

from __future__ import annotations

import platform
import sys
from collections.abc import Mapping

from evenheft.hosts.calc import OLDEST_OFFICE

_SITE = "from www.libreoffice.org/download"
_PYTHON_PART = "libreoffice-script-provider-python python3-uno"
_BACKPORTS = "-t bookworm-backports"


def where_newer(system: str = sys.platform, release: Mapping[str, str] | None = None) -> str:
    """Tell what to install where LibreOffice is missing or too old.

    Args:
        system: the system, as sys.platform names it [-].
        release: what its /etc/os-release says, this machine's own when left out [-].
    """
    wanted = f"install LibreOffice {OLDEST_OFFICE} or newer"
    if not system.startswith("linux"):
        return f"{wanted}, {_SITE}"
    if _is_debian_12(release):
        command = f"apt install {_BACKPORTS} libreoffice-calc {_PYTHON_PART}"
        return f"{wanted}, {_SITE}, or where bookworm-backports is among apt's sources, as root: {command}"
    return f"{wanted}, from this machine's own packages if they are that new, else {_SITE}"


def where_python_part(release: Mapping[str, str] | None = None) -> str:
    """Tell how a distribution's LibreOffice gets the part that runs add-ins in Python."""
    command = f"apt install {_PYTHON_PART}"
    if _is_debian_12(release):
        command += f", with {_BACKPORTS} where LibreOffice came from there"
    return f"install its Python part (Debian and Ubuntu, as root: {command})"


def _is_debian_12(release: Mapping[str, str] | None) -> bool:
    if release is None:
        try:
            release = platform.freedesktop_os_release()
        except OSError:  # no such file: another system
            release = {}
    return (release.get("ID"), release.get("VERSION_CODENAME")) == ("debian", "bookworm")
