"""OpenDocument sheets (.ods) for whatever reads and writes .xlsx: converted by the LibreOffice of this machine.

It works in a folder and a profile of its own, in which macros and links stay off, and with the add-in or without: an
.ods file names our formulas after the add-in's service, which is put right on both ways.
"""

from __future__ import annotations

import dataclasses
import io
import re
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import NoReturn

from evenheft.hosts.calc.file_names import as_open_documents_have_them, as_workbooks_have_them
from evenheft.hosts.calc.newer import where_newer
from evenheft.hosts.calc.office import Office, OfficeError, find_all
from evenheft.ooxml.checking import PartCheck
from evenheft.ooxml.dangers import ELSEWHERE
from evenheft.ooxml.directory import DirectoryCheck
from evenheft.ooxml.encodings import as_utf8, undeclared
from evenheft.ooxml.errors import Refused
from evenheft.ooxml.limits import LIMITS
from evenheft.ooxml.opening import content_of
from evenheft.ooxml.package import CheckedPackage, read_package
from evenheft.ooxml.replace import FileState, state_of
from evenheft.ooxml.rewriting import rewritten

ENDING = ".ods"
_MIMETYPE = b"application/vnd.oasis.opendocument.spreadsheet"
_READ_PART = re.compile(r"(?:^|/)(?:content|styles|meta|settings|manifest)\.xml$")
_SAFE_SETTINGS = (
    ("Common/Security/Scripting", "MacroSecurityLevel", "3"),
    ("Common/Security/Scripting", "DisableMacrosExecution", "true"),
    ("Calc/Content/Update", "Link", "2"),
)
"""Macros and links stay off, as a conversion leaves them anyway; pictures kept elsewhere it would fetch even so."""

_TAG = re.compile(rb"""<([\w.-]+:)?([\w.-]+)(?:\s(?:[^"'<>]|"[^"<]*"|'[^'<]*')*)?>""")
_LINK = re.compile(rb"""(\s[\w.-]+:href\s*=\s*)("[^"]*"|'[^']*')""")
_INSIDE = re.compile(rb"(?!/)(?!.*\.\.)[^:&%\\]*|\.\./?")
"""What names something inside of the file, beyond all doubt; a chart names the sheet that it stands in by two dots."""


def is_open_document(path: Path) -> bool:
    """Tell whether a file is an OpenDocument sheet by its name."""
    return path.suffix.lower() == ENDING


@dataclass(frozen=True, slots=True)
class Converted:
    """A workbook that LibreOffice has made of an OpenDocument sheet."""

    content: bytes
    """The bytes of the .xlsx workbook."""
    notes: tuple[str, ...]
    """What is to be told about it."""


def read_workbook(path: Path) -> CheckedPackage:
    """Read a workbook of either format wholly; a note says so where LibreOffice has converted it.

    Raises:
        Refused: it cannot be read, or it is an OpenDocument sheet and no LibreOffice is there to convert it.
    """
    if not is_open_document(path):
        return read_package(path)
    converted = workbook_from(path)
    package = CheckedPackage(converted.content, name=path.name)
    package.warnings = (*converted.notes, *package.warnings)
    return package


def workbook_from(path: Path) -> Converted:
    """Convert an OpenDocument sheet, which is only read.

    Raises:
        Refused: as `read_workbook`.
    """
    return _workbook_from(path, state_of(path))


@lru_cache(maxsize=2)
def _workbook_from(path: Path, state: FileState | None) -> Converted:  # noqa: ARG001  another state, another answer
    """Convert a sheet once for a command that looks at it more than once."""
    office = _office(path.name)
    content, has_outside = _sound_content(path)
    notes = [f"{path.name} is an OpenDocument sheet: LibreOffice {office.version} converts it"]
    made = converted(content, ENDING, "xlsx:Calc MS Excel 2007 XML", office, path.name)
    with CheckedPackage(made, name=path.name) as package:
        parts = {part: bytes(package.read(part)) for part in package.entries if part.startswith("xl/")}
        renamed = {part: as_workbooks_have_them(text) for part, text in parts.items() if b"HEFT_" in text.upper()}
        made = rewritten(package, renamed) if renamed else made
    return Converted(made, (*notes, ELSEWHERE) if has_outside else tuple(notes))


