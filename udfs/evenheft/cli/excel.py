"""`evenheft excel`: the add-in for Excel on Windows, and workbooks with the functions inside."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from evenheft.cli.talk import refuse, say

if TYPE_CHECKING:
    from evenheft.hosts.excel.building.book import BookKind

FOLDER = click.Path(path_type=Path, file_okay=False)
FILE = click.Path(path_type=Path)


@click.group("excel")
def excel_command() -> None:
    """Serve the formulas to Excel on Windows: build, install, embed, relink, remove."""


@excel_command.command("build")
@click.option("--to", "folder", type=FOLDER, default=Path(), help="Folder to write into; this one when left out.")
@click.option("--interpreter", help="Path of the python.exe to name inside, where all is for one machine only.")
def build_command(folder: Path, interpreter: str | None) -> None:
    """Make the add-in and the order workbook with the functions inside, on any system and without Excel.

    evenheft.xlam serves every workbook on a machine (evenheft excel install puts it in place);
    evenheft-order.xlsm and .xltm carry the functions with them.
    """
    _need_packages()
    from evenheft.hosts.excel import ADD_IN
    from evenheft.hosts.excel.building.book import build_add_in, with_functions
    from evenheft.ooxml.package import read_package
    from evenheft.order.files import kept_only_with_files, template_file, write_all_new

    try:
        if taken := [name for name in (ADD_IN, *_ORDERS) if (folder / name).exists()]:
            refuse(f"{', '.join(taken)} exists already in {folder}: choose another folder with --to")
        with read_package(template_file("xlsx")) as order:
            made = {ADD_IN: build_add_in(interpreter)}
            made |= {name: with_functions(order, kind=kind, interpreter=interpreter) for name, kind in _ORDERS.items()}
        with kept_only_with_files(folder):
            write_all_new({folder / name: content for name, content in made.items()})
    except OSError as error:
        refuse(f"{folder} cannot be written to: {error.strerror or error}")
    for name in made:
        say(str(folder / name))


_ORDERS: dict[str, BookKind] = {"evenheft-order.xlsm": "workbook", "evenheft-order.xltm": "template"}


@excel_command.command("embed")
@click.argument("workbook", type=FILE)
@click.option("--to", "target", type=FILE, help="The new file; beside the workbook, as .xlsm, when left out.")
def embed_command(workbook: Path, target: Path | None) -> None:
    """Copy WORKBOOK with the functions inside, so that they travel with it.

    WORKBOOK is an .xlsx, or an .xlsm made by Evenheft, whose functions are brought up to date. It is
    not changed itself; everything in it but the functions is copied as it is.
    """
    _need_packages()
    from evenheft.hosts.excel.building.book import with_functions
    from evenheft.ooxml.package import read_package
    from evenheft.order.files import free_name, write_new

    target = target or free_name(workbook.parent, workbook.stem, "xlsm")
    kinds: dict[str, BookKind] = {".xlsm": "workbook", ".xltm": "template"}
    if target.suffix.lower() not in kinds:
        refuse(f"{target.name} must end in .xlsm, or in .xltm for a template: only such files carry functions")
    with read_package(workbook) as package:
        content = with_functions(package, kind=kinds[target.suffix.lower()])
    write_new(target, content)
    say(str(target))


@excel_command.command("relink")
@click.argument("workbook", type=FILE)
@click.option("--to", "target", type=FILE, help="The new file; beside the workbook when left out.")
def relink_command(workbook: Path, target: Path | None) -> None:
    """Copy WORKBOOK so that its formulas find this machine's add-in.

    For a workbook whose formulas show the path of an evenheft.xlam before HEFT_, or #NAME?: they
    point at the add-in of the machine it was saved on.
    """
    from evenheft.hosts.excel.building.links import foreign_add_ins, relinked
    from evenheft.ooxml.package import read_package
    from evenheft.order.files import free_name, write_new

    with read_package(workbook) as package:
        places = list(dict.fromkeys(foreign_add_ins(package)))
        if not places:
            say(f"{workbook.name} points at no add-in of another machine: nothing to do")
            return
        content = relinked(package)
    target = target or free_name(workbook.parent, f"{workbook.stem}-relinked", workbook.suffix.lstrip("."))
    write_new(target, content)
    say(f"{workbook.name} pointed at {', '.join(places)}; {target.name} points at the add-in of this machine")


@excel_command.command("install")
def install_command() -> None:
    """Put the add-in where Excel opens it at each start, for this Windows user."""
    from evenheft.hosts.excel.windows.machine import this_machine

    _need_packages()
    from evenheft.hosts.excel.windows.install import install

    _tell(install(this_machine()))
    say("start Excel and type =HEFT_VERSION() into a cell")


@excel_command.command("remove")
def remove_command() -> None:
    """Take the add-in away again."""
    from evenheft.hosts.excel.windows.machine import this_machine

    _need_packages()
    from evenheft.hosts.excel.windows.install import remove

    _tell(remove(this_machine()))


def _tell(lines: list[str]) -> None:
    for line in lines:
        say(line, err=line.startswith("! "))


def _need_packages() -> None:
    """Refuse where the packages that Excel needs are gone, as after an installation without its dependencies."""
    from evenheft.hosts.excel import INSTALL_AGAIN, missing_packages

    if missing := missing_packages():
        refuse(f"this Python lacks {' and '.join(missing)}: {INSTALL_AGAIN}")
