"""`evenheft calc`: the add-in for LibreOffice Calc, built, installed and removed."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import click

from evenheft.cli.talk import refuse, say
from evenheft.hosts.calc import OLDEST_OFFICE, OLDEST_OFFICE_FOR_ODS


@click.group("calc")
def calc_command() -> None:
    """Build, install or remove the add-in for LibreOffice Calc."""


OFFICE = click.option("--office", type=click.Path(path_type=Path), help="Folder of the LibreOffice to use.")
PROFILE = click.option(
    "--profile", type=click.Path(path_type=Path), help="Folder of another LibreOffice profile than your own."
)
_SHARED = click.option("--shared", is_flag=True, help="For everybody on this machine; as root this is what happens.")
VENDOR = click.option(
    "--vendor",
    metavar="MACHINE-PYTHON",
    help="Take numpy and scipy along, e.g. windows-3.12: the machine, and the version of LibreOffice's own Python as "
    "`evenheft doctor` tells it. No formula needs them; HEFT_CLUB reads long tables faster.",
)
ODS_ONLY = click.option(
    "--ods-only",
    is_flag=True,
    help=f"For LibreOffice {OLDEST_OFFICE_FOR_ODS} and newer, below {OLDEST_OFFICE}: formulas work in .ods files only.",
)


@calc_command.command("build")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False), default=".")
@VENDOR
@ODS_ONLY
def build(folder: Path, vendor: str | None, ods_only: bool) -> None:
    """Write evenheft.oxt into FOLDER (here when left out), to carry to another machine."""
    say(f"wrote {_built(folder, vendor, ods_only=ods_only)}")


@calc_command.command("install")
@OFFICE
@PROFILE
@_SHARED
@VENDOR
@ODS_ONLY
def install(office: Path | None, profile: Path | None, shared: bool, vendor: str | None, ods_only: bool) -> None:
    """Install the add-in into LibreOffice, and prove that it computes."""
    from evenheft.hosts.calc.newer import where_python_part
    from evenheft.hosts.calc.office import find

    shared = shared or _is_root()
    found = find(office, profile)
    if not (found.recent_enough or (ods_only and found.keeps_ods)):
        refuse(": ".join(found.shortcoming))
    if not found.runs_python:
        refuse(f"this LibreOffice cannot run add-ins written in Python: {where_python_part()}")
    with tempfile.TemporaryDirectory(prefix="evenheft-") as folder:
        found.install(_built(Path(folder), vendor, ods_only=ods_only), shared=shared)
    said = found.prove(ods_only=ods_only)
    whom = "for everybody on this machine" if shared else "for you"
    say(f"installed {whom} in LibreOffice {found.version} ({found.program})")
    say(f"computed in Calc: {said}")
    if not found.recent_enough:
        say(f"keep to .ods files: {found.shortcoming[0]}")
    say("Start LibreOffice anew, and type into a cell: =HEFT_SWINGWEIGHT(395; 75.3)")


@calc_command.command("remove")
@OFFICE
@PROFILE
@_SHARED
def remove(office: Path | None, profile: Path | None, shared: bool) -> None:
    """Remove the add-in from LibreOffice; workbooks keep their formulas and show #NAME? until it is back."""
    from evenheft.hosts.calc.office import find

    shared = shared or _is_root()
    found = find(office, profile)
    where = f"in LibreOffice {found.version} ({found.program})"
    if found.installed_version(shared=shared) is None:
        if found.installed_version(shared=not shared) is None:
            refuse(f"the add-in is not installed {where}")
        whose, how = ("for one person", "as that person") if shared else ("for everybody", "with --shared, as root")
        refuse(f"the add-in is installed {whose} {where}: remove it {how}")
    found.remove(shared=shared)
    say(f"removed from LibreOffice {found.version} ({found.program})")


def _built(folder: Path, vendor: str | None, *, ods_only: bool) -> Path:
    from evenheft.hosts.calc import extension as package
    from evenheft.hosts.calc.vendor import wheels
    from evenheft.order.files import kept_only_with_files

    extra = wheels(vendor) if vendor else {}
    try:
        path = folder / package.FILE_NAME
        with kept_only_with_files(folder):
            package.write(path, extra, oldest=OLDEST_OFFICE_FOR_ODS if ods_only else OLDEST_OFFICE)
    except OSError as error:
        refuse(f"{folder} cannot be written: {error.strerror}")
    return path


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0