def open_document_from(content: bytes, name: str) -> bytes:
    """Convert a workbook, and return the bytes of the OpenDocument sheet.

    Args:
        content: the bytes of the .xlsx workbook [-].
        name: how messages call the sheet [-].

    Raises:
        Refused: no LibreOffice is there, it does not convert the workbook, or it would fetch something for that.
    """
    office = _office(name)
    with CheckedPackage(content, name=name) as package:
        if ELSEWHERE in package.warnings:
            package.refuse("has pictures or objects that LibreOffice would fetch from elsewhere: write .xlsx instead")
    made = converted(content, ".xlsx", "ods", office, name)
    with zipfile.ZipFile(io.BytesIO(made)) as written:
        text = written.read("content.xml")
    return _with_parts(made, {"content.xml": as_open_documents_have_them(text)})


def _office(name: str) -> Office:
    offices = find_all()
    if not offices:
        raise OfficeError(
            f"{name} is an OpenDocument sheet, which LibreOffice must convert, and there is none: {where_newer()}; or "
            "use an .xlsx workbook instead"
        )
    return offices[0]


# ---------------------------------------------------------------------- the file


def _sound_content(path: Path) -> tuple[bytes, bool]:
    """Read an OpenDocument sheet, once what it claims is checked as a workbook's is, without what it would fetch.

    Returns:
        Its bytes, and whether it named anything that is kept elsewhere [-].
    """
    content = content_of(path)

    def refuse(reason: str) -> NoReturn:
        raise Refused(f"{path.name} {reason}")

    source = io.BytesIO(content)
    check = DirectoryCheck(source, LIMITS, refuse)
    check.need_zip()
    changed: dict[str, bytes] = {}
    try:
        with zipfile.ZipFile(source) as package:
            parts = check.checked_entries(package.infolist(), package.start_dir)
            if "mimetype" not in parts or not package.read("mimetype").startswith(_MIMETYPE):
                refuse("is not an OpenDocument sheet, whatever its name says")
            for part in filter(_READ_PART.search, parts):
                seen = PartCheck(part, None, deepest=LIMITS.depth, refuse=refuse)
                text = package.read(part)
                seen.feed(text)
                seen.finish()
                inside = _without_outside(undeclared(bytes(as_utf8(text))))
                if inside != undeclared(bytes(as_utf8(text))):
                    changed[part] = inside
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, UnicodeDecodeError, struct.error, EOFError, OSError):
        refuse("is damaged or cut off: copy or download it again")
    return (_with_parts(content, changed) if changed else content), bool(changed)


def converted(content: bytes, ending: str, kind: str, office: Office, name: str) -> bytes:
    """Let LibreOffice convert a document in a folder and a profile of their own, and return the new one's bytes.

    Args:
        content: the document's bytes [-].
        ending: what its name would end in [-].
        kind: the new ending, and where LibreOffice needs it the format's name after a colon [-].
        office: the LibreOffice [-].
        name: how messages call the document [-].

    Raises:
        Refused: it cannot be converted.
    """
    with tempfile.TemporaryDirectory(prefix="evenheft-") as root:
        folder = Path(root)
        given, made = folder / f"given{ending}", folder / "made"
        given.write_bytes(content)
        profile = folder / "profile"
        _write_safe_settings(profile)
        dataclasses.replace(office, profile=profile).convert(given, kind, made)
        new = made / f"given.{kind.partition(':')[0]}"
        if not new.is_file():
            raise Refused(f"LibreOffice cannot convert {name}: it is damaged or has a password; save it as .xlsx there")
        return new.read_bytes()


def _write_safe_settings(profile: Path) -> None:
    items = "".join(
        f'<item oor:path="/org.openoffice.Office.{path}"><prop oor:name="{name}" oor:op="fuse"><value>{value}</value>'
        "</prop></item>"
        for path, name, value in _SAFE_SETTINGS
    )
    file = profile / "user" / "registrymodifications.xcu"
    file.parent.mkdir(parents=True)
    file.write_text(
        '<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry">'
        f"{items}</oor:items>",
        encoding="utf-8",
    )


def _with_parts(package: bytes, parts: Mapping[str, bytes]) -> bytes:
    """Return a package with some parts' bytes replaced."""
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(package)) as old, zipfile.ZipFile(target, "w") as new:
        for entry in old.infolist():
            new.writestr(entry, parts.get(entry.filename) or old.read(entry))
    return target.getvalue()


def _without_outside(text: bytes) -> bytes:
    """Return a part that names nothing outside of its file but what a person clicks at: LibreOffice would fetch it."""

    def emptied(link: re.Match[bytes]) -> bytes:
        return link[0] if _INSIDE.fullmatch(link[2][1:-1]) else link[1] + b'""'

    def inside(tag: re.Match[bytes]) -> bytes:
        return tag[0] if tag[2] == b"a" or b"href" not in tag[0] else _LINK.sub(emptied, tag[0])

    return _TAG.sub(inside, text)
