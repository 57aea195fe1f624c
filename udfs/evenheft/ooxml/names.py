"""What a workbook calls its cells, and which of its looks let a person type."""

from __future__ import annotations

from evenheft.ooxml.checking import local_name
from evenheft.ooxml.package import Package
from evenheft.ooxml.places import Area, area_of

_NOT_LOCKED = ("0", "false")


def defined_names(package: Package) -> dict[str, tuple[str, Area]]:
    """Return the sheet and the area of each name that stands for one range, by the name in small letters.

    Args:
        package: the workbook [-].

    Raises:
        Refused: the workbook's part is damaged.
    """
    found: dict[str, tuple[str, Area]] = {}
    name, pieces = "", list[str]()

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal name
        if local_name(tag) == "definedName":
            name = attributes.get("name", "").lower()
            pieces.clear()

    def end(tag: str) -> None:
        nonlocal name
        if local_name(tag) == "definedName":
            sheet, _, address = "".join(pieces).rpartition("!")
            area = area_of(address)
            if sheet and area is not None:
                found[name] = (sheet.strip("'").replace("''", "'"), area)
            name = ""

    package.walk(package.workbook_part, start, end, lambda piece: pieces.append(piece) if name else None)
    return found


def unlocked_styles(package: Package) -> set[int]:
    """Return the numbers of the cell formats that let a person type on a protected sheet.

    Args:
        package: the workbook [-].

    Raises:
        Refused: the list of looks is damaged.
    """
    links = package.relationships(package.workbook_part).values()
    part = next((link.target for link in links if link.kind == "styles" and link.target in package.entries), None)
    found: set[int] = set()
    inside, number = False, -1

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal inside, number
        kind = local_name(tag)
        if kind == "cellXfs":
            inside = True
        elif inside and kind == "xf":
            number += 1
        elif inside and kind == "protection" and attributes.get("locked", "1") in _NOT_LOCKED:
            found.add(number)

    def end(tag: str) -> None:
        nonlocal inside
        if local_name(tag) == "cellXfs":
            inside = False

    if part is not None:
        package.walk(part, start, end)
    return found
